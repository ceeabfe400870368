//! `turned`, `watered`, `close`, `empty`, `move` and `weather`: what was done and what was measured.

use std::fmt::Write as _;
use std::path::Path;

use desk::{Desk, MoveAnswer, TendAnswer, WeatherAnswer};

use super::run::Failed;
use crate::words;

/// Largest weather file, bytes (choice: a century of hours is about 60 MB).
const MOST_BYTES: u64 = 100_000_000;

fn again(written: bool) -> &'static str {
    if written {
        ""
    } else {
        " (it was there already)"
    }
}

pub(super) fn tended(a: &TendAnswer) -> String {
    let mut out = format!(
        "{}: {}{}.\n",
        words::list(&a.chambers),
        a.text,
        again(a.written)
    );
    for id in &a.ids {
        _ = writeln!(out, "Entry [{id}]. Take it back with: loamwright undo {id}");
    }
    out
}

/// A chamber was closed or emptied.
pub(super) fn noted(chamber: &str, what: &str, id: &str) -> String {
    format!("{chamber}: {what}.\nEntry [{id}]. Take it back with: loamwright undo {id}\n")
}

pub(super) fn moved(a: &MoveAnswer) -> String {
    let mut out = format!(
        "{}: {} moved into {}{}. It keeps its days there.\n",
        a.from,
        a.told,
        a.to,
        again(a.written)
    );
    for note in &a.notes {
        _ = writeln!(out, "{note}");
    }
    _ = writeln!(out, "{}", words::MOVING_CARE);
    _ = writeln!(out, "Its level is not known now: note it when you look.");
    _ = writeln!(
        out,
        "Entry [{}]. Take it back with: loamwright undo {}",
        a.id, a.id
    );
    out
}

/// Reads the file and hands it over; the file itself stays where it is.
pub(super) fn weather(
    desk: &Desk,
    file: &Path,
    key: Option<&str>,
) -> Result<WeatherAnswer, Failed> {
    let failed = |source| Failed::File {
        path: file.to_owned(),
        source,
    };
    let size = std::fs::metadata(file).map_err(failed)?;
    if !size.is_file() || size.len() > MOST_BYTES {
        let why = format!("give a file of at most {} MB", MOST_BYTES / 1_000_000);
        return Err(failed(std::io::Error::other(why)));
    }
    let bytes = std::fs::read(file).map_err(failed)?;
    let name = file
        .file_name()
        .map(|name| name.to_string_lossy().into_owned())
        .unwrap_or_default();
    Ok(desk.set_weather(&bytes, &name, key)?)
}

pub(super) fn measured(a: &WeatherAnswer) -> String {
    let mut out = String::new();
    for line in words::weather(a) {
        _ = writeln!(out, "{line}");
    }
    _ = writeln!(
        out,
        "Entry [{}]{}. Take it back with: loamwright undo",
        a.id,
        again(a.written)
    );
    out
}
