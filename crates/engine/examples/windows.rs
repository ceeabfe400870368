//! How often do the windows hold, and what do readings save? Invented households, mixed starts, weekly readings, truths
//! of the engine's own kernel and of two others, with slips in what was noted. Planted bed.
//!
//! ```text
//! cargo run --release -p engine --example windows -- cover 200 100 [Own]    # windows; households, members, one kernel
//! cargo run --release -p engine --example windows -- value 60 150     # what each kind of reading saves
//! cargo run --release -p engine --example windows -- speed
//! ```
//! Tables in docs/readings.md.
#![allow(
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "a study prints, and stops where it is broken"
)]

mod household;

use engine::assimilate::stretch::{Past, Stretch, floored};
use engine::assimilate::{Kind, ModelError, Reading, Settings, carry, learn, members, score};
use engine::ensemble::prior::{PRIORS, Row};
use engine::ensemble::{Ensemble, prior, simulate};
use engine::forecast::Rung;
use engine::forecast::window::quantile;
use household::{Ask, Household, Kernel, Truth};
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;

/// Days after which nothing is looked for.
const HORIZON: usize = 365;
const RUNG: Rung = Rung::PlantedBed;
const DAYS: [f64; 3] = [35.0, 63.0, 98.0];
const WEEKLY: [Kind; 4] = [Kind::Core, Kind::Level, Kind::Squeeze, Kind::Card];
const SKIES: u64 = 50;
/// Households that are also learnt with the model's own error everywhere.
const EVERYWHERE: u64 = 60;

fn ask(month: u32, kernel: Kernel) -> Ask {
    Ask {
        seed: 31,
        days: HORIZON,
        weeks: 4,
        month: Some(month),
        slips: kernel != Kernel::Own,
        varied: true,
    }
}

/// One household, what came of it, and what the last batch took.
struct Case {
    home: Household,
    truth: Truth,
    today: f64,
    /// Of the opposite season, and of the same season a year ago.
    last_time: [f64; 2],
    rng: ChaCha8Rng,
}

/// Household `number`; the months go round.
fn case(number: u64, kernel: Kernel) -> Case {
    let month = 1 + (number * 5 % 12) as u32;
    let home = Household::drawn(number, &ask(month, kernel));
    let row = prior::row(6_000, number);
    let truth = home.truth(&row, &home.sky(6_001, number), kernel);
    // A batch before: the same drum and household, begun half a year or a year earlier, all else afresh.
    let earlier = |month: u32, seed: u64| {
        let fresh = prior::row(seed, number);
        let before: Row = std::array::from_fn(|i| match carry::owner(PRIORS[i].name) {
            carry::Owner::Drum => row[i],
            carry::Owner::Household => 0.6 * row[i] + 0.8 * fresh[i],
            carry::Owner::Batch => fresh[i],
        });
        let then = Household::drawn(number, &ask(month, kernel));
        let last = then.truth(&before, &then.sky(seed + 1, number), kernel);
        held(last.ready[RUNG as usize])
    };
    Case {
        home,
        truth,
        today: DAYS[(number / 12 % 3) as usize],
        last_time: [earlier((month + 5) % 12 + 1, 6_002), earlier(month, 6_004)],
        rng: ChaCha8Rng::seed_from_u64(number + 99),
    }
}

fn held(day: f64) -> f64 {
    day.min(HORIZON as f64)
}

/// Days of those not ready by today.
fn ahead(e: &Ensemble, today: f64) -> Vec<f64> {
    e.outcomes
        .iter()
        .map(|o| held(o.ready[RUNG as usize]))
        .filter(|d| *d > today)
        .collect()
}

/// Sums of one way to forecast.
#[derive(Default)]
struct Sums {
    covered: [Vec<f64>; 3],
    width: Vec<f64>,
    crps: Vec<f64>,
    pit: Vec<f64>,
}

impl Sums {
    fn add(&mut self, days: &[f64], came: f64, today: f64, u: f64) {
        let mut sorted = days.to_vec();
        sorted.sort_by(f64::total_cmp);
        for (all, share) in self.covered.iter_mut().zip([0.5, 0.8, 0.9]) {
            let tail = 0.5 * (1.0 - share);
            let (mut low, mut high) = (quantile(&sorted, tail), quantile(&sorted, 1.0 - tail));
            if share == 0.9 {
                (low, high) = floored((low, high), quantile(&sorted, 0.5), today);
                self.width.push(high - low);
            }
            all.push(f64::from(low <= came && came <= high));
        }
        self.crps.push(score::crps(days, came));
        self.pit.push(score::pit(days, came, u));
    }

    fn row(&self, name: &str) {
        let c: Vec<f64> = self.covered.iter().map(|v| mean(v).0).collect();
        let (crps, error) = mean(&self.crps);
        let mut bins = [0; 10];
        for p in &self.pit {
            bins[((p * 10.0) as usize).min(9)] += 1;
        }
        println!(
            "| {name} | {} | {:.2} / {:.2} / {:.2} | {:.0} | {crps:.1} ± {error:.1} | {} |",
            self.pit.len(),
            c[0],
            c[1],
            c[2],
            mean(&self.width).0,
            bins.map(|b| b.to_string()).join(" ")
        );
    }
}

