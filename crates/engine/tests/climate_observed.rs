//! Synthetic days against measured ones. Numbers printed here stand in docs/climate.md.
//!
//! Seattle and New York 2012 to 2015, daily (NOAA, US Government work); Greensboro TMY3 and the sun above the
//! air from pvlib (`tests/oracle/climate.py`). The engine is not tuned to them.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test fails by panicking; helpers outside test functions too"
)]

use catalogue::climate::{FoundTown, Towns};
use engine::climate::weather::DayWeather;
use engine::climate::{Day, Noise, Normals, Observed, Place, Weather, sun};

fn rows(text: &str) -> Vec<Vec<f64>> {
    text.lines()
        .filter(|l| l.starts_with(|c: char| c.is_ascii_digit() || c == '-'))
        .map(|l| l.split(',').map(|c| c.parse().unwrap()).collect())
        .collect()
}

/// Max, min, rain from 1 January 2012 on.
fn measured(city: &str) -> Vec<(Day, f64, f64, f64)> {
    let text = match city {
        "Seattle" => include_str!("data/seattle.csv"),
        _ => include_str!("data/new_york.csv"),
    };
    let first = Day::from_ymd(2012, 1, 1).unwrap();
    (0..)
        .zip(rows(text))
        .map(|(n, r)| (first + n, r[0], r[1], r[2]))
        .collect()
}

fn normals(city: &str) -> Normals {
    let towns = Towns::load().unwrap();
    let FoundTown::One(town) = towns.find(city) else {
        panic!("{city}")
    };
    Normals::new(Place::from(town)).unwrap()
}

fn by_month(days: impl Iterator<Item = (Day, f64)>) -> [f64; 12] {
    let (mut sums, mut counts) = ([0.0; 12], [0.0; 12]);
    for (day, value) in days {
        let m = day.ymd().1 as usize - 1;
        sums[m] += value;
        counts[m] += 1.0;
    }
    std::array::from_fn(|m| sums[m] / counts[m])
}

/// Standard deviation and lag-1 correlation of departures from the month means of the same series.
fn noise(days: &[(Day, f64)]) -> (f64, f64) {
    let months = by_month(days.iter().copied());
    // Within-month slope is taken off by the same spline, so that the season is not counted as weather.
    let curve = Normals::new(Place {
        latitude: 45.0,
        monthly_mean_c: months,
        annual_rain_mm: None,
        annual_sun_h: None,
    })
    .unwrap();
    let x: Vec<f64> = days.iter().map(|&(d, t)| t - curve.on(d).mean_c).collect();
    let var = x.iter().map(|v| v * v).sum::<f64>() / x.len() as f64;
    let lag = x.windows(2).map(|w| w[0] * w[1]).sum::<f64>() / (x.len() - 1) as f64;
    (var.sqrt(), lag / var)
}

fn members(normals: &Normals, n: u64) -> Vec<Weather> {
    let first = Day::from_ymd(2012, 1, 1).unwrap();
    (0..n)
        .map(|m| {
            Weather::draw(
                normals,
                first,
                1461,
                &Observed::new(),
                Noise::default(),
                (11, m),
            )
        })
        .collect()
}

/// City, tolerance of the month means, K.
const CITIES: [(&str, f64); 2] = [("Seattle", 3.0), ("New York", 4.5)];

#[test]
fn month_means_lie_near_the_measured_ones() {
    // Four years are no normal: a month's mean over four years wanders by about 1 K in itself.
    for (city, worst) in CITIES {
        let normals = normals(city);
        let seen = by_month(
            measured(city)
                .iter()
                .map(|&(d, max, min, _)| (d, 0.5 * (max + min))),
        );
        let gaps: Vec<f64> = seen
            .iter()
            .zip(&normals.place().monthly_mean_c)
            .map(|(s, n)| n - s)
            .collect();
        let bias = gaps.iter().sum::<f64>() / 12.0;
        println!("{city}: normals less 2012-15, months {gaps:.1?}, bias {bias:.2}");
        assert!(
            gaps.iter().all(|g| g.abs() < worst) && bias.abs() < 2.0,
            "{city}"
        );
    }
}

