//! What would move the date: each act simulated from tomorrow on, against doing nothing, member by member.
//!
//! What lies behind is run once for all acts, and each only until the bed is reached; the date without any act is
//! that of the forecast itself.

use engine::batch::events::{Deed, Feed};
use engine::ensemble::{At, Fork, LANES, Member, Outcome, Plan, branches};

use super::answer::MoveFacts;
use super::buys::{Gain, gain};
use super::plan::Run;

/// The planted bed, in the order of rungs.
const BED: usize = 2;
/// Acts tried.
pub(super) const ACTS: usize = 7;
/// Packs between two looks at the progress (choice).
const PACKS: usize = 4;
/// A wrap of 3–5 cm of foam or a thick blanket (batch/vessel.rs).
const WRAP: f64 = 0.35;
/// Full sun against half a day.
const FULL_SUN: f64 = 2.0;
/// Torn to shredded (batch/substrate.rs).
const SHRED: f64 = 1.4;
/// A bucket of water, kg, cold and hand-hot.
const BUCKET: (f64, f64, f64) = (5.0, 15.0, 45.0);
/// Two full caddies of soft greens, kg.
const GREENS: f64 = 4.0;

fn acts(day: f64) -> [(&'static str, Vec<At>); ACTS] {
    let once = |deed| vec![At { day, deed }];
    let daily = (0..120)
        .map(|i| At {
            day: day + f64::from(i) + 0.5,
            deed: Deed::Turn,
        })
        .collect();
    // Soft greens: 85 % water, C:N 15, ash 12 % (within the figures of leafy trimmings in the catalogue).
    let dry = GREENS * 0.15;
    let organic = dry * 0.88;
    let greens = Deed::Feed(Feed {
        water: GREENS * 0.85,
        quick: organic * 0.6,
        cellulose: organic * 0.28,
        lignin: organic * 0.12,
        ash: dry * 0.12,
        carbon: dry * 0.42,
        nitrogen: dry * 0.42 / 15.0,
        dry_density: 170.0,
        pieces: 1.0,
        temperature: 15.0,
    });
    let wet = |temperature| Deed::Wet {
        kg: BUCKET.0,
        temperature,
    };
    [
        ("turn_daily", daily),
        (
            "wrap",
            once(Deed::Place {
                loss: WRAP,
                sun: 1.0,
            }),
        ),
        (
            "sun",
            once(Deed::Place {
                loss: 1.0,
                sun: FULL_SUN,
            }),
        ),
        ("cut", once(Deed::Cut(SHRED))),
        ("water", once(wet(BUCKET.1))),
        ("warm_water", once(wet(BUCKET.2))),
        ("greens", once(greens)),
    ]
}

/// Days each act gains on the planted-bed date, most first. `done` says what the members come to without any act;
/// `told` is given the runs that each step adds.
pub(super) fn ranked(
    run: &Run,
    members: &[Member],
    done: &[Outcome],
    told: &mut dyn FnMut(usize),
) -> Vec<MoveFacts> {
    // Beyond the horizon counts as the horizon: the gain is then a least. What has arrived cannot be moved.
    let horizon = run.plan.days as f64;
    let mut left: Vec<(f64, &Member)> = done
        .iter()
        .map(|o| o.ready[BED].min(horizon))
        .zip(members)
        .filter(|(day, _)| *day > run.today as f64)
        .collect();
    if left.len() < 8 {
        return Vec::new();
    }
    // Members of like dates share a pack, which ends when all of them have arrived.
    left.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (before, members): (Vec<f64>, Vec<Member>) =
        left.into_iter().map(|(day, m)| (day, m.clone())).unzip();
    let tomorrow = run.today + 1;
    let acts = acts(tomorrow as f64);
    let plans: Vec<Plan> = acts
        .iter()
        .map(|(_, deeds)| {
            let mut with = run.plan.deeds.clone();
            with.extend(deeds);
            let (days, courses) = (run.plan.days, run.plan.courses.clone());
            Plan::new(run.plan.vessel, with, days, courses)
        })
        .collect();
    let fork = Fork {
        trunk: &run.plan,
        plans: &plans,
        day: tomorrow,
        rung: BED,
    };
    let mut after: [Vec<f64>; ACTS] = Default::default();
    for some in members.chunks(PACKS * LANES) {
        for (all, days) in after.iter_mut().zip(branches(fork, some)) {
            all.extend(days);
        }
        told(some.len() * ACTS);
    }
    let mut all: Vec<MoveFacts> = acts
        .iter()
        .zip(after)
        .map(|((act, _), after)| {
            // Pairs: the same member with and without, so that what they share cancels.
            let after: Vec<f64> = after.into_iter().map(|a| a.min(horizon)).collect();
            let Gain { days, doubt } = gain(&before, &after);
            MoveFacts { act, days, doubt }
        })
        .collect();
    all.sort_by(|a, b| b.days.total_cmp(&a.days));
    all
}
