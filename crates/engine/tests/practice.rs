//! What practice says of small drums, and whether the papers still say what the model says.
//!
//! Fewer members than in the papers: a figure may wander by its sampling error, no further.

#[path = "../examples/cases/mod.rs"]
mod cases;
#[path = "../examples/drum/mod.rs"]
mod drum;

use std::fmt::Write as _;

use drum::{Drum, cooled, spread};
use engine::ensemble::prior::{PRIORS, Shape};
use engine::ensemble::{Ensemble, Outcome};
use engine::forecast::rungs::Rung;

const VALIDATION: &str = include_str!("../../../docs/validation.md");
const SEASONS: &str = include_str!("../../../docs/seasons.md");
const MODEL: &str = include_str!("../../../docs/batch-model.md");
const RUNGS: &str = include_str!("../../../docs/rungs.md");
const MEMBERS: u64 = 96;
const BED: usize = 2;

fn median(run: &Ensemble, of: impl Fn(&Outcome) -> f64) -> f64 {
    spread(run, of)[1]
}

fn bed(drum: Drum) -> f64 {
    median(&drum.run(MEMBERS), |o| o.ready[BED])
}

fn spring() -> Drum {
    Drum::default()
}

/// Cells of the rows of a table whose second cell is code.
fn rows(text: &str) -> impl Iterator<Item = Vec<&str>> {
    text.lines()
        .map(|line| line.split('|').map(str::trim).collect::<Vec<_>>())
        .filter(|cells| cells.len() > 8 && cells[2].starts_with('`'))
}

#[test]
fn the_paper_on_published_runs_is_reproduced() {
    const FEW: u64 = 80;
    // A share of 80 members has a standard error of 0.056 at the middle and 0.024 at 5 %; 3.3 of them.
    let bands = [(4, 0.0, 0.13), (5, 0.32, 0.68), (6, 0.87, 1.0)];
    let all = cases::figures(FEW, |_| {});
    let printed: Vec<_> = rows(VALIDATION).collect();
    assert_eq!(printed.len(), all.len(), "docs/validation.md misses rows");
    let mut met = 0;
    for (cells, (target, values)) in printed.iter().zip(&all) {
        let name = format!("{} {}", target.study, target.quantity);
        assert_eq!(cells[1], target.study);
        assert_eq!(cells[2].trim_matches('`'), target.quantity);
        let yes = cases::meets(target, values);
        met += usize::from(yes);
        if target.of_all() {
            let said: f64 = cells[5].parse().expect("a share");
            assert!((said - cases::mean(values)).abs() < 18.0, "{name}: {said}");
            continue;
        }
        for (at, low, high) in bands {
            let said = cells[at];
            if said == "–" {
                assert!(cases::quantile(values, high).is_infinite(), "{name}");
                continue;
            }
            let said: f64 = said.parse().expect("a figure");
            let from = cases::quantile(values, low);
            let to = cases::quantile(values, high);
            // Printed to a whole, or to a tenth below 20.
            assert!(
                (from - 0.5..=to + 0.5).contains(&said),
                "{name}: printed {said}, now {from:.1} to {to:.1}: run the example `validate` again"
            );
        }
    }
    let said = printed.iter().filter(|c| c[7] == "yes").count();
    assert!(met.abs_diff(said) <= 3, "{met} targets met, printed {said}");
    let line = format!("**Meets: {said} of {}.**", all.len());
    assert!(
        VALIDATION.contains(&line),
        "the count above differs: {line}"
    );
}

#[test]
fn studies_held_back_are_scored_by_the_others() {
    let all = cases::figures(24, |_| {});
    let scores = cases::score::scores(&all);
    assert_eq!(scores.len(), cases::setup::CASES.len());
    for s in &scores {
        assert!(s.prior <= 0.0 && s.held_out <= 0.0, "{s:?}");
        assert!((1.0..=24.0 + 1e-9).contains(&s.worth), "{s:?}");
    }
}

#[test]
fn twelve_starts_take_four_to_six_months_at_the_median() {
    let mut days: Vec<f64> = (1..=12)
        .map(|month| {
            bed(Drum {
                start: (month, 1),
                days: 420,
                ..spring()
            })
        })
        .collect();
    days.sort_by(f64::total_cmp);
    let middle = 0.5 * (days[5] + days[6]);
    assert!((120.0..=185.0).contains(&middle), "{middle}: {days:?}");
    let said = SEASONS
        .split_once("planted-bed grade: ")
        .and_then(|(_, rest)| rest.split_once(" d"))
        .and_then(|(said, _)| said.parse::<f64>().ok())
        .expect("docs/seasons.md says the median over twelve starts");
    assert!((said - middle).abs() < 25.0, "printed {said}, now {middle}");
}

