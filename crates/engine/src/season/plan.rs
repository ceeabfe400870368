//! The change-over weeks that lose least, and what happens when one does as now.
//!
//! ```text
//! V(a, k) = min over w > a of  W_O·E[overflow of weeks a..w]  +  (w < T)·( W_E·E[weeks too early] + W_C + V(w, 1−k) )
//! ```
//! Chamber k fills from week a to week w; then the other, closed at a, is emptied and takes over. Overflow of a
//! filling depends on (a, w) and the member only, earliness too: the expectation splits, and the one number a
//! is all the past that counts. So the table of V is exact for decisions that all members share.
//! W_O ≫ W_E ≫ W_C: a litre on the ground is worth ten weeks of unripe compost, that five change-overs (choice).
//! A chamber is not emptied before sixteen members in twenty call it mulch.

use rayon::prelude::*;

use super::problem::{Course, Lot, Problem, Year};

/// Weight of a litre that finds no room.
pub const OVERFLOW: f64 = 100.0;
/// Weight of a week that a chamber is emptied before it is fit for a bed.
pub const EARLY: f64 = 10.0;
/// Weight of a change-over.
pub const CHANGE: f64 = 2.0;
/// Most weeks of earliness that count: never is half a year.
pub const MOST_EARLY: f64 = 26.0;
/// Share of the members to whom it must be mulch before it may be emptied.
pub const MULCH: f64 = 0.8;

/// A plan.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Plan {
    /// Weeks at whose start the caddies move to the other chamber.
    pub changes: Vec<usize>,
    /// Weighted sum; `docs/season.md`.
    pub value: f64,
    /// Litres that find no room, mean of the members.
    pub overflow: f64,
    /// Weeks too early at each change, mean of the members.
    pub early: Vec<f64>,
}

/// What emptying costs, by closing week and emptying week.
#[derive(Debug, Clone, PartialEq)]
pub struct Emptying {
    /// `[1 + a][w]`: mean weeks too early; row 0 is what is in the other chamber
    /// now, the last row what is in the first, should that be closed already.
    pub early: Vec<Vec<f64>>,
    /// Whether it may be emptied at all.
    pub allowed: Vec<Vec<bool>>,
}

impl Problem {
    /// Earliness and leave for every pair of weeks.
    #[must_use]
    pub fn emptying(&self) -> Emptying {
        let n = self.years.len().max(1) as f64;
        let row = |mulch: &dyn Fn(&Year) -> f64, bed: &dyn Fn(&Year) -> f64| {
            let each: Vec<(f64, f64)> = self.years.iter().map(|y| (mulch(y), bed(y))).collect();
            let early = |w: usize| {
                let short = |(_, bed): &(f64, f64)| (bed - w as f64).clamp(0.0, MOST_EARLY);
                each.iter().map(short).sum::<f64>() / n
            };
            let allowed =
                |w: usize| each.iter().filter(|(m, _)| *m <= w as f64).count() as f64 >= MULCH * n;
            (
                (0..self.weeks).map(early).collect(),
                (0..self.weeks).map(allowed).collect(),
            )
        };
        let now = row(&|y| y.other.mulch, &|y| y.other.bed);
        let later =
            (0..self.weeks).map(|a| row(&|y| a as f64 + y.mulch[a], &|y| a as f64 + y.bed[a]));
        let first = row(&|y| y.first.mulch, &|y| y.first.bed);
        let (early, allowed) = std::iter::once(now)
            .chain(later)
            .chain(std::iter::once(first))
            .unzip();
        Emptying { early, allowed }
    }

    /// `[w]` for a filling from week `from` on top of `lot`: mean overflow of weeks `from..w`.
    fn spilt(
        &self,
        from: usize,
        room: f64,
        lot: impl Fn(&Year) -> Option<&Lot> + Sync,
    ) -> Vec<f64> {
        let mut sum = vec![0.0; self.weeks + 1];
        for year in &self.years {
            let taken = year.fill(from, room, lot(year));
            let mut all = 0.0;
            for t in from..self.weeks {
                all += year.inflow[t] - taken[t];
                sum[t + 1] += all;
            }
        }
        let n = self.years.len().max(1) as f64;
        sum.iter_mut().for_each(|s| *s /= n);
        sum
    }
}

