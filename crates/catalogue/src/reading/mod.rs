//! What a look inside says: the one grammar of the page, the command line and a cell of a table.
//!
//! ```text
//! look    = part { sep part }        sep = "," | ";" | "." | "and" | "+" | line break
//! part    = squeeze | smell | warmth | degrees | level | left | creature | weight | act | when | chamber
//! squeeze = "squeeze drips" | "holds, no drip" | "squeeze 4"
//! level   = "level 7 fingers" | "2 hands deep" | "half full" | "60 %" | "80 L inside"
//! left    = "card some" | "few bits of peel" | "no card"
//! degrees = "41 C" | "105F" | "41°"
//! act     = "turned" | "watered 2 L"
//! ```
//!
//! Nothing is guessed in silence: what was not understood, was said twice in two ways, or was denied ("not hot") is in
//! [`Look::unknown`] with a hint, and what had to be taken for granted is in [`Sighting::assumed`].

mod measure;
mod read;
mod words;

use crate::entry::When;

/// Grades of a squeezed handful, driest first, as the page says them.
pub const SQUEEZES: [&str; 5] = [
    "dusty",
    "crumbles",
    "holds, no drip",
    "one to three drops",
    "runs",
];

/// What it smells of.
pub const SMELLS: [&str; 6] = ["nothing", "earthy", "sour", "rotten", "ammonia", "musty"];

/// Warmth by hand, a hand's depth in.
pub const WARMTHS: [&str; 4] = ["cold", "cool", "warm", "hot"];

/// How much of a thing can still be told.
pub const SHARES: [&str; 4] = ["none", "few", "some", "most"];

/// One number or grade that was seen.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Place in [`SQUEEZES`], from 1.
    Squeeze(u8),
    /// Place in [`SMELLS`], from 0.
    Smell(usize),
    /// Place in [`WARMTHS`], from 0.
    Warmth(usize),
    /// A thermometer, °C.
    Celsius(f64),
    /// Centimetres of empty room under the rim.
    BelowRimCm(f64),
    /// Centimetres of what is inside.
    DeepCm(f64),
    /// Share of the chamber that is full, 0 to 1.
    Full(f64),
    /// Litres inside.
    Litres(f64),
    /// Card, paper and stalk still to be recognised: place in [`SHARES`].
    Card(usize),
    /// Peel still to be recognised: place in [`SHARES`].
    Peel(usize),
    /// A creature; false when there is none of it.
    Creature(&'static str, bool),
    /// What is inside, kg.
    Kilograms(f64),
    /// Turnings.
    Turned(f64),
    /// Water poured in, L.
    Watered(f64),
}

/// One thing seen, with the words it came from.
#[derive(Debug, Clone, PartialEq)]
pub struct Sighting {
    /// As typed.
    pub text: String,
    /// What it says.
    pub value: Value,
    /// What was taken because it was not said.
    pub assumed: Option<&'static str>,
}

/// Words that were not understood, with the way out if there is one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unread {
    /// As typed.
    pub text: String,
    /// How to say it.
    pub hint: &'static str,
}

/// A look inside as it was understood.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Look {
    /// What was seen, in the order said.
    pub seen: Vec<Sighting>,
    /// What was not understood.
    pub unknown: Vec<Unread>,
    /// When, if it was said.
    pub when: Option<When>,
    /// Chamber named, spelled as the household does.
    pub chamber: Option<String>,
}

/// Breadth of a finger, cm (choice: 1.8–2.2 over gloves and people).
pub const FINGER_CM: f64 = 2.0;
/// Breadth of a hand, thumb and all, cm (choice: near 10).
pub const HAND_CM: f64 = 10.0;

impl Value {
    /// Two of the same kind in one look contradict or repeat each other.
    fn kind(&self) -> (u8, &'static str) {
        match self {
            Self::Squeeze(_) => (0, ""),
            Self::Smell(_) => (1, ""),
            Self::Warmth(_) => (2, ""),
            Self::Celsius(_) => (3, ""),
            Self::BelowRimCm(_) | Self::DeepCm(_) | Self::Full(_) | Self::Litres(_) => (4, ""),
            Self::Card(_) => (5, ""),
            Self::Peel(_) => (6, ""),
            Self::Creature(name, _) => (7, name),
            Self::Kilograms(_) => (8, ""),
            Self::Turned(_) => (9, ""),
            Self::Watered(_) => (10, ""),
        }
    }
}
