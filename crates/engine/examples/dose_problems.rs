//! Prints generated dose problems with our answers, one JSON object a line, for an independent solver.
//!
//! `cargo run --release -p engine --example dose_problems -- 300 7`

use std::hint::black_box;
use std::time::Instant;

use engine::blend::Point;
use engine::dose::{Candidate, Limit, Outcome, Problem, Target, Window, Windows, exact, solve};
use rand::{RngExt as _, SeedableRng};
use rand_chacha::ChaCha8Rng;
use serde_json::{Value, json};

fn point(rng: &mut ChaCha8Rng, wet: bool) -> Point {
    let carbon = rng.random_range(0.38..0.50);
    let ratio: f64 = if wet {
        rng.random_range(6.0..45.0)
    } else {
        rng.random_range(25.0..600.0)
    };
    Point {
        water: if wet {
            rng.random_range(0.55..0.94)
        } else {
            rng.random_range(0.05..0.4)
        },
        carbon,
        nitrogen: carbon / ratio,
        ash: rng.random_range(0.01..0.25),
        lignin: 0.1,
        carbonate: 0.0,
        density: if wet {
            rng.random_range(150.0..900.0)
        } else {
            rng.random_range(30.0..250.0)
        },
    }
}

/// A handful of what is dosed, L: that of the demo household.
const HANDFUL_L: f64 = 0.35;
/// The least of so many runs is the time of a problem; more would slow the long check.
const RUNS: u32 = 5;

/// The answer, and the microseconds it took at best.
fn timed<T>(solve: impl Fn() -> T) -> (T, f64) {
    let mut least = f64::INFINITY;
    let mut answer = solve();
    for _ in 0..RUNS {
        let start = Instant::now();
        answer = black_box(solve());
        least = least.min(start.elapsed().as_secs_f64() * 1e6);
    }
    (answer, least)
}

fn edges(w: Window) -> Value {
    json!([w.low, w.high, w.least, w.most])
}

#[allow(
    clippy::print_stdout,
    reason = "an example whose whole point is its standard output"
)]
fn main() {
    let mut args = std::env::args()
        .skip(1)
        .filter_map(|a| a.parse::<u64>().ok());
    let count = args.next().unwrap_or(300);
    let mut rng = ChaCha8Rng::seed_from_u64(args.next().unwrap_or(7));
    for id in 0..count {
        let dry_base = rng.random_bool(0.2);
        let base_point = point(&mut rng, !dry_base);
        let base = base_point.parts(rng.random_range(0.3..30.0));
        let mut points = Vec::new();
        let mut candidates = Vec::new();
        for _ in 0..rng.random_range(1..=8) {
            let wet = rng.random_bool(0.3);
            let p = point(&mut rng, wet);
            // Twenty times the base is plenty; without an end the least slack may lie at endless mass.
            let most = if rng.random_bool(0.4) {
                rng.random_range(0.0..1.5)
            } else {
                20.0
            };
            let stock_kg = Some(base.mass() * most);
            candidates.push(Candidate {
                per_kg: p.parts(1.0),
                stock_kg,
                handful_kg: Some(HANDFUL_L * p.density / 1000.0),
            });
            points.push(p);
        }
        let problem = Problem {
            base,
            candidates,
            windows: Windows::default(),
            packing: 0.8,
            limits: Limit::ALL.to_vec(),
        };
        let named = |kg: &[f64]| -> Value {
            kg.iter()
                .enumerate()
                .map(|(i, kg)| (format!("m{i}"), json!(kg)))
                .collect::<serde_json::Map<_, _>>()
                .into()
        };
        let mut line = json!({
            "id": id,
            "base": {"water": base.water, "dry": base.dry, "carbon": base.carbon, "nitrogen": base.nitrogen,
                "ash": base.ash, "litres": base.litres},
            "candidates": points.iter().zip(&problem.candidates).enumerate().map(|(i, (p, c))| json!({
                "name": format!("m{i}"), "water": p.water, "carbon": p.carbon, "nitrogen": p.nitrogen,
                "ash": p.ash, "density": p.density, "stock_kg": c.stock_kg, "handful_kg": c.handful_kg,
            })).collect::<Vec<_>>(),
            "packing": 0.8,
        });
        if id % 4 == 3 {
            let both = rng.random_bool(0.5);
            let (water, cn) = (rng.random_range(0.45..0.7), rng.random_range(20.0..45.0));
            let mut targets = vec![Target::Water(water)];
            let mut named_targets = json!({"water": water});
            if both {
                targets.push(Target::CarbonNitrogen(cn));
                named_targets["cn"] = json!(cn);
            }
            let (q, took) = timed(|| exact(black_box(&problem), &targets));
            line["targets"] = named_targets;
            line["result"] = json!({
                "outcome": if q.is_some() { "meets" } else { "cannot" },
                "kg": q.as_deref().map(named), "mass": q.map(|q| q.iter().sum::<f64>()), "us": took,
            });
        } else {
            let w = problem.windows;
            let (a, took) = timed(|| solve(black_box(&problem)));
            line["windows"] = json!({
                "water": edges(w.water), "cn": edges(w.carbon_nitrogen), "air": [w.air.low, w.air.least],
            });
            line["result"] = json!({
                "outcome": match a.outcome {
                    Outcome::Meets => "meets", Outcome::Compromise => "compromise", Outcome::Cannot => "cannot",
                },
                "t_least": a.least_slack, "t": a.slack, "score": a.slack + a.exact.iter().sum::<f64>() / base.mass(), "kg": named(&a.exact), "mass": a.exact.iter().sum::<f64>(),
                "handfuls": named(&a.kg), "handfuls_t": problem.slack(&problem.after(&a.kg)), "us": took,
            });
        }
        println!("{line}");
    }
}
