//! How far the dates move with each limit: the second table of docs/rungs.md.
//!
//! `cargo run --release -p engine --example rungs_study -- 1000`
#![allow(
    clippy::print_stdout,
    clippy::expect_used,
    reason = "a study prints, and stops where a table is broken"
)]

mod drum;

use drum::{Drum, spread};
use engine::forecast::rungs::Rung;

/// Factor that no limit survives: the test is dropped.
const DROPPED: f64 = 1e9;

fn medians(start: (u32, u32), stricter: [f64; 3], count: u64) -> [f64; 5] {
    let run = Drum {
        start,
        stricter,
        ..Drum::default()
    }
    .run(count);
    std::array::from_fn(|rung| spread(&run, |o| o.ready[rung])[1])
}

fn moved(from: f64, to: f64) -> String {
    match (from.is_finite(), to.is_finite()) {
        (true, true) => format!("{:+.0}", to - from),
        (true, false) => "never".into(),
        (false, true) => "now reached".into(),
        (false, false) => "·".into(),
    }
}

fn main() {
    let count = std::env::args()
        .nth(1)
        .map_or(1000, |n| n.parse().expect("how many members"));
    for (name, start) in [("1 May", (5, 1)), ("1 November", (11, 1))] {
        let base = medians(start, [1.0; 3], count);
        let turned: Vec<[f64; 5]> = [
            [0.8, 1.0, 1.0],
            [1.25, 1.0, 1.0],
            [1.0, 0.8, 1.0],
            [1.0, 1.25, 1.0],
            [1.0, 1.0, 0.8],
            [1.0, 1.0, 1.25],
            [1.0, 1.0, DROPPED],
        ]
        .map(|stricter| medians(start, stricter, count))
        .to_vec();
        println!(
            "| {name} | median day | uptake ×0.8 / ×1.25 | C:N ×0.8 / ×1.25 | pieces ×0.8 / ×1.25 / dropped |\n|---|---|---|---|---|"
        );
        for (at, rung) in Rung::ALL.into_iter().enumerate() {
            let m: Vec<String> = turned.iter().map(|t| moved(base[at], t[at])).collect();
            println!(
                "| {} | {:.0} | {} / {} | {} / {} | {} / {} / {} |",
                rung.as_str(),
                base[at],
                m[0],
                m[1],
                m[2],
                m[3],
                m[4],
                m[5],
                m[6]
            );
        }
        println!();
    }
}
