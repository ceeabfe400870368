//! Tests of maturity and heat records against printed cases, to their printed digits (`data/standards_cases.csv`).
#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

use engine::heat_record::turns::never_heated;
use engine::heat_record::{Met, Place, Reading, hours, record, yardstick};
use engine::maturity::germination::{Band, Dish};
use engine::maturity::jar::{self, Jar};
use engine::maturity::seed::Seeds;
use engine::maturity::{ash, ccqc, cured, interval, vitality};

const CASES: &str = include_str!("data/standards_cases.csv");

/// The printed answer of a case; a case that is not in the file fails by name.
fn printed(id: &str) -> &'static str {
    CASES
        .lines()
        .find(|l| l.starts_with(&format!("{id},")))
        .and_then(|l| l.split(',').nth(2))
        .unwrap_or_else(|| panic!("no case {id}"))
}

/// A value with as many digits as are printed stands in the printed answer.
fn says(id: &str, value: f64, places: usize) {
    let text = format!("{value:.places$}");
    assert!(
        printed(id)
            .split(|c: char| !(c.is_ascii_digit() || c == '.'))
            .any(|w| w == text),
        "{id}: {text} is not in “{}”",
        printed(id)
    );
}

/// The log of the case: steps at one temperature, read every 12 h.
fn steps(log: &[(f64, f64)]) -> Vec<Reading> {
    let mut hour = 0.0;
    let mut all = Vec::new();
    for &(length, celsius) in log {
        let parts = (length / 12.0_f64).ceil();
        for part in 0..=(parts as usize) {
            let at = hour + length * part as f64 / parts;
            all.push(Reading {
                hour: at,
                celsius,
                place: Place::Core,
            });
        }
        hour += length;
    }
    all
}

const LOG: [(f64, f64); 5] = [
    (24.0, 52.0),
    (30.0, 56.0),
    (12.0, 60.0),
    (24.0, 55.0),
    (24.0, 50.0),
];

#[test]
fn class_a_equation() {
    says("class-a-55", hours::class_a_days(55.0) * 24.0, 1);
    says("class-a-50", hours::class_a_days(50.0), 2);
    says("class-a-60", hours::class_a_days(60.0) * 24.0, 1);
    says("class-a-70", hours::class_a_days(70.0) * 24.0 * 60.0, 1);
}

#[test]
fn weighted_hours_of_a_log_and_its_parts() {
    let whole = record(&steps(&LOG), &[], 114.0);
    says("f55-log", whole.core.weighted, 1);
    for step in LOG {
        says(
            "f55-log",
            record(&steps(&[step]), &[], step.0).core.weighted,
            2,
        );
    }
    says("m2-log", whole.core.log_reduction, 0);
    // Plain hours are fewer, so they grade: 30 + 12 + 24 h.
    assert!((whole.core.plain - 66.0).abs() < 1e-9);
    assert!((whole.graded() - 66.0).abs() < 1e-9 && !whole.reaches());
    assert!(whole.core_only());
}

#[test]
fn hours_that_equal_the_yardstick() {
    // 72 h at 55 °C: 361, 189, 27, 14.4, 2.9 h and 34 min (computed with the same slope).
    for (celsius, h) in [
        (50.0, 361.0),
        (52.0, 189.0),
        (58.0, 27.0),
        (60.0, 14.4),
        (65.0, 2.9),
    ] {
        let f = hours::YARDSTICK_H / 10_f64.powf((celsius - 55.0) / hours::Z_C);
        let places = usize::from(h < 20.0);
        assert_eq!(
            format!("{f:.places$}"),
            format!("{h:.places$}"),
            "{celsius}"
        );
    }
}

#[test]
fn share_never_heated() {
    says("cool-05", never_heated(0.5, 5) * 100.0, 1);
    says("cool-03", never_heated(0.3, 10) * 100.0, 4);
}

#[test]
fn germination_and_vitality() {
    let dish = Dish {
        pots: (16, 20),
        control: (18, 20),
        root_mm: 22.0,
        control_root_mm: 28.0,
    };
    let index = dish.checked().unwrap().index();
    says("gi", index.germination, 1);
    says("gi", index.root, 1);
    says("gi", index.index, 1);
    assert_eq!(dish.band(), Band::Moderate);
    let of = |germination, root_mm| vitality::Dish {
        germination,
        root_mm,
    };
    let dishes = [of(90.0, 31.0), of(100.0, 29.0), of(80.0, 27.0)];
    says("mlv", vitality::index(&dishes, of(95.0, 35.0)).unwrap(), 1);
    assert!(
        vitality::index(&dishes, of(70.0, 35.0)).is_err(),
        "a weak control is void"
    );
    assert!(vitality::index(&[], of(95.0, 35.0)).is_err());
}

#[test]
fn three_of_four_radishes_pass() {
    let sure = |up| {
        let seeds = Seeds {
            pots: (up, 1000),
            control: Some((1000, 1000)),
        };
        seeds.checked().unwrap().passes()[3].unwrap()
    };
    assert_eq!(printed("radish"), "pass");
    assert!(
        sure(790) > 0.97 && sure(710) < 0.03,
        "{} {}",
        sure(790),
        sure(710)
    );
}

