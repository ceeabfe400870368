//! Exact targets: a published recipe is solved as printed.
//!
//! ```text
//! water G:  Σq_i (W_i − G·1) = G·Q₀ − W₀        C:N R:  Σq_i (C_i − R·N_i) = R·N₀ − C₀
//! ```
//! with least Σq. One candidate and one target give the textbook formula x = Σ[Q(M−G)]/(G−M_b), or
//! x = (R·N − C)/[(1−M_b)(C_b − R·N_b)] (NRAES-54, ch. 3). A negative amount is no answer.

use good_lp::{Expression, ProblemVariables, Solution, SolverModel, Variable, microlp, variable};

use super::problem::Problem;
use super::windows::Limit;

/// A target named.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Target {
    /// Water share of wet mass.
    Water(f64),
    /// Total carbon to nitrogen.
    CarbonNitrogen(f64),
}

impl Target {
    /// The limit it is about.
    #[must_use]
    pub fn limit(self) -> Limit {
        match self {
            Self::Water(_) => Limit::Water,
            Self::CarbonNitrogen(_) => Limit::CarbonNitrogen,
        }
    }

    fn residual(self, p: &crate::blend::Parts) -> f64 {
        match self {
            Self::Water(share) => p.water - share * p.mass(),
            Self::CarbonNitrogen(ratio) => (p.carbon - ratio * p.nitrogen) / ratio,
        }
    }
}

/// Kilograms of each candidate that hit every target with the least mass, or `None` if none do.
/// Only the base, the candidates and their stock count; windows and limits do not.
#[must_use]
pub fn exact(problem: &Problem, targets: &[Target]) -> Option<Vec<f64>> {
    let unit = if problem.base.mass() > 0.0 {
        problem.base.mass()
    } else {
        1.0
    };
    let mut all = ProblemVariables::new();
    let q: Vec<Variable> = problem
        .candidates
        .iter()
        .map(|c| match c.stock_kg {
            Some(stock) => all.add(variable().min(0.0).max(stock / unit)),
            None => all.add(variable().min(0.0)),
        })
        .collect();
    let mass: Expression = q.iter().copied().sum();
    let mut model = all.minimise(mass).using(microlp);
    for target in targets {
        let constant = target.residual(&problem.base) / unit;
        let each: Vec<f64> = problem
            .candidates
            .iter()
            .map(|c| target.residual(&c.per_kg))
            .collect();
        let size = each.iter().fold(constant.abs(), |m, v| m.max(v.abs()));
        if size <= 0.0 {
            continue;
        }
        if each.iter().all(|v| *v == 0.0) {
            return None;
        }
        let left: Expression = q.iter().zip(&each).map(|(&v, &k)| (k / size) * v).sum();
        model = model.with((left + constant / size).eq(0.0));
    }
    let solution = model.solve().ok()?;
    let answer: Vec<f64> = q
        .iter()
        .map(|&v| solution.value(v).max(0.0) * unit)
        .collect();
    // The solver's tolerance is not ours: an answer has to hit its targets.
    let after = problem.after(&answer);
    let scale = after.mass().max(1e-12);
    targets
        .iter()
        .all(|t| t.residual(&after).abs() <= 1e-6 * scale)
        .then_some(answer)
}
