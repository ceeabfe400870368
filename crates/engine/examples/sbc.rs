//! Simulation-based calibration (Talts et al. 2018, arXiv 1804.06788): truths are drawn from the prior, read, and learnt
//! from; the rank of each truth among the members must be even. For the smoother and for the referee.
//!
//! `cargo run --release -p engine --example sbc -- 200 both`; table in docs/readings.md.
#![allow(
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "a study prints, and stops where it is broken"
)]

mod household;
mod ranks;

use ranks::{NAMES, Who, ranks};

fn main() {
    let count: u64 = std::env::args()
        .nth(1)
        .and_then(|a| a.parse().ok())
        .unwrap_or(200);
    let which = std::env::args().nth(2).unwrap_or_else(|| "both".into());
    // Truths are numbered: others show whether a deviation was theirs.
    let first: u64 = std::env::args()
        .nth(3)
        .and_then(|a| a.parse().ok())
        .unwrap_or(0);
    for (name, who) in [
        ("smoother", Who::Smoother { members: 250 }),
        (
            "referee",
            Who::Referee {
                particles: 500,
                moves: 3,
                last: 40,
            },
        ),
    ] {
        if which != "both" && which != name {
            continue;
        }
        let start = std::time::Instant::now();
        let mut all = Vec::new();
        for draw in first..first + count {
            all.push(ranks(draw, &who));
            // A long run is worth looking at before it ends.
            if all.len() % 50 == 0 || draw + 1 == first + count {
                table(name, &all, start.elapsed().as_secs_f64());
            }
        }
    }
}

fn table(name: &str, all: &[Vec<f64>], seconds: f64) {
    println!(
        "\n{name}, {} draws, {seconds:.0} s. χ² in 10 bins: 16.9 at 5 %, 27.9 at 0.1 %.",
        all.len()
    );
    println!("| quantity | χ² | counts in 10 bins | share in the middle 50, 80, 90 % |");
    println!("|---|---|---|---|");
    for (i, name) in NAMES.iter().enumerate() {
        let of: Vec<f64> = all.iter().map(|r| r[i]).collect();
        let mut bins = [0; 10];
        for r in &of {
            bins[((r * 10.0) as usize).min(9)] += 1;
        }
        let inside = |share: f64| {
            of.iter()
                .filter(|r| (*r - 0.5).abs() <= 0.5 * share)
                .count() as f64
                / of.len() as f64
        };
        println!(
            "| {name} | {:.1} | {} | {:.2}, {:.2}, {:.2} |",
            engine::assimilate::score::evenness(&of, 10),
            bins.map(|b| b.to_string()).join(" "),
            inside(0.5),
            inside(0.8),
            inside(0.9),
        );
    }
}
