//! A feed from a composition given directly, and a mix brought to an exact water share and C:N.
//!
//! ```text
//! organic = dry (1 − ash)                       ash 0.10 if not given (judged: 0.05–0.20 in kitchen and garden waste)
//! carbon  = organic/1.8 if not given            Adams, Bacon & Ghosh 1951 (recalled), common practice
//! lignin-like, cellulose, quick                 as in `substrate`; cellulose by C:N unless given
//! x (C_a − r N_a) + (1 − x)(C_b − r N_b) = 0    share x of dry matter from a for C:N r; shares of dry mass
//! ```
//! Dry bulk density 130 kg/m³ if not given (choice, as `substrate`).

use super::events::Feed;
use super::substrate::{LASTING, woody};

/// Ash, share of dry matter, where none is given.
pub const ASH: f64 = 0.10;
/// Organic matter for each part of carbon.
const PER_CARBON: f64 = 1.8;
/// Carbon in fat, the richest organic matter a kitchen has.
const MOST_CARBON: f64 = 0.77;
/// Dry bulk density in the mix, kg/m³.
const DRY_DENSITY: f64 = 130.0;

/// How nitrogen is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Nitrogen {
    /// Share of dry matter.
    OfDry(f64),
    /// Carbon for each part of nitrogen.
    Ratio(f64),
}

/// A composition in shares; `None` is not known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Composed {
    /// Wet mass, kg.
    pub kg: f64,
    /// Water, share of wet mass.
    pub water: f64,
    /// Nitrogen.
    pub nitrogen: Nitrogen,
    /// Organic carbon, share of dry matter.
    pub carbon: Option<f64>,
    /// Ash, share of dry matter.
    pub ash: Option<f64>,
    /// Lignin as tables have it, share of dry matter.
    pub lignin: Option<f64>,
    /// Cellulose and hemicellulose, share of dry matter.
    pub cellulose: Option<f64>,
    /// Quick matter, share of dry matter.
    pub quick: Option<f64>,
    /// Bulk density in the mix with its water, kg/m³.
    pub density: Option<f64>,
    /// Factor of piece size.
    pub pieces: f64,
    /// °C.
    pub temperature: f64,
}

/// A composition that nothing has.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unfit {
    /// More carbon than the organic matter can hold; the most, as a share of dry matter.
    Carbon(f64),
    /// The parts come to more than the organic matter: their sum as a share of it.
    Parts(f64),
}

impl Composed {
    /// The feed.
    ///
    /// # Errors
    /// [`Unfit`] where the shares contradict each other.
    pub fn feed(&self) -> Result<Feed, Unfit> {
        let dry = self.kg * (1.0 - self.water);
        let rest = 1.0 - self.ash.unwrap_or(ASH);
        let carbon = self.carbon.unwrap_or(rest / PER_CARBON);
        if carbon > MOST_CARBON * rest + 1e-9 {
            return Err(Unfit::Carbon(MOST_CARBON * rest));
        }
        let nitrogen = match self.nitrogen {
            Nitrogen::OfDry(share) => share,
            Nitrogen::Ratio(cn) => carbon / cn,
        };
        // Nothing organic without organic carbon, as for materials.
        let organic = if carbon > 0.0 { rest } else { 0.0 };
        let of = |share: f64| if organic > 0.0 { share / organic } else { 0.0 };
        let lignin = (of(self.lignin.unwrap_or(0.0)) + LASTING).clamp(0.0, 0.6);
        let cn = if nitrogen > 0.0 {
            carbon / nitrogen
        } else {
            f64::MAX
        };
        let (quick, cellulose, lignin) = match (self.quick.map(of), self.cellulose.map(of)) {
            (Some(quick), Some(cellulose)) => (quick, cellulose, 1.0 - quick - cellulose),
            (Some(quick), None) => (quick, 1.0 - lignin - quick, lignin),
            (None, Some(cellulose)) => (1.0 - lignin - cellulose, cellulose, lignin),
            (None, None) => {
                let cellulose = woody(cn) * (1.0 - lignin);
                (1.0 - lignin - cellulose, cellulose, lignin)
            }
        };
        let least = quick.min(cellulose).min(lignin);
        if least < -1e-9 {
            return Err(Unfit::Parts(1.0 - least));
        }
        let organic = dry * organic;
        Ok(Feed {
            water: self.kg * self.water,
            quick: organic * quick.max(0.0),
            cellulose: organic * cellulose.max(0.0),
            lignin: organic * lignin.max(0.0),
            ash: dry - organic,
            carbon: dry * carbon,
            nitrogen: dry * nitrogen,
            dry_density: self
                .density
                .map_or(DRY_DENSITY, |d| (d * (1.0 - self.water)).max(1.0)),
            pieces: self.pieces,
            temperature: self.temperature,
        })
    }
}

