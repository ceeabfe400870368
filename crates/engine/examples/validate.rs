//! Published runs against the priors: the tables of docs/validation.md.
//!
//! `cargo run --release -p engine --example validate -- 1000`
#![allow(
    clippy::print_stdout,
    clippy::expect_used,
    clippy::panic,
    reason = "a study prints, and stops where a table is broken"
)]

mod cases;

use cases::score::scores;
use cases::setup::{CASES, Case};
use cases::{Target, figures, meets, middle, quantile};

fn number(x: f64) -> String {
    if x.is_infinite() {
        "–".into()
    } else if x.abs() < 19.95 {
        format!("{x:.1}")
    } else {
        format!("{x:.0}")
    }
}

fn main() {
    let count = std::env::args()
        .nth(1)
        .map_or(1000, |n| n.parse().expect("how many members"));
    println!("## How each run is set up\n\n| study | said | guessed |\n|---|---|---|");
    for case in &CASES {
        println!("| {} | {} | {} |", case.study, case.given, case.guessed);
    }
    let all = figures(count, |_| {});
    println!(
        "\n## Measured and predicted ({count} members, each in {} vessels)\n\n| study | what | measured | 5 % | 50 % | 95 % | meets | median off | in tolerances |\n|---|---|---|---|---|---|---|---|---|",
        cases::DRAWS
    );
    let mut met = 0;
    let mut near = 0;
    for (target, values) in &all {
        let centre = middle(target, values);
        let off = target.off(centre);
        let [low, high] = target.range;
        let measured = if low == high {
            low.to_string()
        } else {
            format!("{low}–{high}")
        };
        let ends = [0.05, 0.95].map(|share| {
            if target.of_all() {
                String::from("·")
            } else {
                number(quantile(values, share))
            }
        });
        let ok = meets(target, values);
        met += usize::from(ok);
        near += usize::from(off.abs() <= 0.5 * target.tolerance);
        println!(
            "| {} | `{}` | {measured} | {} | {} | {} | {} | {} | {} |",
            target.study,
            target.quantity,
            ends[0],
            number(centre),
            ends[1],
            if ok { "yes" } else { "no" },
            if off == 0.0 {
                "in range".into()
            } else {
                format!("{off:+.1}")
            },
            if off == 0.0 {
                "0".into()
            } else {
                format!("{:+.1}", off / target.tolerance)
            }
        );
    }
    println!(
        "\n**Meets: {met} of {}.** Median within half a tolerance of the range: {near} of {}.\n",
        all.len(),
        all.len()
    );
    println!(
        "## Bias by kind\n\n| what | targets | mean of the medians' offsets | median too low / in range / too high |\n|---|---|---|---|"
    );
    let mut kinds: Vec<&str> = all.iter().map(|(t, _)| t.quantity).collect();
    kinds.sort_unstable();
    kinds.dedup();
    for kind in kinds {
        let offs: Vec<f64> = all
            .iter()
            .filter(|(t, _)| t.quantity == kind)
            .map(|(t, v)| t.off(middle(t, v)))
            .collect();
        let count = |f: fn(&f64) -> bool| offs.iter().filter(|o| f(o)).count();
        println!(
            "| `{kind}` | {} | {:+.1} | {} / {} / {} |",
            offs.len(),
            cases::mean(&offs),
            count(|o| *o < 0.0),
            count(|o| *o == 0.0),
            count(|o| *o > 0.0)
        );
    }
    println!(
        "\n## Each study held back\n\n| study | as drawn | held back | weights are worth |\n|---|---|---|---|"
    );
    let (mut prior, mut held) = (0.0, 0.0);
    for s in scores(&all) {
        let share = s.shares.first();
        println!(
            "| {} | {:.1} | {:.1} | {:.0} members{} |",
            s.study,
            s.prior,
            s.held_out,
            s.worth,
            share.map_or(String::new(), |x| format!(
                "; share wetter than 70 %: {x:.0} %"
            ))
        );
        prior += s.prior;
        held += s.held_out;
    }
    println!("| **all** | **{prior:.1}** | **{held:.1}** | |");
    println!(
        "\n## What the guesses do ({} members)\n\n| all guesses changed | meets | median near | peak, mean offset K | final C:N, mean offset |\n|---|---|---|---|---|",
        count / 4
    );
    type Guess = fn(&mut Case);
    let given_cn = |c: &Case| ["VK2014", "Kumar2010"].contains(&c.study);
    let guesses: [(&str, Guess); 5] = [
        ("none", |_| {}),
        ("C:N × 0.8", |c| c.mix.cn *= 0.8),
        ("water 5 points less", |c| c.mix.water -= 0.05),
        ("vents × 2", |c| c.vessel.vents *= 2.0),
        ("vents × ½", |c| c.vessel.vents *= 0.5),
    ];
    for (name, guess) in guesses {
        let all = figures(count / 4, |case| {
            let cn = case.mix.cn;
            guess(case);
            if given_cn(case) {
                case.mix.cn = cn;
            }
        });
        let near = |(t, v): &&(Target, Vec<f64>)| t.off(middle(t, v)).abs() <= 0.5 * t.tolerance;
        let bias = |kind: &str| {
            let own = all.iter().filter(|(t, _)| t.quantity == kind);
            let offs: Vec<f64> = own.map(|(t, v)| t.off(middle(t, v))).collect();
            cases::mean(&offs)
        };
        println!(
            "| {name} | {} | {} | {:+.1} | {:+.1} |",
            all.iter().filter(|(t, v)| meets(t, v)).count(),
            all.iter().filter(near).count(),
            bias("peak_c"),
            bias("final_cn")
        );
    }
}
