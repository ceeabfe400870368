//! The fast mode of the batch against its reference, member by member; and cases for an independent solver.
//!
//! `cargo run --release -p engine --example batch_reference -- --all` compares 1,000 members, `--steps` varies
//! the steps of 100, `--cases` prints runs of the reference as JSON. `docs/integrator.md` holds the tables.
#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "an example whose whole point is its standard output"
)]

#[path = "../tests/batch_support/mod.rs"]
mod support;

use engine::batch::air::STEPS;
use engine::batch::events::Deed;
use engine::batch::params::Params;
use engine::batch::state::{Kept, Matter, State};
use engine::batch::vessel::Vessel;
use engine::ensemble::{At, Member, Plan};
use rayon::prelude::*;
use serde_json::{Value, json};
use support::{
    Apart, Fast, Hours, Tight, apart, kitchen, member, normals, plan, six_weeks, weather,
};

// The last begins in frost, with little in the drum.
const STARTS: [(u32, u32); 3] = [(5, 1), (9, 15), (1, 10)];
const DAYS: usize = 180;
const TOLERANCE: f64 = 1e-8;

fn table(name: &str, mut rows: Vec<Apart>) {
    let over = rows.iter().filter(|r| r.core > 0.1).count();
    let late = rows.iter().filter(|r| r.rung > 0.25).count();
    rows.sort_by(|a, b| a.core.total_cmp(&b.core));
    let core = |share: f64| rows[((rows.len() - 1) as f64 * share).round() as usize].core;
    let rung = rows.iter().map(|r| r.rung).fold(0.0, f64::max);
    println!(
        "| {name} | {} | {:.4} | {:.3} | {:.3} | {over} | {rung:.3} | {late} |",
        rows.len(),
        core(0.5),
        core(0.99),
        core(1.0)
    );
}

fn compare(count: u64, runs: &[(&str, usize)]) {
    println!(
        "| start | members | median K | 99 % K | worst K | over 0.1 K | worst rung, d | over 0.25 d |"
    );
    println!("|---|---|---|---|---|---|---|---|");
    let vessel = Vessel::default();
    for start in STARTS {
        let plan = plan(vessel, six_weeks(DAYS), DAYS, start);
        let mut all: Vec<Vec<Apart>> = runs.iter().map(|_| Vec::new()).collect();
        let rows: Vec<Vec<Apart>> = (0..count)
            .into_par_iter()
            .map(|m| {
                let air = weather(&normals(11.0, 8.0), start, DAYS, m);
                let member = member(&vessel, air, m);
                let hours = Hours::new(&plan, &member);
                let tight = hours.run(&mut Tight::at(TOLERANCE));
                runs.iter()
                    .map(|(_, least)| {
                        let other = if *least == 0 {
                            hours.run(&mut Tight::at(TOLERANCE / 100.0))
                        } else {
                            hours.run(&mut Fast::at(*least))
                        };
                        let found = apart(&hours, &other, &tight);
                        if found.core > 0.1 && *least == 1 {
                            let (f, t) = (&other[found.hour], &tight[found.hour]);
                            println!(
                                "<!-- {start:?} member {m} hour {}: {:.3} for {:.3} °C, air {:.2}, water {:.3} kg, quick {:.4} kg -->",
                                found.hour, f.core, t.core, hours.drivers(found.hour, 0.0).air, t.matter.water, t.matter.quick
                            );
                        }
                        found
                    })
                    .collect()
            })
            .collect();
        for row in rows {
            for (into, one) in all.iter_mut().zip(row) {
                into.push(one);
            }
        }
        for ((name, _), rows) in runs.iter().zip(all) {
            table(&format!("{}/{} {name}", start.1, start.0), rows);
        }
    }
}

fn state(s: &State<f64>) -> Value {
    let mut row = vec![s.core, s.shell];
    s.matter.to_each(|_, value| row.push(value));
    s.kept.to_each(|_, value| row.push(value));
    json!(row)
}

