//! What holds for every place, every year and every member.

#![allow(
    clippy::unwrap_used,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

use std::f64::consts::PI;

use engine::climate::weather::ObservedDay;
use engine::climate::{Day, Noise, Normals, Observed, Place, Weather, rain::Rain, sun};
use proptest::prelude::*;
use rand::SeedableRng as _;

fn day(y: i32, m: u32, d: u32) -> Day {
    Day::from_ymd(y, m, d).unwrap()
}

fn place() -> impl Strategy<Value = Place> {
    (
        -90.0..=90.0_f64,
        proptest::array::uniform12(-40.0..50.0_f64),
        proptest::option::of(0.0..13_000.0_f64),
        proptest::option::of(0.0..4500.0_f64),
    )
        .prop_map(
            |(latitude, monthly_mean_c, annual_rain_mm, annual_sun_h)| Place {
                latitude,
                monthly_mean_c,
                annual_rain_mm,
                annual_sun_h,
            },
        )
}

proptest! {
    #[test]
    fn month_means_are_kept_in_common_and_leap_years(place in place(), year in 1999..2005) {
        let normals = Normals::new(place.clone()).unwrap();
        let (mut sums, mut counts) = ([0.0; 12], [0.0; 12]);
        let (first, last) = (day(year, 1, 1), day(year, 12, 31));
        for n in 0..=(last - first) {
            let m = (first + n).ymd().1 as usize - 1;
            sums[m] += normals.on(first + n).mean_c;
            counts[m] += 1.0;
        }
        for m in 0..12 {
            prop_assert!((sums[m] / counts[m] - place.monthly_mean_c[m]).abs() < 1e-6);
        }
    }

    #[test]
    fn every_day_is_finite_and_in_order(
        place in place(), seed: u64, member: u64, start in -40_000..40_000,
        seen in proptest::collection::btree_map(0..200, (-30.0..40.0_f64, 0.0..20.0_f64, proptest::option::of(0.0..50.0_f64)), 0..40),
    ) {
        let normals = Normals::new(place.clone()).unwrap();
        let first = Day(start);
        let observed: Observed = seen.iter().map(|(&n, &(low, more, rain_mm))| {
            (first + (n - 20), ObservedDay { min_c: Some(low), max_c: Some(low + more), rain_mm, ..Default::default() })
        }).collect();
        let draw = || Weather::draw(&normals, first, 150, &observed, Noise::default(), (seed, member));
        let weather = draw();
        prop_assert_eq!(&weather, &draw(), "same seed, same series");
        prop_assert_eq!(weather.days().len(), 150);
        for (n, d) in (0..).zip(weather.days()) {
            prop_assert_eq!(d.day, first + n);
            prop_assert!(d.min_c.is_finite() && d.min_c <= d.mean_c + 1e-9 && d.mean_c <= d.max_c + 1e-9, "{:?}", d);
            prop_assert!(d.radiation_mj >= 0.0 && d.radiation_mj <= 0.81 * normals.on(d.day).extraterrestrial_mj + 1e-9);
            prop_assert!((0.0..=24.0).contains(&d.daylight_h));
            prop_assert!(d.rain_mm.is_none_or(|mm| mm.is_finite() && mm >= 0.0));
            prop_assert_eq!(d.observed, seen.contains_key(&(n + 20)));
            if let Some(o) = observed.get(&d.day) {
                prop_assert_eq!((o.min_c, o.max_c), (Some(d.min_c), Some(d.max_c)));
            }
            for h in 0..24 {
                let t = weather.air_c(d.day, f64::from(h)).unwrap();
                prop_assert!(t.is_finite() && (-150.0..160.0).contains(&t));
                prop_assert!(weather.irradiance(d.day, f64::from(h)).unwrap() >= 0.0);
            }
        }
        prop_assert_eq!(weather.get(first + 150), None);
        prop_assert_eq!(weather.get(first + -1), None);
    }

    #[test]
    fn hours_share_out_the_whole_day(latitude in -89.0..89.0_f64, j in 1..366) {
        let (latitude, j) = (latitude.to_radians(), f64::from(j));
        let ws = sun::sunset_angle(latitude, sun::declination(j));
        let sum: f64 = (0..24).map(|h| sun::share_between(latitude, j, f64::from(h), f64::from(h) + 1.0)).sum();
        let ra = sun::extraterrestrial(latitude, j);
        prop_assert!((0.0..=PI).contains(&ws) && ra >= 0.0);
        prop_assert!((sum - 1.0).abs() < 1e-9 || (sum == 0.0 && ra < 1e-6), "{}", sum);
        if ra > 0.01 {
            // The rate and the share are the same curve: midpoint sum over 5 minutes.
            let mj: f64 = (0..288).map(|i| sun::irradiance(latitude, j, 20.0, (f64::from(i) + 0.5) / 12.0) * 300e-6).sum();
            prop_assert!((mj - 20.0).abs() < 0.5, "{}", mj);
        }
    }
}