/// Mean and its standard error.
fn mean(all: &[f64]) -> (f64, f64) {
    let n = all.len().max(1) as f64;
    let m = all.iter().sum::<f64>() / n;
    let v = all.iter().map(|x| (x - m).powi(2)).sum::<f64>() / (n - 1.0).max(1.0);
    (m, (v / n).sqrt())
}

fn cover(count: u64, size: usize, only: Option<&str>) {
    let rows: Vec<Row> = (0..size as u64).map(|m| prior::row(1, m)).collect();
    println!(
        "| forecast | n | holds 50 / 80 / 90 % | width of 90 %, d | CRPS, d | PIT in 10 bins |"
    );
    println!("|---|---|---|---|---|---|");
    for kernel in [Kernel::Own, Kernel::Arrhenius, Kernel::Ratkowsky] {
        if only.is_some_and(|name| name != format!("{kernel:?}")) {
            continue;
        }
        let mut ways: [Sums; 5] = Default::default();
        let mut last: [Vec<f64>; 2] = Default::default();
        // CRPS without and with readings, by the day of today.
        let mut gain: Vec<Vec<[f64; 2]>> = vec![Vec::new(); 3];
        let mut past: Vec<(Past, f64)> = Vec::new();
        for number in 0..count {
            let mut c = case(number, kernel);
            let came = held(c.truth.ready[RUNG as usize]);
            if came <= c.today {
                continue;
            }
            let readings = c.truth.weekly(&WEEKLY, c.today, &mut c.rng);
            let skies = c.home.skies(number + 7_000, SKIES);
            let plain = simulate(&c.home.plan, &members(&c.home.plan, &skies, &rows));
            let before = ahead(&plain, c.today);
            let u: f64 = c.rng.random();
            let with = |model_error: ModelError| {
                let settings = Settings {
                    seed: number,
                    model_error,
                    ..Settings::default()
                };
                let learnt = learn(&c.home.plan, &skies, &rows, &readings, &settings).unwrap();
                ahead(&learnt.ensemble, c.today)
            };
            let bare = with(ModelError::Heat);
            // Half the time goes into this one: a part of the households is enough to tell.
            let full = (kernel == Kernel::Own && number < EVERYWHERE)
                .then(|| with(ModelError::Everywhere));
            if before.len() < 10 || bare.len() < 10 {
                continue;
            }
            let stretch = Stretch::default();
            let wide = |d: &[f64]| -> Vec<f64> {
                stretch
                    .stretched(d, c.today)
                    .iter()
                    .map(|d| held(*d))
                    .collect()
            };
            for (way, days) in ways
                .iter_mut()
                .zip([before.clone(), bare.clone(), wide(&bare)])
            {
                way.add(&days, came, c.today, u);
            }
            if let Some(full) = full.filter(|d| d.len() >= 10) {
                ways[3].add(&full, came, c.today, u);
                ways[4].add(&bare, came, c.today, u);
            }
            for (all, took) in last.iter_mut().zip(c.last_time) {
                all.push((took.max(c.today) - came).abs());
            }
            let at = DAYS.iter().position(|d| *d == c.today).unwrap();
            gain[at].push([&before, &bare].map(|days| score::crps(days, came)));
            let mut sorted = bare.clone();
            sorted.sort_by(f64::total_cmp);
            past.push((
                Past {
                    forecast: [0.05, 0.5, 0.95].map(|q| quantile(&sorted, q) - c.today),
                    came: came - c.today,
                },
                c.today,
            ));
        }
        for (way, name) in ways.iter().zip([
            "no readings",
            "readings",
            "readings, ×1.3",
            "first households, model's error everywhere",
            "the same households, as usual",
        ]) {
            if way.pit.is_empty() {
                continue;
            }
            way.row(&format!("{kernel:?}: {name}"));
        }
        for (last, season) in last.iter().zip(["half a year ago", "the same season"]) {
            let (m, e) = mean(last);
            println!(
                "| {kernel:?}: as long as last time, {season} | {} | – | – | {m:.1} ± {e:.1} | – |",
                last.len()
            );
        }
        let pooled: Vec<[f64; 2]> = gain.iter().flatten().copied().collect();
        let days = DAYS.iter().map(|day| format!("day {day}"));
        for (day, gain) in days
            .chain(["all days".into()])
            .zip(gain.iter().chain([&pooled]))
        {
            let saved: Vec<f64> = gain.iter().map(|[before, after]| before - after).collect();
            let (m, e) = mean(&saved);
            let (without, _) = mean(&gain.iter().map(|g| g[0]).collect::<Vec<_>>());
            println!(
                "{kernel:?}, {day}: readings save {m:.1} ± {e:.1} of {without:.1} d of CRPS, {:.0} % (n = {})",
                100.0 * m / without,
                gain.len()
            );
        }
        let half = past.len() / 2;
        let known: Vec<Past> = past[..half].iter().map(|p| p.0).collect();
        let factor = Stretch::of(&known).factor;
        let inside = past[half..].iter().filter(|(p, _)| {
            let ends = [p.forecast[0], p.forecast[2]].map(|q| {
                p.forecast[1].max(0.5) * (q.max(0.5) / p.forecast[1].max(0.5)).powf(factor)
            });
            ends[0] <= p.came && p.came <= ends[1].min(HORIZON as f64)
        });
        println!(
            "{kernel:?}: factor learnt on {half}: {factor:.2}; the other {} held by {:.2}",
            past.len() - half,
            inside.count() as f64 / (past.len() - half).max(1) as f64
        );
    }
}

