//! What holds for every mix and every dose.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

use catalogue::Catalogue;
use engine::blend::{Mixture, PACKING, Point, Portion};
use engine::dose::{Candidate, Limit, Outcome, Problem, Windows, solve};
use proptest::prelude::*;
use std::sync::LazyLock;
use units::Spread;

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(|| Catalogue::load().unwrap());
/// Common feeds and browns.
const FEEDS: [&str; 5] = [
    "mixed-kitchen-scraps",
    "potato-peel",
    "coffee-grounds",
    "grass-fresh",
    "banana-peel",
];
const BROWNS: [&str; 4] = [
    "cardboard-corrugated",
    "leaves-dry-mixed",
    "newspaper",
    "wood-shavings",
];

fn portion(id: &str, kg: f64) -> Portion<'static> {
    Portion {
        material: CATALOGUE.get(id).unwrap(),
        kg: Spread::new(kg * 0.8, kg, kg * 1.25),
    }
}

fn candidate(id: &str, stock_kg: Option<f64>) -> Candidate {
    let per_kg = Point::from(&CATALOGUE.get(id).unwrap().composition()).parts(1.0);
    Candidate {
        per_kg,
        stock_kg,
        handful_kg: (per_kg.litres > 2.0).then(|| 0.35 / per_kg.litres),
    }
}

