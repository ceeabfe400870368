//! A mixture: portions summed at their middles and in many draws at once.

use std::collections::BTreeMap;

use catalogue::{Composition, Material};
use units::Spread;

use super::draw::{self, Stream};
use super::parts::{PACKING, Parts, Point};

/// Draws per mixture. The standard error of a 5 % point is √(0.05·0.95/n)/φ(1.645) = 0.09 standard
/// deviations at n = 512: the ends wander by about 6 % of their distance from the middle.
const DRAWS: usize = 512;

/// An amount of a material.
#[derive(Debug, Clone, Copy)]
pub struct Portion<'a> {
    /// What.
    pub material: &'a Material,
    /// Wet mass, kg.
    pub kg: Spread,
}

/// Something that cannot be said of a mixture, and the material whose figure is unknown.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Lack {
    /// Quantity: water, carbon, nitrogen, density or ash.
    pub what: &'static str,
    /// Material id.
    pub material: String,
}

/// A sum of portions.
#[derive(Debug, Clone)]
pub struct Mixture {
    middle: Parts,
    draws: Vec<Parts>,
    packing: Vec<f64>,
    kinds: usize,
    lacks: Vec<Lack>,
}

impl Mixture {
    /// Mixes portions. The order does not matter; portions of one material share its composition draw
    /// (its table value may be off for all of them alike) but not the doubt in their amounts.
    #[must_use]
    pub fn of(portions: &[Portion<'_>], seed: u64) -> Self {
        let mut by_material: BTreeMap<&str, (&Material, Vec<Spread>)> = BTreeMap::new();
        for portion in portions.iter().filter(|p| p.kg.high > 0.0) {
            let entry = by_material
                .entry(&portion.material.id)
                .or_insert((portion.material, Vec::new()));
            entry.1.push(portion.kg);
        }
        let mut mix = Self {
            middle: Parts::default(),
            draws: vec![Parts::default(); DRAWS],
            packing: Stream::new(seed, "packing")
                .normals(DRAWS)
                .into_iter()
                .map(|z| draw::at(Spread::new(PACKING.0, PACKING.1, PACKING.2), z).min(1.0))
                .collect(),
            kinds: by_material.len(),
            lacks: Vec::new(),
        };
        for (id, (material, amounts)) in by_material {
            let composition = material.composition();
            mix.lacks.extend(lacks(id, &composition));
            let total: f64 = amounts.iter().map(|a| a.mid).sum();
            let kg = sum_of_independent(&amounts, total);
            mix.middle += draw::middle(&composition).parts(total);
            let mut stream = Stream::new(seed, id);
            let points = draw::points(&composition, DRAWS, &mut stream);
            for ((sum, point), z) in mix.draws.iter_mut().zip(points).zip(stream.normals(DRAWS)) {
                *sum += point.parts(draw::at(kg, z));
            }
        }
        mix
    }

    /// The parts at typical figures.
    #[must_use]
    pub fn middle(&self) -> Parts {
        self.middle
    }

    /// Whether anything is in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.kinds == 0
    }

    /// What cannot be said, and because of which material.
    #[must_use]
    pub fn lacks(&self) -> &[Lack] {
        &self.lacks
    }

    fn lacking(&self, what: &[&str]) -> bool {
        self.lacks.iter().any(|l| what.contains(&l.what))
    }

    fn packing(&self) -> f64 {
        if self.kinds > 1 { PACKING.1 } else { 1.0 }
    }

    fn spread(&self, read: impl Fn(&Parts, f64) -> Option<f64>) -> Option<Spread> {
        let mid = read(&self.middle, self.packing())?;
        let packed = self.kinds > 1;
        let mut all: Vec<f64> = self
            .draws
            .iter()
            .zip(&self.packing)
            .filter_map(|(parts, &packing)| read(parts, if packed { packing } else { 1.0 }))
            .filter(|v| v.is_finite())
            .collect();
        if all.is_empty() {
            return Some(Spread::exact(mid));
        }
        all.sort_by(f64::total_cmp);
        let point = |q: f64| all[((all.len() - 1) as f64 * q).round() as usize];
        Some(Spread::new(point(0.05), mid, point(0.95)))
    }

    /// Wet mass, kg.
    #[must_use]
    pub fn mass(&self) -> Option<Spread> {
        self.spread(|p, _| Some(p.mass()))
    }

    /// Volume after mixing, L.
    #[must_use]
    pub fn volume(&self) -> Option<Spread> {
        if self.lacking(&["density"]) {
            None
        } else {
            self.spread(|p, packing| Some(p.litres * packing))
        }
    }

    /// Water share of wet mass.
    #[must_use]
    pub fn water(&self) -> Option<Spread> {
        if self.lacking(&["water"]) {
            None
        } else {
            self.spread(|p, _| p.water_share())
        }
    }

    /// Carbon to nitrogen, total.
    #[must_use]
    pub fn carbon_nitrogen(&self) -> Option<Spread> {
        if self.lacking(&["water", "carbon", "nitrogen"]) {
            None
        } else {
            self.spread(|p, _| p.carbon_nitrogen())
        }
    }

    /// Degradable carbon to nitrogen.
    #[must_use]
    pub fn carbon_nitrogen_degradable(&self) -> Option<Spread> {
        if self.lacking(&["water", "carbon", "nitrogen", "ash", "lignin"]) {
            None
        } else {
            self.spread(|p, _| p.carbon_nitrogen_degradable())
        }
    }

    /// Free air space, share of volume.
    #[must_use]
    pub fn air_space(&self) -> Option<Spread> {
        if self.lacking(&["density", "water", "ash"]) {
            None
        } else {
            self.spread(Parts::air_space)
        }
    }

    /// Organic carbon, kg.
    #[must_use]
    pub fn carbon(&self) -> Option<Spread> {
        if self.lacking(&["water", "carbon"]) {
            None
        } else {
            self.spread(|p, _| Some(p.carbon))
        }
    }

    /// Nitrogen, kg.
    #[must_use]
    pub fn nitrogen(&self) -> Option<Spread> {
        if self.lacking(&["water", "nitrogen"]) {
            None
        } else {
            self.spread(|p, _| Some(p.nitrogen))
        }
    }
}

/// Sum of independent amounts: distances from the middle add in quadrature.
fn sum_of_independent(amounts: &[Spread], total: f64) -> Spread {
    let down = amounts
        .iter()
        .map(|a| (a.mid - a.low).powi(2))
        .sum::<f64>()
        .sqrt();
    let up = amounts
        .iter()
        .map(|a| (a.high - a.mid).powi(2))
        .sum::<f64>()
        .sqrt();
    Spread::new((total - down).max(0.0), total, total + up)
}

fn lacks(id: &str, c: &Composition) -> Vec<Lack> {
    [
        ("water", c.water.is_none()),
        ("carbon", c.carbon.is_none()),
        ("nitrogen", c.nitrogen.is_none()),
        ("ash", c.ash.is_none()),
        ("lignin", c.lignin.is_none()),
        ("density", c.density.is_none()),
    ]
    .into_iter()
    .filter(|&(_, lacks)| lacks)
    .map(|(what, _)| Lack {
        what,
        material: id.to_owned(),
    })
    .collect()
}

/// The middle of a material's composition as a point; unknown figures are zero.
impl From<&Composition> for Point {
    fn from(c: &Composition) -> Self {
        draw::middle(c)
    }
}
