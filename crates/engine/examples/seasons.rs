//! Twelve monthly starts of the small drum, for all five rungs: the tables of docs/seasons.md.
//!
//! `cargo run --release -p engine --example seasons -- 1000`
#![allow(
    clippy::print_stdout,
    clippy::expect_used,
    reason = "a study prints, and stops where a table is broken"
)]

mod drum;

use drum::{Drum, cooled, spread};
use engine::ensemble::{Daily, Ensemble};

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// A day; "–" if it is not reached.
fn day(x: f64) -> String {
    if x.is_finite() {
        format!("{x:.0}")
    } else {
        "–".into()
    }
}

fn triple([a, b, c]: [f64; 3]) -> String {
    format!("{}/{}/{}", day(a), day(b), day(c))
}

fn never(run: &Ensemble, rung: usize) -> f64 {
    let never = run.outcomes.iter().filter(|o| o.ready[rung].is_infinite());
    100.0 * never.count() as f64 / run.outcomes.len() as f64
}

/// Water share on day 90, %.
fn water(run: &Ensemble) -> [f64; 3] {
    let q = run.quantiles(Daily::Water, 89, &[0.05, 0.5, 0.95]);
    [q[0], q[1], q[2]]
}

fn main() {
    let count = std::env::args()
        .nth(1)
        .map_or(1000, |n| n.parse().expect("how many members"));
    println!(
        "| start (1st of) | mulch | resting bed | planted bed | pots | seed trays | not by day 600: bed, pots, trays |\n|---|---|---|---|---|---|---|"
    );
    let mut medians = Vec::new();
    for (at, month) in (1..).zip(MONTHS) {
        let run = Drum {
            start: (at, 1),
            ..Drum::default()
        }
        .run(count);
        let rungs: Vec<String> = (0..5)
            .map(|r| triple(spread(&run, |o| o.ready[r])))
            .collect();
        medians.push(spread(&run, |o| o.ready[2])[1]);
        println!(
            "| {month} | {} | {:.0}, {:.0}, {:.0} % |",
            rungs.join(" | "),
            never(&run, 2),
            never(&run, 3),
            never(&run, 4)
        );
    }
    let outside: Vec<String> = MONTHS
        .iter()
        .zip(&medians)
        .filter(|(_, d)| !(120.0..=185.0).contains(*d))
        .map(|(m, d)| format!("{m} {}", day(*d)))
        .collect();
    let mut sorted = medians.clone();
    sorted.sort_by(f64::total_cmp);
    println!(
        "\nMedian over the twelve starts of the median to planted-bed grade: {} d (practice 120–185). Starts outside: {}.\n",
        day(0.5 * (sorted[5] + sorted[6])),
        outside.join(", ")
    );
    println!(
        "| what | core peak °C | days ≥ 40 | organic matter lost % | nitrogen lost % | water on day 90 % | planted bed | not by day 600 |\n|---|---|---|---|---|---|---|---|"
    );
    let may = Drum::default();
    for (what, drum) in [
        ("1 May", may),
        (
            "1 October",
            Drum {
                start: (10, 1),
                ..may
            },
        ),
        (
            "1 November",
            Drum {
                start: (11, 1),
                ..may
            },
        ),
        ("May, 35 % water", Drum { water: 0.35, ..may }),
        ("May, 72 % water", Drum { water: 0.72, ..may }),
        ("May, 76 % water", Drum { water: 0.76, ..may }),
        ("May, C:N 15", Drum { cn: 15.0, ..may }),
        ("May, C:N 60", Drum { cn: 60.0, ..may }),
        ("May, 20 kg", Drum { kg: 20.0, ..may }),
        ("May, whole pieces", Drum { pieces: 0.6, ..may }),
        ("May, shredded", Drum { pieces: 1.4, ..may }),
        (
            "May, insulated (0.35)",
            Drum {
                insulation: 0.35,
                ..may
            },
        ),
        ("May, in the shade (sun 0.1)", Drum { sun: 0.1, ..may }),
        (
            "November, whole pieces",
            Drum {
                pieces: 0.6,
                start: (11, 1),
                ..may
            },
        ),
        (
            "November, shredded",
            Drum {
                pieces: 1.4,
                start: (11, 1),
                ..may
            },
        ),
    ] {
        let run = drum.run(count);
        println!(
            "| {what} | {} | {} | {} | {} | {} | {} | {:.0} % |",
            triple(spread(&run, |o| o.peak_c)),
            triple(spread(&run, |o| o.days_ge_40)),
            triple(spread(&run, |o| o.organic_matter_loss_pct)),
            triple(spread(&run, |o| o.nitrogen_loss_pct)),
            triple(water(&run)),
            triple(spread(&run, |o| o.ready[2])),
            never(&run, 2)
        );
    }
    let run = Drum {
        start: (11, 1),
        ..may
    }
    .run(count);
    let mut cold = cooled(&run);
    cold.sort_by(f64::total_cmp);
    println!(
        "\n1 November: core within 3 K of the air on day {} (median of members), planted bed on day {}.",
        day(cold[cold.len() / 2]),
        day(spread(&run, |o| o.ready[2])[1])
    );
}
