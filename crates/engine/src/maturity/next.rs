//! Which test would tell most now.
//!
//! I = Σ over rungs H(p) − P(pass)·H(p | pass) − P(fail)·H(p | fail), in bits; p is the chance now, the pairs are
//! those of the verdict. Asked of the three tests a kitchen can do: bag, flask, seeds. A second test of a group counts
//! half, as in the verdict; one done within the last fortnight is not asked again (choice).
//! Where pots are in reach and a group has no test yet, that group goes first: no other test can change the answer.

use super::verdict::{Evidence, Kind, SECOND, Verdict, done};
use crate::forecast::Rung;

/// Days in which a test is not asked again.
const AGAIN: f64 = 14.0;
/// Chance of pots from which a missing group goes first (choice).
const IN_REACH: f64 = 0.25;
/// Less than this is not worth a test, bits (choice).
const LEAST_BITS: f64 = 0.01;
/// Tests a kitchen can do.
const ASKED: [Kind; 3] = [Kind::Bag, Kind::Flask, Kind::Seeds];

/// A test, and what it would do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Next {
    /// The test.
    pub kind: Kind,
    /// What it tells, summed over the rungs, bits.
    pub bits: f64,
    /// The rung of which it tells most.
    pub rung: Rung,
    /// Chance of that rung now, after a pass and after a fail.
    pub chances: [f64; 3],
}

fn entropy(p: f64) -> f64 {
    let part = |p: f64| if p > 0.0 { -p * p.log2() } else { 0.0 };
    part(p) + part(1.0 - p)
}

fn asked(kind: Kind, now: &[Verdict], power: f64) -> Option<Next> {
    let mut told: Vec<(f64, Rung, [f64; 3])> = Vec::new();
    for (verdict, quality) in now.iter().zip(kind.quality()) {
        let Some(quality) = quality else { continue };
        let p = verdict.chance;
        let after = |sure: f64| {
            let odds = p / (1.0 - p) * quality.factor(sure).powf(power);
            odds / (1.0 + odds)
        };
        let (pass, fail) = (after(1.0), after(0.0));
        let passes = p * quality.fit_passes + (1.0 - p) * (1.0 - quality.unfit_fails);
        let bits = entropy(p) - passes * entropy(pass) - (1.0 - passes) * entropy(fail);
        told.push((bits.max(0.0), verdict.rung, [p, pass, fail]));
    }
    let bits = told.iter().map(|t| t.0).sum();
    let (_, rung, chances) = told.into_iter().max_by(|a, b| a.0.total_cmp(&b.0))?;
    Some(Next {
        kind,
        bits,
        rung,
        chances,
    })
}

/// The test that would tell most; nothing where none would tell anything.
#[must_use]
pub fn next(now: &[Verdict], tests: &[Evidence]) -> Option<Next> {
    let done = |group| done(tests, group);
    let mut all: Vec<Next> = ASKED
        .into_iter()
        .filter(|kind| !tests.iter().any(|t| t.kind == *kind && t.age < AGAIN))
        .filter_map(|kind| {
            let another = |t: &Evidence| t.kind != kind && t.kind.group() == kind.group();
            let power = if tests.iter().any(another) {
                SECOND
            } else {
                1.0
            };
            asked(kind, now, power)
        })
        .filter(|n| n.bits >= LEAST_BITS)
        .collect();
    all.sort_by(|a, b| b.bits.total_cmp(&a.bits));
    let pots = now.iter().find(|v| v.rung == Rung::Pots);
    let missing = |n: &&Next| !done(n.kind.group());
    pots.filter(|v| v.chance >= IN_REACH)
        .and_then(|_| all.iter().find(missing))
        .or(all.first())
        .copied()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "tests")]
    use super::*;
    use crate::maturity::bag::Bag;
    use crate::maturity::verdict::verdicts;

    #[test]
    fn seeds_are_asked_where_pots_are_in_reach_and_only_breath_was_tested() {
        let tests = [Evidence {
            kind: Kind::Bag,
            age: 1.0,
            passes: Bag::Earthy.passes(),
        }];
        let now = verdicts([20, 20, 18, 12, 8], &tests, 90.0);
        let told = next(&now, &tests).unwrap();
        assert_eq!(told.kind, Kind::Seeds);
        let [p, pass, fail] = told.chances;
        assert!(fail < p && p < pass && told.bits > 0.0);
    }

    #[test]
    fn what_is_settled_asks_for_no_test() {
        let mut now = verdicts([20; 5], &[], 90.0);
        for verdict in &mut now {
            verdict.chance = 0.9999;
        }
        assert_eq!(next(&now, &[]), None);
    }
}
