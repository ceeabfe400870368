//! How well the members fit each study, and how well they do when the study itself is held back.

use super::{DRAWS, Target, mean};

/// Power of the other studies' likelihood: the members' errors are shared, so it counts for less.
const POWER: f64 = 0.3;

/// One study's scores.
#[derive(Debug, Clone, PartialEq)]
pub struct Scored {
    /// Which run.
    pub study: &'static str,
    /// ln mean exp(−½ d²), members as drawn; 0 is perfect.
    pub prior: f64,
    /// The same, members weighted by all other studies.
    pub held_out: f64,
    /// How many equally weighted members the weights are worth.
    pub worth: f64,
    /// Weighted value of the targets that are shares of all.
    pub shares: Vec<f64>,
}

/// Likelihood of every member: mean over its vessels of exp(−½ d²), d² summed over the study's own targets.
/// Targets that are shares of all stand apart.
fn likelihoods<'a>(
    figures: &'a [(Target, Vec<f64>)],
    study: &str,
) -> (Vec<f64>, Vec<&'a (Target, Vec<f64>)>) {
    let runs = figures.first().map_or(0, |(_, v)| v.len());
    let mut squares = vec![0.0; runs];
    let mut shares = Vec::new();
    for row in figures.iter().filter(|(t, _)| t.study == study) {
        let (target, values) = row;
        if target.of_all() {
            shares.push(row);
            continue;
        }
        for (square, &value) in squares.iter_mut().zip(values) {
            // A run that never gets there counts as ten tolerances off.
            let d = (target.off(value) / target.tolerance).clamp(-10.0, 10.0);
            *square += d * d;
        }
    }
    let each = squares
        .chunks(DRAWS)
        .map(|c| c.iter().map(|s| (-0.5 * s).exp()).sum::<f64>() / c.len() as f64)
        .collect();
    (each, shares)
}

/// ln of the weighted mean likelihood, and how many members the weights are worth.
fn weighted(logs: &[f64], likely: &[f64], shares: &[&(Target, Vec<f64>)]) -> (f64, f64, Vec<f64>) {
    let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let weights: Vec<f64> = logs.iter().map(|l| (l - top).exp()).collect();
    let all: f64 = weights.iter().sum();
    let fit: f64 = weights.iter().zip(likely).map(|(w, l)| w / all * l).sum();
    let found: Vec<f64> = shares
        .iter()
        .map(|(_, values)| {
            let each = weights.iter().zip(values.chunks(DRAWS));
            each.map(|(w, v)| w / all * mean(v)).sum()
        })
        .collect();
    let of_all: f64 = shares
        .iter()
        .zip(&found)
        .map(|((target, _), &share)| (target.off(share) / target.tolerance).powi(2))
        .sum();
    let worth = all * all / weights.iter().map(|w| w * w).sum::<f64>();
    (fit.max(1e-300).ln() - 0.5 * of_all, worth, found)
}

/// Scores of all studies, in order of first appearance.
pub fn scores(figures: &[(Target, Vec<f64>)]) -> Vec<Scored> {
    let mut studies: Vec<&'static str> = figures.iter().map(|(t, _)| t.study).collect();
    studies.dedup();
    let each: Vec<_> = studies.iter().map(|s| likelihoods(figures, s)).collect();
    studies
        .iter()
        .enumerate()
        .map(|(own, study)| {
            let (likely, shares) = &each[own];
            let logs: Vec<f64> = (0..likely.len())
                .map(|m| {
                    let others = each.iter().enumerate().filter(|(at, _)| *at != own);
                    POWER * others.map(|(_, (l, _))| l[m].max(1e-30).ln()).sum::<f64>()
                })
                .collect();
            let (prior, ..) = weighted(&vec![0.0; likely.len()], likely, shares);
            let (held_out, worth, found) = weighted(&logs, likely, shares);
            Scored {
                study,
                prior,
                held_out,
                worth,
                shares: found,
            }
        })
        .collect()
}