#[test]
fn spread_and_memory_of_departures() {
    for (city, _) in CITIES {
        let seen: Vec<(Day, f64)> = measured(city)
            .iter()
            .map(|&(d, max, min, _)| (d, 0.5 * (max + min)))
            .collect();
        let (sd, lag) = noise(&seen);
        let all: Vec<(f64, f64)> = members(&normals(city), 20)
            .iter()
            .map(|w| {
                noise(
                    &w.days()
                        .iter()
                        .map(|d| (d.day, d.mean_c))
                        .collect::<Vec<_>>(),
                )
            })
            .collect();
        let mean = |of: fn(&(f64, f64)) -> f64| all.iter().map(of).sum::<f64>() / all.len() as f64;
        let (ours, memory) = (mean(|a| a.0), mean(|a| a.1));
        println!(
            "{city}: sd {sd:.2} K seen, {ours:.2} drawn; lag-1 {lag:.2} seen, {memory:.2} drawn"
        );
        // One choice for all towns: 2.5 K lies between a mild coast and a continental one.
        assert!(
            (1.8..5.0).contains(&sd) && (ours / sd - 1.0).abs() < 0.5,
            "{city}"
        );
        assert!((memory - lag).abs() < 0.15, "{city}");
    }
}

#[test]
fn the_range_of_a_day() {
    for (city, _) in CITIES {
        let seen = by_month(
            measured(city)
                .iter()
                .map(|&(d, max, min, _)| (d, max - min)),
        );
        let members = members(&normals(city), 10);
        let all = members.iter().flat_map(|w| w.days());
        let drawn = by_month(all.map(|d| (d.day, d.max_c - d.min_c)));
        let bias = drawn.iter().zip(&seen).map(|(a, b)| a - b).sum::<f64>() / 12.0;
        let winter = drawn[0] - seen[0];
        let summer = drawn[6] - seen[6];
        println!(
            "{city}: range drawn less seen: year {bias:.1}, January {winter:.1}, July {summer:.1} K; seen {seen:.1?}; drawn {drawn:.1?}"
        );
        assert!(
            bias.abs() < 2.5 && winter.abs() < 4.0 && summer.abs() < 4.0,
            "{city}"
        );
        // Wet against dry days.
        let split = |days: &mut dyn Iterator<Item = (bool, f64)>| {
            let (mut w, mut d) = ((0.0, 0.0), (0.0, 0.0));
            for (wet, range) in days {
                let to = if wet { &mut w } else { &mut d };
                to.0 += range;
                to.1 += 1.0;
            }
            (w.0 / w.1) / (d.0 / d.1)
        };
        let real = split(
            &mut measured(city)
                .iter()
                .map(|&(_, max, min, mm)| (mm >= 1.0, max - min)),
        );
        let ours = split(
            &mut members
                .iter()
                .flat_map(|w| w.days())
                .map(|d: &DayWeather| (d.rain_mm.unwrap() > 0.0, d.max_c - d.min_c)),
        );
        println!("{city}: range of wet over dry days {real:.2} seen, {ours:.2} drawn");
        assert!((real - ours).abs() < 0.2, "{city}");
    }
}

#[test]
fn rain_of_the_year_and_its_wet_days() {
    for (city, _) in CITIES {
        let seen = measured(city);
        let years = seen.len() as f64 / 365.25;
        let total = seen.iter().map(|d| d.3).sum::<f64>() / years;
        let wet = seen.iter().filter(|d| d.3 >= 1.0).count() as f64 / years;
        let per_member: Vec<(f64, f64)> = members(&normals(city), 60)
            .iter()
            .map(|w| {
                let rain = || w.days().iter().filter_map(|d| d.rain_mm);
                (
                    rain().sum::<f64>() / 4.0,
                    rain().filter(|&mm| mm >= 1.0).count() as f64 / 4.0,
                )
            })
            .collect();
        let mut totals: Vec<f64> = per_member.iter().map(|m| m.0).collect();
        let mut days: Vec<f64> = per_member.iter().map(|m| m.1).collect();
        totals.sort_by(f64::total_cmp);
        days.sort_by(f64::total_cmp);
        println!(
            "{city}: rain {total:.0} mm on {wet:.0} days seen; drawn {:.0} ({:.0}-{:.0}) mm on {:.0} ({:.0}-{:.0}) days",
            totals[30], totals[3], totals[56], days[30], days[3], days[56]
        );
        assert!(totals[3] < total && total < totals[56], "{city}");
        assert!(days[3] < wet && wet < days[56], "{city}");
    }
}

