//! Generated years with the engine's plan for each, as JSON: for a solver that states the problem anew.
//! `cargo run -p engine --example season_years -- 50 26`: how many, and of how many
//! weeks; `tests/oracle/season.py` reads them.
#![allow(clippy::print_stdout, reason = "the output is the point")]

use std::sync::Arc;

use engine::season::{Chambers, Lot, Problem, Year, plan, plan::EARLY, plan::OVERFLOW};
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use serde_json::json;

const MEMBERS: usize = 2;

/// Shares left that fall by a pace of the season, older never larger.
fn left(rng: &mut ChaCha8Rng, weeks: usize) -> Vec<Vec<f64>> {
    let (pace, cold, floor) = (
        rng.random_range(0.06..0.25),
        rng.random_range(0..weeks),
        rng.random_range(0.2..0.4),
    );
    let speed = |t: usize| pace * (0.25 + 0.75 * ((t + weeks - cold) % weeks) as f64 / 26.0);
    (0..weeks)
        .map(|put_in| {
            let mut share = 1.0;
            (0..weeks)
                .map(|t| {
                    if t > put_in {
                        share = floor + (share - floor) * (-speed(t)).exp();
                    }
                    if t < put_in { 0.0 } else { share }
                })
                .collect()
        })
        .collect()
}

fn lot(rng: &mut ChaCha8Rng, weeks: usize, litres: f64) -> Lot {
    let pace: f64 = rng.random_range(0.01..0.06);
    let mulch = rng.random_range(-4.0..14.0);
    Lot {
        litres: (0..weeks)
            .map(|t| litres * (-pace * t as f64).exp())
            .collect(),
        mulch,
        bed: mulch + rng.random_range(2.0..16.0),
        closed: 0.0,
    }
}

fn year(rng: &mut ChaCha8Rng, weeks: usize, inflow: f64) -> Year {
    let first = rng.random_range(0.0..90.0);
    let mulch: Vec<f64> = (0..weeks).map(|_| rng.random_range(2.0..9.0)).collect();
    Year {
        inflow: (0..weeks)
            .map(|_| inflow * rng.random_range(0.5..1.5))
            .collect(),
        first: lot(rng, weeks, first),
        other: lot(rng, weeks, 60.0),
        left: Arc::new(left(rng, weeks)),
        bed: Arc::new(
            mulch
                .iter()
                .map(|m| m + rng.random_range(1.0..14.0))
                .collect(),
        ),
        mulch: Arc::new(mulch),
    }
}

fn main() {
    let asked = |n| std::env::args().nth(n).and_then(|n| n.parse().ok());
    let count = asked(1).unwrap_or(50) as u64;
    let weeks: usize = asked(2).unwrap_or(26);
    let all: Vec<_> = (0..count)
        .map(|id| {
            let mut rng = ChaCha8Rng::seed_from_u64(id);
            let inflow = rng.random_range(6.0..26.0);
            let room = vec![rng.random_range(60.0..110.0), rng.random_range(60.0..110.0)];
            let problem = Problem {
                weeks,
                chambers: Chambers {
                    room,
                    filling: true,
                    rests: None,
                },
                years: (0..MEMBERS).map(|_| year(&mut rng, weeks, inflow)).collect(),
            };
            let found = plan(&problem);
            let years: Vec<_> = problem
                .years
                .iter()
                .map(|y| {
                    json!({
                        "inflow": y.inflow, "first": y.first.litres, "left": *y.left,
                        "other_mulch": y.other.mulch, "other_bed": y.other.bed,
                        "mulch": *y.mulch, "bed": *y.bed,
                    })
                })
                .collect();
            json!({
                "id": id, "weeks": weeks, "room": problem.chambers.room, "years": years,
                "weights": {"overflow": OVERFLOW, "early": EARLY, "change": engine::season::plan::CHANGE,
                    "most_early": engine::season::plan::MOST_EARLY, "mulch": engine::season::plan::MULCH},
                "value": found.value, "changes": found.changes, "overflow": found.overflow,
            })
        })
        .collect();
    println!("{}", json!(all));
}
