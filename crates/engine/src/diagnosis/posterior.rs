//! Chances of the causes of a symptom.

use super::cause::Cause;
use super::evidence::{Evidence, Quantity};
use super::symptom::Symptom;
use super::{likelihood, weights};

/// How many batches the table of weights is worth: few, since it is judged (choice).
pub const STRENGTH: f64 = 5.0;

/// Something known that speaks for a cause.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Because {
    /// What.
    pub quantity: Quantity,
    /// Its middle.
    pub value: f64,
    /// How many times more likely it makes the cause.
    pub times: f64,
}

/// A cause and how likely it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Chance {
    /// The cause.
    pub cause: Cause,
    /// Its chance, 0 to 1; all of a symptom sum to 1.
    pub chance: f64,
    /// The chance if its weight were one standard deviation lower, and higher.
    pub range: (f64, f64),
    /// What speaks for it, the strongest first.
    pub because: Vec<Because>,
    /// What speaks against it most, if anything does: a reason to look before acting.
    pub against: Option<Because>,
}

/// A row speaks for a cause from this multiplier on, and against it below the other (choice).
const SPEAKS: f64 = 1.15;
const DENIES: f64 = 0.4;

/// Causes of a symptom, the likeliest first. `seen` is how often this household bore a cause out.
#[must_use]
pub fn diagnose(symptom: Symptom, evidence: &Evidence, seen: &[(Cause, u32)]) -> Vec<Chance> {
    let causes: Vec<(Cause, f64)> = weights::of(symptom).collect();
    let count = |cause: Cause| -> f64 {
        let of = seen.iter().filter(|(c, _)| *c == cause);
        of.map(|(_, n)| f64::from(*n)).sum()
    };
    let all: f64 = STRENGTH + causes.iter().map(|(c, _)| count(*c)).sum::<f64>();
    let each: Vec<(Cause, f64, f64)> = causes
        .iter()
        .map(|&(cause, weight)| {
            let prior = (STRENGTH * weight + count(cause)) / all;
            let times: f64 = likelihood::known(cause, evidence).map(|(_, m)| m).product();
            (cause, prior, times)
        })
        .collect();
    let total: f64 = each.iter().map(|(_, prior, times)| prior * times).sum();
    let mut chances: Vec<Chance> = each
        .iter()
        .map(|&(cause, prior, times)| {
            let others = (total - prior * times) / (1.0 - prior).max(1e-9);
            // Variance of one share of a Dirichlet of that strength.
            let sd = (prior * (1.0 - prior) / (all + 1.0)).sqrt();
            let with = |p: f64| {
                let p = p.clamp(0.0, 1.0);
                let own = p * times;
                own / (own + (1.0 - p) * others).max(1e-12)
            };
            Chance {
                cause,
                chance: prior * times / total,
                range: (with(prior - sd), with(prior + sd)),
                because: because(cause, evidence),
                against: against(cause, evidence),
            }
        })
        .collect();
    // The order of the table settles a tie, so that the answer does not depend on a last digit.
    chances.sort_by(|a, b| b.chance.total_cmp(&a.chance));
    chances
}

/// Rows of a cause as things that speak.
fn speaking(cause: Cause, evidence: &Evidence) -> impl Iterator<Item = Because> {
    likelihood::known(cause, evidence).filter_map(|(factor, times)| {
        Some(Because {
            quantity: factor.quantity,
            value: evidence.get(factor.quantity)?.mid,
            times,
        })
    })
}

fn because(cause: Cause, evidence: &Evidence) -> Vec<Because> {
    let mut all: Vec<Because> = speaking(cause, evidence)
        .filter(|b| b.times >= SPEAKS)
        .collect();
    all.sort_by(|a, b| b.times.total_cmp(&a.times));
    all
}

fn against(cause: Cause, evidence: &Evidence) -> Option<Because> {
    speaking(cause, evidence)
        .filter(|b| b.times <= DENIES)
        .min_by(|a, b| a.times.total_cmp(&b.times))
}
