//! What an entry says: the one grammar of the page, the command line and a CSV cell.
//!
//! ```text
//! entry  = part { sep part }          sep = "," | ";" | "and" | "+" | "&" | "with" | line break | nothing
//! part   = item | when | chamber | filler
//! item   = [ amount ] words | words amount | amount          (a bare caddy is mixed scraps)
//! amount = number [ unit ] [ "of" ] | fraction unit | unit
//! when   = "yesterday evening" | "3 Sept" | "2 days ago" | …
//! ```
//!
//! The longest known group of words wins. Nothing is guessed in silence: what was not understood is
//! in [`Entry::unknown`] with near words, what could be several things is in [`Entry::ambiguous`],
//! and an amount that was not said is taken as one usual portion and marked [`Item::assumed`].

mod assemble;
mod close;
mod contents;
mod count;
mod date;
mod describe;
mod english;
mod gloss;
mod item;
mod left;
mod lexicon;
mod longest;
mod narrow;
mod nouns;
pub(crate) mod number;
mod part;
mod place;
mod read;
mod second;
mod segment;
mod settle;
mod share;
mod spell;
pub(crate) use spell::Book;
mod story;
mod talk;
pub(crate) mod tokens;
mod unit;
pub(crate) mod when;

use units::Spread;

pub use read::{MOST_BYTES, TooLong};

/// Words of the material that an unnamed weight is taken as.
const SCRAPS_WORDS: &str = "mixed-kitchen-scraps";

/// Hands and vessels of the household, and the names of its chambers.
#[derive(Debug, Clone, PartialEq)]
pub struct Hands {
    /// Litres of the kitchen caddy.
    pub caddy_l: f64,
    /// Kilograms of what a full caddy holds, if it was weighed.
    pub caddy_kg: Option<f64>,
    /// Litres of torn card in one handful.
    pub handful_l: f64,
    /// US volumes (pint, quart, gallon, cup) rather than imperial and metric.
    pub us: bool,
    /// Names of the chambers.
    pub chambers: Vec<String>,
}

impl Default for Hands {
    /// 6 L caddy and 0.35 L handful (common practice; a handful of torn card is 0.3–0.5 L).
    fn default() -> Self {
        Self {
            caddy_l: 6.0,
            caddy_kg: None,
            handful_l: 0.35,
            us: false,
            chambers: Vec::new(),
        }
    }
}

/// An entry as it was understood.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Entry {
    /// What goes in, in the order said.
    pub items: Vec<Item>,
    /// Words that mean nothing here.
    pub unknown: Vec<Unread>,
    /// Words that may mean several things.
    pub ambiguous: Vec<Ambiguous>,
    /// When, if it was said.
    pub when: Option<When>,
    /// Chamber named, spelled as the household does.
    pub chamber: Option<String>,
}

/// One portion.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// The words it came from.
    pub text: String,
    /// Material id.
    pub material: String,
    /// Wet mass, kg; `None` when the amount is a volume of something without a density.
    pub kg: Option<Spread>,
    /// Volume as it lies, L; `None` when there is no density.
    pub litres: Option<Spread>,
    /// What was taken when no amount was said, in words; `None` if it was said.
    pub assumed: Option<String>,
    /// The amount in the words' own unit; `None` when none was said or it is a share of a vessel.
    pub said: Option<Said>,
}

/// An amount as said: three handfuls, 1.5 kg, four of them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Said {
    /// How many.
    pub count: f64,
    /// Of what: "kg", "l", "handful", "caddy", "bag", "sheet" … or "each".
    pub unit: &'static str,
}

/// Words that were not understood.
#[derive(Debug, Clone, PartialEq)]
pub struct Unread {
    /// As typed.
    pub text: String,
    /// Ids of near materials, closest first.
    pub near: Vec<String>,
}

/// Words that may mean several materials.
#[derive(Debug, Clone, PartialEq)]
pub struct Ambiguous {
    /// As typed.
    pub text: String,
    /// Ids they may mean.
    pub may_be: Vec<String>,
}

/// A time as said; `desk` turns it into a moment with its own clock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct When {
    /// The words.
    pub text: String,
    /// The day meant.
    pub day: Day,
    /// Hour and minute of the day, if said ("evening" is 19:00, "morning" 8:00, "night" 22:00).
    pub time: Option<(u8, u8)>,
}

/// A day as said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Day {
    /// So many days before today; 0 is today.
    Ago(u16),
    /// The latest such weekday before today, Monday is 1.
    Weekday(u8),
    /// The latest such day and month not in the future; year if said.
    Date {
        /// 1–12; `None` for "the 12th".
        month: Option<u8>,
        /// 1–31.
        day: u8,
        /// Year, if said.
        year: Option<i16>,
    },
}
