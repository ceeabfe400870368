//! How good past forecasts were: CRPS, PIT, coverage, evenness of ranks.
//!
//! CRPS = mean |x − y| − ½ mean |x − x'|, in days: 0 is a sure hit, and a single date scores its miss (Gneiting &
//! Raftery 2007, J. Am. Stat. Assoc. 102:359, recalled). PIT: the share of members below what came; even over many
//! forecasts if they are right. Held against `scoringrules` by `tests/oracle/score.py`.

/// CRPS of members and what came. Members must be finite: hold "not by the horizon" at the horizon, and what came too.
#[must_use]
pub fn crps(members: &[f64], came: f64) -> f64 {
    let n = members.len() as f64;
    if members.is_empty() {
        return f64::NAN;
    }
    let mut sorted = members.to_vec();
    sorted.sort_by(f64::total_cmp);
    let miss: f64 = sorted.iter().map(|x| (x - came).abs()).sum::<f64>() / n;
    // Σ|x−x'|/2 over all pairs, from the order alone.
    let spread: f64 = sorted
        .iter()
        .enumerate()
        .map(|(i, x)| x * (2.0 * i as f64 + 1.0 - n))
        .sum::<f64>()
        / (n * n);
    miss - spread
}

/// Share of members below what came; ties, and the gap at each end, are split by `u` between 0 and 1.
#[must_use]
pub fn pit(members: &[f64], came: f64, u: f64) -> f64 {
    let under = members.iter().filter(|x| **x < came).count() as f64;
    let same = members.iter().filter(|x| **x == came).count() as f64;
    (under + u * (same + 1.0)) / (members.len() as f64 + 1.0)
}

/// Whether what came lies in the middle `share` of the members.
#[must_use]
pub fn covered(members: &[f64], came: f64, share: f64) -> bool {
    let mut sorted = members.to_vec();
    sorted.sort_by(f64::total_cmp);
    let q = |s| crate::forecast::window::quantile(&sorted, s);
    let tail = 0.5 * (1.0 - share);
    q(tail) <= came && came <= q(1.0 - tail)
}

/// χ² of shares between 0 and 1 in `bins` even bins, one at least.
#[must_use]
pub fn evenness(shares: &[f64], bins: usize) -> f64 {
    let bins = bins.max(1);
    let mut counts = vec![0.0; bins];
    for share in shares {
        counts[((share * bins as f64) as usize).min(bins - 1)] += 1.0;
    }
    let usual = shares.len() as f64 / bins as f64;
    counts
        .iter()
        .map(|c| (c - usual) * (c - usual) / usual)
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn crps_of_known_forecasts() {
        // One member: its miss. Two members around it: ½(1 + 1) − ¼·2 = 0.5.
        assert!((crps(&[3.0], 7.0) - 4.0).abs() < 1e-12);
        assert!((crps(&[-1.0, 1.0], 0.0) - 0.5).abs() < 1e-12);
        // A standard normal at its centre: 2φ(0) − 1/√π = 0.233 695 (Gneiting & Raftery 2007, eq. 21).
        let n = 4000;
        let members: Vec<f64> = (0..n)
            .map(|i| super::super::normal::quantile((f64::from(i) + 0.5) / f64::from(n)))
            .collect();
        assert!((crps(&members, 0.0) - 0.233_695).abs() < 1e-3);
    }

    #[test]
    fn pit_splits_ties() {
        assert!((pit(&[1.0, 2.0, 3.0], 2.5, 0.5) - 2.5 / 4.0).abs() < 1e-12);
        assert!((pit(&[2.0, 2.0, 2.0], 2.0, 0.0)).abs() < 1e-12);
        assert!((pit(&[2.0, 2.0, 2.0], 2.0, 1.0) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn even_ranks_have_no_chi_square() {
        let even: Vec<f64> = (0..100).map(|i| (f64::from(i) + 0.5) / 100.0).collect();
        assert!(evenness(&even, 10) < 1e-9);
        assert!((evenness(&[0.05; 100], 10) - 900.0).abs() < 1e-9);
    }
}
