//! Rows to values and back.

use jiff::Timestamp;
use rusqlite::Row;
use rusqlite::types::Type;
use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::event::{Entry, RawEvent, Recorded};
use crate::id::EventId;

type Read<T> = rusqlite::Result<T>;

/// Columns of an event, in the order [`event`] reads them.
pub(super) const EVENT: &str = "id, household, at, recorded, kind, version, key, body";
/// Columns of an entry, in the order [`entry`] reads them.
pub(super) const ENTRY: &str = "id, at, recorded, kind, version, body, corrected_by, undone_by";

/// A time as stored: nine decimals always, so that it sorts as text.
pub(super) fn stamp(at: Timestamp) -> String {
    format!("{at:.9}")
}

fn odd(column: usize, why: impl std::error::Error + Send + Sync + 'static) -> rusqlite::Error {
    rusqlite::Error::FromSqlConversionFailure(column, Type::Text, Box::new(why))
}

/// A text column that holds something with a text form.
pub(super) fn parsed<T>(row: &Row<'_>, column: usize) -> Read<T>
where
    T: std::str::FromStr,
    T::Err: std::error::Error + Send + Sync + 'static,
{
    row.get::<_, String>(column)?
        .parse()
        .map_err(|e| odd(column, e))
}

/// As [`parsed`], or nothing.
pub(super) fn parsed_if<T>(row: &Row<'_>, column: usize) -> Read<Option<T>>
where
    T: std::str::FromStr,
    T::Err: std::error::Error + Send + Sync + 'static,
{
    let text: Option<String> = row.get(column)?;
    text.map(|text| text.parse().map_err(|e| odd(column, e)))
        .transpose()
}

/// A text column that holds one word of a list, or nothing.
pub(super) fn word_if<T: DeserializeOwned>(row: &Row<'_>, column: usize) -> Read<Option<T>> {
    let text: Option<String> = row.get(column)?;
    text.map(|text| {
        serde_json::from_value(serde_json::Value::String(text)).map_err(|e| odd(column, e))
    })
    .transpose()
}

/// One word of a list as its text.
pub(super) fn word<T: Serialize>(value: Option<&T>) -> Option<String> {
    match serde_json::to_value(value?) {
        Ok(serde_json::Value::String(text)) => Some(text),
        _ => None,
    }
}

/// An event from [`EVENT`].
pub(super) fn event(row: &Row<'_>) -> Read<RawEvent> {
    Ok(RawEvent {
        id: parsed(row, 0)?,
        household: row.get(1)?,
        at: parsed(row, 2)?,
        recorded: parsed(row, 3)?,
        kind: row.get(4)?,
        version: row.get(5)?,
        key: row.get(6)?,
        body: row.get(7)?,
    })
}

/// An entry from [`ENTRY`].
pub(super) fn entry(row: &Row<'_>) -> Read<Entry> {
    let kind: String = row.get(3)?;
    let text: String = row.get(5)?;
    Ok(Entry {
        id: parsed(row, 0)?,
        at: parsed(row, 1)?,
        recorded: parsed(row, 2)?,
        body: Recorded::from_text(&kind, row.get(4)?, &text),
        kind,
        corrected_by: parsed_if::<EventId>(row, 6)?,
        undone_by: parsed_if::<EventId>(row, 7)?,
    })
}