/// The best change-over weeks.
#[must_use]
pub fn plan(problem: &Problem) -> Plan {
    let weeks = problem.weeks;
    let rooms = &problem.chambers.room;
    let two = rooms.len() > 1;
    let first_room = if problem.chambers.filling {
        rooms[0]
    } else {
        0.0
    };
    let first = problem.spilt(0, first_room, |y| Some(&y.first));
    if !two {
        let overflow = first[weeks];
        return Plan {
            value: OVERFLOW * overflow,
            overflow,
            ..Plan::default()
        };
    }
    let emptying = problem.emptying();
    let alike = rooms[0] == rooms[1];
    let later: Vec<[Vec<f64>; 2]> = (0..weeks)
        .into_par_iter()
        .map(|a| {
            let one = problem.spilt(a, rooms[0], |_| None);
            let other = if alike {
                one.clone()
            } else {
                problem.spilt(a, rooms[1], |_| None)
            };
            [one, other]
        })
        .collect();
    // From the end: the cost of filling chamber k from week a on, and the week of the next change.
    let mut best = vec![[(0.0, weeks); 2]; weeks + 1];
    let next = |best: &[[(f64, usize); 2]], spilt: &[f64], row: usize, a: usize, k: usize| {
        let mut least = (OVERFLOW * spilt[weeks], weeks);
        for w in a + 1..weeks {
            if emptying.allowed[row][w] {
                let cost = OVERFLOW * spilt[w]
                    + EARLY * emptying.early[row][w]
                    + CHANGE
                    + best[w][1 - k].0;
                if cost < least.0 - 1e-9 {
                    least = (cost, w);
                }
            }
        }
        least
    };
    for a in (0..weeks).rev() {
        for k in 0..2 {
            best[a][k] = next(&best, &later[a][k], 1 + a, a, k);
        }
    }
    // Where the first is closed already, what the change leaves behind is older than the change.
    let closed = weeks + 1;
    let mut then = best.clone();
    if !problem.chambers.filling {
        for w in 0..weeks {
            then[w][1] = next(&best, &later[w][1], closed, w, 1);
        }
    }
    // The filling that runs now: it may end at once.
    let mut start = next(&then, &first, 0, 0, 0);
    if weeks > 0 && emptying.allowed[0][0] {
        let cost = EARLY * emptying.early[0][0] + CHANGE + then[0][1].0;
        if cost < start.0 - 1e-9 {
            start = (cost, 0);
        }
    }
    let mut plan = Plan {
        value: start.0,
        ..Plan::default()
    };
    let (mut w, mut row, mut k) = (start.1, 0, 0);
    plan.overflow = first[w.min(weeks)];
    while w < weeks {
        plan.changes.push(w);
        plan.early.push(emptying.early[row][w]);
        k = 1 - k;
        let begun = plan.changes.len() == 1;
        let to = if begun { then[w][k].1 } else { best[w][k].1 };
        plan.overflow += later[w][k][to];
        row = if begun && !problem.chambers.filling {
            closed
        } else {
            1 + w
        };
        w = to;
    }
    plan
}

/// A chamber on its way through a year.
struct Vessel<'a> {
    lot: Option<&'a Lot>,
    taken: Vec<f64>,
    from: usize,
    to: usize,
    /// Week of closing, if it was closed on the way.
    closed: Option<usize>,
}

impl Vessel<'_> {
    fn litres(&self, year: &Year, t: usize) -> f64 {
        self.lot.map_or(0.0, |l| l.litres[t]) + year.level(&self.taken, self.from, self.to, t)
    }

    /// When this household would empty it: fit for a bed, or rested as long as its batches do.
    fn ready(&self, year: &Year, rests: f64) -> f64 {
        match (self.closed, self.lot) {
            (Some(w), _) => w as f64 + year.bed[w.min(year.bed.len() - 1)].min(rests),
            (None, Some(lot)) => lot.bed.min(lot.closed + rests),
            (None, None) => f64::INFINITY,
        }
    }
}

/// Goes through a year; `change` says before each week whether to change over, given whether the filling
/// chamber has room for the week and whether the other is ready.
fn go(problem: &Problem, year: &Year, change: impl Fn(usize, bool, bool) -> bool) -> Course {
    let weeks = problem.weeks;
    let rooms = &problem.chambers.room;
    let rests = problem.chambers.rests.unwrap_or(f64::INFINITY);
    let vessel = |lot| Vessel {
        lot: Some(lot),
        taken: vec![0.0; weeks],
        from: 0,
        to: 0,
        closed: None,
    };
    let mut both = [vessel(&year.first), vessel(&year.other)];
    let mut k = 0;
    let mut open = problem.chambers.filling;
    let mut course = Course::default();
    for t in 0..weeks {
        let room = |v: &Vessel<'_>, k: usize| (rooms[k] - v.litres(year, t)).max(0.0);
        if rooms.len() > 1 {
            let fits = open && year.inflow[t] <= room(&both[k], k);
            let ready = both[1 - k].ready(year, rests) <= t as f64;
            if change(t, fits, ready) {
                if open {
                    both[k].closed = Some(t);
                }
                k = 1 - k;
                open = true;
                both[k] = Vessel {
                    lot: None,
                    taken: vec![0.0; weeks],
                    from: t,
                    to: t,
                    closed: None,
                };
                course.changes.push(t);
            }
        }
        let takes = if open {
            year.inflow[t].min(room(&both[k], k))
        } else {
            0.0
        };
        if open {
            both[k].taken[t] = takes;
            both[k].to = t + 1;
        }
        course.overflow.push(year.inflow[t] - takes);
        course.fills.push(open.then_some(k));
        for (at, v) in both.iter().enumerate() {
            course.level[at].push(v.litres(year, t));
        }
    }
    course
}

/// Doing as now: the caddies move when the chamber is full and the other is fit for a bed, or has rested as long
/// as this household's batches do; until then what finds no room overflows.
#[must_use]
pub fn as_now(problem: &Problem) -> Vec<Course> {
    let one = |year: &Year| go(problem, year, |_, fits, ready| !fits && ready);
    problem.years.par_iter().map(one).collect()
}

/// Changing over at the start of the weeks named, whatever happens.
#[must_use]
pub fn follow(problem: &Problem, changes: &[usize]) -> Vec<Course> {
    let one = |year: &Year| go(problem, year, |t, _, _| changes.contains(&t));
    problem.years.par_iter().map(one).collect()
}
