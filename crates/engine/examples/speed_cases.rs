//! What `tests/oracle/speed.py` needs to time other solvers beside the engine, on the drum of the studies.
//!
//! `write FOLDER MEMBERS SCORED DAYS` writes parameters, drivers and deeds of members, and for the first of them
//! the reference's hours and the error of the fast mode. `run MODE MEMBERS DAYS` draws members, says so, and
//! runs them once for every line that it is given, so that another program can read the clock in between.
//! `pass FOLDER MEMBERS DAYS` writes one pass of the smoother: what went in, and what came out.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "an example whose whole point is its standard output"
)]

mod drum;
#[path = "../tests/batch_support/mod.rs"]
mod support;

use std::hint::black_box;
use std::path::Path;
use std::sync::Arc;

use drum::Drum;
use engine::assimilate::{self, Reading, Seen, Settings, covariance, learn, observe, smoother};
use engine::batch::air::{Air, STEPS};
use engine::batch::events::Deed;
use engine::batch::params::Params;
use engine::batch::state::{Kept, Matter, State};
use engine::ensemble::prior::Row;
use engine::ensemble::{Daily, Instructions, Member, Plan, prior, simulate, simulate_within};
use nalgebra::{DMatrix, DVector};
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use rand_distr::StandardNormal;
use serde_json::json;
use support::{Fast, Hours, Tight};

/// Of the run that all others are held against.
const TRUTH: f64 = 1e-10;
/// Of the reference mode when it is timed.
const TIGHT: f64 = 1e-9;

fn set(members: u64, days: usize) -> (Plan, Vec<Member>) {
    let drum = Drum {
        days,
        ..Drum::default()
    };
    drum.set(members)
}

fn put(folder: &Path, name: &str, numbers: &[f64]) {
    let bytes: Vec<u8> = numbers.iter().flat_map(|x| x.to_le_bytes()).collect();
    std::fs::write(folder.join(name), bytes).unwrap();
}

/// Worst core of the fast mode against the truth, K: by the hour, and the days that the ensemble keeps.
fn errors(plan: &Plan, members: &[Member], truth: &[Vec<State<f64>>]) -> [f64; 2] {
    let wide = simulate(plan, members);
    let mut worst = [0.0_f64; 2];
    for (at, (member, truth)) in members.iter().zip(truth).enumerate() {
        let fast = Hours::new(plan, member).run(&mut Fast::default());
        for (f, t) in fast.iter().zip(truth) {
            worst[0] = worst[0].max((f.core - t.core).abs());
        }
        for day in 0..plan.days {
            let hours = &truth[day * STEPS + 1..=(day + 1) * STEPS];
            let mean = hours.iter().map(|s| s.core).sum::<f64>() / STEPS as f64;
            let most = hours.iter().map(|s| s.core).fold(f64::MIN, f64::max);
            for (quantity, want) in [(Daily::Core, mean), (Daily::CoreMax, most)] {
                let got = wide.daily(quantity, day).nth(at).unwrap();
                worst[1] = worst[1].max((f64::from(got) - want).abs());
            }
        }
    }
    worst
}

fn deed(hour: usize, deed: Deed) -> serde_json::Value {
    match deed {
        Deed::Feed(f) => json!({"hour": hour, "kind": "feed", "water": f.water, "quick": f.quick,
            "cellulose": f.cellulose, "lignin": f.lignin, "ash": f.ash, "carbon": f.carbon,
            "nitrogen": f.nitrogen, "dry_density": f.dry_density, "pieces": f.pieces,
            "temperature": f.temperature}),
        Deed::Turn => json!({"hour": hour, "kind": "turn"}),
        other => panic!("the drum of the studies is only fed and turned, not {other:?}"),
    }
}

fn write(folder: &Path, members: u64, scored: usize, days: usize) {
    let (plan, all) = set(members, days);
    let mut params = Vec::new();
    let mut drivers = Vec::new();
    for member in &all {
        member.params.to_each(|_, value| params.push(value));
        let hours = Hours::new(&plan, member);
        let each: Vec<_> = (0..=days * STEPS).map(|h| hours.drivers(h, 0.0)).collect();
        drivers.extend(
            each.iter()
                .flat_map(|d| [d.air, d.sol_air, d.humidity, d.rain]),
        );
    }
    let truth: Vec<_> = all[..scored]
        .iter()
        .map(|m| Hours::new(&plan, m).run(&mut Tight::at(TRUTH)))
        .collect();
    let mut states = Vec::new();
    for s in truth.iter().flatten() {
        states.extend([s.core, s.shell]);
        s.matter.to_each(|_, value| states.push(value));
        s.kept.to_each(|_, value| states.push(value));
    }
    put(folder, "params.f64", &params);
    put(folder, "drivers.f64", &drivers);
    put(folder, "states.f64", &states);
    let v = plan.vessel.driven();
    let names = ["core", "shell"].iter();
    let names = names.chain(Matter::<f64>::NAMES).chain(Kept::<f64>::NAMES);
    let head = json!({
        "params": Params::<f64>::NAMES, "names": names.collect::<Vec<_>>(), "scored": scored,
        "vessel": {"litres": v.volume * 1000.0, "surface": v.surface, "wall_core": v.wall_core, "wall_shell": v.wall_shell,
            "insulation": plan.vessel.insulation},
        "deeds": plan.deeds.iter().map(|d| deed(Plan::hour(d.day), d.deed)).collect::<Vec<_>>(),
        "errors": errors(&plan, &all[..scored], &truth),
    });
    println!("{head}");
}

