//! Simulation-based calibration in small; the long run is `examples/sbc.rs`, its table is in docs/readings.md.
#![allow(clippy::unwrap_used, reason = "tests")]

#[path = "../examples/household/mod.rs"]
mod household;
#[path = "../examples/ranks/mod.rs"]
mod ranks;

use engine::assimilate::score::evenness;
use ranks::{NAMES, Who, ranks};

/// 40 draws in five bins of eight. χ² of four degrees is above 23.5 once in 10,000 even tables; nineteen tables and
/// fixed seeds leave a false alarm at 0.2 %.
#[test]
fn the_smoother_is_even_over_truths_of_its_own() {
    let all: Vec<Vec<f64>> = (0..40)
        .map(|r| ranks(r, &Who::Smoother { members: 120 }))
        .collect();
    for (i, name) in NAMES.iter().enumerate() {
        let of: Vec<f64> = all.iter().map(|r| r[i]).collect();
        let chi = evenness(&of, 5);
        println!("{name}: {chi:.1}");
        assert!(chi < 23.5, "{name}: {chi}");
    }
}

/// The referee on a few: a rank outside the particles in every draw would show here.
#[test]
fn the_referee_holds_the_truth() {
    let who = Who::Referee {
        particles: 100,
        moves: 2,
        last: 2,
    };
    let all: Vec<Vec<f64>> = (0..8).map(|r| ranks(r, &who)).collect();
    let outside = all
        .iter()
        .flatten()
        .filter(|r| **r < 0.01 || **r > 0.99)
        .count();
    let mean = all.iter().flatten().sum::<f64>() / (8.0 * NAMES.len() as f64);
    println!(
        "{outside} of {} outside, mean rank {mean:.2}",
        8 * NAMES.len()
    );
    // 2 % expected; a quarter would be a broken method.
    assert!(outside < 38 && (0.4..0.6).contains(&mean));
}
