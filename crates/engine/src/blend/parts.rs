//! The parts of a mix, in kilograms and litres. They add; ratios are read off at the end.
//!
//! ```text
//! M   = ΣQM / ΣQ                                   water share of wet mass
//! C:N = Σ[Q C (1−M)] / Σ[Q N (1−M)]                by mass, C and N shares of dry mass
//! B   = 0.83 − 0.028·L, at least 0.05              biodegradable share; L lignin, % of volatile solids
//! FAS = 1 − ρ[M/1000 + (1−M)·VS/1600 + (1−M)(1−VS)/2500]
//! ```
//! Q mass as it lies (kg), ρ wet bulk density (kg/m³), VS volatile share of dry mass.
//!
//! Sources: M and C:N from Rynk (ed.) 1992, *On-Farm Composting Handbook*, NRAES-54, ch. 3, and Richard &
//! Trautmann 1996, *Cornell Composting: Science and Engineering*. B from Chandler et al. 1980,
//! Biotechnol. Bioeng. Symp. 10:93–107 (recalled; 40-day anaerobic digestion, so it ranks materials and
//! does not forecast). FAS: van Ginkel et al. 1999 and Richard et al. 2004, Compost Sci. Util. 12 (form
//! and papers seen as abstracts; the particle densities 1600 and 2500 are recalled). Ignores the volume
//! of dissolved matter. Carbonate carbon is carried apart: it is not food.

use std::ops::{Add, AddAssign, Mul, Sub};

use serde::Serialize;

/// Particle density of organic matter, kg/m³ (Richard et al. 2004, recalled).
const ORGANIC: f64 = 1600.0;
/// Particle density of ash, kg/m³ (same).
const MINERAL: f64 = 2500.0;
/// Density of water, kg/m³.
const WATER: f64 = 1000.0;

/// Share of the summed loose volumes that is left after mixing: small pieces fill the gaps between large
/// ones. 20 % loss, 10–30 % (judged; coarse with fine loses 5–15 %, recalled, and card
/// folds more).
pub const PACKING: (f64, f64, f64) = (0.7, 0.8, 0.9);

/// One point of a composition: shares as in the table, no spread.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Point {
    /// Water share of wet mass.
    pub water: f64,
    /// Organic carbon share of dry mass.
    pub carbon: f64,
    /// Nitrogen share of dry mass.
    pub nitrogen: f64,
    /// Ash share of dry mass.
    pub ash: f64,
    /// Lignin share of dry mass.
    pub lignin: f64,
    /// Carbonate carbon share of dry mass.
    pub carbonate: f64,
    /// Bulk density, kg/m³; 0 is unknown and gives no volume.
    pub density: f64,
}

/// Kilograms of each part, and litres as they lie before mixing.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct Parts {
    /// Water, kg.
    pub water: f64,
    /// Dry matter, kg.
    pub dry: f64,
    /// Organic carbon, kg.
    pub carbon: f64,
    /// Carbon that microbes reach, kg.
    pub degradable: f64,
    /// Nitrogen, kg.
    pub nitrogen: f64,
    /// Ash, kg.
    pub ash: f64,
    /// Lignin, kg.
    pub lignin: f64,
    /// Carbonate carbon, kg; in the ash, not in `carbon`.
    pub carbonate: f64,
    /// Sum of loose volumes, L.
    pub litres: f64,
}

/// Biodegradable share of organic carbon from lignin and volatile solids, kg each.
#[must_use]
pub fn biodegradable(lignin: f64, volatile: f64) -> f64 {
    if volatile <= 0.0 {
        return 0.05;
    }
    (0.83 - 0.028 * 100.0 * lignin / volatile).clamp(0.05, 0.83)
}

/// Free air space (share of volume) from wet bulk density (kg/m³), water share and volatile share.
#[must_use]
pub fn free_air_space(density: f64, water: f64, volatile: f64) -> f64 {
    let dry = 1.0 - water;
    1.0 - density * (water / WATER + dry * volatile / ORGANIC + dry * (1.0 - volatile) / MINERAL)
}

