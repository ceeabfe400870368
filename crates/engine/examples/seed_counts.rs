//! Intervals of many seed counts as lines of JSON, for `tests/oracle/maturity.py`.

#![allow(clippy::print_stdout, reason = "an example speaks on standard output")]

use engine::maturity::interval::{at_least, exact, ratio, wilson};

/// Pots of so many seeds.
const SOWN: [u32; 5] = [8, 10, 20, 24, 50];
/// Limits asked of a ratio.
const LEAST: [f64; 2] = [0.75, 0.90];

fn main() {
    for sown in SOWN {
        for up in (0..=sown).step_by(sown as usize / 8) {
            let (w, e) = (wilson(up, sown), exact(up, sown));
            for control_up in [sown * 4 / 5, sown * 9 / 10, sown] {
                let control = (control_up, sown);
                let r = ratio((up, sown), control);
                let sure = LEAST.map(|least| at_least(least, (up, sown), Some(control)));
                let line = serde_json::json!({
                    "up": up, "sown": sown, "control_up": control_up, "control_sown": sown,
                    "wilson": [w.low, w.high], "exact": [e.low, e.high], "ratio": [r.low, r.high],
                    "least": LEAST, "at_least": sure,
                });
                println!("{line}");
            }
        }
    }
}
