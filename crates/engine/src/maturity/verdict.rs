//! The chance that a rung is reached: what the forecast gives, turned by what the tests say.
//!
//! odds(rung) = odds of the forecast · Π factor. The factor of a test is L⁺/L⁻ with
//! L⁺ = s·w + (1−s)(1−w), L⁻ = (1−t)·w + t(1−w): s how often a batch that is fit passes, t how often one that is
//! not fails, w how sure the pass is (1 for "earthy", between for a few seeds). w = ½ changes nothing.
//! All pairs (s, t) are judged: no trial of these tests against garden results was found.
//! Forecast: k of twenty runs give (k + ½)/21, so that a test can still speak (choice).
//! Of two tests of a group the stronger counts whole, the others half: they ask the same thing (judged).
//! A pass keeps its weight; a fail loses half of it every 30 days, since compost goes on (judged).
//! Pots and seed trays want one test of breath and one with plants: salt can fail a mature compost, and a calm one
//! can still be toxic. A rougher use is never less likely than a finer one.

use super::Passes;
use crate::forecast::Rung;

/// Surest that is ever said (judged): no test at home bears more.
const SUREST: f64 = 0.97;
/// Days in which a fail loses half its weight.
const FAIL_HALVES: f64 = 30.0;
/// A fail older than this no longer holds a rung back (judged).
pub const FAIL_HOLDS: f64 = 60.0;
/// Part of a second test of the same group that counts.
pub(super) const SECOND: f64 = 0.5;

/// A kind of test.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Self-heating.
    Flask,
    /// Sealed bag.
    Bag,
    /// CO2 in a jar.
    Jar,
    /// Seeds with a control.
    Seeds,
    /// Seeds without one.
    SeedsAlone,
    /// Germination index.
    Germination,
    /// Vitality index.
    Vitality,
}

/// What a test asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Group {
    /// How much it still breathes.
    Stability,
    /// Whether plants bear it.
    Plant,
}

/// How good a test is: (s, t) as above. All judged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quality {
    /// A batch that is fit passes.
    pub fit_passes: f64,
    /// A batch that is not fails.
    pub unfit_fails: f64,
}

impl Kind {
    /// As in JSON.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Flask => "self_heating",
            Self::Bag => "bag",
            Self::Jar => "jar",
            Self::Seeds => "seeds",
            Self::SeedsAlone => "seeds_without_control",
            Self::Germination => "germination_index",
            Self::Vitality => "vitality_index",
        }
    }

    /// What it asks.
    #[must_use]
    pub const fn group(self) -> Group {
        match self {
            Self::Flask | Self::Bag | Self::Jar => Group::Stability,
            _ => Group::Plant,
        }
    }

    /// Whether it opens pots and seed trays; seeds without a control do not.
    #[must_use]
    pub const fn opens(self) -> bool {
        !matches!(self, Self::SeedsAlone)
    }

    /// How good it is for each rung, roughest first; `None` where it says nothing.
    #[must_use]
    pub fn quality(self) -> [Option<Quality>; 5] {
        let none = (0.0, 0.0);
        let pairs = match self {
            Self::Flask => [
                (0.95, 0.70),
                (0.90, 0.75),
                (0.90, 0.60),
                (0.85, 0.80),
                (0.85, 0.75),
            ],
            Self::Bag => [
                (0.95, 0.40),
                (0.90, 0.55),
                (0.90, 0.60),
                (0.90, 0.50),
                (0.90, 0.45),
            ],
            Self::Jar => [
                (0.90, 0.75),
                (0.90, 0.80),
                (0.85, 0.80),
                (0.85, 0.80),
                (0.85, 0.80),
            ],
            Self::Seeds => [none, none, (0.85, 0.60), (0.85, 0.75), (0.80, 0.80)],
            Self::SeedsAlone => [none, none, (0.80, 0.55), (0.80, 0.65), (0.75, 0.70)],
            Self::Germination => [none, none, (0.80, 0.55), (0.70, 0.60), (0.65, 0.65)],
            Self::Vitality => [none, none, (0.80, 0.60), (0.80, 0.70), (0.75, 0.70)],
        };
        pairs.map(|(fit_passes, unfit_fails)| {
            (fit_passes > 0.0).then_some(Quality {
                fit_passes,
                unfit_fails,
            })
        })
    }
}

