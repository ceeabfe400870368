//! What can go wrong, as facts.

use std::path::PathBuf;

use jiff::Timestamp;

use crate::id::EventId;
use crate::range::{TIME_LEAST, TIME_MOST};

/// The result of a journal call.
pub type Result<T> = std::result::Result<T, Error>;

/// Why the journal cannot do what was asked. When it says so, nothing was written.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// The file holds something other than a journal; it was left as it is.
    #[error(
        "{} is not a journal: it holds {found}. It was left as it is. Choose another file.",
        path.display()
    )]
    Foreign {
        /// The file.
        path: PathBuf,
        /// What it holds instead.
        found: String,
    },
    /// The file is a journal but cannot be read whole.
    #[error(
        "{} is damaged or cut short ({detail}). Keep the file, and start from your last export \
         or copy.",
        path.display()
    )]
    Corrupt {
        /// The file.
        path: PathBuf,
        /// What the database reports.
        detail: String,
    },
    /// The file was written by a later program.
    #[error(
        "{} was written by a newer program: layout {found}, this program knows up to {known}. \
         Update the program.",
        path.display()
    )]
    NewerLayout {
        /// The file.
        path: PathBuf,
        /// The layout number in the file.
        found: i64,
        /// The latest layout this program knows.
        known: i64,
    },
    /// Another program holds the file.
    #[error(
        "{} is in use: another program was writing to it for more than {waited_s} s. Close the \
         other program, then try again.",
        path.display()
    )]
    Busy {
        /// The file.
        path: PathBuf,
        /// How long the journal waited, in seconds.
        waited_s: f64,
    },
    /// No room is left for the file to grow.
    #[error(
        "no room left on the disk for {}. Nothing was written. Free some room, then try again.",
        path.display()
    )]
    DiskFull {
        /// The file.
        path: PathBuf,
    },
    /// The file or its folder may not be written.
    #[error("{} may only be read. Allow writing to it, or choose another file.", path.display())]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// The file cannot be opened or made.
    #[error(
        "cannot open {} ({detail}). Check that the folder is there and may be written.",
        path.display()
    )]
    CannotOpen {
        /// The file.
        path: PathBuf,
        /// What the system reports.
        detail: String,
    },
    /// The database refused for a reason not named above.
    #[error("the journal {} cannot be used: {detail}", path.display())]
    Storage {
        /// The file.
        path: PathBuf,
        /// What the database reports.
        detail: String,
    },
    /// The text is not the id of an event.
    #[error("\"{value}\" is not an event id. It must be a UUID of version 7.")]
    BadId {
        /// The text, cut to 60 characters.
        value: String,
    },
    /// A number is not finite or lies outside its range.
    #[error(
        "{field}: {value} is out of range. The {name} must lie between {least} and {most}{}.",
        spaced(.unit)
    )]
    BadValue {
        /// Where in the event it stands, for example `portions[2].kg.low`.
        field: String,
        /// The number given.
        value: f64,
        /// What the quantity is.
        name: &'static str,
        /// Its unit; empty for a plain number.
        unit: &'static str,
        /// The least accepted.
        least: f64,
        /// The most accepted.
        most: f64,
    },
    /// The three parts of an amount or figure are out of order.
    #[error(
        "{field}: low {low}, middle {mid}, high {high}. The low end must not be above the middle, \
         nor the middle above the high end."
    )]
    Unordered {
        /// Where in the event it stands.
        field: String,
        /// The low end given.
        low: f64,
        /// The middle given.
        mid: f64,
        /// The high end given.
        high: f64,
    },
    /// A text is too long.
    #[error("{field}: the text is {bytes} bytes long. At most {most} fit; shorten it.")]
    TooLong {
        /// Where in the event it stands.
        field: String,
        /// Its length in bytes.
        bytes: usize,
        /// The most accepted, in bytes.
        most: usize,
    },
    /// A list has too many rows.
    #[error("{field}: {count} rows. At most {most} fit in one event; split it.")]
    TooMany {
        /// Where in the event it stands.
        field: String,
        /// How many rows were given.
        count: usize,
        /// The most accepted.
        most: usize,
    },
    /// A name the journal files things under is blank or holds control characters.
    #[error("{field}: \"{value}\" cannot be a name. It must not be blank or hold line breaks.")]
    BadName {
        /// Where in the event it stands.
        field: String,
        /// The text given, with control characters escaped.
        value: String,
    },
    /// A time lies outside what the journal accepts.
    #[error("{field}: {value} is out of range. It must lie between {TIME_LEAST} and {TIME_MOST}.")]
    BadTime {
        /// Where in the event it stands.
        field: String,
        /// The time or date given.
        value: String,
    },
    /// A one-time key was used before, for something else.
    #[error("the one-time key \"{key}\" was used for another entry ({first}). Use a new key.")]
    KeyConflict {
        /// The key.
        key: String,
        /// The event that holds it.
        first: EventId,
    },
    /// An event id was used before, for something else.
    #[error("the event id {id} is taken by another entry. Make a new id.")]
    IdConflict {
        /// The id.
        id: EventId,
    },
    /// No such event in this household.
    #[error("there is no entry {event} in this journal.")]
    UnknownEvent {
        /// The id asked for.
        event: EventId,
    },
    /// The event is undone already.
    #[error("entry {event} is undone already, by {by}. To bring it back, undo {by}.")]
    AlreadyUndone {
        /// The event.
        event: EventId,
        /// The undo that holds.
        by: EventId,
    },
    /// An undo or a correction cannot itself be corrected.
    #[error("entry {event} is of kind \"{kind}\" and cannot be corrected. Undo it instead.")]
    NotCorrectable {
        /// The event.
        event: EventId,
        /// Its kind.
        kind: String,
    },
    /// A correction must keep the kind of the event.
    #[error(
        "entry {event} is of kind \"{was}\"; a correction cannot make it \"{now}\". Undo it and \
         enter it anew."
    )]
    KindChange {
        /// The event.
        event: EventId,
        /// Its kind.
        was: String,
        /// The kind of the correction.
        now: String,
    },
    /// A body does not fit its kind.
    #[error("it does not read as a \"{kind}\" ({detail}).")]
    Malformed {
        /// The kind.
        kind: String,
        /// What does not fit.
        detail: String,
    },
    /// A line of an import cannot be used. Nothing was imported.
    #[error("line {line}: {why} Nothing was imported.")]
    Import {
        /// The line, counted from 1.
        line: usize,
        /// What is wrong and what to do.
        why: String,
    },
    /// The place an export goes to, or an import comes from, failed.
    #[error("cannot {doing} ({detail}).")]
    Stream {
        /// "write the export" or "read the import".
        doing: &'static str,
        /// What the system reports.
        detail: String,
    },
}

fn spaced(unit: &str) -> String {
    if unit.is_empty() {
        String::new()
    } else {
        format!(" {unit}")
    }
}

impl Error {
    pub(crate) fn time(field: &str, value: Timestamp) -> Self {
        Self::BadTime {
            field: field.into(),
            value: value.to_string(),
        }
    }
}
