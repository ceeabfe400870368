//! What is wrong, against written cases, facts of practice and the tables' own rules.

#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

use engine::diagnosis::likelihood::{FACTORS, Side};
use engine::diagnosis::weights::WEIGHTS;
use engine::diagnosis::{
    Act, Amount, BoundBy, Cause, Chance, Evidence, Extra, Group, Inside, Symptom, Things, amount,
    diagnose, plan,
};
use units::Spread;

/// A written case.
struct Case {
    id: String,
    split: String,
    symptom: Symptom,
    evidence: Evidence,
    answer: Cause,
}

/// Water of a squeeze, %: dusty, crumbles, holds, drips, runs, each as wide as two people differ (judged).
fn squeeze(word: &str) -> Spread {
    match word {
        "dusty" => Spread::new(25.0, 35.0, 42.0),
        "crumbles" => Spread::new(38.0, 45.0, 50.0),
        "holds" => Spread::new(48.0, 55.0, 62.0),
        "drips" => Spread::new(60.0, 67.0, 72.0),
        "runs" => Spread::new(68.0, 75.0, 82.0),
        other => panic!("no squeeze is called {other}"),
    }
}

/// A written number carries a tenth of doubt each way, as the texts that give it do (judged).
fn about(value: f64) -> Spread {
    Spread::new(
        value - value.abs() / 10.0,
        value,
        value + value.abs() / 10.0,
    )
}

fn evidence(text: &str) -> Evidence {
    let mut e = Evidence::default();
    for part in text.split_whitespace() {
        let (key, value) = part.split_once('=').unwrap();
        let number = || value.parse::<f64>().unwrap();
        match key {
            "squeeze" => e.water_pct = Some(squeeze(value)),
            // What a text names as put in is taken as half of the last additions.
            "recent" => e.shares = vec![(Group::parse(value).unwrap(), 50.0)],
            "cn" => e.cn = Some(about(number())),
            "air_space_pct" => e.air_space_pct = Some(about(number())),
            "core_c" => e.core_c = Some(about(number())),
            "air_c" => e.air_c = Some(about(number())),
            "litres" => e.litres = Some(about(number())),
            "level_pct" => e.level_pct = Some(about(number())),
            "days_ge_40" => e.days_ge_40 = Some(about(number())),
            "days_since_turn" => e.days_since_turn = Some(number()),
            "days_since_feed" => e.days_since_feed = Some(number()),
            "filled_over_days" => e.filled_over_days = Some(number()),
            // Four words for the card that can still be recognised, % (as the pages say it).
            "card" => {
                e.recognisable_pct = Some(match value {
                    "none" => Spread::new(0.0, 5.0, 15.0),
                    "few" => Spread::new(10.0, 20.0, 35.0),
                    "some" => Spread::new(25.0, 45.0, 65.0),
                    _ => Spread::new(65.0, 85.0, 95.0),
                });
            }
            other => panic!("no evidence is called {other}"),
        }
    }
    e
}

/// Cells of a line; a quoted cell may hold commas.
fn cells(line: &str) -> Vec<String> {
    let (mut all, mut cell, mut quoted) = (Vec::new(), String::new(), false);
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => all.push(std::mem::take(&mut cell)),
            c => cell.push(c),
        }
    }
    all.push(cell);
    all
}

fn cases() -> Vec<Case> {
    include_str!("data/put_right_cases.csv")
        .lines()
        .skip(1)
        .map(|line| {
            let row = cells(line);
            assert_eq!(row.len(), 7, "{line}");
            Case {
                id: row[0].clone(),
                split: row[1].clone(),
                symptom: Symptom::parse(&row[2]).unwrap_or_else(|| panic!("{}", row[2])),
                evidence: evidence(&row[3]),
                answer: Cause::parse(&row[4]).unwrap_or_else(|| panic!("{}", row[4])),
            }
        })
        .collect()
}

/// Shares of the cases whose answer comes first, and first or second; and the misses.
fn rates(split: &str) -> (f64, f64, Vec<String>) {
    let all = cases().into_iter().filter(|c| c.split == split);
    rated(&all.collect::<Vec<_>>())
}

