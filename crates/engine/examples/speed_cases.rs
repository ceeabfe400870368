//! What `tests/oracle/speed.py` needs to time other solvers beside the engine, on the drum of the studies.
//!
//! `write FOLDER MEMBERS SCORED DAYS` writes parameters, drivers and deeds of members, and for the first of them
//! the reference's hours and the error of the fast mode. `run MODE MEMBERS DAYS` draws members, says so, and
//! runs them once for every line that it is given, so that another program can read the clock in between.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "an example whose whole point is its standard output"
)]

mod drum;
#[path = "../tests/batch_support/mod.rs"]
mod support;

use std::path::Path;

use drum::Drum;
use engine::batch::air::STEPS;
use engine::batch::events::Deed;
use engine::batch::params::Params;
use engine::batch::state::{Kept, Matter, State};
use engine::ensemble::{Daily, Instructions, Member, Plan, simulate, simulate_within};
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

fn run(mode: &str, members: u64, days: usize) {
    let (plan, all) = set(members, days);
    println!("ready");
    for line in std::io::stdin().lines() {
        line.unwrap();
        match mode {
            "fast" => drop(std::hint::black_box(simulate(&plan, &all))),
            "avx2" => drop(std::hint::black_box(simulate_within(
                Instructions::Avx2,
                &plan,
                &all,
            ))),
            "portable" => drop(std::hint::black_box(simulate_within(
                Instructions::Plain,
                &plan,
                &all,
            ))),
            "reference" => {
                for m in &all {
                    std::hint::black_box(Hours::new(&plan, m).run(&mut Tight::at(TIGHT)));
                }
            }
            other => panic!("a mode is fast, avx2, portable or reference, not {other}"),
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
        _ => panic!("say `write FOLDER MEMBERS SCORED DAYS` or `run MODE MEMBERS DAYS`"),
    }
}
