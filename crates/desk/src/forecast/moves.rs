//! What would move the date: each act simulated from today on, against doing nothing, member by member.

use engine::batch::events::{Deed, Feed};
use engine::ensemble::{At, Plan, simulate};

use super::answer::MoveFacts;
use super::plan::Run;

/// The planted bed, in the order of rungs.
const BED: usize = 2;
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

fn acts(day: f64) -> Vec<(&'static str, Vec<At>)> {
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
    vec![
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

/// Days each act gains on the planted-bed date, most first.
pub(super) fn ranked(run: &Run, seed: u64, members: usize) -> Vec<MoveFacts> {
    let members = run.members(seed, members);
    let days = |plan: &Plan| -> Vec<f64> {
        simulate(plan, &members)
            .outcomes
            .iter()
            .map(|o| o.ready[BED])
            .collect()
    };
    let horizon = run.plan.days as f64;
    let before = days(&run.plan);
    let mut all: Vec<MoveFacts> = acts(run.today as f64 + 1.0)
        .into_iter()
        .filter_map(|(act, deeds)| {
            let mut with = run.plan.deeds.clone();
            with.extend(deeds);
            let plan = Plan::new(
                run.plan.vessel,
                with,
                run.plan.days,
                run.plan.courses.clone(),
            )
            .keeping([]);
            // Pairs: the same member with and without, so that what they share cancels. Beyond the horizon
            // counts as the horizon: the gain is then a least.
            let gains: Vec<f64> = before
                .iter()
                .zip(days(&plan))
                .filter(|(b, _)| **b > run.today as f64)
                .map(|(b, a)| b.min(horizon) - a.min(horizon))
                .collect();
            let n = gains.len() as f64;
            if gains.len() < 8 {
                return None;
            }
            let mean = gains.iter().sum::<f64>() / n;
            let variance = gains.iter().map(|g| (g - mean).powi(2)).sum::<f64>() / (n - 1.0);
            Some(MoveFacts {
                act,
                days: mean,
                doubt: 2.0 * (variance / n).sqrt(),
            })
        })
        .collect();
    all.sort_by(|a, b| b.days.total_cmp(&a.days));
    all
}
