//! A forecast as facts.

use engine::forecast::Turning;
use jiff::civil::Date;
use units::Spread;

use crate::check::{RecordFacts, WorthFacts};

/// Something a forecast takes for granted; said before the forecast.
#[derive(Debug, Clone, PartialEq)]
pub enum Assumed {
    /// Weather of this town, 1981–2010.
    Town(String),
    /// Weather of towns of like latitude.
    Latitude(f64),
    /// No place is known: weather of this town is taken.
    NoPlace(String),
    /// It is still filling: as if nothing more went in after today.
    NothingMore,
    /// Turned about every so many days.
    Turned {
        /// Days.
        every: u32,
        /// Whether turnings were written down.
        noted: bool,
    },
    /// Turned about every so many days also where two weeks or more hold no note.
    TurnedBetween(u32),
    /// Measured days stand in place of drawn ones.
    Observed {
        /// How many since the first feed.
        days: usize,
        /// The last of them.
        to: Date,
    },
    /// A chamber whose size is not known is taken as this, L.
    Litres(f64),
    /// A usual grey drum with half a day of sun, no wrap.
    UsualDrum,
    /// The same of a bin on open ground; it loses more water below, and is forked rather than turned whole.
    UsualBin,
    /// Materials whose figures are not known were left out.
    LeftOut(Vec<String>),
    /// Part of it was in before the record began, guessed.
    BeforeRecord,
    /// Card torn to a palm.
    Torn,
}

/// One rung.
#[derive(Debug, Clone, PartialEq)]
pub struct RungFacts {
    /// mulch, resting_bed, planted_bed, pots, seed_trays.
    pub rung: &'static str,
    /// Two runs in twenty are earlier.
    pub early: Option<Date>,
    /// Half are.
    pub middle: Option<Date>,
    /// Two in twenty are later.
    pub late: Option<Date>,
    /// Twenty dots; `None` is not within the horizon.
    pub dots: Vec<Option<Date>>,
    /// Share not within the horizon.
    pub never: f64,
    /// Of twenty, reached by today.
    pub in_twenty_by_now: usize,
    /// Early, middle and late as days since the first feed.
    pub days: [Option<f64>; 3],
    /// 5, 50 and 95 % as days since the first feed, as they came out: before past batches widened them.
    pub raw: [Option<f64>; 3],
}

/// What it is like inside today.
#[derive(Debug, Clone, PartialEq)]
pub struct InsideFacts {
    /// Core, mean of the day, °C.
    pub core_c: Spread,
    /// Shell at midnight, °C.
    pub shell_c: Spread,
    /// Air, °C.
    pub air_c: Spread,
    /// Water, % of wet mass.
    pub water_pct: Spread,
    /// Volume, L.
    pub litres: Spread,
    /// Volume, 10 and 90 %, L.
    pub litres_10_90: (f64, f64),
    /// Wet mass, kg.
    pub mass_kg: Spread,
    /// C:N.
    pub cn: Spread,
    /// Free air space, %.
    pub air_space_pct: Spread,
    /// Least oxygen of the day, vol-%.
    pub oxygen_pct: Spread,
    /// Share in wet clumps, %.
    pub clumped_pct: Spread,
    /// Organic acids, g/kg dry matter.
    pub acids_g_kg: Spread,
    /// Oxygen uptake at 25 °C, mg O2/g OM·d.
    pub uptake: Spread,
    /// Recognisable card and stalk, % of what went in.
    pub recognisable_pct: Spread,
    /// Nitrogen lost, %.
    pub nitrogen_lost_pct: Spread,
}

/// One week of the course.
#[derive(Debug, Clone, PartialEq)]
pub struct WeekFacts {
    /// Its first day.
    pub date: Option<Date>,
    /// Core, °C.
    pub core_c: Spread,
    /// Air, °C.
    pub air_c: f64,
    /// Water, %.
    pub water_pct: Spread,
    /// Volume, L.
    pub litres: Spread,
    /// C:N.
    pub cn: Spread,
    /// Recognisable, %.
    pub recognisable_pct: Spread,
}

/// What one act would move the planted-bed date by.
#[derive(Debug, Clone, PartialEq)]
pub struct MoveFacts {
    /// turn_often, wrap, sun, cut, warm_water, water, greens.
    pub act: &'static str,
    /// Days earlier; negative is later. `None` where the date is beyond the horizon either way.
    pub days: f64,
    /// Half-width of the doubt of the simulation itself (two standard errors), days.
    pub doubt: f64,
}

/// `forecast`.
#[derive(Debug, Clone, PartialEq)]
pub struct ForecastAnswer {
    /// Name of the chamber.
    pub chamber: String,
    /// Its id.
    pub id: String,
    /// filling or closed.
    pub state: &'static str,
    /// Litres of the chamber.
    pub chamber_litres: f64,
    /// First feed.
    pub first_feed: Date,
    /// Last feed.
    pub last_feed: Date,
    /// Today.
    pub today: Date,
    /// Days since the first feed.
    pub days_since_first: usize,
    /// How far it looks.
    pub horizon: Date,
    /// What it takes for granted.
    pub assumed: Vec<Assumed>,
    /// The five rungs, roughest first.
    pub rungs: Vec<RungFacts>,
    /// What the oxygen asks for.
    pub turning: Turning,
    /// What it is like inside.
    pub inside: InsideFacts,
    /// Week by week from the first feed.
    pub weeks: Vec<WeekFacts>,
    /// Warmest core of the whole run, °C.
    pub peak_c: Spread,
    /// Peak, losses and the rest at the horizon: name and 5, 50, 95 %.
    pub summed: Vec<(&'static str, [f64; 3])>,
    /// Days from the first feed to the horizon.
    pub horizon_days: usize,
    /// What would move the planted-bed date, most days first.
    pub moves: Vec<MoveFacts>,
    /// Members.
    pub members: usize,
    /// Seed.
    pub seed: u64,
    /// What readings did to it.
    pub learnt: LearntFacts,
    /// Which reading would help most now, best first.
    pub worth: Vec<WorthFacts>,
    /// How past windows fared.
    pub record: RecordFacts,
}

/// What readings did to a forecast.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LearntFacts {
    /// Readings it has learnt from.
    pub used: usize,
    /// Readings that cannot be.
    pub aside: usize,
    /// Day of the latest that counts.
    pub latest: Option<Date>,
    /// The latest temperature: when, °C, and whether it counts.
    pub probe: Option<(Date, f64, bool)>,
    /// Factor on the spread of the days that remain; 1 is none.
    pub stretch: f64,
    /// Past batches the factor rests on.
    pub stretch_rests_on: usize,
    /// What holds of the drum for its next batch: parameter to mean and spread.
    pub drum: std::collections::BTreeMap<String, [f64; 2]>,
}