impl Feed {
    /// `factor` times as much.
    #[must_use]
    pub fn times(&self, factor: f64) -> Self {
        Self {
            water: self.water * factor,
            quick: self.quick * factor,
            cellulose: self.cellulose * factor,
            lignin: self.lignin * factor,
            ash: self.ash * factor,
            carbon: self.carbon * factor,
            nitrogen: self.nitrogen * factor,
            ..*self
        }
    }

    /// C:N; infinite without nitrogen.
    #[must_use]
    pub fn carbon_nitrogen(&self) -> f64 {
        if self.nitrogen > 0.0 {
            self.carbon / self.nitrogen
        } else {
            f64::INFINITY
        }
    }
}

/// `kg` of `a` and `b` in the ratio that gives C:N `cn`, with water taken or added to the share `water`.
/// `None` where `cn` does not lie between those of the two.
#[must_use]
pub fn to_targets(a: &Feed, b: &Feed, kg: f64, water: f64, cn: f64) -> Option<Feed> {
    let lacks = |f: &Feed| (f.carbon - cn * f.nitrogen) / f.dry();
    let (over, under) = (lacks(b), lacks(a));
    let share = over / (over - under);
    if !(0.0..=1.0).contains(&share) {
        return None;
    }
    let dry = kg * (1.0 - water);
    let mut mixed = a
        .times(share * dry / a.dry())
        .with(&b.times((1.0 - share) * dry / b.dry()));
    mixed.water = kg * water;
    Some(mixed)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn usual() -> Composed {
        Composed {
            kg: 10.0,
            water: 0.6,
            nitrogen: Nitrogen::Ratio(30.0),
            carbon: Some(0.45),
            ash: Some(0.08),
            lignin: Some(0.05),
            cellulose: None,
            quick: None,
            density: None,
            pieces: 1.0,
            temperature: 15.0,
        }
    }

    #[test]
    fn what_is_given_comes_out() {
        let f = usual().feed().unwrap();
        assert!((f.mass() - 10.0).abs() < 1e-12 && (f.water - 6.0).abs() < 1e-12);
        assert!((f.carbon_nitrogen() - 30.0).abs() < 1e-12 && (f.ash - 0.32).abs() < 1e-12);
        assert!((f.carbon - 1.8).abs() < 1e-12);
    }

    #[test]
    fn shares_that_contradict_each_other_are_refused() {
        let carbon = Composed {
            ash: Some(0.6),
            ..usual()
        };
        assert!(matches!(carbon.feed(), Err(Unfit::Carbon(most)) if (most - 0.308).abs() < 1e-9));
        let parts = Composed {
            cellulose: Some(0.9),
            ..usual()
        };
        assert!(matches!(parts.feed(), Err(Unfit::Parts(sum)) if sum > 1.1));
    }

    #[test]
    fn a_mix_meets_both_targets_exactly_or_says_no() {
        let greens = usual().feed().unwrap();
        let card = Composed {
            nitrogen: Nitrogen::Ratio(300.0),
            water: 0.08,
            ..usual()
        }
        .feed()
        .unwrap();
        let mixed = to_targets(&greens, &card, 48.0, 0.58, 60.0).unwrap();
        assert!((mixed.carbon_nitrogen() - 60.0).abs() < 1e-9);
        assert!((mixed.mass() - 48.0).abs() < 1e-9 && (mixed.water - 48.0 * 0.58).abs() < 1e-9);
        assert_eq!(to_targets(&greens, &card, 48.0, 0.58, 20.0), None);
        assert_eq!(to_targets(&greens, &card, 48.0, 0.58, 400.0), None);
    }
}
