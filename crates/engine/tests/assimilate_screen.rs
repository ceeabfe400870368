//! Readings that cannot be, each with its reason.
#![allow(clippy::unwrap_used, reason = "tests")]

use engine::assimilate::screen::{Point, Reason, screen, sensor};
use engine::assimilate::{Card, Reading, Seen, Warmth};

fn core(day: f64, celsius: f64) -> Reading {
    Reading::new(day, Seen::Core(celsius))
}

/// Why the only reading set aside was.
fn reason(readings: &[Reading]) -> Reason {
    let out = screen(readings, 1.0, 50.0);
    assert_eq!(out.kept.len() + out.aside.len(), readings.len());
    assert_eq!(out.aside.len(), 1, "{out:?}");
    out.aside[0].reason
}

#[test]
fn each_impossible_reading_has_its_reason() {
    assert_eq!(reason(&[core(5.0, 85.0)]), Reason::PoweredUp);
    assert_eq!(reason(&[core(5.0, -127.0)]), Reason::Disconnected);
    assert_eq!(reason(&[core(5.0, 90.5)]), Reason::OutOfRange);
    assert_eq!(reason(&[core(5.0, -41.0)]), Reason::OutOfRange);
    assert_eq!(reason(&[core(5.0, f64::NAN)]), Reason::OutOfRange);
    assert_eq!(reason(&[core(0.5, 20.0)]), Reason::BeforeFirstFeed);
    assert_eq!(reason(&[core(50.1, 20.0)]), Reason::Future);
    assert_eq!(
        reason(&[Reading::new(4.0, Seen::Squeeze(6))]),
        Reason::OutOfRange
    );
    assert_eq!(
        reason(&[Reading::new(4.0, Seen::Litres(-3.0))]),
        Reason::OutOfRange
    );
}

#[test]
fn what_can_be_is_kept_in_order() {
    let fine = [
        core(9.0, 85.1),
        core(5.0, 84.9),
        Reading::new(7.0, Seen::Card(Card::Few)),
        core(50.0, 60.0),
    ];
    let out = screen(&fine, 1.0, 50.0);
    assert!(out.aside.is_empty());
    assert!(out.kept.windows(2).all(|w| w[0].day <= w[1].day));
}

#[test]
fn hot_and_frozen_on_one_day_are_both_set_aside() {
    let hot = Reading::new(5.2, Seen::Warmth(Warmth::Hot));
    let out = screen(&[hot, core(5.9, 0.0), core(6.1, 0.0)], 1.0, 50.0);
    assert_eq!(out.kept, [core(6.1, 0.0)]);
    assert!(out.aside.iter().all(|a| a.reason == Reason::Contradicts));
    assert_eq!(out.aside.len(), 2);
}

#[test]
fn two_noted_cores_minutes_apart_must_agree() {
    let out = screen(
        &[core(5.0, 20.0), core(5.003, 40.0), core(5.2, 40.0)],
        1.0,
        50.0,
    );
    assert_eq!(out.kept, [core(5.2, 40.0)]);
    assert!(out.aside.iter().all(|a| a.reason == Reason::Jump));
}

/// A point every `minutes` from day `from` on.
fn points(from: f64, count: usize, minutes: f64, celsius: impl Fn(usize) -> f64) -> Vec<Point> {
    (0..count)
        .map(|i| Point {
            day: from + i as f64 * minutes / 1440.0,
            celsius: celsius(i),
        })
        .collect()
}

fn air(days: usize) -> Vec<f64> {
    (0..days * 24)
        .map(|h| 12.0 + 5.0 * (h as f64 / 24.0 * std::f64::consts::TAU).cos())
        .collect()
}

fn wave(i: usize) -> f64 {
    40.0 + (i as f64 / 100.0).sin()
}

#[test]
fn a_calm_probe_leaves_medians_of_hours() {
    let out = sensor(&points(2.0, 288, 5.0, wave), &air(10), 1.0, 9.0);
    assert!(out.aside.is_empty(), "{:?}", out.aside);
    assert_eq!(out.hours.len(), 24);
    assert!((out.hours[0].day - (2.0 + 0.5 / 24.0)).abs() < 1e-9);
    // The middle of points 0 to 11.
    assert!((out.hours[0].celsius - 0.5 * (wave(5) + wave(6))).abs() < 1e-9);
}

