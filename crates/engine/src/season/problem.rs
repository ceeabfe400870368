//! The year as it may turn out: one lot of inflow, shrinkage and ready dates for each member.
//!
//! Week t runs from 0; what goes in during week τ takes `left[τ][t]` of its litres at the end of week t ≥ τ,
//! and `left[τ][τ] = 1`. An older week never takes more room than a younger one on the same day: the table is
//! made so, and the proof that filling as one goes is best rests on it (`docs/season.md`).

use rand::seq::SliceRandom as _;
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use std::sync::Arc;

use super::course::{STRATA, Table};
use super::inflow::Weekly;
use crate::climate::Day;

/// Inflow of a whole year against what was reckoned: 10 to 90 % of years lie within ±30 % (choice: people do
/// not know their scraps better; households of one size differ more, WRAP and Eurostat means aside).
const YEARS_SD: f64 = 0.23;
/// Standard normal at the middle of each tenth: 5, 15 … 95 %.
const TENTHS: [f64; 10] = [
    -1.645, -1.036, -0.674, -0.385, -0.126, 0.126, 0.385, 0.674, 1.036, 1.645,
];

/// What is in a chamber now, in one member's view.
#[derive(Debug, Clone, PartialEq)]
pub struct Lot {
    /// Litres at the end of each week, if nothing more goes in.
    pub litres: Vec<f64>,
    /// Weeks from now to mulch; infinite if not seen.
    pub mulch: f64,
    /// Weeks from now to the planted bed.
    pub bed: f64,
    /// Week in which it was closed, before now: nought or less.
    pub closed: f64,
}

impl Lot {
    /// An empty chamber: fit to be filled at any time.
    #[must_use]
    pub fn nothing(weeks: usize) -> Self {
        Self {
            litres: vec![0.0; weeks],
            mulch: f64::NEG_INFINITY,
            bed: f64::NEG_INFINITY,
            closed: f64::NEG_INFINITY,
        }
    }
}

/// The chambers as they stand.
#[derive(Debug, Clone, PartialEq)]
pub struct Chambers {
    /// Litres of each that may be filled: the room that turning needs is left out. One or two.
    pub room: Vec<f64>,
    /// Whether the first of them takes caddies now; if not, both are closed.
    pub filling: bool,
    /// Weeks that this household leaves a closed chamber before it empties it, if it has done so often enough.
    pub rests: Option<f64>,
}

/// One member's year.
#[derive(Debug, Clone, PartialEq)]
pub struct Year {
    /// Litres that go in, week by week.
    pub inflow: Vec<f64>,
    /// What is in the chamber that fills now (or was closed last).
    pub first: Lot,
    /// What is in the other.
    pub other: Lot,
    /// `[τ][t]`: share left.
    pub left: Arc<Vec<Vec<f64>>>,
    /// Weeks from a closing at the start of week w to mulch.
    pub mulch: Arc<Vec<f64>>,
    /// Weeks from a closing at the start of week w to the planted bed.
    pub bed: Arc<Vec<f64>>,
}

/// All of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// Weeks.
    pub weeks: usize,
    /// Chambers.
    pub chambers: Chambers,
    /// Members, each as likely as the next.
    pub years: Vec<Year>,
}

/// What comes of a year.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Course {
    /// `[chamber][week]`: litres at the end of the week.
    pub level: [Vec<f64>; 2],
    /// Which chamber takes caddies in a week; `None` if neither.
    pub fills: Vec<Option<usize>>,
    /// Litres that find no room, week by week.
    pub overflow: Vec<f64>,
    /// Weeks at whose start the caddies moved to the other chamber.
    pub changes: Vec<usize>,
}

