//! A look inside, as facts.

use std::sync::Arc;

use catalogue::reading::Unread;
use jiff::civil::Date;

use crate::forecast::ForecastAnswer;

/// One thing as it was understood.
#[derive(Debug, Clone, PartialEq)]
pub struct SeenFacts {
    /// As typed.
    pub text: String,
    /// Which: core_c, squeeze, smell, warmth, level_pct, card, peel, creatures, weight_kg, turns, water_l.
    pub reading: String,
    /// Its word, if it is one of a few.
    pub word: Option<&'static str>,
    /// Its number, if it is one.
    pub number: Option<f64>,
    /// What was taken because it was not said.
    pub assumed: Option<&'static str>,
}

/// One thing that cannot be; it is kept and does not count.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AsideFacts {
    /// Which.
    pub reading: String,
    /// As typed.
    pub said: String,
    /// powered_up, disconnected, out_of_range, jump, flat_line, before_first_feed, future, contradicts,
    /// clock_went_back.
    pub reason: String,
}

/// What moved the date, and by how much.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MovedFacts {
    /// reading, turning or addition.
    pub cause: &'static str,
    /// Days later; negative is sooner. `None` to or from "not within the horizon".
    pub days: Option<f64>,
}

/// What a reading would be worth now.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WorthFacts {
    /// core, level, weight, squeeze, smell, card or warmth.
    pub reading: &'static str,
    /// The rung whose window it shortens.
    pub rung: &'static str,
    /// Days by which the window is expected to shrink.
    pub days_shorter: f64,
}

/// A forecast of the planted bed as it was given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Given {
    /// The day it was given on.
    pub on: Date,
    /// Early, middle and late.
    pub window: [Option<Date>; 3],
}

/// How past windows fared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RecordFacts {
    /// Batches that were emptied with a word on what they were fit for.
    pub batches: usize,
    /// Of those, how many within the window given when they were closed.
    pub inside: usize,
}

/// `check`.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckAnswer {
    /// Id of the entry.
    pub id: String,
    /// Chamber.
    pub chamber: String,
    /// Its id.
    pub chamber_id: String,
    /// Whether it was written now, or had been before with the same key.
    pub written: bool,
    /// When it was seen.
    pub at: String,
    /// What was understood.
    pub understood: Vec<SeenFacts>,
    /// What was not.
    pub unknown: Vec<Unread>,
    /// What cannot be.
    pub set_aside: Vec<AsideFacts>,
    /// The forecast before, if it was worked out.
    pub before: Option<Arc<ForecastAnswer>>,
    /// And after.
    pub after: Option<Arc<ForecastAnswer>>,
    /// Why there is no forecast, where one was asked for and none can be made. What was seen is noted all the same.
    pub no_forecast: Option<String>,
    /// What moved the middle of the planted bed.
    pub moved: Vec<MovedFacts>,
}