/// Weekly readings of one kind alone, day 63, the engine's own kernel.
fn value(count: u64, size: usize) {
    let rows: Vec<Row> = (0..size as u64).map(|m| prior::row(1, m)).collect();
    let today = 63.0;
    let mut saved: Vec<Vec<f64>> = vec![Vec::new(); Kind::ALL.len() + 1];
    let mut width: Vec<Vec<f64>> = vec![Vec::new(); Kind::ALL.len() + 1];
    let mut base = Vec::new();
    let mut number = 20_000;
    while base.len() < count as usize {
        number += 1;
        let mut c = case(number, Kernel::Own);
        let came = held(c.truth.ready[RUNG as usize]);
        if came <= today {
            continue;
        }
        let skies = c.home.skies(number + 7_000, SKIES);
        let plain = simulate(&c.home.plan, &members(&c.home.plan, &skies, &rows));
        let before = ahead(&plain, today);
        let span = |d: &[f64]| {
            let mut d = d.to_vec();
            d.sort_by(f64::total_cmp);
            quantile(&d, 0.9) - quantile(&d, 0.1)
        };
        let miss = score::crps(&before, came);
        base.push(miss);
        for at in 0..saved.len() {
            let kinds = match Kind::ALL.get(at) {
                Some(kind) => vec![*kind],
                None => WEEKLY.to_vec(),
            };
            let readings: Vec<Reading> = c.truth.weekly(&kinds, today, &mut c.rng);
            let learnt =
                learn(&c.home.plan, &skies, &rows, &readings, &Settings::default()).unwrap();
            let after = ahead(&learnt.ensemble, today);
            saved[at].push(miss - score::crps(&after, came));
            width[at].push(span(&before) - span(&after));
        }
    }
    println!(
        "no readings: CRPS {:.1} ± {:.1} d, n = {}",
        mean(&base).0,
        mean(&base).1,
        base.len()
    );
    println!("| weekly reading | CRPS saved, d | 80 % window shorter, d |");
    println!("|---|---|---|");
    for (at, (saved, width)) in saved.iter().zip(&width).enumerate() {
        let name = Kind::ALL
            .get(at)
            .map_or("core, level, squeeze, card", |k| k.as_str());
        let (s, w) = (mean(saved), mean(width));
        println!(
            "| {name} | {:.1} ± {:.1} | {:.0} ± {:.0} |",
            s.0, s.1, w.0, w.1
        );
    }
}

fn speed() {
    let c = case(1, Kernel::Own);
    let skies = c.home.skies(1, SKIES);
    let rows: Vec<Row> = (0..250).map(|m| prior::row(1, m)).collect();
    for (until, every) in [(63.0, 7.0), (180.0, 7.0), (180.0, 0.25)] {
        let mut rng = ChaCha8Rng::seed_from_u64(1);
        let mut readings = c.truth.weekly(&WEEKLY, until, &mut rng);
        let mut day = 1.0;
        while every < 1.0 && day < until {
            readings.push(c.truth.read(Kind::Core, day, &mut rng));
            day += every;
        }
        let mut best = f64::INFINITY;
        for _ in 0..3 {
            let start = std::time::Instant::now();
            let learnt =
                learn(&c.home.plan, &skies, &rows, &readings, &Settings::default()).unwrap();
            best = best.min(start.elapsed().as_secs_f64());
            assert!(learnt.used > 0);
        }
        println!(
            "{} readings to day {until}, 250 members, 4 passes and {HORIZON} days: {:.2} s",
            readings.len(),
            best
        );
    }
}

fn main() {
    let mut words = std::env::args().skip(1);
    let what = words.next().unwrap_or_else(|| "cover".into());
    let mut number = |usual| words.next().and_then(|a| a.parse().ok()).unwrap_or(usual);
    let (count, size) = (number(200), number(250) as usize);
    match what.as_str() {
        "value" => value(count, size),
        "speed" => speed(),
        _ => cover(count, size, words.next().as_deref()),
    }
}
