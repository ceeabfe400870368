//! Writes a journal of so many events: the invented household's three years, repeated further back.
//!
//! `cargo run --release -p desk --example long_journal -- DIR 3000` makes DIR/journal.db.

use std::error::Error;
use std::path::PathBuf;

use desk::Desk;
use jiff::{SignedDuration, Timestamp};
use serde_json::Value;

/// Three years and a day lie between one copy and the next, so that weekdays drift and none overlap.
const DAYS_BACK: i64 = 3 * 365 + 1 + 7;

/// One line of an export, so many copies earlier, under an id of its own.
fn earlier(line: &str, copy: i64) -> Result<String, Box<dyn Error>> {
    let mut event: Value = serde_json::from_str(line)?;
    for field in ["at", "recorded"] {
        let at: Timestamp = event[field].as_str().unwrap_or_default().parse()?;
        let then = at - SignedDuration::from_hours(24 * DAYS_BACK * copy);
        event[field] = Value::String(then.to_string());
    }
    // The last group of the id is a number that stays small in the demo; its first digit is free.
    let id = event["id"].as_str().unwrap_or_default();
    let at = id.len() - 12;
    event["id"] = Value::String(format!("{}{copy:x}{}", &id[..at], &id[at + 1..]));
    Ok(event.to_string())
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut args = std::env::args().skip(1);
    let folder: PathBuf = args
        .next()
        .ok_or("give a folder and a number of events")?
        .into();
    let wanted: usize = args.next().map_or(Ok(3000), |n| n.parse())?;
    let mut told = Vec::new();
    Desk::demo()?.export(&mut told)?;
    let told = String::from_utf8(told)?;
    // Fifteen copies are what one digit tells apart: forty-five years of a household.
    let (head, events) = told.split_once('\n').ok_or("the demo holds nothing")?;
    let each = events.lines().count().max(1);
    let copies = i64::try_from(wanted.div_ceil(each))?;
    if !(1..=15).contains(&copies) {
        return Err(format!("{wanted} events are {copies} copies; 1 to 15 can be made").into());
    }
    // The first line says how many events follow.
    let mut head: Value = serde_json::from_str(head)?;
    head["events"] = Value::from(each * usize::try_from(copies)?);
    let mut lines = vec![head.to_string()];
    for copy in (0..copies).rev() {
        for line in events.lines() {
            lines.push(earlier(line, copy)?);
        }
    }
    std::fs::create_dir_all(&folder)?;
    let file = folder.join("journal.db");
    if file.exists() {
        return Err(format!("{} is there already; name another folder", file.display()).into());
    }
    let desk = Desk::open(&file, None)?;
    desk.import(&mut lines.join("\n").as_bytes())?;
    Ok(())
}