#[test]
fn breath_of_a_jar() {
    let jar = Jar {
        rise_ppm: 20_000.0,
        hours: 4.0,
        litres: 1.9,
        sample_g: 50.0,
        dry: Some(0.5),
        organic: Some(0.5),
    };
    let [low, rate, high] = jar.checked().unwrap().rates();
    says("jar", jar.carbon_mg(), 2);
    says("jar", rate, 2);
    assert!(low == rate && rate == high);
    assert_eq!(jar::class(rate), jar::Class::ModeratelyUnstable);
    says("pas-100", 16.0 * 12.0 / 44.0, 2);
    let [low, _, high] = Jar {
        dry: None,
        organic: None,
        ..jar
    }
    .rates();
    assert!(low < rate && rate < high);
}

#[test]
fn ash_tells_the_loss() {
    let loss = ash::loss(12.0, 35.0).unwrap();
    says("ash", loss.organic * 100.0, 1);
    says("ash", loss.left * 100.0, 1);
    assert!(ash::loss(35.0, 12.0).is_err());
}

#[test]
fn indices_want_both_groups() {
    use ccqc::Grade;
    let a = Some(ccqc::by_rise(6.0));
    assert_eq!(ccqc::index(20.0, a, None), None);
    assert_eq!(
        ccqc::index(20.0, a, Some(ccqc::by_seedlings(0.85))),
        Some(Grade::Mature)
    );
    assert_eq!(
        ccqc::index(26.0, a, Some(Grade::VeryMature)),
        Some(Grade::Immature)
    );
    assert_eq!(
        ccqc::index(20.0, Some(ccqc::by_breath(9.1)), Some(Grade::VeryMature)),
        Some(Grade::Immature)
    );
    assert_eq!(cured::cured(20.0, Some(3.0), None), Some(false));
    assert_eq!(cured::cured(21.0, None, None), None);
    assert_eq!(cured::cured(30.0, Some(9.0), Some(3.9)), Some(true));
    assert_eq!(cured::cured(30.0, Some(9.0), None), Some(false));
}

/// SciPy 1.17.1; `tests/oracle/maturity.py` makes and compares many more.
#[test]
fn intervals_as_scipy_has_them() {
    let near = |got: f64, scipy: f64| assert!((got - scipy).abs() < 5e-4, "{got}, SciPy {scipy}");
    let share = interval::wilson(17, 20);
    near(share.low, 0.6396);
    near(share.high, 0.9476);
    let exact = interval::exact(17, 20);
    near(exact.low, 0.6211);
    near(exact.high, 0.9679);
}

fn hot(days: usize, places: &[Place], celsius: f64) -> Vec<Reading> {
    (0..=days)
        .flat_map(|day| {
            places.iter().map(move |&place| Reading {
                hour: day as f64 * 24.0,
                celsius,
                place,
            })
        })
        .collect()
}

fn met(rows: &[yardstick::Yardstick], id: &str) -> Met {
    rows.iter().find(|y| y.rule.id == id).unwrap().met
}

#[test]
fn a_core_alone_never_meets_a_yardstick() {
    let turns: Vec<f64> = (1..5).map(|n| f64::from(n) * 96.0).collect();
    let core = record(&hot(22, &[Place::Core], 60.0), &turns, 22.0 * 24.0);
    assert_eq!(met(&core.yardsticks, "efsa-2024"), Met::CoreOnly);
    assert_eq!(
        met(&core.yardsticks, "us-pfrp-windrow"),
        Met::No,
        "four turnings"
    );
    let both = record(
        &hot(22, &[Place::Core, Place::Shell], 60.0),
        &turns,
        22.0 * 24.0,
    );
    assert_eq!(met(&both.yardsticks, "efsa-2024"), Met::Yes);
    assert_eq!(met(&both.yardsticks, "fr-2008"), Met::Yes);
    assert_eq!(met(&both.yardsticks, "eu-142"), Met::No);
    assert_eq!(met(&both.yardsticks, "uk-pas100"), Met::No);
    assert_eq!(both.bands.annuals, Met::Yes);
    assert_eq!(both.bands.docks, Met::Yes);
    assert_eq!(both.bands.disease, Met::No);
}

#[test]
fn what_was_not_read_is_unread_not_unmet() {
    // Two readings in ten days: nine days may have been hot.
    let few = [0.0, 240.0].map(|hour| Reading {
        hour,
        celsius: 60.0,
        place: Place::Core,
    });
    let r = record(&few, &[], 240.0);
    assert_eq!(r.core.plain, 0.0);
    assert_eq!(met(&r.yardsticks, "efsa-2024"), Met::Unread);
    assert_eq!(
        met(&r.yardsticks, "us-pfrp-windrow"),
        Met::No,
        "ten days cannot hold fifteen hot ones"
    );
    assert_eq!(
        met(&record(&few, &[], 480.0).yardsticks, "us-pfrp-windrow"),
        Met::Unread,
        "no turning was noted"
    );
    assert_eq!(r.never_heated, None);
    let none = record(&[], &[], 240.0);
    assert!(none.core_only() && none.core.readings == 0);
    // Ten hours of a batch cannot hold three hot days.
    assert_eq!(
        met(&record(&[], &[], 10.0).yardsticks, "efsa-2024"),
        Met::No
    );
}

#[test]
fn every_yardstick_says_whom_it_binds_and_promises_nothing() {
    for rule in yardstick::RULES {
        assert!(!rule.reach.is_empty() && !rule.source.is_empty() && !rule.heat.is_empty());
        let text = format!(
            "{} {} {} {}",
            rule.name, rule.condition, rule.also, rule.reach
        );
        for word in ["safe", "certified", "free"] {
            assert!(
                !text.to_lowercase().split(' ').any(|w| w == word),
                "{}: {word}",
                rule.id
            );
        }
    }
}
