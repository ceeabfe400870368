//! Many members at once: drawn from the priors with a seed, stepped together in packs, on all cores.
//!
//! A member depends on the seed and on its number, never on its neighbours: any order, any number of cores
//! and any run of members give it the same answer. The widest instructions that the processor has are
//! chosen when the program runs; without them the same equations run on what every processor has.

pub mod branch;
pub mod plan;
pub mod prior;
pub mod run;
pub mod summary;

#[cfg(target_arch = "x86_64")]
use pulp::x86::{V3, V4};
use rayon::prelude::*;

use crate::batch::air::Air;
use crate::batch::lanes::Lanes;
use crate::batch::machine::{Machine, Plain};
use crate::batch::params::Params;

pub use crate::batch::machine::LANES;
pub use branch::{Fork, branches};
pub use plan::{At, Plan};
pub use run::{DAILIES, Daily, Outcome};
pub use summary::{Ready, Summed, ready, summed};

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
    /// Steps that its packs took, all together.
    pub steps: usize,
    /// Days kept, rising; `None` is every day.
    kept: Option<Vec<usize>>,
    /// `[pack][quantity][kept day][lane]`; read through [`Ensemble::daily`].
    packs: Vec<Vec<f32>>,
}

/// A pack's days, and how many of them.
struct Days<'a>(&'a mut Vec<f32>, usize);

impl run::Record for Days<'_> {
    #[inline(always)]
    fn take(&mut self, day: usize, quantity: Daily, values: &[f64; LANES]) {
        let at = (quantity as usize * self.1 + day) * LANES;
        for (slot, value) in self.0[at..at + LANES].iter_mut().zip(values) {
            *slot = *value as f32;
        }
    }
}

/// Parameters and air of members side by side; a last pack that is not full repeats its last member.
#[inline(always)]
fn beside<M: Machine>(machine: M, members: &[Member]) -> (Params<Lanes<M>>, Air<Lanes<M>>) {
    let full: [&Member; LANES] = std::array::from_fn(|i| &members[i.min(members.len() - 1)]);
    let mut each = [[0.0; LANES]; Params::<f64>::COUNT];
    for (i, member) in full.iter().enumerate() {
        member.params.to_each(|at, value| each[at][i] = value);
    }
    let params = Params::from_each(|at| Lanes::load(machine, each[at]));
    let air = Air::beside(&full.map(|m| &*m.air), |x| Lanes::load(machine, x));
    (params, air)
}

/// Work on one pack, the same on every machine.
trait Pack: Copy + Sync {
    /// What it comes to.
    type Done: Send;
    /// Does it.
    fn on<M: Machine>(self, machine: M, members: &[Member]) -> Self::Done;
}

/// A pack on a machine as a thing to call: a closure would not be inlined where wide instructions are allowed.
#[cfg(target_arch = "x86_64")]
struct On<'a, M, P>(M, P, &'a [Member]);

#[cfg(target_arch = "x86_64")]
impl<M: Machine, P: Pack> pulp::NullaryFnOnce for On<'_, M, P> {
    type Output = P::Done;
    #[inline(always)]
    fn call(self) -> P::Done {
        self.1.on(self.0, self.2)
    }
}

/// Instructions that a run may use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Instructions {
    /// What every processor has.
    Plain,
    /// AVX2 with fused products.
    Avx2,
    /// AVX-512.
    Avx512,
}

impl Instructions {
    /// Those that this processor has, the plain ones first.
    #[must_use]
    pub fn here() -> Vec<Self> {
        let mut here = vec![Self::Plain];
        #[cfg(target_arch = "x86_64")]
        {
            here.extend(V3::try_new().map(|_| Self::Avx2));
            here.extend(V4::try_new().map(|_| Self::Avx512));
        }
        here
    }
}

/// Does the work with the widest instructions that this processor has, up to `most`.
fn within<P: Pack>(most: Instructions, pack: P, members: &[Member]) -> P::Done {
    #[cfg(target_arch = "x86_64")]
    {
        if let (Instructions::Avx512, Some(machine)) = (most, V4::try_new()) {
            return machine.vectorize(On(machine, pack, members));
        }
        if let (Instructions::Avx512 | Instructions::Avx2, Some(machine)) = (most, V3::try_new()) {
            return machine.vectorize(On(machine, pack, members));
        }
    }
    pack.on(Plain, members)
}

/// Does the work with the widest instructions that this processor has.
fn widest<P: Pack>(pack: P, members: &[Member]) -> P::Done {
    within(Instructions::Avx512, pack, members)
}

/// A run of a plan, and all its days kept.
#[derive(Clone, Copy)]
struct Whole<'a>(&'a Plan);

impl Pack for Whole<'_> {
    type Done = (Vec<f32>, ([Outcome; LANES], usize));
    #[inline(always)]
    fn on<M: Machine>(self, machine: M, members: &[Member]) -> Self::Done {
        let plan = self.0;
        let (params, air) = beside(machine, members);
        let mut days = vec![0.0; DAILIES * plan.keeps() * LANES];
        let done = run::run(plan, &params, &air, &mut Days(&mut days, plan.keeps()));
        (days, done)
    }
}

/// Runs all members to the horizon.
#[must_use]
pub fn simulate(plan: &Plan, members: &[Member]) -> Ensemble {
    simulate_within(Instructions::Avx512, plan, members)
}

/// Runs all members with no wider instructions than `most`: to try each kind, and to time it.
#[must_use]
pub fn simulate_within(most: Instructions, plan: &Plan, members: &[Member]) -> Ensemble {
    let (packs, done): (Vec<_>, Vec<_>) = members
        .par_chunks(LANES)
        .map(|some| within(most, Whole(plan), some))
        .unzip();
    let steps = done.iter().map(|(_, steps)| steps).sum();
    let mut outcomes: Vec<Outcome> = done.into_iter().flat_map(|(all, _)| all).collect();
    outcomes.truncate(members.len());
    Ensemble {
        days: plan.days,
        outcomes,
        steps,
        kept: plan.kept.clone(),
        packs,
    }
}

impl Ensemble {
    /// Puts more members of the same plan behind these. Packs stay whole: `self` holds a multiple of [`LANES`].
    pub fn join(&mut self, more: Self) {
        debug_assert!(self.outcomes.len().is_multiple_of(LANES) && self.kept == more.kept);
        self.outcomes.extend(more.outcomes);
        self.steps += more.steps;
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
