//! From a material to what a batch eats: quick matter, cellulose, lignin-like matter.
//!
//! ```text
//! lignin-like = λ + 0.09, at most 0.6          λ lignin by the table, share of organic matter
//! cellulose   = s (1 − lignin-like)
//! quick       = the rest
//! ```
//! s: food with a food-table row 0.7 fibre/organic (the rest of the fibre is pectin); what feeds 0.32; what
//! dries or opens 0.32 at C:N 25 rising with ln C:N to 0.92 at C:N 200. With these a kitchen mix is
//! 0.60/0.28/0.12 and card 0.06/0.70/0.24, as food and paper chemistry have it (choice; the 0.09 stands for
//! waxes, tannins and the like that last as long as lignin). Dry bulk density in the mix 170 kg/m³ where a
//! material collapses, 120 where it holds a little, 90 where it holds the mix open (choice, by structure;
//! Richard et al. 2004 measured 100–200 in straw and manure, abstract).

use catalogue::{Composition, Material, Role};

use super::events::Feed;

/// Lignin-like matter that the lignin of the tables does not count.
pub(super) const LASTING: f64 = 0.09;
/// Share of cellulose in what is not lignin-like: soft, and woody or paper.
const SOFT: f64 = 0.32;
const PAPER: f64 = 0.92;

/// How large the pieces are: factor on the decay of cellulose.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Pieces {
    /// Whole cartons, sheets, uncut stalks.
    Whole,
    /// Torn to a palm, cut to a finger.
    #[default]
    Torn,
    /// Shredded, chipped, crushed.
    Shredded,
}

impl Pieces {
    /// 0.6, 1, 1.4 (choice; no published run tests it).
    #[must_use]
    pub const fn factor(self) -> f64 {
        match self {
            Self::Whole => 0.6,
            Self::Torn => 1.0,
            Self::Shredded => 1.4,
        }
    }
}

/// Share of cellulose in what is not lignin-like, by C:N.
pub(super) fn woody(cn: f64) -> f64 {
    let share = ((cn / 25.0).ln() / (200.0_f64 / 25.0).ln()).clamp(0.0, 1.0);
    SOFT + (PAPER - SOFT) * share
}

/// The feed that `kg` kilograms of a material make, at the middle of its figures; `None` if its water is not
/// known. Unknown carbon or nitrogen is nought, as in a mixture: the caller says what is missing.
#[must_use]
pub fn feed(material: &Material, kg: f64, pieces: Pieces, temperature: f64) -> Option<Feed> {
    let c: Composition = material.composition();
    let mid = |s: Option<units::Spread>| s.map_or(0.0, |s| s.mid);
    let water = c.water?.mid.clamp(0.0, 1.0);
    let dry = kg * (1.0 - water);
    let carbon = dry * mid(c.carbon);
    // Nothing organic without organic carbon: minerals and water.
    let organic = if carbon > 0.0 {
        dry * (1.0 - mid(c.ash)).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let lignin = (mid(c.lignin) * dry / (organic + 1e-12) + LASTING).clamp(0.0, 0.6);
    let fibre = material
        .food
        .as_ref()
        .map(|(food, _)| 0.7 * food.fibre / (food.dry() - food.ash).max(1.0));
    let soft = match (fibre, material.role) {
        (Some(fibre), _) => fibre.clamp(0.05, 0.9),
        (None, Role::Dries | Role::Opens) => woody(c.carbon_nitrogen().unwrap_or(25.0)),
        (None, _) => SOFT,
    };
    let cellulose = soft * (1.0 - lignin);
    Some(Feed {
        water: kg * water,
        quick: organic * (1.0 - lignin - cellulose),
        cellulose: organic * cellulose,
        lignin: organic * lignin,
        ash: dry - organic,
        carbon,
        nitrogen: dry * mid(c.nitrogen),
        dry_density: match material.structure {
            0 => 170.0,
            1 => 120.0,
            _ => 90.0,
        },
        pieces: pieces.factor(),
        temperature,
    })
}

impl Feed {
    /// Wet mass, kg.
    #[must_use]
    pub fn mass(&self) -> f64 {
        self.water + self.dry()
    }

    /// Dry mass, kg.
    #[must_use]
    pub fn dry(&self) -> f64 {
        self.quick + self.cellulose + self.lignin + self.ash
    }

    /// Both together: masses add; density by volume, pieces by cellulose, temperature by heat.
    #[must_use]
    pub fn with(&self, other: &Self) -> Self {
        let heat = |f: &Self| super::heat::capacity(f.dry(), f.water);
        let (dry, cellulose) = (self.dry() + other.dry(), self.cellulose + other.cellulose);
        let volume =
            self.dry() / self.dry_density.max(1.0) + other.dry() / other.dry_density.max(1.0);
        let all_heat = heat(self) + heat(other);
        let share = |a: f64, b: f64, all: f64, of: (f64, f64)| {
            if all > 0.0 {
                (a * of.0 + b * of.1) / all
            } else {
                of.0
            }
        };
        Self {
            water: self.water + other.water,
            quick: self.quick + other.quick,
            cellulose,
            lignin: self.lignin + other.lignin,
            ash: self.ash + other.ash,
            carbon: self.carbon + other.carbon,
            nitrogen: self.nitrogen + other.nitrogen,
            dry_density: if volume > 0.0 { dry / volume } else { 130.0 },
            pieces: share(
                self.cellulose,
                other.cellulose,
                cellulose,
                (self.pieces, other.pieces),
            ),
            temperature: share(
                heat(self),
                heat(other),
                all_heat,
                (self.temperature, other.temperature),
            ),
        }
    }
}
