//! The three stages, and what led to the answer.

use serde::Serialize;

use super::problem::Problem;
use super::windows::{Limit, Windows};

/// Slack beyond which no answer is sought.
const LOOSEST: f64 = 50.0;
/// Bisection stops here; a thousandth of a hair's breadth of water.
const CLOSE: f64 = 1e-9;
/// Room for rounding between stage 1 and stage 2.
const EASE: f64 = 1e-7;

/// Whether the windows are reached.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// Inside every window.
    Meets,
    /// Between the windows and the outer limits.
    Compromise,
    /// No amounts of what is at hand bring it within the outer limits.
    Cannot,
}

impl Outcome {
    /// As in JSON.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Meets => "meets",
            Self::Compromise => "compromise",
            Self::Cannot => "cannot",
        }
    }
}

/// Why no amounts will do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Cause {
    /// Too wet, and nothing at hand dries it.
    TooWet,
    /// Too dry, and nothing at hand wets it.
    TooDry,
    /// Too little carbon, and nothing at hand brings it.
    TooLittleCarbon,
    /// Too little nitrogen, and nothing at hand brings it.
    TooLittleNitrogen,
    /// Too dense, and nothing at hand opens it.
    TooDense,
    /// The right thing is at hand, but not enough of it.
    StockTooSmall,
    /// Each window can be reached alone, not all at once.
    Conflict,
}

/// Amounts, and what they rest on.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Whether the windows are reached.
    pub outcome: Outcome,
    /// Least slack that any amounts reach.
    pub least_slack: f64,
    /// Slack of the mix chosen, before rounding to handfuls.
    pub slack: f64,
    /// Kilograms of each candidate, unrounded.
    pub exact: Vec<f64>,
    /// Kilograms of each candidate in whole handfuls.
    pub kg: Vec<f64>,
    /// The limit that asks for the material; `None` where nothing is needed.
    pub binding: Option<Limit>,
    /// Least material for the aim of one limit alone, where it can be reached.
    pub alone: Vec<(Limit, Option<Vec<f64>>)>,
    /// Why not, if it cannot.
    pub cause: Option<Cause>,
}

/// Solves a problem.
#[must_use]
pub fn solve(problem: &Problem) -> Answer {
    let least = least_slack(problem);
    let (slack, exact) = worth_its_mass(problem, least);
    let outcome = match (least, slack) {
        (l, _) if l > 1.0 => Outcome::Cannot,
        (_, s) if s <= CLOSE => Outcome::Meets,
        _ => Outcome::Compromise,
    };
    let kg = in_handfuls(problem, &exact);
    Answer {
        outcome,
        least_slack: least,
        slack,
        binding: binding(problem, slack, &exact),
        alone: alone(problem),
        cause: (outcome == Outcome::Cannot).then(|| cause(problem)),
        exact,
        kg,
    }
}

/// The slack that balances distance from the windows against material: least t + Σq/Q₀ over t from the least
/// slack to 1 (or to the mix as it is, where even the least is beyond 1). Golden-section search.
fn worth_its_mass(problem: &Problem, least: f64) -> (f64, Vec<f64>) {
    let nothing = || vec![0.0; problem.candidates.len()];
    if least >= LOOSEST {
        return (problem.slack(&problem.base), nothing());
    }
    let unit = problem.base.mass().max(1e-9);
    let of = |t: f64| {
        let q = problem.least_mass(if t > 0.0 { t + EASE } else { 0.0 });
        q.map_or((f64::INFINITY, nothing()), |q| {
            (t + q.iter().sum::<f64>() / unit, q)
        })
    };
    let at_least = of(least);
    let end = if least > 1.0 {
        problem.slack(&problem.base).max(least)
    } else {
        1.0
    };
    let golden = 0.5 * (5f64.sqrt() - 1.0);
    let (mut low, mut high) = (least, end);
    let (mut a, mut b) = (high - golden * (high - low), low + golden * (high - low));
    let (mut fa, mut fb) = (of(a).0, of(b).0);
    while high - low > 1e-8 {
        if fa <= fb {
            (high, b, fb) = (b, a, fa);
            a = high - golden * (high - low);
            fa = of(a).0;
        } else {
            (low, a, fa) = (a, b, fb);
            b = low + golden * (high - low);
            fb = of(b).0;
        }
    }
    let t = 0.5 * (low + high);
    let inside = of(t);
    if inside.0 < at_least.0 - 1e-7 {
        (t, inside.1)
    } else {
        (least, at_least.1)
    }
}

