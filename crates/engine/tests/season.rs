//! What holds for every year of two chambers.
#![allow(clippy::unwrap_used, reason = "tests")]

use std::sync::Arc;

use engine::climate::Day;
use engine::season::course::AGES;
use engine::season::plan::OVERFLOW;
use engine::season::{
    Chambers, Course, Inflow, Lot, Problem, STRATA, Table, Typical, WEEKS, Weekly, as_now, follow,
    plan,
};
use proptest::prelude::*;

/// A table whose pace follows a cosine over the year: `swing` 0 is a year without winter.
fn table(pace: f64, swing: f64, coldest: usize) -> Table {
    let months = (0..12)
        .map(|m| {
            let speed = |week: usize| {
                let month = m as f64 + week as f64 / 4.35 - coldest as f64;
                pace * (1.0 - swing * (std::f64::consts::TAU * month / 12.0).cos())
            };
            let one = |s: usize| {
                let own = 0.7 + 0.6 * s as f64 / STRATA as f64;
                let mut share = 1.0;
                std::array::from_fn(|age| {
                    if age > 0 {
                        share = 0.25 + (share - 0.25) * (-speed(age) / own).exp();
                    }
                    share
                })
            };
            let left: Vec<[f64; AGES]> = (0..STRATA).map(one).collect();
            let below = |limit: f64| {
                std::array::from_fn(|s| {
                    let at = left[s].iter().position(|l| *l < limit);
                    at.map_or(f64::INFINITY, |w| w as f64)
                })
            };
            let (mulch, bed) = (below(0.7), below(0.45));
            Typical { left, mulch, bed }
        })
        .collect();
    Table { months }
}

fn problem(table: &Table, start: Day, room: f64, litres: f64, first: Lot, other: Lot) -> Problem {
    let weekly = Weekly {
        litres: vec![litres; WEEKS],
        spread: 0.3,
        known: 0,
    };
    let chambers = Chambers {
        room: vec![room, room],
        filling: true,
        rests: None,
    };
    let lots = |_| (first.clone(), other.clone());
    Problem::draw(table, start, chambers, &weekly, lots, 60, 7)
}

fn spilt(courses: &[Course]) -> f64 {
    let all: f64 = courses.iter().flat_map(|c| &c.overflow).sum();
    all / courses.len() as f64
}

fn september() -> Day {
    Day::from_ymd(2026, 9, 18).unwrap()
}

fn lot(litres: f64, mulch: f64, bed: f64) -> Lot {
    Lot {
        litres: (0..WEEKS)
            .map(|t| litres * (0.4 + 0.6 * (-(t as f64) / 12.0).exp()))
            .collect(),
        mulch,
        bed,
        closed: 0.0,
    }
}

#[test]
fn nothing_in_is_nothing_over() {
    let p = problem(
        &table(0.1, 0.7, 0),
        september(),
        100.0,
        0.0,
        lot(60.0, 3.0, 9.0),
        lot(50.0, 1.0, 4.0),
    );
    assert_eq!(spilt(&as_now(&p)), 0.0);
    let found = plan(&p);
    assert_eq!((found.value, found.changes.len()), (0.0, 0));
}

#[test]
fn both_full_today_overflows_until_one_may_be_emptied() {
    let full = Lot {
        litres: vec![100.0; WEEKS],
        mulch: f64::INFINITY,
        bed: f64::INFINITY,
        closed: 0.0,
    };
    let until = Lot {
        mulch: 6.0,
        bed: 10.0,
        ..full.clone()
    };
    let p = problem(&table(0.1, 0.7, 0), september(), 100.0, 10.0, full, until);
    let now = as_now(&p);
    for (course, year) in now.iter().zip(&p.years) {
        let lost: f64 = course.overflow[..10].iter().sum();
        let came: f64 = year.inflow[..10].iter().sum();
        assert!((lost - came).abs() < 1e-9, "no room before week 10");
        assert_eq!(course.changes.first(), Some(&10));
    }
    let found = plan(&p);
    assert_eq!(
        found.changes.first(),
        Some(&6),
        "as mulch, rather than on the ground"
    );
    assert_eq!(found.early.first(), Some(&4.0));
}

