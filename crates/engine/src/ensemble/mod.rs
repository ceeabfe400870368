//! Many members at once: drawn from the priors with a seed, stepped together in packs, on all cores.
//!
//! A member depends on the seed and on its number, never on its neighbours: any order, any number of cores
//! and any run of members give it the same answer. The widest instructions that the processor has are
//! chosen when the program runs; without them the same equations run in the portable form.

pub mod branch;
pub mod plan;
pub mod prior;
pub mod run;
pub mod summary;

use rayon::prelude::*;

use crate::batch::air::Air;
#[cfg(target_arch = "x86_64")]
use crate::batch::lanes::Lanes;
use crate::batch::lanes::Members;
use crate::batch::params::Params;

pub use branch::{Fork, branches};
pub use plan::{At, Plan};
pub use run::{DAILIES, Daily, Outcome};
pub use summary::{Ready, Summed, ready, summed};

/// Members a pack: two machine vectors hide the latency of divisions, more spill out of the nearest cache.
pub const LANES: usize = 8;

type Done = (Vec<f32>, [Outcome; LANES]);

/// One member: what it is made of, and its weather.
#[derive(Debug, Clone)]
pub struct Member {
    /// Parameters.
    pub params: Params<f64>,
    /// Air, hour by hour through its days.
    pub air: std::sync::Arc<Air<f64>>,
}

/// All members of a run.
#[derive(Debug, Clone, PartialEq)]
pub struct Ensemble {
    /// Days.
    pub days: usize,
    /// What each member comes to.
    pub outcomes: Vec<Outcome>,
    /// Days kept, rising; `None` is every day.
    kept: Option<Vec<usize>>,
    /// `[pack][quantity][kept day][lane]`; read through [`Ensemble::daily`].
    packs: Vec<Vec<f32>>,
}

/// A pack's days, and how many of them.
struct Days<'a>(&'a mut Vec<f32>, usize);

impl<const N: usize> run::Record<N> for Days<'_> {
    #[inline(always)]
    fn take(&mut self, day: usize, quantity: Daily, values: &[f64; N]) {
        let at = (quantity as usize * self.1 + day) * N;
        for (slot, value) in self.0[at..at + N].iter_mut().zip(values) {
            *slot = *value as f32;
        }
    }
}

/// Parameters and air of members side by side.
#[inline(always)]
fn beside<R: Members<N>, const N: usize>(
    members: [&Member; N],
    gather: impl Fn([f64; N]) -> R,
) -> (Params<R>, Air<R>) {
    let mut each = [[0.0; N]; Params::<f64>::COUNT];
    for (i, member) in members.iter().enumerate() {
        member.params.to_each(|at, value| each[at][i] = value);
    }
    let params = Params::from_each(|at| gather(each[at]));
    let air = Air::beside(&members.map(|m| &*m.air), gather);
    (params, air)
}

/// Runs members side by side; `gather` makes one number a member into a pack.
#[inline(always)]
fn pack<R: Members<N>, const N: usize>(
    plan: &Plan,
    members: [&Member; N],
    gather: impl Fn([f64; N]) -> R,
) -> (Vec<f32>, [Outcome; N]) {
    let (params, air) = beside(members, gather);
    let mut days = vec![0.0; DAILIES * plan.keeps() * N];
    let outcomes = run::run(plan, &params, &air, &mut Days(&mut days, plan.keeps()));
    (days, outcomes)
}

/// Members one by one, in the library's own functions: what a processor without wide instructions does.
#[inline(never)]
fn singly(plan: &Plan, members: &[Member]) -> Done {
    let mut days = vec![0.0; DAILIES * plan.keeps() * LANES];
    let mut outcomes = [Outcome::default(); LANES];
    for (lane, member) in members.iter().enumerate() {
        let (own, [outcome]) = pack(plan, [member], |[x]: [f64; 1]| x);
        for (at, value) in own.into_iter().enumerate() {
            days[at * LANES + lane] = value;
        }
        outcomes[lane] = outcome;
    }
    (days, outcomes)
}

