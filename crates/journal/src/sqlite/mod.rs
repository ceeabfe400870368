//! The journal in one SQLite file.

mod append;
mod derive;
mod fail;
mod hash;
mod ledger;
mod open;
mod read;
mod row;

use std::fmt;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};
use std::time::Duration;

use rusqlite::{Connection, TransactionBehavior};

use crate::body::WeatherDay;
use crate::codec::Unreadable;
use crate::error::Result;
use crate::event::{Entry, Event, NewEvent, RawEvent};
use crate::id::EventId;
use crate::store::{Appended, Page, Restored, Store};
use crate::tables::{Chamber, Fill, OwnMaterial, PortionRow, Settings, Stock, UnknownWord};
use fail::{Inner, Place};

/// How to open a journal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Options {
    /// How long to wait for another program that is writing; 5 s unless set.
    pub wait: Duration,
    /// The most pages of 4 KiB the file may grow to; no limit unless set.
    pub most_pages: Option<u32>,
}

impl Default for Options {
    fn default() -> Self {
        Self {
            wait: Duration::from_secs(5),
            most_pages: None,
        }
    }
}

/// A journal in one SQLite file, or in memory.
///
/// May be shared between threads; calls wait for each other. Each call may take as long as the
/// disk does, so an asynchronous program makes it on a thread that may block.
pub struct Sqlite {
    conn: Mutex<Connection>,
    place: Place,
}

impl fmt::Debug for Sqlite {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Sqlite")
            .field("place", &self.place)
            .finish_non_exhaustive()
    }
}

impl Sqlite {
    /// Opens the journal in the file, or makes one there. An empty file counts as none.
    ///
    /// Fails with [`crate::Error::Foreign`], [`crate::Error::Corrupt`],
    /// [`crate::Error::NewerLayout`], [`crate::Error::CannotOpen`], [`crate::Error::ReadOnly`],
    /// [`crate::Error::Busy`] or [`crate::Error::DiskFull`].
    pub fn open(path: impl Into<PathBuf>) -> Result<Self> {
        Self::open_with(path, &Options::default())
    }

    /// As [`Sqlite::open`], with options.
    pub fn open_with(path: impl Into<PathBuf>, options: &Options) -> Result<Self> {
        let place = Place {
            path: path.into(),
            wait: options.wait,
        };
        let conn = open::file(&place, options).map_err(|fail| place.name(fail))?;
        Ok(Self {
            conn: Mutex::new(conn),
            place,
        })
    }

    /// Makes a journal that ends with the program.
    pub fn open_memory() -> Result<Self> {
        let options = Options::default();
        let place = Place {
            path: ":memory:".into(),
            wait: options.wait,
        };
        let conn = open::memory(&place, &options).map_err(|fail| place.name(fail))?;
        Ok(Self {
            conn: Mutex::new(conn),
            place,
        })
    }

    /// The file it is kept in; `:memory:` if in none.
    pub fn path(&self) -> &Path {
        &self.place.path
    }

    /// Reads, seeing one state of the journal throughout.
    fn read<T>(&self, work: impl FnOnce(&Connection) -> Inner<T>) -> Result<T> {
        self.within(TransactionBehavior::Deferred, work)
    }

    /// Writes, all or nothing.
    fn write<T>(&self, work: impl FnOnce(&Connection) -> Inner<T>) -> Result<T> {
        self.within(TransactionBehavior::Immediate, |conn| {
            open::unchanged(conn, &self.place)?;
            work(conn)
        })
    }

    fn within<T>(
        &self,
        behaviour: TransactionBehavior,
        work: impl FnOnce(&Connection) -> Inner<T>,
    ) -> Result<T> {
        // A panic elsewhere rolled its transaction back, so the connection is sound.
        let mut conn = self.conn.lock().unwrap_or_else(PoisonError::into_inner);
        let run = || -> Inner<T> {
            let tx = conn.transaction_with_behavior(behaviour)?;
            let done = work(&tx)?;
            tx.commit()?;
            Ok(done)
        };
        run().map_err(|fail| self.place.name(fail))
    }
}

impl Store for Sqlite {
    fn append(&self, events: &[NewEvent]) -> Result<Vec<Appended>> {
        let raw = events
            .iter()
            .map(NewEvent::encode)
            .collect::<Result<Vec<_>>>()?;
        self.write(|conn| append::append(conn, events, raw))
    }

    fn restore(&self, events: &[RawEvent]) -> Result<Restored> {
        self.write(|conn| append::restore(conn, events))
    }

    fn households(&self) -> Result<Vec<String>> {
        self.read(read::households)
    }

    fn count(&self, household: &str) -> Result<usize> {
        self.read(|conn| read::count(conn, household))
    }

    fn mark(&self) -> Result<i64> {
        self.read(read::mark)
    }

    fn event(&self, household: &str, id: EventId) -> Result<Option<Event>> {
        self.read(|conn| read::event(conn, household, id))
    }

    fn events(&self, household: &str, page: &Page) -> Result<Vec<Event>> {
        self.read(|conn| read::events(conn, household, page))
    }

    fn entry(&self, household: &str, id: EventId) -> Result<Option<Entry>> {
        self.read(|conn| read::entry(conn, household, id))
    }

    fn history(&self, household: &str, page: &Page) -> Result<Vec<Entry>> {
        self.read(|conn| read::history(conn, household, page))
    }

    fn unreadable(&self, household: &str) -> Result<Vec<(EventId, Unreadable)>> {
        self.read(|conn| read::unreadable(conn, household))
    }

    fn settings(&self, household: &str) -> Result<Settings> {
        self.read(|conn| read::settings(conn, household))
    }

    fn chambers(&self, household: &str) -> Result<Vec<Chamber>> {
        self.read(|conn| read::chambers(conn, household))
    }

    fn fills(&self, household: &str) -> Result<Vec<Fill>> {
        self.read(|conn| read::fills(conn, household, "1"))
    }

    fn filling(&self, household: &str) -> Result<Vec<Fill>> {
        self.read(|conn| read::fills(conn, household, "closed IS NULL AND emptied IS NULL"))
    }

    fn contents(&self, household: &str, chamber: &str) -> Result<Option<(Fill, Vec<PortionRow>)>> {
        self.read(|conn| read::contents(conn, household, chamber))
    }

    fn portions(&self, household: &str, fill: EventId) -> Result<Vec<PortionRow>> {
        self.read(|conn| read::portions(conn, household, fill))
    }

    fn unknown_words(&self, household: &str, fill: EventId) -> Result<Vec<UnknownWord>> {
        self.read(|conn| read::unknown_words(conn, household, fill))
    }

    fn stock(&self, household: &str) -> Result<Vec<Stock>> {
        self.read(|conn| read::stock(conn, household))
    }

    fn own_figures(&self, household: &str) -> Result<Vec<OwnMaterial>> {
        self.read(|conn| read::own_figures(conn, household))
    }

    fn weather(&self, household: &str) -> Result<Vec<WeatherDay>> {
        self.read(|conn| read::weather(conn, household))
    }

    fn rebuild(&self) -> Result<()> {
        self.write(derive::rebuild)
    }

    fn state_hash(&self, household: &str) -> Result<String> {
        self.read(|conn| hash::state(conn, household))
    }
}