fn problem(feed: &str, kg: f64, browns: &[(&str, Option<f64>)]) -> Problem {
    Problem {
        base: Mixture::of(&[portion(feed, kg)], 1).middle(),
        candidates: browns
            .iter()
            .map(|&(id, stock)| candidate(id, stock))
            .collect(),
        windows: Windows::default(),
        packing: PACKING.1,
        limits: Limit::ALL.to_vec(),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn mixing_is_free_of_order(a in 0..5usize, b in 0..4usize, x in 0.1..5.0f64, y in 0.1..5.0f64, z in 0.1..5.0f64) {
        let all = [portion(FEEDS[a], x), portion(BROWNS[b], y), portion(FEEDS[(a + 1) % 5], z)];
        let there = Mixture::of(&all, 7);
        let back = Mixture::of(&[all[2], all[0], all[1]], 7);
        let close = |p: Option<Spread>, q: Option<Spread>| {
            let (p, q) = (p.unwrap(), q.unwrap());
            (p.mid - q.mid).abs() <= 1e-9 * p.mid.abs() && (p.low - q.low).abs() <= 1e-9 * p.mid.abs()
        };
        prop_assert!(close(there.water(), back.water()));
        prop_assert!(close(there.carbon_nitrogen(), back.carbon_nitrogen()));
        prop_assert!(close(there.air_space(), back.air_space()));
        // Associative: the parts of the whole are the parts of its parts.
        let parts = Mixture::of(&all[..2], 7).middle() + Mixture::of(&all[2..], 7).middle();
        prop_assert!((parts.water - there.middle().water).abs() < 1e-12);
    }

    #[test]
    fn a_wetter_thing_raises_water_and_scale_changes_no_ratio(x in 0.1..5.0f64, y in 0.1..5.0f64, k in 0.01..100.0f64) {
        let brown = portion("cardboard-corrugated", x);
        let wet = portion("mixed-kitchen-scraps", y);
        let dry = Mixture::of(&[brown], 3).water().unwrap().mid;
        let both = Mixture::of(&[brown, wet], 3);
        prop_assert!(both.water().unwrap().mid > dry);
        let scaled = Mixture::of(&[portion("cardboard-corrugated", x * k), portion("mixed-kitchen-scraps", y * k)], 3);
        for (a, b) in [(both.water(), scaled.water()), (both.carbon_nitrogen(), scaled.carbon_nitrogen()), (both.air_space(), scaled.air_space())] {
            prop_assert!((a.unwrap().mid / b.unwrap().mid - 1.0).abs() < 1e-9);
        }
    }

    #[test]
    fn a_dose_never_leaves_its_stock(feed in 0..5usize, kg in 0.3..8.0f64, s1 in 0.0..2.0f64, s2 in 0.0..2.0f64) {
        let p = problem(FEEDS[feed], kg, &[("cardboard-corrugated", Some(s1)), ("leaves-dry-mixed", Some(s2)), ("water-plain", None)]);
        let answer = solve(&p);
        for q in std::iter::once(&answer.kg).chain([&answer.exact]) {
            prop_assert!(q[0] >= 0.0 && q[0] <= s1 + 1e-6 && q[1] >= 0.0 && q[1] <= s2 + 1e-6, "{:?}", q);
        }
    }

    #[test]
    fn a_quarter_more_or_less_keeps_outcome_and_materials(feed in 0..5usize, kg in 1.5..4.0f64) {
        let browns = [("cardboard-corrugated", None), ("leaves-dry-mixed", None), ("water-plain", None)];
        let of = |k: f64| solve(&problem(FEEDS[feed], kg * k, &browns));
        let (less, mid, more) = (of(0.75), of(1.0), of(1.25));
        for other in [&less, &more] {
            prop_assert_eq!(other.outcome, mid.outcome);
            for ((a, b), c) in other.exact.iter().zip(&mid.exact).zip(&p_handfuls()) {
                prop_assert_eq!(*a > 1e-6, *b > 1e-6);
                prop_assert!((a - b).abs() <= 0.4 * b + c, "{a} against {b}");
            }
        }
    }
}

/// Slack of one handful, kg, in the order of the test above.
fn p_handfuls() -> [f64; 3] {
    [0.02, 0.08, 0.0]
}

#[test]
fn one_to_two_volumes_of_card_land_inside() {
    // Common practice: one to two volumes of torn card to one of ordinary scraps. Ordinary scraps of a
    // cooking household hold about 75 % water (peelings, coffee, bread); the table's mixed raw scraps, at
    // 85 %, need the upper end. Inside means within the outer limits.
    let scraps = portion("mixed-kitchen-scraps", 4.55);
    let card = CATALOGUE
        .get("cardboard-corrugated")
        .unwrap()
        .composition()
        .density
        .unwrap()
        .mid;
    let windows = Windows::default();
    let two = Mixture::of(
        &[
            scraps,
            portion("cardboard-corrugated", 20.0 * card / 1000.0),
        ],
        1,
    );
    assert!(two.carbon_nitrogen().unwrap().mid > windows.carbon_nitrogen.least);
    assert!(two.carbon_nitrogen().unwrap().mid < windows.carbon_nitrogen.most);
    assert!(two.air_space().unwrap().mid > windows.air.low);
    assert!(two.water().unwrap().low < windows.water.most + 0.05);
}

#[test]
fn wet_asks_for_paper_and_dry_and_brown_for_greens() {
    // Common practice: wet and mushy asks for paper; dry and unchanged asks for greens and water.
    let wet = solve(&problem(
        "mixed-kitchen-scraps",
        2.0,
        &[
            ("newspaper", None),
            ("grass-fresh", None),
            ("water-plain", None),
        ],
    ));
    assert!(
        wet.kg[0] > 0.0 && wet.kg[1] == 0.0 && wet.kg[2] == 0.0,
        "{wet:?}"
    );
    let dry = solve(&problem(
        "leaves-dry-mixed",
        2.0,
        &[
            ("newspaper", None),
            ("grass-fresh", None),
            ("water-plain", None),
        ],
    ));
    assert!(dry.kg[0] == 0.0 && dry.kg[1] > 0.0, "{dry:?}");
    assert_ne!(dry.outcome, Outcome::Cannot, "{dry:?}");
}

#[test]
fn no_brown_no_answer() {
    let none = solve(&problem(
        "mixed-kitchen-scraps",
        2.0,
        &[("water-plain", None)],
    ));
    assert_eq!(none.outcome, Outcome::Cannot);
    assert_eq!(none.cause, Some(engine::dose::Cause::TooWet));
    let little = solve(&problem(
        "mixed-kitchen-scraps",
        20.0,
        &[("cardboard-corrugated", Some(0.2))],
    ));
    assert_eq!(little.cause, Some(engine::dose::Cause::StockTooSmall));
}
