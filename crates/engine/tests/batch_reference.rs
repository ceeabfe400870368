//! The fast mode against the reference mode, and the reference mode against itself.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking"
)]

mod batch_support;

use batch_support::{Fast, Hours, Tight, apart, member, normals, plan, six_weeks, weather};
use engine::batch::air::STEPS;
use engine::batch::vessel::Vessel;
use engine::ensemble::{Daily, simulate};
use rayon::prelude::*;

/// Largest difference of the core at any hour, K.
const CORE: f64 = 0.1;
/// Largest difference of the day of a rung, d.
const RUNG: f64 = 0.25;

fn members_agree(start: (u32, u32), count: u64, days: usize) {
    let vessel = Vessel::default();
    let plan = plan(vessel, six_weeks(days), days, start);
    (0..count).into_par_iter().for_each(|m| {
        let air = weather(&normals(11.0, 8.0), start, days, m);
        let member = member(&vessel, air, m);
        let hours = Hours::new(&plan, &member);
        let fast = hours.run(&mut Fast::default());
        let tight = hours.run(&mut Tight::at(1e-6));
        let found = apart(&hours, &fast, &tight);
        assert!(
            found.core <= CORE,
            "member {m}: {} K at hour {}",
            found.core,
            found.hour
        );
        assert!(
            found.rung <= RUNG,
            "member {m}: rung off by {} d",
            found.rung
        );
    });
}

#[test]
fn sixty_four_members_from_may() {
    members_agree((5, 1), 64, 180);
}

#[test]
fn sixty_four_members_from_september() {
    members_agree((9, 15), 64, 180);
}

// In frost, with little in the drum: edges of freezing are passed in hours of several steps, and batches take off.
#[test]
fn sixty_four_members_from_january() {
    members_agree((1, 10), 64, 180);
}

/// The hours of these tests are the hours of the ensemble. The library's exp and ln and the ensemble's series part
/// by 10⁻¹¹, which a batch makes larger as it heats; an hour or a deed out of place would show in hundredths.
#[test]
fn the_hours_here_are_those_of_the_ensemble() {
    let vessel = Vessel::default();
    let (start, days) = ((9, 15), 120);
    let plan = plan(vessel, six_weeks(days), days, start);
    let air = weather(&normals(5.0, 8.0), start, days, 7);
    let member = member(&vessel, air, 7);
    let states = Hours::new(&plan, &member).run(&mut Fast::default());
    let ensemble = simulate(&plan, std::slice::from_ref(&member));
    for day in 0..days {
        let sum = states[day * STEPS + 1..=(day + 1) * STEPS]
            .iter()
            .fold(0.0, |sum, s| sum + s.core);
        let kept = ensemble.daily(Daily::Core, day).next().unwrap();
        let mean = sum * (1.0 / STEPS as f64);
        assert!(
            (mean - f64::from(kept)).abs() < 1e-4,
            "{mean} here, {kept} there on day {day}"
        );
    }
    let rungs = Hours::new(&plan, &member).rungs(&states);
    for (a, b) in rungs.iter().zip(ensemble.outcomes[0].ready) {
        assert!(*a == b || (a - b).abs() < 1e-4, "{a} here, {b} there");
    }
}

#[test]
fn the_reference_settles_as_its_tolerance_falls() {
    let vessel = Vessel::default();
    let (start, days) = ((9, 15), 30);
    let plan = plan(vessel, six_weeks(days), days, start);
    let air = weather(&normals(11.0, 8.0), start, days, 35);
    let member = member(&vessel, air, 35);
    let hours = Hours::new(&plan, &member);
    let best = hours.run(&mut Tight::at(1e-11));
    let off = |tolerance: f64| apart(&hours, &hours.run(&mut Tight::at(tolerance)), &best).core;
    let (loose, tight) = (off(1e-5), off(1e-8));
    assert!(tight < 1e-4, "{tight} K at 1e-8");
    assert!(tight < loose / 10.0, "{loose} K at 1e-5, {tight} K at 1e-8");
}
