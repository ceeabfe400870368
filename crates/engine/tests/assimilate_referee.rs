//! The referee against a grid, where the posterior is bent and has two heaps.
#![allow(clippy::unwrap_used, reason = "tests")]

use engine::assimilate::referee::{Particle, Tempering, temper};
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use rand_distr::StandardNormal;

/// A banana: only a curve of the first two is seen.
fn banana(z: &[f64]) -> f64 {
    let (a, b) = (z[0], z[1]);
    -0.5 * ((b - a * a + 0.7) / 0.25).powi(2) - 0.5 * ((a + b - 0.3) / 0.8).powi(2)
}

/// Two heaps of unlike weight.
fn heaps(z: &[f64]) -> f64 {
    let one = (-0.5 * ((z[0] - 1.2).powi(2) + (z[1] - 0.4).powi(2)) / 0.09).exp();
    let two = (-0.5 * ((z[0] + 1.0).powi(2) + (z[1] + 0.8).powi(2)) / 0.16).exp();
    (one + 0.5 * two + 1e-300).ln()
}

fn log_prior(z: &[f64]) -> f64 {
    -0.5 * z.iter().map(|x| x * x).sum::<f64>()
}

/// Means, variances and ln evidence on a grid.
fn grid(like: fn(&[f64]) -> f64) -> ([f64; 2], [f64; 2], f64) {
    let step = 0.01;
    let mut sums = [0.0; 5];
    for i in -500..=500 {
        for j in -500..=500 {
            let z = [f64::from(i) * step, f64::from(j) * step];
            let w = (like(&z) + log_prior(&z)).exp();
            for (sum, x) in sums
                .iter_mut()
                .zip([1.0, z[0], z[1], z[0] * z[0], z[1] * z[1]])
            {
                *sum += w * x;
            }
        }
    }
    let mean = [sums[1] / sums[0], sums[2] / sums[0]];
    let variance = [
        sums[3] / sums[0] - mean[0] * mean[0],
        sums[4] / sums[0] - mean[1] * mean[1],
    ];
    (
        mean,
        variance,
        (sums[0] * step * step / std::f64::consts::TAU).ln(),
    )
}

fn start(n: usize) -> Vec<Particle> {
    let mut rng = ChaCha8Rng::seed_from_u64(3);
    (0..n)
        .map(|i| ((0..2).map(|_| rng.sample(StandardNormal)).collect(), i % 5))
        .collect()
}

/// 4,000 particles, of which resampling leaves about half as many independent ones: a mean wanders by sd/√2000 = 0.02,
/// a variance by √(2/2000) = 0.03 of itself; four of these are allowed.
#[test]
fn the_referee_agrees_with_a_grid() {
    for (name, like) in [("banana", banana as fn(&[f64]) -> f64), ("heaps", heaps)] {
        let (mean, variance, evidence) = grid(like);
        let how = Tempering {
            seed: 5,
            moves: 6,
            last: 6,
            skies: 5,
        };
        let out = temper(
            start(4000),
            log_prior,
            |all| all.iter().map(|(z, _)| like(z)).collect(),
            &how,
        );
        let n = out.particles.len() as f64;
        println!(
            "{name}: {} levels, {:.2} accepted, ln evidence {:.3} ({evidence:.3})",
            out.levels, out.accepted, out.log_evidence
        );
        assert!(out.levels >= 2 && (0.1..0.6).contains(&out.accepted));
        assert!((out.log_evidence - evidence).abs() < 0.1, "{name}");
        for i in 0..2 {
            let m = out.particles.iter().map(|(z, _)| z[i]).sum::<f64>() / n;
            let v = out
                .particles
                .iter()
                .map(|(z, _)| (z[i] - m).powi(2))
                .sum::<f64>()
                / n;
            let sd = variance[i].sqrt();
            println!(
                "  {i}: mean {m:.3} ({:.3}), variance {v:.3} ({:.3})",
                mean[i], variance[i]
            );
            assert!((m - mean[i]).abs() < 4.0 * 0.0224 * sd, "{name} {i}");
            assert!((v / variance[i] - 1.0).abs() < 4.0 * 0.0316, "{name} {i}");
        }
    }
}

/// The number beside the row is drawn by the likelihood too.
#[test]
fn the_weather_of_a_particle_is_judged() {
    let shares = [0.1, 0.2, 0.05, 0.6, 0.05_f64];
    let how = Tempering {
        seed: 9,
        moves: 6,
        last: 6,
        skies: 5,
    };
    let out = temper(
        start(4000),
        log_prior,
        |all| all.iter().map(|(_, sky)| shares[*sky].ln()).collect(),
        &how,
    );
    for (sky, share) in shares.iter().enumerate() {
        let found = out.particles.iter().filter(|p| p.1 == sky).count() as f64 / 4000.0;
        assert!((found - share).abs() < 0.04, "{sky}: {found}");
    }
}

#[test]
fn what_is_no_number_is_impossible() {
    let how = Tempering {
        seed: 1,
        moves: 3,
        last: 3,
        skies: 1,
    };
    let out = temper(
        start(500),
        log_prior,
        |all| {
            all.iter()
                .map(|(z, _)| if z[0] > 0.0 { f64::NAN } else { 0.0 })
                .collect()
        },
        &how,
    );
    assert!(out.particles.iter().all(|(z, _)| z[0] <= 0.0));
    assert!(
        temper(Vec::new(), log_prior, |_| Vec::new(), &how)
            .particles
            .is_empty()
    );
}