fn deed(at: &At) -> Value {
    let hour = Plan::hour(at.day);
    match at.deed {
        Deed::Feed(f) => json!({"hour": hour, "kind": "feed", "water": f.water, "quick": f.quick,
            "cellulose": f.cellulose, "lignin": f.lignin, "ash": f.ash, "carbon": f.carbon,
            "nitrogen": f.nitrogen, "dry_density": f.dry_density, "pieces": f.pieces,
            "temperature": f.temperature}),
        Deed::Wet { kg, temperature } => {
            json!({"hour": hour, "kind": "wet", "kg": kg, "temperature": temperature})
        }
        Deed::Take(share) => json!({"hour": hour, "kind": "take", "share": share}),
        _ => json!({"hour": hour, "kind": "turn"}),
    }
}

fn cases() {
    let days = 30;
    let at = |day: f64, deed: Deed| At { day, deed };
    let fed = |kg: f64, water: f64| at(0.0, Deed::Feed(kitchen(kg, water)));
    let bare = Vessel::default();
    let wrapped = Vessel {
        insulation: 0.35,
        vents: 2.0,
        open_top: true,
        ..bare
    };
    let more = vec![
        at(8.0, Deed::Turn),
        at(
            12.0,
            Deed::Wet {
                kg: 3.0,
                temperature: 10.0,
            },
        ),
        at(16.0, Deed::Take(0.3)),
    ];
    let with = |first: At| {
        std::iter::once(first)
            .chain(more.clone())
            .collect::<Vec<_>>()
    };
    for (name, vessel, deeds, start, mean, m) in [
        ("cold start", bare, with(fed(20.0, 0.6)), (1, 1), 2.0, 3),
        ("wet", bare, with(fed(35.0, 0.76)), (5, 1), 11.0, 5),
        ("hot big fill", bare, with(fed(60.0, 0.58)), (5, 1), 13.0, 1),
        (
            "feeds and turnings",
            bare,
            six_weeks(days),
            (5, 1),
            11.0,
            35,
        ),
        (
            "wrapped, rain falls in",
            wrapped,
            six_weeks(days),
            (9, 15),
            11.0,
            8,
        ),
    ] {
        let plan = plan(vessel, deeds, days, start);
        let air = weather(&normals(mean, 8.0), start, days, m);
        let member: Member = member(&vessel, air, m);
        let hours = Hours::new(&plan, &member);
        let states = hours.run(&mut Tight::at(1e-11));
        let v = vessel.driven();
        let mut params = serde_json::Map::new();
        member.params.to_each(|i, value| {
            params.insert(Params::<f64>::NAMES[i].into(), json!(value));
        });
        let drivers: Vec<_> = (0..=days * STEPS).map(|h| hours.drivers(h, 0.0)).collect();
        let each = |f: &dyn Fn(&engine::batch::drivers::Drivers<f64>) -> f64| {
            drivers.iter().map(f).collect::<Vec<_>>()
        };
        let names = ["core", "shell"].iter();
        let names = names.chain(Matter::<f64>::NAMES).chain(Kept::<f64>::NAMES);
        let names: Vec<_> = names.collect();
        let line = json!({
            "name": name, "params": params,
            "names": names,
            "matter": Matter::<f64>::COUNT,
            "vessel": {"litres": v.volume * 1000.0, "surface": v.surface, "wall_core": v.wall_core,
                "wall_shell": v.wall_shell, "insulation": vessel.insulation},
            "air": each(&|d| d.air), "sol_air": each(&|d| d.sol_air), "humidity": each(&|d| d.humidity),
            "rain": each(&|d| d.rain),
            "deeds": plan.deeds.iter().map(deed).collect::<Vec<_>>(),
            "states": states.iter().map(state).collect::<Vec<_>>(),
        });
        println!("{line}");
    }
}

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let has = |name: &str| args.iter().any(|a| a == name);
    if has("--cases") {
        cases();
    } else if has("--steps") {
        compare(
            100,
            &[
                ("24 a day", 1),
                ("48 a day", 2),
                ("96 a day", 4),
                ("192 a day", 8),
                ("reference, tighter", 0),
            ],
        );
    } else {
        compare(if has("--all") { 1000 } else { 64 }, &[("", 1)]);
    }
}
