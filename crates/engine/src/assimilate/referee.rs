//! Tempered sequential Monte Carlo: the slow second method that the smoother is held against. Studies only.
//!
//! Particles start from the prior; the likelihood comes in by powers 0 = t₀ < t₁ … = 1, each step as large as keeps the
//! effective sample size at half (Del Moral, Doucet & Jasra 2006, J. R. Stat. Soc. B 68:411, recalled); then
//! systematic resampling, then several Metropolis moves whose steps follow the particles' covariance:
//!
//! ```text
//! z' = m + √(1−b²) (z − m) + b L ε,   accepted by π(z')/π(z) · φ(z)/φ(z')
//! ```
//! m, L of the particles, φ their normal. A plain random walk in 23 directions hardly moves in the few moves that a
//! model run allows. This walk leaves a normal posterior alone at any b
//! (Neal 1998; Cotter et al. 2013, Stat. Sci. 28:424, recalled) and is exact for any other. b goes up and down for
//! a third accepted. A particle carries a number beside its row, its weather: half of the moves draw another one,
//! which needs no correction since each is as likely as any.

use std::sync::Arc;

use nalgebra::{Cholesky, DMatrix, DVector};
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use rand_distr::StandardNormal;

use crate::batch::air::Air;
use crate::ensemble::prior::Row;
use crate::ensemble::{Member, Plan, prior, simulate};

use super::carry::Carried;
use super::learnt::{Settings, covariance};
use super::observe;
use super::reading::{Reading, Seen};

/// A point and its weather.
pub type Particle = (Vec<f64>, usize);

/// How to temper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tempering {
    /// Seed.
    pub seed: u64,
    /// Moves a level.
    pub moves: usize,
    /// Moves at the last one: they alone leave the posterior as it is, and undo what resampling narrowed.
    pub last: usize,
    /// How many weathers a particle may have.
    pub skies: usize,
}

/// What comes out.
#[derive(Debug, Clone, PartialEq)]
pub struct Tempered {
    /// Particles of equal weight.
    pub particles: Vec<Particle>,
    /// Levels passed.
    pub levels: usize,
    /// Share of moves accepted.
    pub accepted: f64,
    /// ln of the evidence.
    pub log_evidence: f64,
}

/// Most levels; each at least halves what is missing of the likelihood's sharpness, so this is never met in practice.
const MOST_LEVELS: usize = 200;

/// Effective share of the particles when the likelihood comes in by `more`.
fn effective(like: &[f64], more: f64) -> f64 {
    let top = like.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let (one, two) = like.iter().fold((0.0, 0.0), |(a, b), l| {
        let w = ((l - top) * more).exp();
        (a + w, b + w * w)
    });
    one * one / two / like.len() as f64
}

/// Systematic resampling: which particle each one becomes.
fn resampled(weights: &[f64], u: f64) -> Vec<usize> {
    let total: f64 = weights.iter().sum();
    let n = weights.len();
    let (mut at, mut sum) = (0, weights[0]);
    (0..n)
        .map(|i| {
            let want = (i as f64 + u) / n as f64 * total;
            while sum < want && at + 1 < n {
                at += 1;
                sum += weights[at];
            }
            at
        })
        .collect()
}

/// Mean of the particles and a root of their covariance.
fn normal_of(particles: &[Particle]) -> (DVector<f64>, DMatrix<f64>) {
    let n = particles.len() as f64;
    let d = particles[0].0.len();
    let mut all = DMatrix::from_fn(d, particles.len(), |i, j| particles[j].0[i]);
    let mean: DVector<f64> = all.column_mean();
    for mut column in all.column_iter_mut() {
        column -= &mean;
    }
    let mut cov = &all * all.transpose() / (n - 1.0);
    for i in 0..d {
        cov[(i, i)] += 1e-6;
    }
    let root = Cholesky::new(cov).map_or_else(|| DMatrix::identity(d, d) * 0.1, |c| c.l());
    (mean, root)
}

