//! Daily rain from nothing but the total of a year: wide, and without a season.
//!
//! A day is wet or dry by a two-state Markov chain; a wet day's rain is gamma distributed.
//! - P(wet | dry) = 0.75 f, P(wet | wet) = 0.25 + 0.75 f; f share of wet days
//! - scale β = 1.83 r − 2.16 mm, shape α = r/β; r rain of a wet day, mm
//!
//! Source: Geng, S., Penning de Vries, F. W. T. and Supit, I., 1986, A simple method for generating rainfall
//! data, Agricultural and Forest Meteorology 36:363–376 (coefficients recalled). f is not known from a total: r is taken as
//! 4 + 0.004 R mm (judged: about 95 wet days at 600 mm, 135 at 1,200 mm). A member draws R × LN(1, 1.2) and
//! r × LN(1, 1.35) (judged: years differ, and the rule for r is crude).

use rand::{Rng, RngExt as _};
use rand_distr::{Distribution as _, Gamma, StandardNormal};

/// Days of a mean year.
const YEAR: f64 = 365.25;
/// Spread of a year's total and of a wet day's rain, as geometric standard deviations (judged).
const GSD: (f64, f64) = (1.2, 1.35);
/// Least rain that makes a day wet, mm (WMO climate summaries count days of 1 mm; recalled).
pub const WET_MM: f64 = 1.0;

/// A chain of wet and dry days.
#[derive(Debug, Clone)]
pub struct Rain {
    wet: f64,
    amount: Option<Gamma<f64>>,
}

impl Rain {
    /// The middle: no luck in the total.
    #[must_use]
    pub fn typical(annual_mm: f64) -> Self {
        Self::of(annual_mm, 4.0 + 0.004 * annual_mm)
    }

    /// One member's year.
    #[must_use]
    pub fn drawn(annual_mm: f64, rng: &mut impl Rng) -> Self {
        let mut times = |gsd: f64| gsd.powf(rng.sample::<f64, _>(StandardNormal));
        let annual = annual_mm * times(GSD.0);
        Self::of(annual, (4.0 + 0.004 * annual) * times(GSD.1))
    }

    fn of(annual_mm: f64, per_wet_day: f64) -> Self {
        let wet = (annual_mm / (YEAR * per_wet_day)).clamp(0.0, 0.9);
        if wet <= 0.0 {
            return Self {
                wet: 0.0,
                amount: None,
            };
        }
        let mean = annual_mm / (YEAR * wet);
        // Below r = 1.7 mm the rule gives a scale near nought; an exponential is the limit kept here.
        let scale = (1.83 * mean - 2.16).max(0.5 * mean);
        Self {
            wet,
            amount: Gamma::new(mean / scale, scale).ok(),
        }
    }

    /// Share of wet days, 0 to 0.9.
    #[must_use]
    pub fn wet_share(&self) -> f64 {
        self.wet
    }

    /// Whether a day is wet; `u` is uniform on 0 to 1; without a day before it, the long-run share holds.
    #[must_use]
    pub fn is_wet(&self, before: Option<bool>, u: f64) -> bool {
        let chance = match before {
            None => self.wet,
            Some(false) => 0.75 * self.wet,
            Some(true) => 0.25 + 0.75 * self.wet,
        };
        self.wet > 0.0 && u < chance
    }

    /// Rain of a wet day, mm.
    pub fn amount(&self, rng: &mut impl Rng) -> f64 {
        self.amount.map_or(0.0, |g| g.sample(rng))
    }
}