impl Point {
    /// The parts of `kg` kilograms as they lie.
    #[must_use]
    pub fn parts(self, kg: f64) -> Parts {
        let dry = kg * (1.0 - self.water);
        let ash = dry * self.ash;
        let lignin = dry * self.lignin;
        let carbon = dry * self.carbon;
        Parts {
            water: kg * self.water,
            dry,
            carbon,
            degradable: carbon * biodegradable(lignin, dry - ash),
            nitrogen: dry * self.nitrogen,
            ash,
            lignin,
            carbonate: dry * self.carbonate,
            litres: if self.density > 0.0 {
                kg * 1000.0 / self.density
            } else {
                0.0
            },
        }
    }
}

impl Parts {
    /// Wet mass, kg.
    #[must_use]
    pub fn mass(&self) -> f64 {
        self.water + self.dry
    }
    /// Water share of wet mass.
    #[must_use]
    pub fn water_share(&self) -> Option<f64> {
        (self.mass() > 0.0).then(|| self.water / self.mass())
    }
    /// Carbon to nitrogen, total.
    #[must_use]
    pub fn carbon_nitrogen(&self) -> Option<f64> {
        (self.nitrogen > 0.0).then(|| self.carbon / self.nitrogen)
    }
    /// Carbon that microbes reach, to nitrogen.
    #[must_use]
    pub fn carbon_nitrogen_degradable(&self) -> Option<f64> {
        (self.nitrogen > 0.0).then(|| self.degradable / self.nitrogen)
    }
    /// Litres filled by water and particles, without air.
    #[must_use]
    pub fn filled(&self) -> f64 {
        1000.0 * (self.water / WATER + (self.dry - self.ash) / ORGANIC + self.ash / MINERAL)
    }
    /// Free air space of the mix when its loose volumes pack to `packing` of their sum.
    #[must_use]
    pub fn air_space(&self, packing: f64) -> Option<f64> {
        (self.litres > 0.0).then(|| (1.0 - self.filled() / (packing * self.litres)).max(0.0))
    }
}

macro_rules! by_field {
    ($($field:ident),*) => {
        impl Add for Parts {
            type Output = Self;
            fn add(self, o: Self) -> Self { Self { $($field: self.$field + o.$field),* } }
        }
        impl Sub for Parts {
            type Output = Self;
            fn sub(self, o: Self) -> Self { Self { $($field: self.$field - o.$field),* } }
        }
        impl Mul<f64> for Parts {
            type Output = Self;
            fn mul(self, k: f64) -> Self { Self { $($field: self.$field * k),* } }
        }
        impl AddAssign for Parts {
            fn add_assign(&mut self, o: Self) { $(self.$field += o.$field;)* }
        }
    };
}
by_field!(
    water, dry, carbon, degradable, nitrogen, ash, lignin, carbonate, litres
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn free_air_space_matches_the_three_phase_formula() {
        // Computed from the formula with particle densities 1600 and 2500, five densities.
        for (density, water, volatile, air) in [
            (300.0, 0.60, 0.85, 74.9),
            (450.0, 0.60, 0.85, 62.4),
            (600.0, 0.60, 0.80, 50.1),
            (700.0, 0.65, 0.80, 40.3),
            (800.0, 0.65, 0.75, 32.1),
        ] {
            let got = 100.0 * free_air_space(density, water, volatile);
            assert!((got - air).abs() < 0.1, "{density}: {got}");
        }
    }

    #[test]
    fn parts_and_the_formula_agree() {
        let point = Point {
            water: 0.6,
            ash: 0.2,
            density: 600.0,
            ..Point::default()
        };
        let air = point.parts(3.0).air_space(1.0).unwrap();
        assert!((air - free_air_space(600.0, 0.6, 0.8)).abs() < 1e-12);
    }

    #[test]
    fn carbonate_is_not_food() {
        let shell = Point {
            carbon: 0.026,
            carbonate: 0.113,
            nitrogen: 0.009,
            ..Point::default()
        };
        let parts = shell.parts(1.0);
        assert!((parts.carbon - 0.026).abs() < 1e-12 && (parts.carbonate - 0.113).abs() < 1e-12);
    }
}
