//! What a household can see, feel, smell or weigh, each with its day.

use serde::{Deserialize, Serialize};
use units::{OutOfRange, Range};

/// What it smells of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Smell {
    /// Nothing much.
    None,
    /// Forest floor.
    Earthy,
    /// Vinegar, silage.
    Sour,
    /// Bad eggs, drains.
    Rotten,
    /// Stings the nose.
    Ammonia,
    /// Cellar, old cloth.
    Musty,
}

/// How much of the card and stalk put in can still be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Card {
    /// None.
    None,
    /// A few pieces.
    Few,
    /// Some.
    Some,
    /// Most of it.
    Most,
}

/// Warmth by hand, a hand's depth in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Warmth {
    /// Cold.
    Cold,
    /// Cool.
    Cool,
    /// Warm.
    Warm,
    /// Hot.
    Hot,
}

/// What was read.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Seen {
    /// A probe in the middle, °C.
    Core(f64),
    /// Volume, L.
    Litres(f64),
    /// Mass of what is inside, kg.
    Kilograms(f64),
    /// Squeeze of a handful: 1 dust dry, 2 dry, 3 as a wrung sponge, 4 drips when squeezed, 5 drips by itself.
    Squeeze(u8),
    /// Smell.
    Smell(Smell),
    /// Recognisable card and stalk.
    Card(Card),
    /// Warmth by hand.
    Warmth(Warmth),
    /// Oxygen uptake by a jar, a bag or a self-heating test, mg O2/g OM·d at 25 °C.
    Uptake(f64),
}

/// Kinds of reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// A probe in the middle.
    Core,
    /// Level.
    Level,
    /// Weight.
    Weight,
    /// Squeeze.
    Squeeze,
    /// Smell.
    Smell,
    /// Recognisable card.
    Card,
    /// Warmth by hand.
    Warmth,
    /// Jar, bag, self-heating.
    Uptake,
}

/// One reading.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// Days since the start of the run, with the hour as its fraction.
    pub day: f64,
    /// What was read.
    pub seen: Seen,
}

const fn row(name: &'static str, unit: &'static str, least: f64, most: f64) -> Range {
    Range {
        name,
        unit,
        least,
        most,
    }
}

/// Core temperature; outside it a probe is broken (choice).
pub const CORE_C: Range = row("core temperature", "°C", -40.0, 90.0);
/// Volume.
pub const LITRES: Range = row("volume inside", "L", 0.1, 5_000.0);
/// Mass.
pub const KILOGRAMS: Range = row("weight inside", "kg", 0.05, 5_000.0);
/// Squeeze.
pub const SQUEEZE: Range = row("squeeze class", "", 1.0, 5.0);
/// Uptake: raw food is near 100 (recalled), the limit only catches a slip.
pub const UPTAKE: Range = row("oxygen uptake", "mg O2/g OM·d", 0.05, 300.0);
/// Day of a reading.
pub const DAY: Range = row("day of the reading", "d since the first feed", 0.0, 3_660.0);

impl Reading {
    /// A reading on a day.
    #[must_use]
    pub const fn new(day: f64, seen: Seen) -> Self {
        Self { day, seen }
    }

    /// Its kind.
    #[must_use]
    pub const fn kind(&self) -> Kind {
        match self.seen {
            Seen::Core(_) => Kind::Core,
            Seen::Litres(_) => Kind::Level,
            Seen::Kilograms(_) => Kind::Weight,
            Seen::Squeeze(_) => Kind::Squeeze,
            Seen::Smell(_) => Kind::Smell,
            Seen::Card(_) => Kind::Card,
            Seen::Warmth(_) => Kind::Warmth,
            Seen::Uptake(_) => Kind::Uptake,
        }
    }

    /// Checks every number against its row.
    ///
    /// # Errors
    /// [`OutOfRange`] names the number, its value and the range.
    pub fn check(&self) -> Result<(), OutOfRange> {
        DAY.check(self.day)?;
        match self.seen {
            Seen::Core(c) => CORE_C.check(c)?,
            Seen::Litres(l) => LITRES.check(l)?,
            Seen::Kilograms(kg) => KILOGRAMS.check(kg)?,
            Seen::Squeeze(class) => SQUEEZE.check(f64::from(class))?,
            Seen::Uptake(u) => UPTAKE.check(u)?,
            Seen::Smell(_) | Seen::Card(_) | Seen::Warmth(_) => 0.0,
        };
        Ok(())
    }
}

impl Kind {
    /// All, in order.
    pub const ALL: [Self; 8] = [
        Self::Core,
        Self::Level,
        Self::Weight,
        Self::Squeeze,
        Self::Smell,
        Self::Card,
        Self::Warmth,
        Self::Uptake,
    ];

    /// As in JSON.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Core => "core",
            Self::Level => "level",
            Self::Weight => "weight",
            Self::Squeeze => "squeeze",
            Self::Smell => "smell",
            Self::Card => "card",
            Self::Warmth => "warmth",
            Self::Uptake => "uptake",
        }
    }
}

impl Smell {
    /// All, in order.
    pub const ALL: [Self; 6] = [
        Self::None,
        Self::Earthy,
        Self::Sour,
        Self::Rotten,
        Self::Ammonia,
        Self::Musty,
    ];
}

impl Card {
    /// All, least first.
    pub const ALL: [Self; 4] = [Self::None, Self::Few, Self::Some, Self::Most];
}

impl Warmth {
    /// All, coldest first.
    pub const ALL: [Self; 4] = [Self::Cold, Self::Cool, Self::Warm, Self::Hot];
}
