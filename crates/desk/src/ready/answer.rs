//! May I use it now, as facts.

use jiff::civil::Date;

/// What holds a rung back.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HoldFacts {
    /// Fed too lately.
    Rest {
        /// Days since the last feed.
        days: f64,
        /// Days wanted.
        needed: f64,
    },
    /// A test fell short: its kind.
    Failed(&'static str),
    /// No test of breath yet.
    NoStabilityTest,
    /// No test with plants yet.
    NoPlantTest,
}

/// One rung.
#[derive(Debug, Clone, PartialEq)]
pub struct RungReady {
    /// mulch, resting_bed, planted_bed, pots, seed_trays.
    pub rung: &'static str,
    /// Of twenty runs of the forecast, those that reached it by today.
    pub forecast_in_twenty: Option<usize>,
    /// Chance with the tests; `None` until the forecast is worked out.
    pub chance: Option<f64>,
    /// What each test that counts does to the odds.
    pub factors: Vec<(&'static str, f64)>,
    /// What holds it back; a rung is shown as reached only where nothing does.
    pub holds: Vec<HoldFacts>,
}

impl RungReady {
    /// The chance out of twenty.
    #[must_use]
    pub fn in_twenty(&self) -> Option<usize> {
        self.chance.map(|c| (c * 20.0).round() as usize)
    }
}

/// Ends of a 95 % interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ends {
    /// Low.
    pub low: f64,
    /// High.
    pub high: f64,
}

/// What a test came to.
#[derive(Debug, Clone, PartialEq)]
pub enum TestResult {
    /// Self-heating.
    Flask {
        /// K above the room.
        rise_k: f64,
        /// Class I to V.
        class: &'static str,
        /// Too small, or of a size not told: class IV at best.
        small: bool,
        /// Too short for a pass.
        cut_short: bool,
    },
    /// A sealed bag and what it was like.
    Bag(&'static str),
    /// Seeds.
    Seeds {
        /// Came up and sown.
        pots: (u32, u32),
        /// Control, came up and sown.
        control: Option<(u32, u32)>,
        /// Wilson's interval of the share.
        likely: Ends,
        /// Clopper and Pearson's.
        exact: Ends,
        /// Ratio to the control, with Koopman's interval.
        ratio: Option<(f64, Ends)>,
    },
    /// Germination or vitality index, %.
    Index {
        /// The index.
        index: f64,
    },
    /// Breath in a jar, mg CO2-C/g OM·d: least, usual, most.
    Jar {
        /// Rates.
        rates: [f64; 3],
        /// very_stable, stable, moderately_unstable, unstable, raw.
        class: &'static str,
    },
    /// Ash: shares of organic matter lost and dry matter left.
    Ash {
        /// Lost.
        lost: f64,
        /// Left.
        left: f64,
    },
    /// Numbers that say nothing, and why.
    Void(String),
}

/// One test that was written down.
#[derive(Debug, Clone, PartialEq)]
pub struct TestFacts {
    /// Id of the entry.
    pub id: String,
    /// self_heating, bag, seeds, …
    pub kind: &'static str,
    /// Day.
    pub date: Date,
    /// Days ago.
    pub days_ago: i64,
    /// The words given.
    pub text: String,
    /// What it came to.
    pub result: TestResult,
    /// Whether it counts: the latest of its kind, since the last feed, and not void.
    pub counts: bool,
}

/// The test that would tell most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NextFacts {
    /// Which.
    pub test: &'static str,
    /// The rung it tells most of.
    pub rung: &'static str,
    /// Its chance now, after a pass, after a fail.
    pub chances: [f64; 3],
    /// What it tells over all rungs, bits.
    pub bits: f64,
}

/// `ready`.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadyAnswer {
    /// Name of the chamber.
    pub chamber: String,
    /// Its id.
    pub id: String,
    /// filling or closed.
    pub state: &'static str,
    /// Today.
    pub today: Date,
    /// Last feed.
    pub last_feed: Date,
    /// The five rungs, roughest first.
    pub rungs: Vec<RungReady>,
    /// Tests of this batch, latest first.
    pub tests: Vec<TestFacts>,
    /// The test that would tell most now.
    pub next: Option<NextFacts>,
    /// Index of CCQC 2001 with the forecast's C:N: very_mature, mature, immature.
    pub ccqc: Option<&'static str>,
    /// Cured by CCME 2005.
    pub cured: Option<bool>,
}

/// A test was written down.
#[derive(Debug, Clone, PartialEq)]
pub struct TestNoted {
    /// Id of the entry.
    pub id: String,
    /// Chamber.
    pub chamber: String,
    /// Whether it was written now; if not, the same key was there before.
    pub written: bool,
    /// What the entry came to.
    pub tests: Vec<TestFacts>,
}
