//! What a journal can do, whatever it is kept in.

use jiff::Timestamp;

use crate::body::WeatherDay;
use crate::codec::Unreadable;
use crate::error::Result;
use crate::event::{Entry, Event, NewEvent, RawEvent};
use crate::id::EventId;
use crate::tables::{Chamber, Fill, OwnMaterial, PortionRow, Settings, Stock, UnknownWord};

/// What became of one event of an append.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Appended {
    /// The id that stands: of this event, or of the first one posted with its key.
    pub id: EventId,
    /// Whether it was written now; if not, it was there already.
    pub written: bool,
}

/// What became of an import.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Restored {
    /// How many events were written.
    pub written: usize,
    /// How many were there already.
    pub present: usize,
    /// Events kept as they are because this program cannot read them.
    pub unreadable: Vec<(EventId, Unreadable)>,
}

/// In which order to list events.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Order {
    /// By when they happened, then when they were written down, then id.
    #[default]
    Happened,
    /// By when they were written.
    Written,
}

/// Which events to list.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Page {
    /// No earlier than this.
    pub from: Option<Timestamp>,
    /// Earlier than this.
    pub until: Option<Timestamp>,
    /// Only this kind.
    pub kind: Option<String>,
    /// None of these kinds.
    pub without: Vec<String>,
    /// Start behind this event: later, or earlier in reverse.
    pub after: Option<EventId>,
    /// The most rows to give.
    pub limit: Option<u32>,
    /// Latest first.
    pub reverse: bool,
    /// By what to sort.
    pub order: Order,
    /// In a history, give undone entries too.
    pub undone: bool,
}

/// A journal. Every call sees one household only, and either does all or nothing.
///
/// Beside the errors named, each call may fail as the disk does: busy, full, damaged.
pub trait Store: Send + Sync {
    /// Writes events, all or none, in the order given.
    ///
    /// An event whose key was used before for the same body writes nothing and gives the first
    /// event's id; so does an event that is there already, id and all.
    ///
    /// Fails on a bad value, name, text or time; with [`crate::Error::KeyConflict`],
    /// [`crate::Error::IdConflict`], [`crate::Error::UnknownEvent`],
    /// [`crate::Error::AlreadyUndone`], [`crate::Error::NotCorrectable`] or
    /// [`crate::Error::KindChange`].
    fn append(&self, events: &[NewEvent]) -> Result<Vec<Appended>>;

    /// Writes events from an export, all or none. An event that is there already is passed over.
    ///
    /// Fails with [`crate::Error::Import`]; its line is the place in `events`, counted from 1.
    fn restore(&self, events: &[RawEvent]) -> Result<Restored>;

    /// Every household with an event, by id.
    fn households(&self) -> Result<Vec<String>>;

    /// How many events the household has written.
    fn count(&self, household: &str) -> Result<usize>;

    /// A number that grows with every event written to the journal, by this program or another.
    /// The same number means the same events.
    fn mark(&self) -> Result<i64>;

    /// One event as written, if there is one.
    fn event(&self, household: &str, id: EventId) -> Result<Option<Event>>;

    /// Events as written, undos and corrections among them.
    ///
    /// Fails with [`crate::Error::UnknownEvent`] if `page.after` names none.
    fn events(&self, household: &str, page: &Page) -> Result<Vec<Event>>;

    /// One event as it counts now; an undo or a correction too.
    fn entry(&self, household: &str, id: EventId) -> Result<Option<Entry>>;

    /// Events as they count now: no undos, no corrections, and nothing undone unless asked.
    ///
    /// [`Order`] is always by when they happened. Fails with [`crate::Error::UnknownEvent`] if
    /// `page.after` names none.
    fn history(&self, household: &str, page: &Page) -> Result<Vec<Entry>>;

    /// Events this program cannot read, with the reason.
    fn unreadable(&self, household: &str) -> Result<Vec<(EventId, Unreadable)>>;

    /// Settings as they stand.
    fn settings(&self, household: &str) -> Result<Settings>;

    /// Chambers that were named, by id.
    fn chambers(&self, household: &str) -> Result<Vec<Chamber>>;

    /// All fills, the earliest first.
    fn fills(&self, household: &str) -> Result<Vec<Fill>>;

    /// Fills that are neither closed nor emptied, the earliest first.
    fn filling(&self, household: &str) -> Result<Vec<Fill>>;

    /// The fill now in a chamber with its portions in order; nothing if the chamber is empty.
    fn contents(&self, household: &str, chamber: &str) -> Result<Option<(Fill, Vec<PortionRow>)>>;

    /// Portions of a fill in the order they went in.
    fn portions(&self, household: &str, fill: EventId) -> Result<Vec<PortionRow>>;

    /// Words of a fill that were not understood, in order.
    fn unknown_words(&self, household: &str, fill: EventId) -> Result<Vec<UnknownWord>>;

    /// Stocks, by material.
    fn stock(&self, household: &str) -> Result<Vec<Stock>>;

    /// The household's own figures, by material.
    fn own_figures(&self, household: &str) -> Result<Vec<OwnMaterial>>;

    /// Weather as it was measured, the earliest day first.
    fn weather(&self, household: &str) -> Result<Vec<WeatherDay>>;

    /// Drops everything that follows from the events and works it out again.
    fn rebuild(&self) -> Result<()>;

    /// SHA-256, in hexadecimal, over everything that follows from the events and counts now.
    ///
    /// Two journals with the same hash say the same of the household.
    fn state_hash(&self, household: &str) -> Result<String>;
}