#[test]
fn closed_chambers_both_are_a_year_too() {
    let t = table(0.1, 0.7, 0);
    let mut p = problem(
        &t,
        september(),
        100.0,
        8.0,
        lot(80.0, 8.0, 12.0),
        lot(80.0, 2.0, 5.0),
    );
    p.chambers.filling = false;
    let found = plan(&p);
    assert_eq!(found.changes.first(), Some(&2));
    let courses = follow(&p, &found.changes);
    assert!((spilt(&courses) - found.overflow).abs() < 1e-9);
}

#[test]
fn winter_is_what_fills_them() {
    let lots = || (lot(40.0, 4.0, 10.0), lot(60.0, 0.0, 3.0));
    let over = |swing| {
        let (first, other) = lots();
        let p = problem(
            &table(0.06, swing, 0),
            september(),
            100.0,
            11.0,
            first,
            other,
        );
        spilt(&as_now(&p))
    };
    assert!(over(0.0) < over(0.9), "a year without frost keeps pace");
}

#[test]
fn the_south_has_its_winter_half_a_year_later() {
    let p = |coldest, month| {
        let start = Day::from_ymd(2026, month, 1).unwrap();
        let t = table(0.06, 0.9, coldest);
        spilt(&as_now(&problem(
            &t,
            start,
            100.0,
            11.0,
            lot(40.0, 4.0, 10.0),
            lot(60.0, 0.0, 3.0),
        )))
    };
    assert!(
        (p(0, 9) - p(6, 3)).abs() < 0.12 * p(0, 9).max(10.0),
        "{} {}",
        p(0, 9),
        p(6, 3)
    );
    let north: Vec<u32> = (1..=12).collect();
    let ask = |south| {
        Inflow {
            usual: 10.0,
            south,
            ..Inflow::default()
        }
        .ahead(&north)
        .litres
    };
    assert_eq!(ask(false)[9], ask(true)[3]);
}

#[test]
fn a_household_empties_after_its_usual_rest() {
    let never = Lot {
        bed: f64::INFINITY,
        ..lot(60.0, 0.0, 0.0)
    };
    let mut p = problem(
        &table(0.02, 0.0, 0),
        september(),
        100.0,
        30.0,
        lot(90.0, 3.0, 9.0),
        never,
    );
    assert!(as_now(&p).iter().all(|c| c.changes.first() != Some(&8)));
    p.chambers.rests = Some(8.0);
    assert!(as_now(&p).iter().all(|c| c.changes.first() == Some(&8)));
}

#[test]
fn one_chamber_has_no_change() {
    let mut p = problem(
        &table(0.1, 0.5, 0),
        september(),
        100.0,
        12.0,
        lot(60.0, 3.0, 9.0),
        lot(0.0, 0.0, 0.0),
    );
    p.chambers.room = vec![100.0];
    assert!(plan(&p).changes.is_empty());
    assert!((plan(&p).overflow - spilt(&as_now(&p))).abs() < 1e-9);
}

