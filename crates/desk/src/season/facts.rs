//! A season as facts.

use jiff::civil::Date;
use units::Spread;

/// Something a plan takes for granted.
#[derive(Debug, Clone, PartialEq)]
pub enum SeasonAssumed {
    /// Weather of this town, 1981–2010; `given` is whether the household named it.
    Town {
        /// Its name.
        name: String,
        /// Whether the household's place names it.
        given: bool,
    },
    /// Weather of towns of like latitude.
    Latitude(f64),
    /// Inflow learned from this many weeks of the log.
    Learned(usize),
    /// No log yet: three people's kitchen.
    Usual,
    /// Closed chambers rest about so many weeks before they are emptied, as in the log.
    Rests(f64),
    /// Closed chambers are emptied once fit for a bed: too few were emptied to know better.
    Bed,
    /// Room left free for turning, %.
    Room(f64),
    /// Levels scaled to what was last measured in this chamber.
    Measured(String),
    /// A chamber whose size is not known is taken as this, L.
    Litres(f64),
    /// More than two chambers: these are left out.
    LeftOut(Vec<String>),
    /// One chamber only: nothing to change over to.
    One,
}

/// A chamber in a month.
#[derive(Debug, Clone, PartialEq)]
pub struct MonthFacts {
    /// First day of the month.
    pub month: Date,
    /// Name of the chamber.
    pub chamber: String,
    /// filling, closed or empty, in most runs in the middle of the month.
    pub state: &'static str,
    /// Litres at the month's end: 10, 50, 90 % of the runs.
    pub level_l: Spread,
    /// Runs in twenty in which it was emptied in this month.
    pub emptied: usize,
}

/// Litres that find no room in a week.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OverFacts {
    /// First day of the week.
    pub week: Date,
    /// Mean litres.
    pub litres: f64,
    /// Share of the runs with at least half a litre.
    pub chance: f64,
}

/// A change-over of the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct ChangeFacts {
    /// First day of its week.
    pub on: Date,
    /// Which chamber is closed.
    pub close: String,
    /// Which is emptied and takes over.
    pub empty: String,
    /// Weeks before it is fit for a bed, in the median run; infinite is "not within sight", nought is fit or empty.
    pub early_weeks: f64,
}

/// Something to do, with what it keeps off the ground.
#[derive(Debug, Clone, PartialEq)]
pub struct SeasonAct {
    /// change_over, empty_early, freeze, bag_with_leaves, trench, third_container.
    pub act: &'static str,
    /// Latest day.
    pub by: Date,
    /// Work, minutes (judged).
    pub minutes: u32,
    /// Litres kept off the ground, mean, by this alone.
    pub effect_l: f64,
    /// Litres that it takes of what the plan leaves, mean; nought for the plan itself.
    pub after_plan_l: f64,
}

/// What to lay in.
#[derive(Debug, Clone, PartialEq)]
pub struct LayIn {
    /// leaves or card.
    pub what: &'static str,
    /// Litres as they lie.
    pub litres: f64,
    /// Sacks of 60 L, whole.
    pub sacks: u32,
    /// Latest day.
    pub by: Date,
}

/// Browns.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct BrownsFacts {
    /// Litres at hand, if any were counted.
    pub stock_l: Option<f64>,
    /// Litres used a week, mean of the log.
    pub weekly_l: Option<f64>,
    /// Weeks that the stock lasts.
    pub weeks_left: Option<f64>,
    /// What to lay in for the year.
    pub lay_in: Vec<LayIn>,
}

/// Close by then, so that it is ready for a day.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadyFor {
    /// The day it is wanted.
    pub by: Date,
    /// Chambers whose contents are fit for a bed by then, with how many of twenty runs say so.
    pub chambers: Vec<(String, usize)>,
    /// Latest day to close what fills now; `None` if that is past.
    pub close_by: Option<Date>,
}

/// Litres on the ground in a year.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Spilt {
    /// Mean.
    pub mean: f64,
    /// In the median run.
    pub median: f64,
    /// Runs in twenty with more than 5 L.
    pub in_twenty: usize,
}

/// `season`.
#[derive(Debug, Clone, PartialEq)]
pub struct SeasonAnswer {
    /// Today.
    pub today: Date,
    /// The chambers planned with: the one that fills first.
    pub chambers: Vec<String>,
    /// Whether the first takes caddies now.
    pub filling: bool,
    /// Litres of each that may be filled.
    pub room_l: Vec<f64>,
    /// Litres of each.
    pub size_l: Vec<f64>,
    /// What goes in a week, as it lies in the chamber, L: mean of the year ahead.
    pub weekly_l: f64,
    /// Doing as now.
    pub months: Vec<MonthFacts>,
    /// By the plan.
    pub planned: Vec<MonthFacts>,
    /// Weeks with an overflow when doing as now.
    pub overflow: Vec<OverFacts>,
    /// Litres when doing as now.
    pub now: Spilt,
    /// Litres by the plan.
    pub plan: Spilt,
    /// Litres doing as now and by the plan, with 30 % less and 30 % more going in.
    pub tried: [(f64, f64, f64); 2],
    /// Changes of the plan.
    pub changes: Vec<ChangeFacts>,
    /// What can be done, least work first.
    pub acts: Vec<SeasonAct>,
    /// Browns.
    pub browns: BrownsFacts,
    /// For a day, if one was asked.
    pub ready: Option<ReadyFor>,
    /// Weeks until what goes into a closed chamber today is fit for a bed, in the median run, against those until
    /// the chamber is without it; by chamber. Infinite is "not within sight".
    pub top_up: Vec<(String, f64, f64)>,
    /// What it takes for granted.
    pub assumed: Vec<SeasonAssumed>,
    /// South of the equator.
    pub south: bool,
    /// Runs.
    pub members: usize,
}

impl SeasonAnswer {
    /// The first week in which at least one run in four overflows, if one lies ahead.
    #[must_use]
    pub fn first_over(&self) -> Option<&OverFacts> {
        self.overflow.iter().find(|o| o.chance >= super::SPOKEN)
    }
}
