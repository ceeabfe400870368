//! One draw of simulation-based calibration, for the study and for its small test.
//!
//! A short batch: two weeks of feeding, readings on three days up to day 28, horizon 150 d, so that thousands of runs
//! fit. Noise is each reading's own; the model is right, so its own error is not counted. No smells: their half
//! weight is no distribution to draw from.
#![allow(
    dead_code,
    unreachable_pub,
    clippy::unwrap_used,
    reason = "each study uses its own part, and stops where it is broken"
)]

use engine::assimilate::carry::Carried;
use engine::assimilate::referee::{Tempering, judge};
use engine::assimilate::{Kind, ModelError, Reading, Settings, learn, members, score};
use engine::ensemble::prior::{PRIORS, Row};
use engine::ensemble::{Plan, prior, simulate};
use engine::forecast::Rung;
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;

use crate::household::{Ask, Household, Kernel};

/// What is ranked: the ready day of two rungs and the parameters that readings may move.
pub const NAMES: [&str; 19] = [
    "resting bed",
    "planted bed",
    "k_r",
    "k_c",
    "k_l",
    "humified",
    "lag",
    "cold_share",
    "t_least",
    "holds",
    "drain",
    "clumping",
    "ua",
    "vent",
    "condensed",
    "sun_gain",
    "feed_n",
    "feed_quick",
    "feed_wet",
];

/// Who learns.
pub enum Who {
    /// The smoother.
    Smoother { members: usize },
    /// The referee.
    Referee {
        particles: usize,
        moves: usize,
        last: usize,
    },
}

const HORIZON: usize = 150;
const KINDS: [Kind; 6] = [
    Kind::Core,
    Kind::Level,
    Kind::Weight,
    Kind::Squeeze,
    Kind::Card,
    Kind::Uptake,
];

/// Ranks of draw `number`, between 0 and 1, in the order of [`NAMES`].
pub fn ranks(number: u64, who: &Who) -> Vec<f64> {
    let home = Household::drawn(
        number,
        &Ask {
            seed: 21,
            days: HORIZON,
            weeks: 2,
            month: None,
            slips: false,
            varied: true,
        },
    );
    let row = prior::row(4_000, number);
    let truth = home.truth(&row, &home.sky(4_001, number), Kernel::Own);
    let mut rng = ChaCha8Rng::seed_from_u64(number);
    let readings: Vec<Reading> = [10.4, 18.75, 27.4]
        .into_iter()
        .flat_map(|day| KINDS.map(|kind| (kind, day)))
        .map(|(kind, day)| truth.read(kind, day, &mut rng))
        .collect();
    let settings = Settings {
        seed: number,
        model_error: ModelError::Nowhere,
        ..Settings::default()
    };
    let (rows, ensemble) = match *who {
        Who::Smoother { members } => {
            let prior: Vec<Row> = (0..members as u64)
                .map(|m| prior::row(number + 7, m))
                .collect();
            let skies = home.skies(number + 7, 100);
            let learnt = learn(&home.plan, &skies, &prior, &readings, &settings).unwrap();
            (learnt.rows, learnt.ensemble)
        }
        Who::Referee {
            particles,
            moves,
            last,
        } => {
            let skies = home.skies(number + 7, 100);
            let near = Plan {
                days: 30,
                ..home.plan.clone()
            };
            let how = Tempering {
                seed: number + 7,
                moves,
                last,
                skies: skies.len(),
            };
            let out = judge(
                &near,
                &skies,
                &Carried::default(),
                particles,
                &readings,
                (&settings, &how),
            );
            let rows: Vec<Row> = out
                .particles
                .iter()
                .map(|(z, _)| std::array::from_fn(|i| z[i]))
                .collect();
            let air: Vec<_> = out.particles.iter().map(|p| skies[p.1].clone()).collect();
            let e = simulate(&home.plan, &members(&home.plan, &air, &rows));
            (rows, e)
        }
    };
    NAMES
        .iter()
        .map(|name| {
            let u: f64 = rng.random();
            let (all, came): (Vec<f64>, f64) = match *name {
                "resting bed" | "planted bed" => {
                    let rung = if *name == "planted bed" {
                        Rung::PlantedBed
                    } else {
                        Rung::RestingBed
                    };
                    let held = |d: f64| d.min(HORIZON as f64);
                    let days = ensemble
                        .outcomes
                        .iter()
                        .map(|o| held(o.ready[rung as usize]));
                    (days.collect(), held(truth.ready[rung as usize]))
                }
                _ => {
                    let at = PRIORS.iter().position(|p| p.name == *name).unwrap();
                    (rows.iter().map(|r| r[at]).collect(), row[at])
                }
            };
            score::pit(&all, came, u)
        })
        .collect()
}