#[test]
fn spikes_are_set_aside_and_the_rest_is_kept() {
    let mut all = points(2.0, 288, 5.0, wave);
    all[20].celsius = 85.0;
    all[40].celsius = -127.0;
    all[60].celsius = 70.0;
    all[61].celsius = 71.0;
    all[80].celsius = 3000.0;
    let out = sensor(&all, &air(10), 1.0, 9.0);
    let reasons: Vec<(Reason, usize)> = out.aside.iter().map(|a| (a.reason, a.count)).collect();
    assert_eq!(
        reasons,
        [
            (Reason::PoweredUp, 1),
            (Reason::Disconnected, 1),
            (Reason::Jump, 2),
            (Reason::OutOfRange, 1)
        ]
    );
    assert_eq!(out.hours.len(), 24);
    assert!(out.hours.iter().all(|h| (h.celsius - 40.0).abs() < 1.1));
}

#[test]
fn a_real_change_is_believed_after_an_hour() {
    // The drum is emptied: 40 °C, then 15 °C for good.
    let all = points(2.0, 288, 5.0, |i| {
        if i < 100 { wave(i) } else { wave(i) - 25.0 }
    });
    let out = sensor(&all, &air(10), 1.0, 9.0);
    assert_eq!(out.aside.len(), 1);
    assert!(out.aside[0].count <= 12 && out.aside[0].reason == Reason::Jump);
    assert!(out.hours.last().unwrap().celsius < 17.0);
}

#[test]
fn half_an_hour_apart_a_drum_may_have_been_emptied() {
    let all = points(2.0, 48, 30.0, |i| {
        if i < 20 {
            wave(i)
        } else {
            15.0 + 0.1 * i as f64
        }
    });
    assert!(sensor(&all, &air(10), 1.0, 9.0).aside.is_empty());
}

#[test]
fn a_flat_line_is_seen_only_while_the_air_moves() {
    let stuck = points(2.0, 288, 5.0, |_| 21.37);
    let out = sensor(&stuck, &air(10), 1.0, 9.0);
    assert_eq!((out.aside.len(), out.aside[0].count), (1, 288));
    assert_eq!(out.aside[0].reason, Reason::FlatLine);
    assert!(out.hours.is_empty());
    assert!(sensor(&stuck, &[12.0; 240], 1.0, 9.0).aside.is_empty());
    assert!(sensor(&stuck, &[], 1.0, 9.0).aside.is_empty());
    // Six hours alike are no flat line.
    assert!(sensor(&stuck[..72], &air(10), 1.0, 9.0).aside.is_empty());
}

#[test]
fn a_clock_that_goes_back_is_named() {
    let mut all = points(2.0, 100, 5.0, wave);
    // Back by a day for ten points, then right again.
    for p in &mut all[50..60] {
        p.day -= 1.0;
    }
    all.extend(points(0.2, 3, 5.0, |_| 30.0).iter().map(|p| Point {
        day: p.day + 9.0,
        ..*p
    }));
    let out = sensor(&all, &air(10), 1.0, 9.0);
    let reasons: Vec<(Reason, usize)> = out.aside.iter().map(|a| (a.reason, a.count)).collect();
    assert_eq!(reasons, [(Reason::ClockWentBack, 10), (Reason::Future, 3)]);
    let early = sensor(&points(0.1, 5, 5.0, wave), &air(10), 1.0, 9.0);
    assert_eq!(early.aside[0].reason, Reason::BeforeFirstFeed);
}

/// Ten thousand points a day for a month, within the time a page may take.
#[test]
fn a_busy_probe_is_cheap() {
    let all = points(2.0, 300_000, 0.144, |i| wave(i / 30));
    let start = std::time::Instant::now();
    let out = sensor(&all, &air(40), 1.0, 39.0);
    let took = start.elapsed();
    println!("300,000 points: {} ms", took.as_millis());
    assert_eq!(out.hours.len(), 720);
    assert!(took.as_millis() < 500);
}