#[test]
fn a_date_is_met_by_closing_early_enough() {
    let t = table(0.1, 0.5, 0);
    let by = Day::from_ymd(2027, 4, 15).unwrap();
    let close = t.close_by(september(), by).unwrap();
    let slow = STRATA * 4 / 5 - 1;
    assert!(t.to_bed(close, slow) * 7.0 <= f64::from(by - close));
    assert!(t.to_bed(close + 8, slow) * 7.0 > f64::from(by - close) - 8.0);
    assert_eq!(t.close_by(september(), september() + 3), None);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// No level below nought; what goes in is in a chamber or on the ground; no chamber above its mark.
    #[test]
    fn nothing_is_lost(
        pace in 0.02..0.3_f64, swing in 0.0..0.95_f64, litres in 0.0..30.0_f64, room in 50.0..150.0_f64,
        first in 0.0..140.0_f64, other in 0.0..120.0_f64, mulch in -5.0..20.0_f64, wait in 0.0..20.0_f64,
    ) {
        let t = table(pace, swing, 0);
        let p = problem(&t, september(), room, litres, lot(first, 3.0, 9.0), lot(other, mulch, mulch + wait));
        let found = plan(&p);
        for courses in [as_now(&p), follow(&p, &found.changes)] {
            for (course, year) in courses.iter().zip(&p.years) {
                for t in 0..WEEKS {
                    for k in 0..2 {
                        prop_assert!(course.level[k][t] >= 0.0);
                    }
                    let over = course.overflow[t];
                    prop_assert!(over >= 0.0 && over <= year.inflow[t] + 1e-9);
                    if let Some(k) = course.fills[t] && over < year.inflow[t] {
                        prop_assert!(course.level[k][t] <= room + 1e-6);
                    }
                }
            }
        }
        // The table's own account of a plan is what following it gives.
        prop_assert!((spilt(&follow(&p, &found.changes)) - found.overflow).abs() < 1e-6);
    }

    /// Less inflow never means more on the ground, for weeks that stand and for the best weeks.
    #[test]
    fn less_in_is_never_more_over(
        pace in 0.02..0.3_f64, litres in 1.0..25.0_f64, less in 0.1..1.0_f64, first in 0.0..120.0_f64,
        changes in proptest::collection::btree_set(0..WEEKS, 0..5),
    ) {
        let t = table(pace, 0.8, 0);
        let p = problem(&t, september(), 100.0, litres, lot(first, 3.0, 9.0), lot(60.0, 1.0, 5.0));
        let fewer = p.with_inflow(less);
        let weeks: Vec<usize> = changes.into_iter().collect();
        prop_assert!(spilt(&follow(&fewer, &weeks)) <= spilt(&follow(&p, &weeks)) + 1e-9);
        prop_assert!(plan(&fewer).value <= plan(&p).value + 1e-6);
    }

    /// No other weeks are better than the plan's.
    #[test]
    fn no_weeks_beat_the_plan(
        litres in 5.0..25.0_f64,
        changes in proptest::collection::btree_set(0..WEEKS, 0..5),
    ) {
        let t = table(0.08, 0.8, 0);
        let p = problem(&t, september(), 100.0, litres, lot(50.0, 3.0, 9.0), lot(60.0, -1.0, 2.0));
        let weeks: Vec<usize> = changes.into_iter().collect();
        let e = p.emptying();
        let mut row = 0;
        let mut cost = OVERFLOW * spilt(&follow(&p, &weeks));
        for w in &weeks {
            prop_assume!(e.allowed[row][*w]);
            cost += engine::season::plan::EARLY * e.early[row][*w] + engine::season::plan::CHANGE;
            row = 1 + w;
        }
        prop_assert!(plan(&p).value <= cost + 1e-6);
    }
}

/// The made table is shared by all members of a stratum.
#[test]
fn members_of_a_stratum_share_its_table() {
    let p = problem(
        &table(0.1, 0.5, 0),
        september(),
        100.0,
        12.0,
        lot(60.0, 3.0, 9.0),
        lot(0.0, 0.0, 0.0),
    );
    let mut kinds: Vec<*const Vec<Vec<f64>>> =
        p.years.iter().map(|y| Arc::as_ptr(&y.left)).collect();
    kinds.sort();
    kinds.dedup();
    assert_eq!(kinds.len(), STRATA);
    for year in &p.years {
        for t in 0..WEEKS {
            for put_in in 1..=t {
                assert!(year.left[put_in - 1][t] <= year.left[put_in][t] + 1e-12);
            }
        }
    }
}
