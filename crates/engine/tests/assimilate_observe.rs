//! The operators against hourly truths, and learning end to end.
#![allow(clippy::unwrap_used, reason = "tests")]

#[path = "../examples/household/mod.rs"]
mod household;

use std::sync::Arc;

use engine::assimilate::observe;
use engine::assimilate::{Card, Kind, NotLearnt, Reading, Seen, Settings, learn, members, thinned};
use engine::ensemble::{Daily, prior, simulate};
use household::{Ask, Household, Kernel};
use rand::SeedableRng as _;
use rand_chacha::ChaCha8Rng;

fn ask(month: u32, days: usize) -> Ask {
    Ask {
        seed: 11,
        days,
        weeks: 4,
        month: Some(month),
        slips: false,
        varied: true,
    }
}

/// The truth's loop is the ensemble's: same daily means, same ready days.
#[test]
fn the_invented_truth_is_the_engines_own() {
    let home = Household::drawn(3, &ask(5, 150));
    let air = home.sky(1, 0);
    let row = prior::row(9, 4);
    let truth = home.truth(&row, &air, Kernel::Own);
    let e = simulate(&home.plan, &members(&home.plan, &[Arc::new(air)], &[row]));
    for day in [3, 20, 60, 140] {
        let end = truth.hours[(day + 1) * 24 - 1].litres;
        let litres = f64::from(e.daily(Daily::Litres, day).next().unwrap());
        assert!((end / litres - 1.0).abs() < 1e-3, "{day}: {end} {litres}");
        let left = f64::from(e.daily(Daily::Recognisable, day).next().unwrap()) / 100.0;
        let end = truth.hours[(day + 1) * 24 - 1].recognisable;
        assert!((left - end).abs() < 1e-4, "{day}: {left} {end}");
    }
    for (ours, theirs) in truth.ready.iter().zip(e.outcomes[0].ready) {
        assert!((ours - theirs).abs() < 0.3 || (ours.is_infinite() && theirs.is_infinite()));
    }
}

/// The hour's probe rebuilt from the day's mean and maximum.
#[test]
fn a_probe_is_rebuilt_to_about_a_kelvin() {
    for month in [1, 4, 7, 10] {
        let home = Household::drawn(u64::from(month), &ask(month, 100));
        let (mut sum, mut count, mut plain) = (0.0, 0.0, 0.0);
        for m in 0..12 {
            let air = home.sky(1, m);
            let row = prior::row(5, m);
            let truth = home.truth(&row, &air, Kernel::Own);
            let e = simulate(&home.plan, &members(&home.plan, &[Arc::new(air)], &[row]));
            for day in 2..98_u32 {
                for hour in [8.0, 12.0, 18.0, 22.0] {
                    let when = f64::from(day) + hour / 24.0;
                    let reading = Reading::new(when, Seen::Core(0.0));
                    let said = observe::numbers(&e, &home.plan, &reading)[0];
                    sum += (said - truth.probe(when)).powi(2);
                    let mean = f64::from(e.daily(Daily::Core, day as usize).next().unwrap());
                    plain += (mean - truth.probe(when)).powi(2);
                    count += 1.0;
                }
            }
        }
        let (rms, plain) = ((sum / count).sqrt(), (plain / count).sqrt());
        println!("month {month}: {rms:.2} K; by the day's mean alone {plain:.2} K");
        assert!(rms < 1.6, "month {month}: {rms} K");
    }
}

/// A normal moved by the matched number has the mean and variance that the class gives it, by a fine sum.
#[test]
fn a_class_moves_members_as_itself() {
    let reading = |card| Reading::new(30.0, Seen::Card(card));
    for (mean, spread) in [(0.95, 0.05), (0.6, 0.2), (0.3, 0.1), (0.45, 0.02)] {
        for card in Card::ALL {
            let r = reading(card);
            let mut sums = [0.0; 3];
            for i in -10_000..15_000 {
                let x = f64::from(i) * 2e-4;
                let z: f64 = (x - mean) / spread;
                let w = (-0.5 * z * z).exp() * observe::log_likelihood(&r, x, false).exp();
                for (sum, power) in sums.iter_mut().zip([1.0, x, x * x]) {
                    *sum += w * power;
                }
            }
            let exact = sums[1] / sums[0];
            let variance = sums[2] / sums[0] - exact * exact;
            let (d, sd) = observe::matched(&r, (mean, spread));
            let gain = spread * spread / (spread * spread + sd * sd);
            let moved = mean + gain * (d - mean);
            assert!(
                (moved - exact).abs() < 0.02 * spread,
                "{card:?} {mean}: {moved} {exact}"
            );
            let left = spread * spread * (1.0 - gain);
            assert!(
                (left / variance - 1.0).abs() < 0.02,
                "{card:?} {mean}: {left} {variance}"
            );
        }
    }
    // What was certain says nothing.
    let (_, sd) = observe::matched(&reading(Card::Most), (3.0, 0.05));
    assert!(sd > 5.0);
}

