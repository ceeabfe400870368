//! Export and import: one line of JSON for the household, then one for each event.
//!
//! The first line holds `loamwright_journal` (the format), `household` and `events` (how many
//! follow, so that a file cut short is noticed). Events stand in order of writing and carry the
//! stored text of their bodies, so an import and a second export give the same bytes.

use std::io::{BufRead, Read, Write};

use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;

use crate::error::{Error, Result};
use crate::event::RawEvent;
use crate::id::EventId;
use crate::range::LINE_BYTES;
use crate::store::{Order, Page, Restored, Store};

/// The export format written, and the latest one read.
pub const FORMAT: u32 = 1;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Head {
    loamwright_journal: u32,
    household: String,
    events: usize,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Line<'a> {
    id: EventId,
    at: Timestamp,
    recorded: Timestamp,
    kind: String,
    version: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    key: Option<String>,
    #[serde(borrow)]
    body: &'a RawValue,
}

/// Writes every event of the household.
///
/// Fails with [`Error::Stream`] if `out` does, or as [`Store::events`] does.
pub fn export(store: &dyn Store, household: &str, out: &mut dyn Write) -> Result<()> {
    let events = store.events(
        household,
        &Page {
            order: Order::Written,
            ..Page::default()
        },
    )?;
    let head = Head {
        loamwright_journal: FORMAT,
        household: household.to_owned(),
        events: events.len(),
    };
    line(out, &head)?;
    for event in &events {
        let raw = &event.raw;
        let body = serde_json::from_str(&raw.body).map_err(writing)?;
        line(
            out,
            &Line {
                id: raw.id,
                at: raw.at,
                recorded: raw.recorded,
                kind: raw.kind.clone(),
                version: raw.version,
                key: raw.key.clone(),
                body,
            },
        )?;
    }
    out.flush().map_err(writing)
}

fn line(out: &mut dyn Write, value: &impl Serialize) -> Result<()> {
    serde_json::to_writer(&mut *out, value).map_err(writing)?;
    out.write_all(b"\n").map_err(writing)
}

fn writing(e: impl std::fmt::Display) -> Error {
    Error::Stream {
        doing: "write the export",
        detail: e.to_string(),
    }
}

/// Reads an export into the journal: all of it or, on any error, nothing.
///
/// Events that are there already are passed over, so a second import writes nothing.
/// Fails with [`Error::Import`], which names the line, or [`Error::Stream`] if `input` does.
pub fn import(store: &dyn Store, input: &mut dyn BufRead) -> Result<Restored> {
    let mut number = 1;
    let first = next(input, number)?.unwrap_or_default();
    let head = head(&first)?;
    let mut events = Vec::new();
    while let Some(text) = next(input, number + 1)? {
        number += 1;
        let it: Line<'_> = serde_json::from_str(&text)
            .map_err(|e| at(number, format!("it does not read as an entry ({e}).")))?;
        events.push(RawEvent {
            id: it.id,
            household: head.household.clone(),
            at: it.at,
            recorded: it.recorded,
            kind: it.kind,
            version: it.version,
            key: it.key,
            body: it.body.get().to_owned(),
        });
    }
    if events.len() != head.events {
        let (found, told) = (events.len(), head.events);
        return Err(at(
            number,
            format!(
                "the file holds {found} entries, its first line says {told}. Use a whole copy of \
                 the file."
            ),
        ));
    }
    store.restore(&events).map_err(|error| match error {
        // The journal counts events; the file has one line before them.
        Error::Import { line, why } => Error::Import {
            line: line + 1,
            why,
        },
        other => other,
    })
}

fn head(text: &str) -> Result<Head> {
    #[derive(Deserialize)]
    struct Format {
        loamwright_journal: u32,
    }
    let format: Format = serde_json::from_str(text).map_err(|_| {
        at(
            1,
            "this is not a journal export. It must begin with {\"loamwright_journal\":1.".into(),
        )
    })?;
    if format.loamwright_journal != FORMAT {
        let found = format.loamwright_journal;
        return Err(at(
            1,
            format!("format {found} is not known, only {FORMAT}. Update the program."),
        ));
    }
    serde_json::from_str(text).map_err(|e| {
        at(
            1,
            format!("the first line does not read as it should ({e})."),
        )
    })
}

/// The next line without its end; nothing at the end of the input.
fn next(input: &mut dyn BufRead, number: usize) -> Result<Option<String>> {
    // Room for what stands around a body of the greatest size.
    let most = LINE_BYTES + 4096;
    let mut bytes = Vec::new();
    let read = Read::take(&mut *input, most as u64 + 1)
        .read_until(b'\n', &mut bytes)
        .map_err(|e| Error::Stream {
            doing: "read the import",
            detail: e.to_string(),
        })?;
    if read == 0 {
        return Ok(None);
    }
    if bytes.len() > most {
        return Err(at(number, format!("it is longer than {most} bytes.")));
    }
    if bytes.last() == Some(&b'\n') {
        bytes.pop();
    }
    if bytes.last() == Some(&b'\r') {
        bytes.pop();
    }
    let text = String::from_utf8(bytes).map_err(|_| at(number, "it is not UTF-8 text.".into()))?;
    Ok(Some(text))
}

fn at(line: usize, why: String) -> Error {
    Error::Import { line, why }
}