#[test]
fn polar_day_and_polar_night() {
    let normals = Normals::new(Place {
        latitude: 78.2,
        monthly_mean_c: [
            -12.0, -13.0, -13.0, -9.0, -2.0, 3.0, 7.0, 6.0, 2.0, -4.0, -8.0, -10.0,
        ],
        annual_rain_mm: Some(200.0),
        annual_sun_h: None,
    })
    .unwrap();
    let (dark, light) = (normals.on(day(2024, 12, 21)), normals.on(day(2024, 6, 21)));
    assert_eq!((dark.daylight_h, dark.radiation_mj), (0.0, 0.0));
    assert_eq!(light.daylight_h, 24.0);
    assert!(light.radiation_mj > 15.0 && dark.range_k > 0.0);
}

#[test]
fn the_south_has_its_summer_in_january() {
    let months = [
        19.0, 19.0, 17.5, 15.0, 12.5, 10.0, 9.5, 10.5, 12.0, 14.0, 15.5, 17.5,
    ];
    let at = |latitude| {
        Normals::new(Place {
            latitude,
            monthly_mean_c: months,
            annual_rain_mm: None,
            annual_sun_h: Some(2000.0),
        })
        .unwrap()
    };
    let south = at(-37.0);
    let (january, july) = (south.on(day(2025, 1, 15)), south.on(day(2025, 7, 15)));
    assert!(january.radiation_mj > 2.0 * july.radiation_mj && january.mean_c > july.mean_c);
    assert!(!south.season_contradicts_latitude());
    assert!(
        at(37.0).season_contradicts_latitude(),
        "a lost minus sign shows"
    );
}

#[test]
fn sunshine_of_the_year_is_kept() {
    for (latitude, hours) in [
        (51.5, 1633.0),
        (30.0, 3451.0),
        (-34.0, 2600.0),
        (64.1, 1326.0),
    ] {
        let normals = Normals::new(Place {
            latitude,
            monthly_mean_c: [10.0; 12],
            annual_rain_mm: None,
            annual_sun_h: Some(hours),
        })
        .unwrap();
        // Eq. 35 solved for n: (R_s/R_a − 0.25)/0.50 N.
        let sum: f64 = (0..365)
            .map(|n| {
                let d = normals.on(day(2023, 1, 1) + n);
                (d.radiation_mj / d.extraterrestrial_mj - 0.25) / 0.50 * d.daylight_h
            })
            .sum();
        assert!(
            (sum / (hours * 365.0 / 365.25) - 1.0).abs() < 1e-6,
            "{latitude}: {sum}"
        );
    }
}

#[test]
fn a_place_that_cannot_be_is_named() {
    let good = Place {
        latitude: 51.5,
        monthly_mean_c: [10.0; 12],
        annual_rain_mm: Some(600.0),
        annual_sun_h: None,
    };
    for (place, says) in [
        (
            Place {
                latitude: 151.5,
                ..good.clone()
            },
            "latitude: 151.5 ° is outside -90 to 90 °",
        ),
        (
            Place {
                annual_rain_mm: Some(-1.0),
                ..good.clone()
            },
            "rain of a year: -1 mm is outside 0 to 13000 mm",
        ),
        (
            Place {
                annual_sun_h: Some(f64::NAN),
                ..good.clone()
            },
            "sunshine of a year: not a number; give 0 to 4500 h",
        ),
        (
            Place {
                monthly_mean_c: [
                    10.0, 10.0, 70.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0,
                ],
                ..good.clone()
            },
            "month 3: mean temperature of a month: 70 °C is outside -60 to 50 °C",
        ),
    ] {
        assert_eq!(Normals::new(place).unwrap_err().to_string(), says);
    }
}