fn rated(all: &[Case]) -> (f64, f64, Vec<String>) {
    let (mut first, mut second, mut missed) = (0.0, 0.0, Vec::new());
    for case in all {
        let found = diagnose(case.symptom, &case.evidence, &[]);
        let at = found
            .iter()
            .position(|c| c.cause == case.answer)
            .unwrap_or(99);
        first += f64::from(at == 0);
        second += f64::from(at <= 1);
        if at > 0 {
            let said: Vec<String> = found
                .iter()
                .take(3)
                .map(|c| format!("{} {:.2}", c.cause.as_str(), c.chance))
                .collect();
            missed.push(format!(
                "{}: {} is number {}; {}",
                case.id,
                case.answer.as_str(),
                at + 1,
                said.join(", ")
            ));
        }
    }
    let n = all.len() as f64;
    (first / n, second / n, missed)
}

#[test]
fn written_cases_for_tuning_are_met() {
    let (first, second, missed) = rates("tune");
    println!(
        "tune: first {first:.3}, second {second:.3}\n{}",
        missed.join("\n")
    );
    assert!(
        first >= 0.70 && second >= 0.90,
        "{first} {second}\n{}",
        missed.join("\n")
    );
}

/// Half of the cases, by the order of the SHA-256 of their ids, was kept unseen while figures were set.
#[test]
fn written_cases_held_back_are_told() {
    let (first, second, missed) = rates("held");
    println!(
        "held: first {first:.3}, second {second:.3}\n{}",
        missed.join("\n")
    );
    assert!(
        first >= 0.70 && second >= 0.90,
        "{first} {second}\n{}",
        missed.join("\n")
    );
}

#[test]
fn evidence_does_better_than_the_weights_alone() {
    for split in ["tune", "held"] {
        let (first, second, _) = rates(split);
        let mut bare: Vec<Case> = cases().into_iter().filter(|c| c.split == split).collect();
        for case in &mut bare {
            case.evidence = Evidence::default();
        }
        let (first_bare, second_bare, _) = rated(&bare);
        println!("{split}: weights alone, first {first_bare:.3}, second {second_bare:.3}");
        assert!(first > first_bare && second > second_bare, "{split}");
    }
}

/// The tables of docs/put-right.md, row by row.
fn rows() -> Vec<String> {
    let mut all: Vec<String> = FACTORS
        .iter()
        .map(|f| {
            let side = match f.side {
                Side::Above => format!("above {} ± {}", f.at, f.width),
                Side::Below => format!("below {} ± {}", f.at, f.width),
                Side::Within(reach) => {
                    format!("{} to {} ± {}", f.at - reach, f.at + reach, f.width)
                }
            };
            let (cause, what) = (f.cause.as_str(), f.quantity.as_str());
            format!(
                "| {cause} | {what} | {side} | {} | {} | {} |",
                f.least, f.most, f.source
            )
        })
        .collect();
    all.extend(WEIGHTS.iter().map(|(symptom, cause, weight, source)| {
        format!(
            "| {} | {} | {weight:.2} | {source} |",
            symptom.as_str(),
            cause.as_str()
        )
    }));
    all
}

#[test]
fn the_page_of_tables_is_fresh() {
    let page = include_str!("../../../docs/put-right.md");
    let stale: Vec<String> = rows()
        .into_iter()
        .filter(|row| !page.contains(row))
        .collect();
    assert!(
        stale.is_empty(),
        "docs/put-right.md lacks:\n{}",
        stale.join("\n")
    );
}

fn first(symptom: Symptom, e: &Evidence) -> Vec<Chance> {
    diagnose(symptom, e, &[])
}

fn chance(all: &[Chance], cause: Cause) -> f64 {
    all.iter()
        .find(|c| c.cause == cause)
        .map_or(0.0, |c| c.chance)
}

/// A drum chamber of 130 L as the arithmetic or a hand finds it: water %, C:N, litres, air °C.
fn drum(water: f64, cn: f64, litres: f64, air: f64) -> Evidence {
    Evidence {
        water_pct: Some(Spread::new(water - 5.0, water, water + 5.0)),
        cn: Some(Spread::new(cn * 0.9, cn, cn * 1.1)),
        litres: Some(Spread::new(litres * 0.9, litres, litres * 1.1)),
        air_c: Some(Spread::new(air - 2.0, air, air + 2.0)),
        ..Evidence::default()
    }
}

