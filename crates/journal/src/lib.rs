//! The journal: everything a household does, as events in one SQLite file.
//!
//! An event is written once and never changed. An undo and a correction are events too.
//! Everything else the journal can tell (settings, chambers, fills, portions, stock) is derived
//! from the events, in the order in which things happened, and can be dropped and rebuilt.
//!
//! The journal knows ids and amounts. It knows no materials and holds no opinions. It reads no
//! clock and draws no random number: ids and times come in with each [`NewEvent`].
//!
//! ```
//! use journal::{Body, EventId, NewEvent, Note, Sqlite, Store};
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! let journal = Sqlite::open_memory()?;
//! let id: EventId = "01990000-0000-7000-8000-000000000001".parse()?;
//! journal.append(&[NewEvent {
//!     id,
//!     household: "courtyard".into(),
//!     at: "2026-09-18T18:00:00Z".parse()?,
//!     recorded: "2026-09-18T18:00:05Z".parse()?,
//!     key: None,
//!     body: Body::Note(Note { text: "Rain all day".into() }),
//! }])?;
//! assert!(journal.event("courtyard", id)?.is_some());
//! # Ok(())
//! # }
//! ```

mod body;
mod check;
mod codec;
mod error;
mod event;
mod export;
mod id;
mod range;
mod resolve;
mod sqlite;
mod store;
mod tables;

pub use body::{
    Amount, Body, ChamberSet, Closed, Corrected, Emptied, English, Figure, Foretold, ForetoldRung,
    Hour, Hours, HouseholdSet, Measured, Moved, Note, Opened, OwnFigures, Portion, PutIn, Reading,
    SensorSet, Shape, StockMoved, StockSet, Undone, Units, WeatherDay, WeatherSet,
};
pub use codec::{KINDS, Unreadable};
pub use error::{Error, Result};
pub use event::{Entry, Event, NewEvent, RawEvent, Recorded};
pub use export::{FORMAT, export, import};
pub use id::EventId;
pub use range::{
    ID_BYTES, ITEMS, LINE_BYTES, RANGES, Range, TEXT_BYTES, TIME_LEAST, TIME_MOST, WEATHER_DAYS,
};
pub use sqlite::{Options, Sqlite};
pub use store::{Appended, Order, Page, Restored, Store};
pub use tables::{Chamber, Fill, OwnMaterial, PortionRow, Settings, Stock, UnknownWord};