#[test]
fn equal_days_keep_their_mean_through_the_hours() {
    let normals = Normals::new(Place {
        latitude: 48.0,
        monthly_mean_c: [11.0; 12],
        annual_rain_mm: None,
        annual_sun_h: Some(1800.0),
    })
    .unwrap();
    let quiet = Noise {
        sigma_k: 0.0,
        phi: 0.75,
    };
    let weather = Weather::draw(
        &normals,
        day(2025, 3, 10),
        5,
        &Observed::new(),
        quiet,
        (1, 1),
    );
    let middle = day(2025, 3, 12);
    let mean = (0..240)
        .map(|i| weather.air_c(middle, f64::from(i) / 10.0 + 0.05).unwrap())
        .sum::<f64>()
        / 240.0;
    assert!((mean - 11.0).abs() < 0.05, "{mean}");
    let d = weather.get(middle).unwrap();
    assert!((weather.air_c(middle, 14.0).unwrap() - d.max_c).abs() < 1e-9);
}

#[test]
fn a_later_reading_leaves_the_days_before_it_alone_after_the_last_known() {
    let normals = Normals::new(Place {
        latitude: 48.0,
        monthly_mean_c: [11.0; 12],
        annual_rain_mm: Some(700.0),
        annual_sun_h: None,
    })
    .unwrap();
    let first = day(2025, 5, 1);
    let mut observed: Observed = (0..10)
        .map(|n| {
            (
                first + n,
                ObservedDay {
                    mean_c: Some(18.0),
                    ..Default::default()
                },
            )
        })
        .collect();
    let draw = |o: &Observed| Weather::draw(&normals, first, 60, o, Noise::default(), (7, 3));
    let before = draw(&observed);
    // The next day comes true exactly as this member had it: its future stays as it was.
    let next = before.get(first + 10).unwrap().mean_c;
    observed.insert(
        first + 10,
        ObservedDay {
            mean_c: Some(next),
            ..Default::default()
        },
    );
    let after = draw(&observed);
    for n in 0..60 {
        let (a, b) = (
            before.get(first + n).unwrap(),
            after.get(first + n).unwrap(),
        );
        assert!((a.mean_c - b.mean_c).abs() < 1e-9, "day {n}");
    }
    // Noise starts from the last departure: 7 K too warm, then dying away.
    let mean = |n: i32| {
        (0..400)
            .map(|m| {
                Weather::draw(&normals, first, 60, &observed, Noise::default(), (1, m))
                    .get(first + n)
                    .unwrap()
                    .mean_c
            })
            .sum::<f64>()
            / 400.0
    };
    let start = next - 11.0;
    assert!((mean(11) - 11.0 - 0.75 * start).abs() < 0.4, "{}", mean(11));
    assert!((mean(40) - 11.0).abs() < 0.5);
}

#[test]
fn rain_adds_up_to_the_year_in_the_middle_of_many_members() {
    for annual in [60.0, 600.0, 1200.0, 2500.0] {
        let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(5);
        let rain = Rain::typical(annual);
        let (mut total, mut wet_days, mut wet) = (0.0, 0, None);
        let years = 400;
        for _ in 0..years * 365 {
            let is_wet = rain.is_wet(wet, rng.random());
            wet = Some(is_wet);
            if is_wet {
                wet_days += 1;
                total += rain.amount(&mut rng);
            }
        }
        let per_year = total / f64::from(years);
        assert!(
            (per_year / annual - 1.0).abs() < 0.05,
            "{annual}: {per_year}"
        );
        let share = f64::from(wet_days) / f64::from(years * 365);
        assert!((share - rain.wet_share()).abs() < 0.01, "{share}");
    }
    assert_eq!(Rain::typical(0.0).wet_share(), 0.0);
}