impl Quality {
    /// Factor on the odds of a pass that is so sure.
    #[must_use]
    pub fn factor(self, sure: f64) -> f64 {
        let (s, t) = (self.fit_passes, self.unfit_fails);
        (s * sure + (1.0 - s) * (1.0 - sure)) / ((1.0 - t) * sure + t * (1.0 - sure))
    }
}

/// One test that was done.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Evidence {
    /// Kind.
    pub kind: Kind,
    /// Days ago.
    pub age: f64,
    /// What it says.
    pub passes: Passes,
}

impl Evidence {
    /// Logarithm of its factor for a rung by number; nothing where it says nothing.
    fn weight(&self, rung: usize) -> Option<f64> {
        let weight = self.kind.quality()[rung]?.factor(self.passes[rung]?).ln();
        Some(if weight < 0.0 {
            weight * 0.5_f64.powf(self.age.max(0.0) / FAIL_HALVES)
        } else {
            weight
        })
    }

    fn fails(&self, rung: usize) -> bool {
        self.age <= FAIL_HOLDS && self.passes[rung].is_some_and(|p| p < 0.5)
    }
}

/// Why a rung is not shown as reached, whatever its chance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hold {
    /// Fed too lately.
    Rest {
        /// Days since the last feed.
        days: f64,
        /// Days wanted.
        needed: f64,
    },
    /// A test fell short.
    Failed(Kind),
    /// No test of breath yet.
    NoStabilityTest,
    /// No test with plants yet.
    NoPlantTest,
}

/// What is said of one rung.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// The rung.
    pub rung: Rung,
    /// Chance that it is reached.
    pub chance: f64,
    /// What each test that counts did to the odds.
    pub factors: Vec<(Kind, f64)>,
    /// What holds it back.
    pub holds: Vec<Hold>,
}

/// Of twenty runs, how many; as a share that leaves a test its say.
#[must_use]
pub fn share(in_twenty: usize) -> f64 {
    (in_twenty.min(20) as f64 + 0.5) / 21.0
}

fn chance(odds: f64) -> f64 {
    (odds / (1.0 + odds)).min(SUREST)
}

/// What each test of the latest of its kind does to the odds of a rung, in logarithms.
fn weights(tests: &[Evidence], rung: usize) -> Vec<(Kind, f64)> {
    let mut all: Vec<(Kind, f64)> = tests
        .iter()
        .filter_map(|t| Some((t.kind, t.weight(rung)?)))
        .collect();
    all.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    let mut spoken = Vec::new();
    for (kind, weight) in &mut all {
        if spoken.contains(&kind.group()) {
            *weight *= SECOND;
        } else {
            spoken.push(kind.group());
        }
    }
    all
}

/// Whether a test of a group is there that opens pots and trays.
pub(super) fn done(tests: &[Evidence], group: Group) -> bool {
    tests
        .iter()
        .any(|t| t.kind.group() == group && t.kind.opens())
}