/// Tempers `particles`, drawn from the prior, to the posterior. `like` gives ln likelihoods of many at once; one that
/// is not a number counts as impossible.
pub fn temper(
    mut particles: Vec<Particle>,
    log_prior: impl Fn(&[f64]) -> f64,
    mut like: impl FnMut(&[Particle]) -> Vec<f64>,
    how: &Tempering,
) -> Tempered {
    let mut rng = ChaCha8Rng::seed_from_u64(how.seed);
    let mut out = Tempered {
        particles: Vec::new(),
        levels: 0,
        accepted: 0.0,
        log_evidence: 0.0,
    };
    if particles.len() < 2 || particles[0].0.is_empty() {
        out.particles = particles;
        return out;
    }
    let held = |all: Vec<f64>| -> Vec<f64> {
        all.into_iter()
            .map(|l| if l.is_finite() { l } else { -1e300 })
            .collect()
    };
    let mut bold: f64 = 0.5;
    let mut now = held(like(&particles));
    let mut power: f64 = 0.0;
    let (mut tried, mut taken) = (0_usize, 0_usize);
    while power < 1.0 && out.levels < MOST_LEVELS {
        let mut more = 1.0 - power;
        if effective(&now, more) < 0.5 {
            let mut low = 0.0;
            for _ in 0..60 {
                let middle = 0.5 * (low + more);
                if effective(&now, middle) < 0.5 {
                    more = middle;
                } else {
                    low = middle;
                }
            }
        }
        let top = now.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let weights: Vec<f64> = now.iter().map(|l| ((l - top) * more).exp()).collect();
        out.log_evidence += (weights.iter().sum::<f64>() / weights.len() as f64).ln() + top * more;
        power = (power + more).min(1.0);
        let picks = resampled(&weights, rng.random());
        particles = picks.iter().map(|&i| particles[i].clone()).collect();
        now = picks.iter().map(|&i| now[i]).collect();
        let (mean, root) = normal_of(&particles);
        let log_normal = |z: &[f64]| {
            let off = DVector::from_column_slice(z) - &mean;
            root.solve_lower_triangular(&off)
                .map_or(f64::NEG_INFINITY, |white| -0.5 * white.norm_squared())
        };
        for _ in 0..if power < 1.0 { how.moves } else { how.last } {
            let keep = (1.0 - bold * bold).sqrt();
            let proposed: Vec<Particle> = particles
                .iter()
                .map(|(z, sky)| {
                    let noise =
                        DVector::from_fn(z.len(), |_, _| rng.sample::<f64, _>(StandardNormal));
                    let old = DVector::from_column_slice(z);
                    let new = &mean + (old - &mean) * keep + &root * noise * bold;
                    let other = how.skies > 1 && rng.random::<bool>();
                    let sky = if other {
                        rng.random_range(0..how.skies)
                    } else {
                        *sky
                    };
                    (new.as_slice().to_vec(), sky)
                })
                .collect();
            let then = held(like(&proposed));
            let mut good = 0_usize;
            for (i, new) in proposed.into_iter().enumerate() {
                let old = &particles[i].0;
                let gain = power * (then[i] - now[i]) + log_prior(&new.0) - log_prior(old)
                    + log_normal(old)
                    - log_normal(&new.0);
                if rng.random::<f64>().ln() < gain {
                    particles[i] = new;
                    now[i] = then[i];
                    good += 1;
                }
            }
            tried += particles.len();
            taken += good;
            let share = good as f64 / particles.len() as f64;
            bold = (bold * (share - 0.33).exp().clamp(0.6, 1.6)).min(1.0);
        }
        out.levels += 1;
    }
    out.accepted = taken as f64 / tried.max(1) as f64;
    out.particles = particles;
    out
}

/// ln likelihood of all readings for members of rows: numbers with the noise that lasts, classes each by itself.
fn likelihoods(
    plan: &Plan,
    air: &[Arc<Air<f64>>],
    readings: &[Reading],
    settings: &Settings,
    particles: &[Particle],
) -> Vec<f64> {
    let members: Vec<Member> = particles
        .iter()
        .map(|(z, sky)| {
            let row: Row = std::array::from_fn(|i| z[i]);
            Member {
                params: prior::params(&row, &plan.vessel),
                air: Arc::clone(&air[*sky]),
            }
        })
        .collect();
    let e = simulate(plan, &members);
    let numeric =
        |r: &Reading| observe::class(&r.seen).is_none() && !matches!(r.seen, Seen::Smell(_));
    let (numbers, classes): (Vec<Reading>, Vec<Reading>) =
        readings.iter().copied().partition(numeric);
    let mut out = vec![0.0; particles.len()];
    for r in &classes {
        for (sum, x) in out.iter_mut().zip(observe::numbers(&e, plan, r)) {
            *sum += observe::log_likelihood(r, x, settings.model_error.counts(r.kind()));
        }
    }
    let sd: Vec<f64> = numbers.iter().map(|r| observe::datum(r).1).collect();
    if !numbers.is_empty() {
        // Without a root the numbers cannot be judged: nothing is possible then, rather than everything.
        let Some(root) = covariance(&numbers, &sd, settings).cholesky() else {
            return vec![f64::NEG_INFINITY; particles.len()];
        };
        let says: Vec<Vec<f64>> = numbers
            .iter()
            .map(|r| observe::numbers(&e, plan, r))
            .collect();
        for (member, sum) in out.iter_mut().enumerate() {
            let miss = DVector::from_fn(numbers.len(), |i, _| {
                observe::datum(&numbers[i]).0 - says[i][member]
            });
            if let Some(white) = root.l_dirty().solve_lower_triangular(&miss) {
                *sum -= 0.5 * white.norm_squared();
            }
        }
    }
    out
}

/// Tempers rows by readings of a plan: the same question as `learn`, by the slow way. `plan` need not run beyond the
/// last reading by more than two days.
#[must_use]
pub fn judge(
    plan: &Plan,
    air: &[Arc<Air<f64>>],
    prior: &Carried,
    count: usize,
    readings: &[Reading],
    (settings, how): (&Settings, &Tempering),
) -> Tempered {
    let skies = how.skies.min(air.len());
    if skies == 0 {
        return Tempered {
            particles: Vec::new(),
            levels: 0,
            accepted: 0.0,
            log_evidence: 0.0,
        };
    }
    let start = (0..count)
        .map(|m| (prior.row(how.seed, m as u64).to_vec(), m % skies))
        .collect();
    let how = Tempering { skies, ..*how };
    temper(
        start,
        |z| prior.log_density(z),
        |particles| likelihoods(plan, air, readings, settings, particles),
        &how,
    )
}
