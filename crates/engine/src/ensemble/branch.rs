//! Plans that part after a common past: the past is run once, and each branch only as far as it is asked about.
//!
//! A branch gives the day on which one rung is reached, the same day that a whole run of its plan would give.

use rayon::prelude::*;

#[cfg(target_arch = "x86_64")]
use crate::batch::lanes::Lanes;
use crate::batch::lanes::Members;

use super::plan::Plan;
use super::run::{Nothing, Way};
use super::{LANES, Member, beside, full};

/// What the branches have in common, and what is asked.
#[derive(Debug, Clone, Copy)]
pub struct Fork<'a> {
    /// The plan they part from.
    pub trunk: &'a Plan,
    /// The branches: every deed before `day` as in the trunk.
    pub plans: &'a [Plan],
    /// Day on which they part.
    pub day: usize,
    /// Which rung is asked about, in the order of rungs.
    pub rung: usize,
}

/// Days of the rung: `[branch][lane]`.
type Done = Vec<[f64; LANES]>;

#[inline(always)]
fn pack<R: Members<N>, const N: usize>(
    fork: Fork<'_>,
    members: [&Member; N],
    gather: impl Fn([f64; N]) -> R,
) -> Vec<[f64; N]> {
    let (params, air) = beside(members, gather);
    let mut past = Way::start(fork.trunk, &params, &air);
    let mut done = Vec::with_capacity(fork.plans.len());
    // One place in the code for the past and the branches: the step is large and stands in line.
    for at in 0..=fork.plans.len() {
        let (plan, days, until) = match at.checked_sub(1) {
            None => (fork.trunk, 0..fork.day, None),
            Some(branch) => {
                let plan = &fork.plans[branch];
                (plan, fork.day..plan.days, Some(fork.rung))
            }
        };
        let mut way = past.onto(plan);
        way.days(plan, &air, (days, until), &mut Nothing);
        if at == 0 {
            past = way;
        } else {
            done.push(way.ready(fork.rung));
        }
    }
    done
}

/// Members one by one, in the library's own functions.
#[inline(never)]
fn singly(fork: Fork<'_>, members: &[Member]) -> Done {
    let mut done = vec![[f64::INFINITY; LANES]; fork.plans.len()];
    for (lane, member) in members.iter().enumerate() {
        let own = pack(fork, [member], |[x]: [f64; 1]| x);
        for (branch, [day]) in own.into_iter().enumerate() {
            done[branch][lane] = day;
        }
    }
    done
}

/// A pack as a thing to call, as in the parent module.
#[cfg(target_arch = "x86_64")]
struct Wide<'a>(pulp::x86::V3, Fork<'a>, &'a [Member]);

#[cfg(target_arch = "x86_64")]
impl pulp::NullaryFnOnce for Wide<'_> {
    type Output = Done;
    #[inline(always)]
    fn call(self) -> Done {
        let Self(machine, fork, members) = self;
        pack(fork, full(members), |x: [f64; LANES]| {
            Lanes::<_, 2>::load(
                machine,
                &[[x[0], x[1], x[2], x[3]], [x[4], x[5], x[6], x[7]]],
            )
        })
    }
}

#[cfg(target_arch = "x86_64")]
fn best(fork: Fork<'_>, members: &[Member]) -> Done {
    match pulp::x86::V3::try_new() {
        Some(wide) => wide.vectorize(Wide(wide, fork, members)),
        None => singly(fork, members),
    }
}

#[cfg(not(target_arch = "x86_64"))]
fn best(fork: Fork<'_>, members: &[Member]) -> Done {
    singly(fork, members)
}

/// Day on which each member reaches the rung under each plan, `[branch][member]`; infinite if not by the horizon.
///
/// A pack ends when all its members have arrived: members of like dates side by side cost least.
#[must_use]
pub fn branches(fork: Fork<'_>, members: &[Member]) -> Vec<Vec<f64>> {
    let packs: Vec<Done> = members
        .par_chunks(LANES)
        .map(|some| best(fork, some))
        .collect();
    (0..fork.plans.len())
        .map(|branch| {
            let mut all: Vec<f64> = packs.iter().flat_map(|p| p[branch]).collect();
            all.truncate(members.len());
            all
        })
        .collect()
}
