//! What one batch taught that holds for the next.
//!
//! What belongs to the drum stays almost whole, what belongs to the household's scraps in part, the rest is drawn
//! afresh. With share w of a parameter carried, its standard normal is next time
//!
//! ```text
//! mean = w m,   variance = w² s² + 1 − w²
//! ```
//! m and s² of the posterior: a drum that drifts a little, back to the prior when nothing is read. Shares are
//! judged. How parameters go together is not carried.

use crate::ensemble::prior::{PRIORS, Row, row};

/// Share carried of what belongs to the drum.
const DRUM: f64 = 0.9;
/// Share carried of what belongs to the household.
const HOUSEHOLD: f64 = 0.6;

/// What a parameter belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Owner {
    /// The drum and its place.
    Drum,
    /// The household: what it eats, how it tears its card.
    Household,
    /// The one batch.
    Batch,
}

/// What a parameter belongs to, by its name in `ensemble::prior`.
#[must_use]
pub fn owner(name: &str) -> Owner {
    match name {
        "ua" | "sun_gain" | "vent" | "condensed" | "drain" => Owner::Drum,
        "k_c" | "feed_quick" => Owner::Household,
        _ => Owner::Batch,
    }
}

/// Prior of a batch as shifted normals.
#[derive(Debug, Clone, PartialEq)]
pub struct Carried {
    /// Mean of each standard normal.
    pub mean: Row,
    /// Standard deviation of each.
    pub sd: Row,
}

impl Default for Carried {
    fn default() -> Self {
        let (mean, sd) = ([0.0; PRIORS.len()], [1.0; PRIORS.len()]);
        Self { mean, sd }
    }
}

/// The prior of the next batch, from the rows that a batch ended with. Fewer than two rows teach nothing.
#[must_use]
pub fn carried(rows: &[Row]) -> Carried {
    let mut out = Carried::default();
    if rows.len() < 2 {
        return out;
    }
    let n = rows.len() as f64;
    for (i, prior) in PRIORS.iter().enumerate() {
        let w: f64 = match owner(prior.name) {
            Owner::Drum => DRUM,
            Owner::Household => HOUSEHOLD,
            Owner::Batch => continue,
        };
        let mean = rows.iter().map(|r| r[i]).sum::<f64>() / n;
        let variance = rows.iter().map(|r| (r[i] - mean).powi(2)).sum::<f64>() / (n - 1.0);
        out.mean[i] = w * mean;
        // Never surer than half the prior's spread: one batch is one batch (judged).
        out.sd[i] = (w * w * variance + 1.0 - w * w).sqrt().max(0.5);
    }
    out
}

impl Carried {
    /// Member `member` of the stream `seed`; the same luck as the plain prior's.
    #[must_use]
    pub fn row(&self, seed: u64, member: u64) -> Row {
        let plain = row(seed, member);
        std::array::from_fn(|i| self.mean[i] + self.sd[i] * plain[i])
    }

    /// `count` members.
    #[must_use]
    pub fn rows(&self, seed: u64, count: usize) -> Vec<Row> {
        (0..count as u64).map(|m| self.row(seed, m)).collect()
    }

    /// ln of its density at a row, up to a constant.
    #[must_use]
    pub fn log_density(&self, row: &[f64]) -> f64 {
        row.iter()
            .zip(self.mean.iter().zip(&self.sd))
            .map(|(z, (m, s))| -0.5 * ((z - m) / s).powi(2))
            .sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(name: &str) -> usize {
        PRIORS.iter().position(|p| p.name == name).unwrap()
    }

    #[test]
    fn the_drum_is_remembered_the_batch_forgotten() {
        let rows: Vec<Row> = (0..400).map(|m| row(5, m).map(|z| 1.0 + 0.3 * z)).collect();
        let next = carried(&rows);
        assert!((next.mean[at("ua")] - 0.9).abs() < 0.05);
        assert!((next.mean[at("k_c")] - 0.6).abs() < 0.05);
        assert_eq!(next.mean[at("feed_wet")], 0.0);
        assert_eq!(next.sd[at("feed_wet")], 1.0);
        // 0.81 · 0.09 + 0.19 = 0.263; 0.36 · 0.09 + 0.64 = 0.672.
        assert!((next.sd[at("ua")] - 0.263_f64.sqrt()).abs() < 0.03);
        assert!((next.sd[at("k_c")] - 0.672_f64.sqrt()).abs() < 0.03);
    }

    #[test]
    fn what_taught_nothing_carries_nothing() {
        let rows: Vec<Row> = (0..2000).map(|m| row(6, m)).collect();
        let next = carried(&rows);
        for (m, s) in next.mean.iter().zip(next.sd) {
            assert!(m.abs() < 0.1 && (s - 1.0).abs() < 0.06);
        }
        assert_eq!(Carried::default().row(3, 9), row(3, 9));
        assert_eq!(carried(&[]), Carried::default());
    }
}