/// Least slack at which amounts exist.
fn least_slack(problem: &Problem) -> f64 {
    if problem.least_mass(0.0).is_some() {
        return 0.0;
    }
    let (mut low, mut high) = (0.0, 1.0);
    while problem.least_mass(high).is_none() {
        if high >= LOOSEST {
            return LOOSEST;
        }
        low = high;
        high = (high * 3.0).min(LOOSEST);
    }
    while high - low > CLOSE * (1.0 + high) {
        let middle = 0.5 * (low + high);
        if problem.least_mass(middle).is_some() {
            high = middle
        } else {
            low = middle
        }
    }
    high
}

/// Best corner of the handful lattice around an answer: least slack to a twentieth, then least mass.
fn in_handfuls(problem: &Problem, exact: &[f64]) -> Vec<f64> {
    let mut corners: Vec<Vec<f64>> = vec![Vec::new()];
    for (candidate, &kg) in problem.candidates.iter().zip(exact) {
        let most = candidate.stock_kg.unwrap_or(f64::INFINITY);
        let choices: Vec<f64> = match candidate.handful_kg {
            Some(step) if kg > 1e-9 => {
                let n = kg / step;
                let mut near = vec![n.floor() * step, n.ceil() * step];
                near.retain(|&k| k <= most + 1e-12);
                near.dedup();
                if near.is_empty() { vec![0.0] } else { near }
            }
            _ => vec![kg],
        };
        corners = corners
            .into_iter()
            .flat_map(|corner| {
                choices
                    .iter()
                    .map(move |&k| corner.iter().copied().chain([k]).collect::<Vec<_>>())
            })
            .collect();
    }
    let rank = |q: &Vec<f64>| {
        let slack = (problem.slack(&problem.after(q)) * 20.0 - 1e-6)
            .ceil()
            .max(0.0);
        (slack, q.iter().sum::<f64>())
    };
    corners
        .into_iter()
        .min_by(|a, b| {
            let (a, b) = (rank(a), rank(b));
            a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
        })
        .unwrap_or_default()
}

/// The limit without which least material would be added.
fn binding(problem: &Problem, slack: f64, exact: &[f64]) -> Option<Limit> {
    let mass: f64 = exact.iter().sum();
    if mass <= 1e-9 {
        return None;
    }
    problem
        .limits
        .iter()
        .filter_map(|&limit| {
            let mut without = problem.clone();
            without.limits.retain(|&l| l != limit);
            let less: f64 = without.least_mass(slack + EASE)?.iter().sum();
            (less < mass * (1.0 - 1e-6)).then_some((limit, less))
        })
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(limit, _)| limit)
}

/// Least material for one limit's aim alone.
fn alone(problem: &Problem) -> Vec<(Limit, Option<Vec<f64>>)> {
    problem
        .limits
        .iter()
        .map(|&limit| {
            let one = Problem {
                windows: Windows::aims(),
                limits: vec![limit],
                ..problem.clone()
            };
            (limit, one.least_mass(0.0))
        })
        .collect()
}

fn cause(problem: &Problem) -> Cause {
    let mut plenty = problem.clone();
    for candidate in &mut plenty.candidates {
        candidate.stock_kg = None;
    }
    for &limit in &problem.limits {
        let one = Problem {
            limits: vec![limit],
            ..problem.clone()
        };
        if one.least_mass(1.0).is_some() {
            continue;
        }
        if (Problem {
            limits: vec![limit],
            ..plenty.clone()
        })
        .least_mass(1.0)
        .is_some()
        {
            return Cause::StockTooSmall;
        }
        let base = &problem.base;
        return match limit {
            Limit::Water
                if base
                    .water_share()
                    .is_some_and(|w| w > problem.windows.water.high) =>
            {
                Cause::TooWet
            }
            Limit::Water => Cause::TooDry,
            Limit::CarbonNitrogen
                if base
                    .carbon_nitrogen()
                    .is_some_and(|r| r < problem.windows.carbon_nitrogen.low) =>
            {
                Cause::TooLittleCarbon
            }
            Limit::CarbonNitrogen => Cause::TooLittleNitrogen,
            Limit::Air => Cause::TooDense,
        };
    }
    if plenty.least_mass(1.0).is_some() {
        Cause::StockTooSmall
    } else {
        Cause::Conflict
    }
}