/// Verdict on each rung. `by_now` counts runs of twenty; `tests` holds the latest of each kind; `rest` is in days.
#[must_use]
pub fn verdicts(by_now: [usize; 5], tests: &[Evidence], rest: f64) -> Vec<Verdict> {
    let done = |group| done(tests, group);
    let mut all: Vec<Verdict> = Rung::ALL
        .into_iter()
        .enumerate()
        .map(|(at, rung)| {
            let weights = weights(tests, at);
            let prior = share(by_now[at]);
            let odds = prior / (1.0 - prior) * weights.iter().map(|w| w.1).sum::<f64>().exp();
            let mut holds = Vec::new();
            let needed = rung.limits().rest;
            if rest < needed {
                holds.push(Hold::Rest { days: rest, needed });
            }
            holds.extend(
                tests
                    .iter()
                    .filter(|t| t.fails(at))
                    .map(|t| Hold::Failed(t.kind)),
            );
            if rung >= Rung::Pots {
                if !done(Group::Stability) {
                    holds.push(Hold::NoStabilityTest);
                }
                if !done(Group::Plant) {
                    holds.push(Hold::NoPlantTest);
                }
            }
            // Tests cannot make up for rest: they look at today's breath, not at what cures.
            let most = if rest < needed { prior } else { 1.0 };
            Verdict {
                rung,
                chance: chance(odds).min(most),
                factors: weights.into_iter().map(|(k, w)| (k, w.exp())).collect(),
                holds,
            }
        })
        .collect();
    for at in (1..all.len()).rev() {
        let finer = all[at].chance;
        all[at - 1].chance = all[at - 1].chance.max(finer);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::maturity::bag::Bag;
    use crate::maturity::seed::Seeds;
    use crate::maturity::self_heating::Flask;

    fn bag(bag: Bag, age: f64) -> Evidence {
        Evidence {
            kind: Kind::Bag,
            age,
            passes: bag.passes(),
        }
    }

    fn flask(rise_k: f64) -> Evidence {
        let flask = Flask {
            rise_k,
            litres: Some(1.5),
            days: Some(7.0),
        };
        Evidence {
            kind: Kind::Flask,
            age: 2.0,
            passes: flask.passes(),
        }
    }

    fn seeds(up: u32) -> Evidence {
        let seeds = Seeds {
            pots: (up, 20),
            control: Some((19, 20)),
        };
        Evidence {
            kind: Kind::Seeds,
            age: 2.0,
            passes: seeds.passes(),
        }
    }

    const HALF: [usize; 5] = [18, 14, 10, 6, 2];

    #[test]
    fn no_test_leaves_the_forecast_and_holds_pots_back() {
        let v = verdicts(HALF, &[], 90.0);
        assert!((v[2].chance - 10.5 / 21.0).abs() < 1e-12);
        assert!(v[2].holds.is_empty());
        assert_eq!(v[3].holds, [Hold::NoStabilityTest, Hold::NoPlantTest]);
    }

    #[test]
    fn passes_raise_and_fails_lower_every_rung_they_speak_of() {
        let none = verdicts(HALF, &[], 90.0);
        let good = verdicts(HALF, &[bag(Bag::Earthy, 1.0), flask(4.0), seeds(20)], 90.0);
        let bad = verdicts(HALF, &[bag(Bag::Rotten, 1.0), flask(45.0), seeds(5)], 90.0);
        for at in 0..5 {
            assert!(good[at].chance > none[at].chance, "{at}");
            assert!(bad[at].chance < none[at].chance, "{at}");
            assert!(good[at].holds.is_empty());
            assert!(bad[at].holds.contains(&Hold::Failed(Kind::Flask)));
        }
        for pair in good.windows(2) {
            assert!(pair[0].chance >= pair[1].chance);
        }
    }

    #[test]
    fn the_odds_are_those_of_the_table() {
        // Prior 10.5/21 is even; an earthy bag is 0.90/(1 − 0.60) = 2.25 for a planted bed.
        let v = verdicts(HALF, &[bag(Bag::Earthy, 0.0)], 90.0);
        assert!((v[2].chance - 2.25 / 3.25).abs() < 1e-12);
        // Two tests of breath: the flask (0.90/0.40 = 2.25) and half of the bag.
        let v = verdicts(HALF, &[bag(Bag::Earthy, 0.0), flask(4.0)], 90.0);
        let odds = 2.25 * 2.25_f64.sqrt();
        assert!((v[2].chance - odds / (1.0 + odds)).abs() < 1e-12);
    }

    #[test]
    fn an_old_fail_fades_and_rest_cannot_be_tested_away() {
        let fresh = verdicts(HALF, &[bag(Bag::Sour, 0.0)], 90.0);
        let old = verdicts(HALF, &[bag(Bag::Sour, 90.0)], 90.0);
        assert!(old[2].chance > fresh[2].chance && old[2].holds.is_empty());
        let early = verdicts([0; 5], &[bag(Bag::Earthy, 0.0), flask(3.0), seeds(20)], 5.0);
        assert!(early.iter().all(|v| v.chance <= share(0) + 1e-12));
        assert!(
            early
                .iter()
                .all(|v| matches!(v.holds[0], Hold::Rest { .. }))
        );
    }
}
