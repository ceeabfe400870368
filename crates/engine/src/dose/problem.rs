//! The linear program at a fixed slack.

use good_lp::{
    Expression, ProblemVariables, ResolutionError, Solution, SolverModel, Variable, microlp,
    variable,
};

use super::windows::{Limit, Windows};
use crate::blend::Parts;

/// Something at hand.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// Parts of one kilogram.
    pub per_kg: Parts,
    /// How much there is, kg; `None` is plenty.
    pub stock_kg: Option<f64>,
    /// One handful, kg; `None` leaves the amount unrounded.
    pub handful_kg: Option<f64>,
}

/// What is there, what is at hand and where the mix should be.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// What is already there: chamber and caddy.
    pub base: Parts,
    /// What may be added.
    pub candidates: Vec<Candidate>,
    /// Where the mix should be.
    pub windows: Windows,
    /// Share of summed loose volumes left after mixing.
    pub packing: f64,
    /// Limits that count; one that cannot be computed is left out by the caller.
    pub limits: Vec<Limit>,
}

/// One row: Σ coefficient·q + constant ≤ 0.
struct Row {
    constant: f64,
    each: Vec<f64>,
}

impl Problem {
    /// The mix after adding `q` kilograms of each candidate.
    #[must_use]
    pub fn after(&self, q: &[f64]) -> Parts {
        let mut sum = self.base;
        for (candidate, &kg) in self.candidates.iter().zip(q) {
            sum += candidate.per_kg * kg;
        }
        sum
    }

    /// How far outside the windows a mix lies, by the worst limit.
    #[must_use]
    pub fn slack(&self, parts: &Parts) -> f64 {
        let of = |limit: &Limit| match limit {
            Limit::Water => parts
                .water_share()
                .map_or(0.0, |w| self.windows.water.slack(w)),
            Limit::CarbonNitrogen => parts
                .carbon_nitrogen()
                .map_or(0.0, |r| self.windows.carbon_nitrogen.slack(r)),
            Limit::Air => parts
                .air_space(self.packing)
                .map_or(0.0, |a| self.windows.air.slack(a.min(1.0))),
        };
        self.limits.iter().map(of).fold(0.0, f64::max)
    }

    fn rows(&self, t: f64) -> Vec<Row> {
        let mut rows = Vec::new();
        let mut push = |read: &dyn Fn(&Parts) -> f64| {
            let row = Row {
                constant: read(&self.base),
                each: self.candidates.iter().map(|c| read(&c.per_kg)).collect(),
            };
            // Rows are brought to a common size so that the solver's tolerance means the same in each.
            let size = row
                .each
                .iter()
                .fold(row.constant.abs(), |m, v| m.max(v.abs()));
            if size > 0.0 {
                rows.push(Row {
                    constant: row.constant / size,
                    each: row.each.iter().map(|v| v / size).collect(),
                });
            }
        };
        let Windows {
            water,
            carbon_nitrogen: cn,
            air,
        } = self.windows;
        for limit in &self.limits {
            match limit {
                Limit::Water => {
                    push(&|p| p.water - water.upper(t) * p.mass());
                    push(&|p| water.lower(t) * p.mass() - p.water);
                }
                Limit::CarbonNitrogen => {
                    push(&|p| p.carbon - cn.upper(t) * p.nitrogen);
                    push(&|p| cn.lower(t) * p.nitrogen - p.carbon);
                }
                Limit::Air => {
                    push(&|p| p.filled() - (1.0 - air.lower(t)) * self.packing * p.litres)
                }
            }
        }
        rows
    }

    /// Least added mass at slack `t`: kilograms of each candidate, or nothing if none will do.
    pub(super) fn least_mass(&self, t: f64) -> Option<Vec<f64>> {
        // Amounts are counted in units of the base mass, so that a caddy and a lorry solve alike.
        let unit = if self.base.mass() > 0.0 {
            self.base.mass()
        } else {
            1.0
        };
        let scaled = Self {
            base: self.base * (1.0 / unit),
            candidates: self
                .candidates
                .iter()
                .map(|c| Candidate {
                    stock_kg: c.stock_kg.map(|s| s / unit),
                    ..c.clone()
                })
                .collect(),
            ..self.clone()
        };
        let mut all = ProblemVariables::new();
        let q: Vec<Variable> = scaled
            .candidates
            .iter()
            .map(|c| match c.stock_kg {
                Some(stock) => all.add(variable().min(0.0).max(stock)),
                None => all.add(variable().min(0.0)),
            })
            .collect();
        let mass: Expression = q.iter().copied().sum();
        let mut model = all.minimise(mass).using(microlp);
        for row in scaled.rows(t) {
            let left: Expression = q.iter().zip(&row.each).map(|(&v, &k)| k * v).sum();
            model = model.with((left + row.constant).leq(0.0));
        }
        match model.solve() {
            Ok(solution) => Some(
                q.iter()
                    .map(|&v| solution.value(v).max(0.0) * unit)
                    .collect(),
            ),
            Err(ResolutionError::Infeasible | ResolutionError::Unbounded) => None,
            // Numerical trouble is treated as no answer at this slack; bisection moves on to a looser one.
            Err(_) => None,
        }
    }
}
