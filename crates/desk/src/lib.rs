//! The desk: one file for each thing the gardener wants.
//!
//! Time, place and seed enter here and nowhere else. A use case takes words, asks the catalogue, the
//! engine and the journal, and gives back facts; the surfaces in `app` make sentences, pages and JSON of
//! them. No markup, no SQL and no equation stands in this crate.

mod add;
mod answer;
mod chambers;
mod check;
mod clock;
mod demo;
mod dose;
mod error;
mod forecast;
mod handover;
mod heat;
mod household;
mod local_rules;
mod log;
mod look_up;
mod mix;
mod moving;
mod put_right;
mod read;
mod ready;
mod season;
mod seen;
mod simulate;
mod stock;
mod tend;
mod today;
mod undo;
mod weather;
mod why;

pub use answer::{
    AddAnswer, ChamberFacts, DoseAnswer, DoseLine, FigureFacts, LedBy, Line, ListFacts, LogLine,
    LookAnswer, MatchFacts, Mix, MixAnswer, MoveAnswer, Named, Nearby, Reading, StockLine,
    TodayAnswer, WhyAnswer,
};
pub use check::{
    AsideFacts, CheckAnswer, Given, MovedFacts, ProbePlace, RecordFacts, SeenFacts, SensorFacts,
    SensorPoint, Sent, WorthFacts,
};
pub use clock::Clock;
pub use demo::{TONIGHT, demo_clock};
pub use dose::DoseAsk;
pub use error::Error;
pub use forecast::{
    Assumed, CardFacts, ForecastAnswer, ForecastAsk, Gain, InsideFacts, LearntFacts, MoveFacts,
    RungFacts, WeekFacts,
};
pub use handover::{HandedOver, HandoverAnswer, TUB_KG, Tubs, Within};
pub use heat::{HeatAnswer, HeatHours, HeatReading, MetFacts, YardstickFacts};
pub use household::{Household, HouseholdChange};
pub use local_rules::{LocalFood, LocalRules};
pub use put_right::{
    CauseFacts, PutRightAmount, PutRightAnswer, PutRightAsk, PutRightDone, Rests, SpeaksFor,
    SymptomFacts,
};
pub use ready::{
    Ends, HoldFacts, NextFacts, ReadyAnswer, RungReady, TestFacts, TestNoted, TestResult,
};
pub use season::{
    AwayAct, AwayAnswer, BrownsFacts, ChangeFacts, LayIn, MonthFacts, OverFacts, ReadyFor,
    RoomThen, SeasonAct, SeasonAnswer, SeasonAssumed, Sitter, Spilt,
};
pub use simulate::{CaseError, CaseFault, Points, ReadyDays, SimulateAnswer, SimulateAsk};
pub use tend::TendAnswer;
pub use today::Standing;
pub use weather::{MeasuredDays, WeatherAnswer};

use std::path::Path;
use std::sync::{Arc, Mutex};

use catalogue::{Catalogue, OwnRow};
use journal::{Sqlite, Store};

/// Seed of every spread shown; the same entry gives the same digits.
pub(crate) const SEED: u64 = 0x10a3;
/// The household of a single-household journal.
pub(crate) const HOUSEHOLD: &str = "home";

/// Everything a surface needs to answer.
pub struct Desk {
    base: Arc<Catalogue>,
    laid: seen::Seen<Arc<Catalogue>>,
    settings: seen::Seen<journal::Settings>,
    file_rows: Vec<OwnRow>,
    store: Option<Box<dyn Store>>,
    clock: Clock,
    demo: bool,
    kept: Mutex<today::Kept>,
    sensors_seen: seen::Seen<std::collections::BTreeMap<String, check::KnownSensor>>,
    open_hours: Mutex<check::OpenHours>,
    typical: Mutex<season::Typical>,
}

impl std::fmt::Debug for Desk {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Desk")
            .field("store", &self.store.is_some())
            .field("demo", &self.demo)
            .finish()
    }
}

impl Desk {
    /// A desk without a journal: looks up, mixes and doses; remembers nothing.
    ///
    /// # Errors
    /// [`Error::Catalogue`] if the compiled-in tables do not hold.
    pub fn without_journal(own_csv: Option<&str>) -> Result<Self, Error> {
        Self::new(None, own_csv, Clock::System, false)
    }

    /// A desk over the journal in `file`, made if it is not there.
    ///
    /// # Errors
    /// As the journal's: a foreign, damaged, newer or busy file, each with the way out.
    pub fn open(file: &Path, own_csv: Option<&str>) -> Result<Self, Error> {
        let store = Sqlite::open(file)?;
        Self::new(Some(Box::new(store)), own_csv, Clock::System, false)
    }

    /// The invented demo household, in memory, on its fixed day.
    ///
    /// # Errors
    /// [`Error`] if the demo's own entries do not read; a test makes sure they do.
    pub fn demo() -> Result<Self, Error> {
        Self::demo_by(demo_clock())
    }

    /// The invented household as it stood on an earlier day: what came later is not written yet.
    ///
    /// # Errors
    /// As [`Desk::demo`].
    pub fn demo_on(at: jiff::Timestamp) -> Result<Self, Error> {
        Self::demo_by(Clock::Fixed(at))
    }

    fn demo_by(clock: Clock) -> Result<Self, Error> {
        let store = Sqlite::open_memory()?;
        let desk = Self::new(Some(Box::new(store)), None, clock, true)?;
        desk.write_demo()?;
        Ok(desk)
    }

    fn new(
        store: Option<Box<dyn Store>>,
        own_csv: Option<&str>,
        clock: Clock,
        demo: bool,
    ) -> Result<Self, Error> {
        let base = Arc::new(Catalogue::load()?);
        let file_rows = own_csv
            .map(catalogue::read_own)
            .transpose()?
            .unwrap_or_default();
        let desk = Self {
            laid: seen::Seen::default(),
            settings: seen::Seen::default(),
            base,
            file_rows,
            store,
            clock,
            demo,
            kept: Mutex::new(today::Kept::default()),
            sensors_seen: seen::Seen::default(),
            open_hours: Mutex::default(),
            typical: Mutex::new(season::Typical::default()),
        };
        // Figures that cannot be used are told at the start.
        desk.catalogue()?;
        Ok(desk)
    }

    pub(crate) fn store(&self) -> Result<&dyn Store, Error> {
        self.store.as_deref().ok_or(Error::NoJournal)
    }

    /// Whether this is the invented household.
    pub fn is_demo(&self) -> bool {
        self.demo
    }

    /// Today's date where the household lives, as `18 September 2026`.
    pub fn today_text(&self) -> String {
        self.clock
            .now(&self.zone())
            .strftime("%-d %B %Y")
            .to_string()
    }
}