/// Runs all members in the portable form.
#[must_use]
pub fn portable(plan: &Plan, members: &[Member]) -> Ensemble {
    gather(plan, members, |m| singly(plan, m))
}

/// A last pack that is not full repeats its last member.
fn full(members: &[Member]) -> [&Member; LANES] {
    std::array::from_fn(|i| &members[i.min(members.len() - 1)])
}

/// A pack as a thing to call: a closure would not be inlined where the wide instructions are allowed.
#[cfg(target_arch = "x86_64")]
struct Wide<'a>(pulp::x86::V3, &'a Plan, &'a [Member]);

#[cfg(target_arch = "x86_64")]
impl pulp::NullaryFnOnce for Wide<'_> {
    type Output = Done;
    #[inline(always)]
    fn call(self) -> Done {
        let Self(machine, plan, members) = self;
        pack(plan, full(members), |x: [f64; LANES]| {
            Lanes::<_, 2>::load(
                machine,
                &[[x[0], x[1], x[2], x[3]], [x[4], x[5], x[6], x[7]]],
            )
        })
    }
}

#[cfg(target_arch = "x86_64")]
fn best(plan: &Plan, members: &[Member]) -> Done {
    match pulp::x86::V3::try_new() {
        Some(wide) => wide.vectorize(Wide(wide, plan, members)),
        None => singly(plan, members),
    }
}

#[cfg(not(target_arch = "x86_64"))]
fn best(plan: &Plan, members: &[Member]) -> Done {
    singly(plan, members)
}

fn gather(
    plan: &Plan,
    members: &[Member],
    one: impl Fn(&[Member]) -> Done + Sync + Send,
) -> Ensemble {
    let (packs, outcomes): (Vec<_>, Vec<_>) = members.par_chunks(LANES).map(one).unzip();
    let mut outcomes: Vec<Outcome> = outcomes.into_iter().flatten().collect();
    outcomes.truncate(members.len());
    Ensemble {
        days: plan.days,
        outcomes,
        kept: plan.kept.clone(),
        packs,
    }
}

/// Runs all members to the horizon.
#[must_use]
pub fn simulate(plan: &Plan, members: &[Member]) -> Ensemble {
    gather(plan, members, |m| best(plan, m))
}

impl Ensemble {
    /// Puts more members of the same plan behind these. Packs stay whole: `self` holds a multiple of [`LANES`].
    pub fn join(&mut self, more: Self) {
        debug_assert!(self.outcomes.len().is_multiple_of(LANES) && self.kept == more.kept);
        self.outcomes.extend(more.outcomes);
        self.packs.extend(more.packs);
    }

    /// A quantity on a day, for every member; nothing for a day that was not kept.
    pub fn daily(&self, quantity: Daily, day: usize) -> impl Iterator<Item = f32> + '_ {
        let (count, place) = match &self.kept {
            None => (self.days, (day < self.days).then_some(day)),
            Some(kept) => (kept.len(), kept.binary_search(&day).ok()),
        };
        let at = place.map(|day| (quantity as usize * count + day) * LANES);
        self.packs
            .iter()
            .filter_map(move |pack| Some(pack[at?..at? + LANES].iter().copied()))
            .flatten()
            .take(self.outcomes.len())
    }

    /// Quantiles of a quantity on a day; `shares` between 0 and 1, rising. Not numbers for a day not kept.
    #[must_use]
    pub fn quantiles(&self, quantity: Daily, day: usize, shares: &[f64]) -> Vec<f64> {
        let mut all: Vec<f32> = self.daily(quantity, day).collect();
        if all.is_empty() {
            return vec![f64::NAN; shares.len()];
        }
        shares
            .iter()
            .map(|&share| {
                let at = ((all.len() as f64 - 1.0) * share).round() as usize;
                let (_, value, _) = all.select_nth_unstable_by(at, f32::total_cmp);
                f64::from(*value)
            })
            .collect()
    }
}