#[test]
fn the_sun_above_the_air_agrees_with_pvlib() {
    let (mut worst, mut squares, mut light_worst) = (0.0_f64, Vec::new(), 0.0_f64);
    for r in rows(include_str!("data/ra_pvlib.csv")) {
        let latitude = r[0].to_radians();
        let ours = sun::extraterrestrial(latitude, r[1]);
        let light = sun::daylight_hours(sun::sunset_angle(latitude, sun::declination(r[1])));
        worst = worst.max((ours - r[2]).abs());
        squares.push((ours - r[2]).powi(2));
        // One sine for the declination is up to 1.2° off in October: 1.3 MJ at 66°.
        assert!((ours - r[2]).abs() < 1.3, "{r:?}: {ours}");
        let slack = if r[0].abs() > 65.0 { 1.3 } else { 0.3 };
        assert!((light - r[3]).abs() < slack, "{r:?}: {light}");
        if r[0].abs() < 65.0 {
            light_worst = light_worst.max((light - r[3]).abs());
        }
    }
    let rms = (squares.iter().sum::<f64>() / squares.len() as f64).sqrt();
    println!(
        "Ra off by {rms:.2} rms, {worst:.2} MJ/m2d at most; daylight below 65° by {light_worst:.2} h"
    );
    assert!(rms < 0.5 && squares.len() == 120);
}

#[test]
fn radiation_at_greensboro() {
    let months = rows(include_str!("data/greensboro_months.csv"));
    let place = Place {
        latitude: 36.1,
        monthly_mean_c: std::array::from_fn(|m| months[m][1]),
        annual_rain_mm: None,
        annual_sun_h: Some(months.iter().map(|r| r[5]).sum()),
    };
    let normals = Normals::new(place).unwrap();
    let first = Day::from_ymd(2001, 1, 1).unwrap();
    let of = |f: fn(&engine::climate::Typical) -> f64| {
        by_month((0..365).map(|n| (first + n, f(normals.on(first + n)))))
    };
    let (rs, ra, light, range) = (
        of(|t| t.radiation_mj),
        of(|t| t.extraterrestrial_mj),
        of(|t| t.daylight_h),
        of(|t| t.range_k),
    );
    let lengths = [
        31.0, 28.0, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0,
    ];
    let mut off = [Vec::new(), Vec::new(), Vec::new()];
    for (m, r) in months.iter().enumerate() {
        let own_sun = sun::from_sunshine(ra[m], r[5] / (light[m] * lengths[m]));
        let from_range = sun::from_range(ra[m], r[2], r[3], sun::KRS_INLAND);
        for (to, value) in off.iter_mut().zip([rs[m], own_sun, from_range]) {
            to.push(100.0 * (value / r[4] - 1.0));
        }
    }
    for (name, off) in [
        "annual sunshine, tilted",
        "sunshine of the month",
        "temperature range",
    ]
    .iter()
    .zip(&off)
    {
        let bias = off.iter().sum::<f64>() / 12.0;
        println!("Greensboro R_s from {name}: bias {bias:.1} %, months {off:.0?} %");
        assert!(
            bias.abs() < 10.0 && off.iter().all(|p| p.abs() < 20.0),
            "{name}"
        );
    }
    let seen: Vec<f64> = months.iter().map(|r| r[3] - r[2]).collect();
    println!("Greensboro range: ours {range:.1?}, seen {seen:.1?}");
    let bias = range.iter().zip(&seen).map(|(a, b)| a - b).sum::<f64>() / 12.0;
    assert!(bias.abs() < 1.5, "{bias}");
}

#[test]
fn hours_of_the_mean_day_at_greensboro() {
    let hours = rows(include_str!("data/greensboro_hours.csv"));
    let mut all = Vec::new();
    for (m, r) in hours.iter().enumerate() {
        let (low, high) = r[1..]
            .iter()
            .fold((f64::MAX, f64::MIN), |(l, h), &t| (l.min(t), h.max(t)));
        let first = Day::from_ymd(2001, m as u32 + 1, 14).unwrap();
        let day = engine::climate::weather::ObservedDay {
            min_c: Some(low),
            max_c: Some(high),
            ..Default::default()
        };
        let observed: Observed = (0..3).map(|n| (first + n, day)).collect();
        let place = Place {
            latitude: 36.1,
            monthly_mean_c: [12.0; 12],
            annual_rain_mm: None,
            annual_sun_h: None,
        };
        let weather = Weather::draw(
            &Normals::new(place).unwrap(),
            first,
            3,
            &observed,
            Noise::default(),
            (1, 1),
        );
        // Clock to sun: 79.95° W on the clock of 75° W is 20 min late.
        let off: Vec<f64> = (0..24)
            .map(|h| {
                weather.air_c(first + 1, f64::from(h) + 0.5 - 0.33).unwrap() - r[h as usize + 1]
            })
            .collect();
        all.extend(off);
    }
    let bias = all.iter().sum::<f64>() / all.len() as f64;
    let rms = (all.iter().map(|e| e * e).sum::<f64>() / all.len() as f64).sqrt();
    println!("Greensboro hours of the mean day: bias {bias:.2} K, rms {rms:.2} K");
    assert!(rms < 1.5 && bias.abs() < 0.8);
}