fn amount_for(act: Act, symptom: Symptom, cause: Cause, water: f64, cn: f64) -> Option<Amount> {
    let catalogue = catalogue::Catalogue::load().unwrap();
    let point = |id: &str| (&catalogue.get(id).unwrap().composition()).into();
    let inside = Inside {
        mass_kg: 20.0,
        water,
        cn: Some(cn),
        litres: 45.0,
        chamber_l: 130.0,
        juicy_l: None,
    };
    let things = Things {
        card: point("cardboard-corrugated"),
        greens: point("coffee-grounds"),
    };
    amount(act, symptom, cause, &inside, &things)
}

#[test]
fn wet_and_slimy_wants_card() {
    let e = drum(72.0, 22.0, 60.0, 16.0);
    let top = &first(Symptom::Slimy, &e)[0];
    assert_eq!(top.cause, Cause::Wet);
    assert!(top.chance > 0.6, "{top:?}");
    let act = plan(top.cause, &e).act;
    assert_eq!(act, Act::AddCard);
    let card = amount_for(act, Symptom::Slimy, top.cause, 0.72, 22.0).unwrap();
    assert_eq!(card.what, Extra::Card);
    assert!(card.litres > 10.0 && card.water_after < 0.72, "{card:?}");
}

#[test]
fn dry_and_unchanged_wants_water_and_greens() {
    let e = drum(36.0, 52.0, 60.0, 16.0);
    let all = first(Symptom::DryUnchanged, &e);
    let acts: Vec<Act> = all[..2].iter().map(|c| plan(c.cause, &e).act).collect();
    assert_eq!(acts, [Act::AddWater, Act::AddGreens], "{all:?}");
    let water = amount_for(Act::AddWater, Symptom::DryUnchanged, Cause::Dry, 0.36, 52.0).unwrap();
    assert_eq!((water.what, water.bound_by), (Extra::Water, BoundBy::Water));
    assert!((water.water_after - 0.55).abs() < 1e-6, "{water:?}");
    let greens = amount_for(
        Act::AddGreens,
        Symptom::DryUnchanged,
        Cause::HighCn,
        0.5,
        52.0,
    )
    .unwrap();
    assert!(greens.cn_after.unwrap() < 36.0, "{greens:?}");
}

#[test]
fn a_finishing_chamber_is_not_topped_up() {
    let mut e = drum(50.0, 52.0, 60.0, 16.0);
    e.closed = true;
    for cause in Cause::ALL {
        let act = plan(*cause, &e).act;
        assert_ne!(act, Act::AddGreens, "{cause:?} tops up a closed chamber");
    }
    e.days_since_feed = Some(2.0);
    let all = first(Symptom::LevelStays, &drum_fed(2.0));
    assert_eq!(plan(all[0].cause, &e).act, Act::StopFeeding, "{all:?}");
}

fn drum_fed(days: f64) -> Evidence {
    Evidence {
        days_since_feed: Some(days),
        ..drum(55.0, 28.0, 60.0, 16.0)
    }
}

#[test]
fn eight_degrees_and_small_is_nothing_wrong() {
    let e = drum(55.0, 28.0, 40.0, 8.0);
    let all = first(Symptom::NotHeating, &e);
    assert!(
        all[0].cause.nothing_wrong() && all[1].cause.nothing_wrong(),
        "{all:?}"
    );
    assert!(
        chance(&all, Cause::Cold) + chance(&all, Cause::Small) > 0.8,
        "{all:?}"
    );
    assert_eq!(plan(all[0].cause, &e).act, Act::Wait);
    // The same drum, dry: the cold excuses less.
    let dry = first(Symptom::NotHeating, &drum(32.0, 28.0, 40.0, 16.0));
    assert_eq!(dry[0].cause, Cause::Dry, "{dry:?}");
}

#[test]
fn what_speaks_against_the_first_cause_is_told() {
    let all = first(Symptom::DryUnchanged, &drum(72.0, 28.0, 60.0, 16.0));
    let dry = all.iter().find(|c| c.cause == Cause::Dry).unwrap();
    let against = dry.against.unwrap();
    assert_eq!(
        (against.quantity.as_str(), against.value),
        ("water_pct", 72.0)
    );
    let fits = first(Symptom::DryUnchanged, &drum(36.0, 28.0, 60.0, 16.0));
    assert_eq!((fits[0].cause, fits[0].against), (Cause::Dry, None));
}