/// What there is to learn from: rows of the prior with their weather, and weekly readings of one more member.
struct Lesson {
    plan: Plan,
    air: Vec<Arc<Air<f64>>>,
    rows: Vec<Row>,
    readings: Vec<Reading>,
}

fn lesson(members: u64, days: usize) -> Lesson {
    let (plan, mut all) = set(members + 1, days);
    let truth = simulate(&plan, &all.split_off(members as usize));
    let said = |day: f64, seen: Seen| observe::numbers(&truth, &plan, &Reading::new(day, seen))[0];
    let readings = (1..(days - 2) / 7).flat_map(|week| {
        let day = (week * 7) as f64 + 0.5;
        let core = Seen::Core(said(day, Seen::Core(0.0)));
        let level = Seen::Litres(said(day, Seen::Litres(1.0)).exp());
        [core, level].map(|seen| Reading::new(day, seen))
    });
    Lesson {
        readings: readings.collect(),
        plan,
        air: all.into_iter().map(|m| m.air).collect(),
        rows: (0..members).map(|m| prior::row(drum::SEED, m)).collect(),
    }
}

/// One pass as `learn` makes its first: rows, what they say, readings, their noise, what was drawn, rows after.
fn pass(folder: &Path, members: u64, days: usize) {
    let l = lesson(members, days);
    let settings = Settings::default();
    let e = simulate(&l.plan, &assimilate::members(&l.plan, &l.air, &l.rows));
    let said: Vec<Vec<f64>> = l
        .readings
        .iter()
        .map(|r| observe::numbers(&e, &l.plan, r))
        .collect();
    let (data, sd): (Vec<f64>, Vec<f64>) = l.readings.iter().map(observe::datum).unzip();
    let noise = covariance(&l.readings, &sd, &settings);
    let mut z = DMatrix::from_fn(l.rows[0].len(), l.rows.len(), |i, j| l.rows[j][i]);
    let y = DMatrix::from_fn(said.len(), l.rows.len(), |i, j| said[i][j]);
    let drawn = {
        let mut rng = ChaCha8Rng::seed_from_u64(settings.seed);
        DMatrix::<f64>::from_fn(said.len(), l.rows.len(), |_, _| rng.sample(StandardNormal))
    };
    // Columns one after the other: a row of the file a member.
    put(folder, "z.f64", z.as_slice());
    put(folder, "y.f64", y.as_slice());
    put(folder, "data.f64", &data);
    put(folder, "noise.f64", noise.as_slice());
    put(folder, "drawn.f64", drawn.as_slice());
    let mut rng = ChaCha8Rng::seed_from_u64(settings.seed);
    let data = DVector::from_vec(data);
    smoother::pass(&mut z, &y, &data, &noise, settings.passes as f64, &mut rng).unwrap();
    put(folder, "after.f64", z.as_slice());
    println!(
        "{}",
        json!({"readings": said.len(), "passes": settings.passes})
    );
}

fn run(mode: &str, members: u64, days: usize) {
    let (plan, all) = set(members, days);
    let lesson = (mode == "learn").then(|| lesson(members, days));
    println!("ready");
    for line in std::io::stdin().lines() {
        line.unwrap();
        match mode {
            "fast" => drop(black_box(simulate(&plan, &all))),
            "avx2" => drop(black_box(simulate_within(Instructions::Avx2, &plan, &all))),
            "portable" => drop(black_box(simulate_within(Instructions::Plain, &plan, &all))),
            "reference" => {
                for m in &all {
                    black_box(Hours::new(&plan, m).run(&mut Tight::at(TIGHT)));
                }
            }
            "learn" => {
                let l = lesson.as_ref().unwrap();
                let settings = Settings::default();
                let learnt = learn(&l.plan, &l.air, &l.rows, &l.readings, &settings);
                assert_eq!(black_box(learnt).unwrap().passes, settings.passes);
            }
            other => panic!("a mode is fast, avx2, portable, reference or learn, not {other}"),
        }
        println!("done");
    }
}

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let number = |at: usize| args[at].parse::<usize>().unwrap();
    match args.first().map(String::as_str) {
        Some("write") => write(Path::new(&args[1]), number(2) as u64, number(3), number(4)),
        Some("run") => run(&args[1], number(2) as u64, number(3)),
        Some("pass") => pass(Path::new(&args[1]), number(2) as u64, number(3)),
        _ => panic!(
            "say `write FOLDER MEMBERS SCORED DAYS`, `run MODE MEMBERS DAYS` or `pass FOLDER MEMBERS DAYS`"
        ),
    }
}
