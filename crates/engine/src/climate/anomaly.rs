//! Departures from the usual mean, K: a first-order autoregression through the observed ones.
//!
//! x_t = φ x_(t−1) + σ √(1 − φ²) z_t. After the last observed day the series starts from its departure. Between
//! two observed days a free run from the left is bent to the right end: with n steps across the gap, step k moves by
//! c_k (x_n − x̂_n), c_k = φ^(n−k) (1 − φ^2k)/(1 − φ^2n); before the first observed day c_k = φ^(n−k). This is
//! the exact conditional draw of a Gaussian process (conditioning by kriging; Chilès & Delfiner 1999, section
//! 7.3, recalled).

use super::weather::Noise;

/// Fills what is not known; `z` holds a standard normal for each day, used or not, so that a day keeps its luck
/// when an earlier one becomes known.
pub(super) fn fill(known: &[Option<f64>], z: &[f64], noise: Noise) -> Vec<f64> {
    let sigma_k = noise.sigma_k;
    // At 1 the walk has no home to return to, and a gap no conditional spread.
    let phi = noise.phi.clamp(0.0, 0.999);
    let shock = sigma_k * (1.0 - phi * phi).max(0.0).sqrt();
    let mut x: Vec<f64> = Vec::with_capacity(known.len());
    let mut at = 0;
    while at < known.len() {
        if let Some(value) = known[at] {
            x.push(value);
            at += 1;
            continue;
        }
        let left = x.last().copied();
        let end = (at..known.len())
            .find(|&i| known[i].is_some())
            .unwrap_or(known.len());
        let mut last = left;
        let mut step = |z: f64| {
            let next = last.map_or(sigma_k * z, |x| phi * x + shock * z);
            last = Some(next);
            next
        };
        x.extend(z[at..end].iter().map(|&z| step(z)));
        if let Some(right) = known.get(end).copied().flatten() {
            let miss = right - step(z[end]);
            let n = (end - at + 1) as i32;
            for (k, value) in (1..n).zip(&mut x[at..end]) {
                let pull = match left {
                    Some(_) if phi > 0.0 => {
                        phi.powi(n - k) * (1.0 - phi.powi(2 * k)) / (1.0 - phi.powi(2 * n))
                    }
                    _ => phi.powi(n - k),
                };
                *value += pull * miss;
            }
        }
        at = end;
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::{RngExt as _, SeedableRng as _};
    use rand_distr::StandardNormal;

    const NOISE: Noise = Noise {
        sigma_k: 2.5,
        phi: 0.75,
    };

    #[test]
    fn after_the_last_known_day_the_departure_dies_away() {
        let known = [Some(8.0), None, None, None];
        let x = fill(&known, &[0.0; 4], NOISE);
        assert_eq!(x, vec![8.0, 6.0, 4.5, 3.375]);
    }

    #[test]
    fn a_gap_has_the_mean_and_spread_that_theory_gives() {
        // Middle of three between +4 and −2: mean φ(4 − 2)/(1 + φ²), variance σ²(1 − φ²)/(1 + φ²).
        let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(1);
        let n = 20_000;
        let draws: Vec<f64> = (0..n)
            .map(|_| {
                let z: [f64; 3] = std::array::from_fn(|_| rng.sample(StandardNormal));
                fill(&[Some(4.0), None, Some(-2.0)], &z, NOISE)[1]
            })
            .collect();
        let mean = draws.iter().sum::<f64>() / f64::from(n);
        let var = draws.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / f64::from(n);
        let p = 0.75_f64;
        assert!((mean - p * 2.0 / (1.0 + p * p)).abs() < 0.05, "{mean}");
        let want = 2.5 * 2.5 * (1.0 - p * p) / (1.0 + p * p);
        assert!((var / want - 1.0).abs() < 0.05, "{var} {want}");
    }

    #[test]
    fn before_the_first_known_day_the_series_leads_up_to_it() {
        let x = fill(&[None, None, Some(8.0)], &[0.0; 3], NOISE);
        assert_eq!(x, vec![4.5, 6.0, 8.0]);
    }
}
