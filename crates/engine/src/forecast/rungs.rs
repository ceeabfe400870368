//! The five rungs: what compost is fit for, by what is measured. `docs/rungs.md` gives sources and choices.
//!
//! A rung is reached when all of its limits hold, counted from the last feed. Tests by hand move no date here;
//! `maturity::verdict` weighs them. OUR in mg O2 per g organic matter and day at 25 °C; divide by 2.67 for mg CO2-C.
//!
//! Sources: OUR 9.6 is 400 mg O2/kg OM·h, and 21 days of curing, of CCME 2005, *Guidelines for Compost
//! Quality*; 30, 20 and 5 are the edges of the CO2 classes 8–15, 2–8 and 2 mg CO2-C/g OM·d of TMECC 05.08-B
//! (recalled); the step to 4 is a choice. C:N 25 is the first gate of the maturity index of CCQC 2001 (California
//! Compost Quality Council); 20 and 18 for pots and trays are choices, since roots there have nothing else;
//! 30 is where nitrogen begins to be locked up (common practice). Recognisable pieces and rests are choices.

use serde::{Deserialize, Serialize};

/// What compost is fit for, roughest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Rung {
    /// On top of soil, around shrubs.
    Mulch,
    /// Dug into a bed that is planted six weeks later or more.
    RestingBed,
    /// Dug into a bed that is planted now.
    PlantedBed,
    /// A part of a potting mix.
    Pots,
    /// A part of a seed mix.
    SeedTrays,
}

/// Limits of one rung.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Most oxygen uptake, mg O2/g OM·d.
    pub uptake: f64,
    /// Most C:N.
    pub cn: f64,
    /// Most of the cellulose put in that may still be there.
    pub recognisable: f64,
    /// Days since the last feed.
    pub rest: f64,
}

impl Rung {
    /// All five, roughest first.
    pub const ALL: [Self; 5] = [
        Self::Mulch,
        Self::RestingBed,
        Self::PlantedBed,
        Self::Pots,
        Self::SeedTrays,
    ];

    /// Its limits.
    #[must_use]
    pub const fn limits(self) -> Limits {
        let (uptake, cn, recognisable, rest) = match self {
            Self::Mulch => (30.0, 40.0, 0.80, 14.0),
            Self::RestingBed => (20.0, 30.0, 0.60, 14.0),
            Self::PlantedBed => (9.6, 25.0, 0.40, 21.0),
            Self::Pots => (5.0, 20.0, 0.30, 28.0),
            Self::SeedTrays => (4.0, 18.0, 0.20, 60.0),
        };
        Limits {
            uptake,
            cn,
            recognisable,
            rest,
        }
    }

    /// As in JSON.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Mulch => "mulch",
            Self::RestingBed => "resting_bed",
            Self::PlantedBed => "planted_bed",
            Self::Pots => "pots",
            Self::SeedTrays => "seed_trays",
        }
    }
}
