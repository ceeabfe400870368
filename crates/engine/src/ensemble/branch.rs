//! Plans that part after a common past: the past is run once, and each branch only as far as it is asked about.
//!
//! A branch gives the day on which one rung is reached, the same day that a whole run of its plan would give.

use rayon::prelude::*;

use crate::batch::machine::{LANES, Machine};

use super::plan::Plan;
use super::run::{Nothing, Way};
use super::{Member, Pack, beside, widest};

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

impl Pack for Fork<'_> {
    /// Days of the rung: `[branch][lane]`.
    type Done = Vec<[f64; LANES]>;
    #[inline(always)]
    fn on<M: Machine>(self, machine: M, members: &[Member]) -> Self::Done {
        let (params, air) = beside(machine, members);
        let mut past = Way::start(self.trunk, &params, &air);
        let mut done = Vec::with_capacity(self.plans.len());
        // One place in the code for the past and the branches: the step is large and stands in line.
        for at in 0..=self.plans.len() {
            let (plan, days, until) = match at.checked_sub(1) {
                None => (self.trunk, 0..self.day, None),
                Some(branch) => {
                    let plan = &self.plans[branch];
                    (plan, self.day..plan.days, Some(self.rung))
                }
            };
            let mut way = past.onto(plan);
            way.days(plan, &air, (days, until), &mut Nothing);
            if at == 0 {
                past = way;
            } else {
                done.push(way.ready(self.rung));
            }
        }
        done
    }
}

/// Day on which each member reaches the rung under each plan, `[branch][member]`; infinite if not by the horizon.
///
/// A pack ends when all its members have arrived: members of like dates side by side cost least.
#[must_use]
pub fn branches(fork: Fork<'_>, members: &[Member]) -> Vec<Vec<f64>> {
    let packs: Vec<_> = members
        .par_chunks(LANES)
        .map(|some| widest(fork, some))
        .collect();
    (0..fork.plans.len())
        .map(|branch| {
            let mut all: Vec<f64> = packs.iter().flat_map(|p| p[branch]).collect();
            all.truncate(members.len());
            all
        })
        .collect()
}