#[test]
fn autumn_is_slower_than_spring() {
    let autumn = Drum {
        start: (10, 1),
        ..spring()
    };
    let (spring, autumn) = (bed(spring()), bed(autumn));
    assert!(autumn > spring + 60.0, "May {spring}, October {autumn}");
}

#[test]
fn too_wet_and_too_dry_both_stall() {
    let usual = bed(spring());
    for water in [0.35, 0.76] {
        let stalled = bed(Drum { water, ..spring() });
        assert!(
            stalled > 1.5 * usual,
            "{water}: {stalled} against {usual} days"
        );
    }
}

#[test]
fn much_card_stays_cold_and_slow() {
    let usual = spring().run(MEMBERS);
    let card = Drum {
        cn: 60.0,
        ..spring()
    }
    .run(MEMBERS);
    let peak = |run: &Ensemble| median(run, |o| o.peak_c);
    assert!(peak(&card) < peak(&usual) - 5.0);
    assert!(median(&card, |o| o.days_ge_40) < 1.0);
    assert!(median(&card, |o| o.ready[BED]) > 2.0 * median(&usual, |o| o.ready[BED]));
}

#[test]
fn much_nitrogen_heats_and_is_lost() {
    let usual = spring().run(MEMBERS);
    let rich = Drum {
        cn: 15.0,
        ..spring()
    }
    .run(MEMBERS);
    assert!(median(&rich, |o| o.peak_c) > median(&usual, |o| o.peak_c) + 4.0);
    assert!(median(&rich, |o| o.nitrogen_loss_pct) > median(&usual, |o| o.nitrogen_loss_pct) + 5.0);
}

#[test]
fn twenty_kilograms_do_not_heat() {
    let small = Drum {
        kg: 20.0,
        ..spring()
    }
    .run(MEMBERS);
    let peak = median(&small, |o| o.peak_c);
    assert!(peak < 45.0, "{peak}");
}

#[test]
fn a_cold_core_in_winter_is_not_maturity() {
    let run = Drum {
        start: (11, 1),
        ..spring()
    }
    .run(MEMBERS);
    let mut cold = cooled(&run);
    cold.sort_by(f64::total_cmp);
    let cold = cold[cold.len() / 2];
    let ready = median(&run, |o| o.ready[BED]);
    assert!(
        cold + 90.0 < ready,
        "cold on day {cold}, bed on day {ready}"
    );
}

#[test]
fn balances_close_in_every_member_of_the_drum() {
    let run = spring().run(MEMBERS);
    for o in &run.outcomes {
        assert!(o.sound);
        for residual in o.residual {
            assert!(residual <= engine::batch::balance::LIMIT, "{residual:e}");
        }
    }
}

fn shape(shape: Shape) -> String {
    match shape {
        Shape::Log(median, gsd) if gsd < 1.001 => format!("{median}, fixed"),
        Shape::Log(median, gsd) => format!("{median} ×/÷ {gsd}"),
        Shape::Normal(mean, sd, least, most) => format!("{mean} ± {sd} ({least} to {most})"),
        Shape::Uniform(least, most) => format!("even, {least} to {most}"),
        Shape::Follows => "follows".into(),
    }
}

#[test]
fn the_table_of_priors_is_fresh() {
    let mut table =
        String::from("| name | what | middle and spread | source |\n|---|---|---|---|\n");
    for p in &PRIORS {
        let _ = writeln!(
            table,
            "| `{}` | {} | {} | {} |",
            p.name,
            p.what,
            shape(p.shape),
            p.source
        );
    }
    assert!(
        MODEL.contains(&table),
        "docs/batch-model.md is stale; its table should be:\n{table}"
    );
}

#[test]
fn the_table_of_rungs_is_fresh() {
    for rung in Rung::ALL {
        let l = rung.limits();
        let start = format!(
            "| `{}` | {} ({:.1}) | {} | {:.2} | {} |",
            rung.as_str(),
            l.uptake,
            l.uptake / 2.67,
            l.cn,
            l.recognisable,
            l.rest
        );
        assert!(RUNGS.contains(&start), "docs/rungs.md should have: {start}");
    }
}
