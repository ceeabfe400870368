//! A sealed bag of damp compost in a warm room for 5 to 7 days: what it smells of when opened.
//!
//! Earth passes; sour, rotten or ammonia fails; a swollen bag still breathes ("Simple tests" after Texas NRCC 1998,
//! seen). For mulch it is enough that it is not foul: swollen holds back the rungs above only (judged).

use super::{Passes, sure};

/// What was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bag {
    /// Smells of earth.
    Earthy,
    /// Sour.
    Sour,
    /// Rotten.
    Rotten,
    /// Ammonia.
    Ammonia,
    /// Blown up.
    Swollen,
}

impl Bag {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Earthy,
        Self::Sour,
        Self::Rotten,
        Self::Ammonia,
        Self::Swollen,
    ];

    /// Its word.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Earthy => "earthy",
            Self::Sour => "sour",
            Self::Rotten => "rotten",
            Self::Ammonia => "ammonia",
            Self::Swollen => "swollen",
        }
    }

    /// By its word.
    #[must_use]
    pub fn named(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|b| b.as_str() == word)
    }

    /// What it says of each rung.
    #[must_use]
    pub fn passes(self) -> Passes {
        let earthy = sure(self == Self::Earthy);
        let not_foul = sure(matches!(self, Self::Earthy | Self::Swollen));
        [not_foul, earthy, earthy, earthy, earthy]
    }
}