#[test]
fn weights_are_shares_of_each_symptom() {
    for symptom in Symptom::ALL {
        let rows: Vec<_> = WEIGHTS.iter().filter(|r| r.0 == *symptom).collect();
        let sum: f64 = rows.iter().map(|r| r.2).sum();
        assert!((sum - 1.0).abs() < 1e-9, "{symptom:?} sums to {sum}");
        assert!(rows.len() >= 2, "{symptom:?} has no runner-up");
        assert!(
            rows.iter().all(|r| r.2 > 0.0 && !r.3.is_empty()),
            "{symptom:?}"
        );
        let mut causes: Vec<_> = rows.iter().map(|r| r.1).collect();
        causes.sort();
        causes.dedup();
        assert_eq!(causes.len(), rows.len(), "{symptom:?} names a cause twice");
        assert_eq!(Symptom::parse(symptom.as_str()), Some(*symptom));
    }
    for cause in Cause::ALL {
        assert!(
            WEIGHTS.iter().any(|r| r.1 == *cause),
            "{cause:?} has no symptom"
        );
        assert_eq!(Cause::parse(cause.as_str()), Some(*cause));
    }
}

#[test]
fn rows_are_smooth_bounded_and_point_the_way_they_say() {
    for f in FACTORS {
        assert!(f.width > 0.0 && !f.source.is_empty(), "{f:?}");
        let (least, most) = (f.least.min(f.most), f.least.max(f.most));
        assert!(
            least > 0.0 && most <= 8.0,
            "{f:?}: no row may settle a cause alone"
        );
        let at = |x: f64| f.at(x);
        let step = |x: f64| (at(x + 0.01 * f.width) / at(x)).ln().abs();
        for n in -60..=60 {
            let x = f.at + f64::from(n) * f.width / 4.0;
            assert!((least..=most).contains(&at(x)), "{f:?} at {x}");
            assert!(step(x) < 0.02, "{f:?} jumps at {x}");
        }
        let (low, high) = (at(f.at - 50.0 * f.width), at(f.at + 50.0 * f.width));
        match f.side {
            Side::Above => assert!((high - f.most).abs() < 1e-6 && (low - f.least).abs() < 1e-6),
            Side::Below => assert!((low - f.most).abs() < 1e-6 && (high - f.least).abs() < 1e-6),
            Side::Within(reach) => {
                assert!(
                    reach > 0.0
                        && at(f.at) > at(f.at + 2.0 * reach)
                        && at(f.at) > at(f.at - 2.0 * reach)
                );
            }
        }
        let middle = f.over(Spread::exact(f.at));
        assert!((middle - at(f.at)).abs() < 1e-9, "points sum to one");
    }
}

#[test]
fn chances_sum_to_one_and_nothing_known_leaves_the_weights() {
    for symptom in Symptom::ALL {
        for e in [
            Evidence::default(),
            drum(70.0, 18.0, 90.0, 4.0),
            drum(20.0, 90.0, 10.0, 35.0),
        ] {
            let all = diagnose(*symptom, &e, &[]);
            let sum: f64 = all.iter().map(|c| c.chance).sum();
            assert!((sum - 1.0).abs() < 1e-9, "{symptom:?}");
            assert!(all.windows(2).all(|w| w[0].chance >= w[1].chance));
            for c in &all {
                assert!(
                    c.range.0 <= c.chance + 1e-9 && c.chance <= c.range.1 + 1e-9,
                    "{c:?}"
                );
            }
        }
        for c in diagnose(*symptom, &Evidence::default(), &[]) {
            let weight = WEIGHTS
                .iter()
                .find(|r| r.0 == *symptom && r.1 == c.cause)
                .unwrap()
                .2;
            assert!((c.chance - weight).abs() < 1e-9, "{c:?}");
        }
    }
}

#[test]
fn what_the_household_bore_out_counts_against_five_batches() {
    // Five times seen weighs as much as the table: (5·0.2 + 5)/(5 + 5) = 0.6.
    let seen = [(Cause::Condensation, 5)];
    let all = diagnose(Symptom::Slimy, &Evidence::default(), &seen);
    assert!(
        (chance(&all, Cause::Condensation) - 0.6).abs() < 1e-9,
        "{all:?}"
    );
    // A cause that this symptom never has changes nothing.
    let other = diagnose(Symptom::Slimy, &Evidence::default(), &[(Cause::Gaps, 9)]);
    assert!((chance(&other, Cause::Wet) - 0.6).abs() < 1e-9);
}
