//! Forecasts and their scores as JSON lines, for `tests/oracle/score.py`.
//!
//! `cargo run -p engine --example scores -- 500 1`
#![allow(clippy::print_stdout, reason = "prints what another program reads")]

use engine::assimilate::{normal, score};
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use rand_distr::StandardNormal;

fn main() {
    let mut words = std::env::args().skip(1).map(|a| a.parse::<u64>());
    let count = words.next().and_then(Result::ok).unwrap_or(500);
    let seed = words.next().and_then(Result::ok).unwrap_or(1);
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    for id in 0..count {
        let size = rng.random_range(1..200_usize);
        let spread = 10.0_f64.powf(rng.random_range(-1.0..2.0));
        let mut draw = || 100.0 + spread * rng.sample::<f64, _>(StandardNormal);
        let mut members: Vec<f64> = (0..size).map(|_| draw()).collect();
        let mut came = draw();
        // Whole days, so that ties happen.
        if id % 3 == 0 {
            members.iter_mut().for_each(|m| *m = m.round());
            came = came.round();
        }
        let u: f64 = rng.random();
        let z: f64 = rng.random_range(-8.0..8.0);
        let covered = [0.5, 0.8, 0.9].map(|share| score::covered(&members, came, share));
        let line = serde_json::json!({
            "id": id, "members": members, "came": came, "u": u, "z": z,
            "crps": score::crps(&members, came),
            "pit": score::pit(&members, came, u),
            "covered": covered,
            "below": normal::below(z),
            "quantile": normal::quantile(u),
        });
        println!("{line}");
    }
}