/// Shares left for one stratum, made monotone: on one day an older week takes no more room than a younger.
#[must_use]
pub fn shares(table: &Table, start: Day, weeks: usize, stratum: usize) -> Vec<Vec<f64>> {
    let mut left = vec![vec![0.0; weeks]; weeks];
    for (put_in, row) in left.iter_mut().enumerate() {
        let day = start + (put_in * 7) as i32;
        for (t, slot) in row.iter_mut().enumerate().skip(put_in) {
            *slot = table.left(day, t - put_in, stratum);
        }
        row[put_in] = 1.0;
    }
    for put_in in (0..weeks.saturating_sub(1)).rev() {
        let (older, younger) = left.split_at_mut(put_in + 1);
        for t in put_in + 1..weeks {
            let least = older[put_in][t].min(younger[0][t]);
            older[put_in][t] = least;
        }
    }
    left
}

impl Problem {
    /// Draws the years. `lots` gives what is in the first and the other chamber, by stratum; inflow is spread
    /// over ten years' worth and from week to week, strata and inflow each to each.
    #[must_use]
    pub fn draw(
        table: &Table,
        start: Day,
        chambers: Chambers,
        inflow: &Weekly,
        lots: impl Fn(usize) -> (Lot, Lot),
        members: usize,
        seed: u64,
    ) -> Self {
        let weeks = inflow.litres.len();
        let strata: Vec<_> = (0..STRATA)
            .map(|s| {
                let closing = |w: usize| start + (w * 7) as i32;
                (
                    lots(s),
                    Arc::new(shares(table, start, weeks, s)),
                    Arc::new((0..weeks).map(|w| table.to_mulch(closing(w), s)).collect()),
                    Arc::new((0..weeks).map(|w| table.to_bed(closing(w), s)).collect()),
                )
            })
            .collect();
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        let mut order: Vec<usize> = (0..members).collect();
        order.shuffle(&mut rng);
        let years = (0..members)
            .map(|i| {
                let stratum = order[i] % STRATA;
                let whole = (TENTHS[i % TENTHS.len()] * YEARS_SD).exp();
                let inflow = inflow
                    .litres
                    .iter()
                    .map(|mid| {
                        // A uniform factor of the same spread: no week is below nought.
                        let wide = (inflow.spread * 3.0_f64.sqrt()).min(1.0);
                        mid * whole * (1.0 + wide * rng.random_range(-1.0..1.0))
                    })
                    .collect();
                let ((first, other), left, mulch, bed) = &strata[stratum];
                Year {
                    inflow,
                    first: first.clone(),
                    other: other.clone(),
                    left: Arc::clone(left),
                    mulch: Arc::clone(mulch),
                    bed: Arc::clone(bed),
                }
            })
            .collect();
        Self {
            weeks,
            chambers,
            years,
        }
    }

    /// The same with all inflow times a factor.
    #[must_use]
    pub fn with_inflow(&self, factor: f64) -> Self {
        let mut other = self.clone();
        for year in &mut other.years {
            for litres in &mut year.inflow {
                *litres *= factor;
            }
        }
        other
    }
}

impl Year {
    /// Fills one chamber from the start of week `from`, week by week, on top of `lot` if there is one; gives
    /// litres taken in each week. Every week takes as much as there is room for: nothing kept back for later would gain room.
    #[must_use]
    pub fn fill(&self, from: usize, room: f64, lot: Option<&Lot>) -> Vec<f64> {
        let weeks = self.inflow.len();
        let mut taken = vec![0.0; weeks];
        for t in from..weeks {
            let before: f64 = (from..t).map(|p| taken[p] * self.left[p][t]).sum();
            let in_it = before + lot.map_or(0.0, |l| l.litres[t]);
            taken[t] = self.inflow[t].min((room - in_it).max(0.0));
        }
        taken
    }

    /// Litres that what was taken in weeks `from..to` has come to at the end of week `t`.
    #[must_use]
    pub fn level(&self, taken: &[f64], from: usize, to: usize, t: usize) -> f64 {
        (from..to.min(t + 1))
            .map(|p| taken[p] * self.left[p][t])
            .sum()
    }
}
