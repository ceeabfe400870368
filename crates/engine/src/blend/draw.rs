//! Draws of a composition from its spreads.
//!
//! Each figure is a two-piece lognormal through its 5, 50 and 95 % points (two-piece normal where the low
//! point is zero); water is drawn as dry matter, so that no draw exceeds pure water. Draws come in
//! antithetic pairs, so the median of a draw is its middle. The stream depends on the seed and the
//! material's id only: mixing is free of order, and a material keeps its draws when others are added.

use catalogue::Composition;
use rand::{RngExt as _, SeedableRng};
use rand_chacha::ChaCha8Rng;
use rand_distr::StandardNormal;
use units::Spread;

use super::parts::Point;

/// Standard normal 95 % point.
const Z95: f64 = 1.645;

/// A random stream for one name.
pub(super) struct Stream(ChaCha8Rng);

impl Stream {
    pub(super) fn new(seed: u64, name: &str) -> Self {
        // FNV-1a, 64 bit (Fowler, Noll & Vo): spreads names over seeds; not for secrets.
        let hash = name.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |h, b| {
            (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3)
        });
        Self(ChaCha8Rng::seed_from_u64(seed ^ hash))
    }

    /// `n` standard normals in antithetic pairs.
    pub(super) fn normals(&mut self, n: usize) -> Vec<f64> {
        let mut all = Vec::with_capacity(n + 1);
        while all.len() < n {
            let z: f64 = self.0.sample(StandardNormal);
            all.extend([z, -z]);
        }
        all.truncate(n);
        all
    }
}

/// The value of a spread at `z` standard deviations.
pub(super) fn at(spread: Spread, z: f64) -> f64 {
    let Spread { low, mid, high } = spread;
    let end = if z < 0.0 { low } else { high };
    let share = z.abs() / Z95;
    if low > 0.0 && mid > 0.0 {
        mid * (end / mid).powf(share)
    } else {
        (mid + (end - mid) * share).max(0.0)
    }
}

fn flip(water: Spread) -> Spread {
    Spread {
        low: 1.0 - water.high,
        mid: 1.0 - water.mid,
        high: 1.0 - water.low,
    }
}

/// The middle of a composition; unknown figures are zero.
pub(super) fn middle(c: &Composition) -> Point {
    let mid = |s: Option<Spread>| s.map_or(0.0, |s| s.mid);
    Point {
        water: mid(c.water),
        carbon: mid(c.carbon),
        nitrogen: mid(c.nitrogen),
        ash: mid(c.ash),
        lignin: mid(c.lignin),
        carbonate: c.carbonate,
        density: mid(c.density),
    }
}

/// `n` draws of a composition.
pub(super) fn points(c: &Composition, n: usize, stream: &mut Stream) -> Vec<Point> {
    let mut series = |s: Option<Spread>| -> Vec<f64> {
        let zs = stream.normals(n);
        zs.into_iter()
            .map(|z| s.map_or(0.0, |s| at(s, z)))
            .collect()
    };
    let dry = series(c.water.map(flip));
    let carbon = series(c.carbon);
    let nitrogen = series(c.nitrogen);
    let ash = series(c.ash);
    let lignin = series(c.lignin);
    let density = series(c.density);
    (0..n)
        .map(|i| {
            let ash = ash[i].min(1.0);
            Point {
                water: if c.water.is_some() {
                    1.0 - dry[i].min(1.0)
                } else {
                    0.0
                },
                carbon: carbon[i].min(1.0),
                nitrogen: nitrogen[i].min(1.0),
                ash,
                lignin: lignin[i].min(1.0 - ash),
                carbonate: c.carbonate,
                density: density[i],
            }
        })
        .collect()
}