fn weekly(
    home: &Household,
    number: u64,
    kinds: &[Kind],
    until: f64,
) -> (household::Truth, Vec<Reading>) {
    let truth = home.truth(&prior::row(77, number), &home.sky(50, number), Kernel::Own);
    let mut rng = ChaCha8Rng::seed_from_u64(number);
    let readings = truth.weekly(kinds, until, &mut rng);
    (truth, readings)
}

#[test]
fn readings_pull_the_members_to_the_truth() {
    let kinds = [Kind::Core, Kind::Level, Kind::Squeeze, Kind::Card];
    let rows: Vec<_> = (0..200).map(|m| prior::row(1, m)).collect();
    let (mut before, mut after) = (0.0, 0.0);
    for number in 0..8 {
        let home = Household::drawn(number, &ask(4 + (number % 3) as u32, 200));
        let (truth, readings) = weekly(&home, number, &kinds, 63.0);
        let skies = home.skies(1, 50);
        let learnt = learn(&home.plan, &skies, &rows, &readings, &Settings::default()).unwrap();
        assert_eq!(learnt.passes, 4);
        assert_eq!(learnt.fits.len(), readings.len());
        assert!(learnt.ensemble.outcomes.iter().all(|o| o.sound));
        let plain = simulate(&home.plan, &members(&home.plan, &skies, &rows));
        let miss = |e: &engine::ensemble::Ensemble| {
            let all: Vec<f64> = e.daily(Daily::Recognisable, 62).map(f64::from).collect();
            let came = 100.0 * truth.at(63.0).recognisable;
            engine::assimilate::score::crps(&all, came)
        };
        before += miss(&plain);
        after += miss(&learnt.ensemble);
    }
    println!(
        "CRPS of the card left, %: {:.2} before, {:.2} after",
        before / 8.0,
        after / 8.0
    );
    assert!(after < 0.8 * before, "{before} {after}");
}

#[test]
fn the_same_seed_learns_the_same() {
    let home = Household::drawn(2, &ask(5, 90));
    let rows: Vec<_> = (0..40).map(|m| prior::row(1, m)).collect();
    let (_, readings) = weekly(&home, 2, &Kind::ALL, 35.0);
    let skies = home.skies(1, 10);
    let once = learn(&home.plan, &skies, &rows, &readings, &Settings::default()).unwrap();
    let again = learn(&home.plan, &skies, &rows, &readings, &Settings::default()).unwrap();
    assert_eq!(once, again);
    let other = Settings {
        seed: 2,
        ..Settings::default()
    };
    assert_ne!(
        once.rows,
        learn(&home.plan, &skies, &rows, &readings, &other)
            .unwrap()
            .rows
    );
}

#[test]
fn without_readings_the_prior_stays() {
    let home = Household::drawn(2, &ask(5, 60));
    let rows: Vec<_> = (0..24).map(|m| prior::row(1, m)).collect();
    let skies = home.skies(1, 5);
    let learnt = learn(&home.plan, &skies, &rows, &[], &Settings::default()).unwrap();
    assert_eq!(learnt.rows, rows);
    assert_eq!((learnt.passes, learnt.used), (0, 0));
    assert_eq!(
        learnt.ensemble,
        simulate(&home.plan, &members(&home.plan, &skies, &rows))
    );
}

#[test]
fn what_cannot_be_learnt_from_is_said() {
    let home = Household::drawn(2, &ask(5, 60));
    let rows: Vec<_> = (0..24).map(|m| prior::row(1, m)).collect();
    let skies = home.skies(1, 5);
    let say = |rows: &[prior::Row], reading: Reading| {
        learn(&home.plan, &skies, rows, &[reading], &Settings::default())
            .unwrap_err()
            .to_string()
    };
    let fine = Reading::new(10.0, Seen::Core(30.0));
    assert!(say(&rows[..5], fine).contains("give 20 or more"));
    let hot = say(&rows, Reading::new(10.0, Seen::Core(140.0)));
    assert!(
        hot.contains("day 10.0") && hot.contains("140 °C is outside -40 to 90"),
        "{hot}"
    );
    assert!(say(&rows, Reading::new(80.0, Seen::Core(20.0))).contains("after the end of the run"));
    let none = learn(&home.plan, &[], &rows, &[fine], &Settings::default());
    assert_eq!(none, Err(NotLearnt::NoWeather));
}

#[test]
fn many_points_of_a_probe_become_few() {
    let points: Vec<Reading> = (0..2400)
        .map(|h| Reading::new(f64::from(h) / 24.0, Seen::Core(20.0 + f64::from(h % 24))))
        .chain([Reading::new(50.2, Seen::Squeeze(3))])
        .collect();
    let few = thinned(&points);
    assert!(few.len() <= 121 && few.len() > 90, "{}", few.len());
    assert!(few.iter().any(|r| r.kind() == Kind::Squeeze));
    assert!(few.windows(2).all(|w| w[0].day <= w[1].day));
    // The median of a day of 20, 21 … 43.
    assert!(few.iter().any(|r| r.seen == Seen::Core(31.5)));
    let weekly = &points[..100];
    assert_eq!(thinned(weekly).len(), 100);
}
