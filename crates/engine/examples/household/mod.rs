//! Invented households for the studies of readings: what they put in and noted, and what truly happened.
//!
//! The truth is stepped hour by hour with the engine's own step. Another temperature kernel is laid over it: in each
//! hour the three rates of decay (and the growth of the microbes) are multiplied by
//! (0.6 g'(core) + 0.4 g'(shell)) / (0.6 g(core) + 0.4 g(shell)), g the engine's kernel and g' the other. The decay of
//! the whole batch then follows the other kernel exactly; only the share of its heat between core and shell keeps to
//! the engine's. The factor is held to 6; the engine's kernel is set as wide as its prior goes (−18, 62, 76 °C) so
//! that this is met nowhere but in hard frost. Potential uptake at 25 °C is scaled by g'(25)/g(25).
#![allow(
    dead_code,
    unreachable_pub,
    clippy::expect_used,
    clippy::unwrap_used,
    reason = "each study uses its own part, and stops where a table is broken"
)]

use std::sync::Arc;

use engine::assimilate::smells;
use engine::assimilate::{Card, Kind, Reading, Seen, Smell, Warmth};
use engine::batch::air::{Air, STEPS, courses};
use engine::batch::events::{Deed, Feed, done};
use engine::batch::limits;
use engine::batch::params::Params;
use engine::batch::rates::water_share;
use engine::batch::readiness::signs;
use engine::batch::step::{Before, finer, hour};
use engine::batch::vessel::Vessel;
use engine::climate::{Day, Noise, Normals, Observed, Place, Weather};
use engine::ensemble::prior::Row;
use engine::ensemble::{At, Plan, prior, run::empty};
use engine::forecast::Rung;
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use rand_distr::StandardNormal;

/// Kernel of temperature of a truth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Kernel {
    /// The engine's.
    Own,
    /// 55 kJ/mol, inactivated about 61 °C over 2.5 K (choice).
    Arrhenius,
    /// Square root from −6 to 70 °C (Ratkowsky et al. 1983, J. Bacteriol. 154:1222, recalled; bend 0.2, choice).
    Ratkowsky,
}

impl Kernel {
    fn plain(self, t: f64) -> f64 {
        match self {
            Self::Own => 1.0,
            Self::Arrhenius => {
                let rise = -55_000.0 / 8.314 * (1.0 / (t + 273.15) - 1.0 / 293.15);
                rise.exp() / (1.0 + ((t - 61.0) / 2.5).exp())
            }
            Self::Ratkowsky => {
                let t = t.clamp(-6.0, 70.0);
                ((t + 6.0) * (1.0 - (0.2 * (t - 70.0)).exp())).powi(2)
            }
        }
    }

    /// Factor on decay for core and shell.
    fn over(self, core: f64, shell: f64, p: &Params<f64>) -> f64 {
        if self == Self::Own {
            return 1.0;
        }
        let own = 0.6 * limits::temperature(core, p) + 0.4 * limits::temperature(shell, p);
        let other = (0.6 * self.plain(core) + 0.4 * self.plain(shell)) / self.plain(20.0);
        (other / own.max(1e-3)).clamp(0.0, 6.0)
    }
}

/// What a study asks for.
#[derive(Debug, Clone, Copy)]
pub struct Ask {
    pub seed: u64,
    /// Days to run.
    pub days: usize,
    /// Weeks of feeding.
    pub weeks: usize,
    /// Month of the first feed, from 1; drawn if none.
    pub month: Option<u32>,
    /// Whether what is noted differs from what was put in: 25 % of each mass, 1 d of each day.
    pub slips: bool,
    /// Whether mix and amount differ from household to household.
    pub varied: bool,
}

/// One household.
pub struct Household {
    /// As noted.
    pub plan: Plan,
    /// As it was.
    pub real: Plan,
    normals: Normals,
    first: Day,
    ask: Ask,
}

/// What is there in one hour.
#[derive(Debug, Clone, Copy)]
pub struct Hour {
    pub core: f64,
    pub shell: f64,
    pub water: f64,
    pub litres: f64,
    pub mass: f64,
    pub recognisable: f64,
    pub uptake: f64,
    pub cn: f64,
    pub oxygen: f64,
    pub clumped: f64,
    pub acids: f64,
    pub lost: f64,
}

/// What truly happened.
pub struct Truth {
    /// State after each hour.
    pub hours: Vec<Hour>,
    /// Day of each rung.
    pub ready: [f64; 5],
}

fn kitchen(kg: f64, water: f64, cn: f64) -> Feed {
    let dry = kg * (1.0 - water);
    let organic = dry * 0.9;
    let share = ((1.0 / cn - 1.0 / 500.0) / (1.0 / 17.0 - 1.0 / 500.0)).clamp(0.0, 1.0);
    let pool = |soft: f64, card: f64| organic * (share * soft + (1.0 - share) * card);
    Feed {
        water: kg * water,
        quick: pool(0.60, 0.06),
        cellulose: pool(0.28, 0.70),
        lignin: pool(0.12, 0.24),
        ash: dry - organic,
        carbon: organic * 0.5,
        nitrogen: organic * 0.5 / cn,
        dry_density: 1.0 / (share / 170.0 + (1.0 - share) / 90.0),
        pieces: 1.0,
        temperature: 15.0,
    }
}

impl Household {
    /// Household `number`.
    pub fn drawn(number: u64, ask: &Ask) -> Self {
        let mut rng = ChaCha8Rng::seed_from_u64(ask.seed ^ 0x5eed);
        rng.set_stream((1 << 63) + number);
        let mut between = |low: f64, high: f64| {
            let u: f64 = rng.random();
            if ask.varied {
                low + (high - low) * u
            } else {
                0.5 * (low + high)
            }
        };
        let kg = between(30.0, 60.0) * ask.weeks as f64 / 6.0;
        let (water, cn) = (between(0.52, 0.66), between(24.0, 34.0));
        let (latitude, mean, swing) = (48.0, between(9.0, 13.0), between(6.0, 10.0));
        let vessel = Vessel {
            sun: between(0.2, 1.0),
            ..Vessel::default()
        };
        let drawn = 1 + rng.random_range(0..12_u32);
        let month = ask.month.unwrap_or(drawn);
        let normals = Normals::new(Place {
            latitude,
            monthly_mean_c: std::array::from_fn(|i| {
                mean - swing * (i as f64 * std::f64::consts::TAU / 12.0).cos()
            }),
            annual_rain_mm: Some(800.0),
            annual_sun_h: Some(1700.0),
        })
        .expect("a place on earth");
        let first = Day::from_ymd(2025, month, 1).expect("a day of the year");
        let count = ask.weeks * 7 / 3;
        let turns = (1..ask.days / 3).map(|i| At {
            day: i as f64 * 3.0 + 0.5,
            deed: Deed::Turn,
        });
        let (mut noted, mut real): (Vec<At>, Vec<At>) = (turns.clone().collect(), turns.collect());
        for i in 0..count {
            let day = i as f64 * 3.0 + if i == 0 { 0.0 } else { 0.75 };
            let each = kg / count as f64;
            let (mut was, mut when) = (each, day);
            if ask.slips {
                was *= (0.25 * rng.sample::<f64, _>(StandardNormal)).exp();
                when = (day + rng.random_range(-1.0..1.0)).max(0.0);
            }
            if i == 0 {
                when = 0.0;
            }
            noted.push(At {
                day,
                deed: Deed::Feed(kitchen(each, water, cn)),
            });
            real.push(At {
                day: when,
                deed: Deed::Feed(kitchen(was, water, cn)),
            });
        }
        let of_year = first.of_year().1 as f64 + 1.0;
        let courses = courses(normals.latitude_rad(), of_year, ask.days + 1);
        Self {
            plan: Plan::new(vessel, noted, ask.days, courses.clone()),
            real: Plan::new(vessel, real, ask.days, courses),
            normals,
            first,
            ask: *ask,
        }
    }

    /// Weather number `sky`.
    pub fn sky(&self, seed: u64, sky: u64) -> Air<f64> {
        Air::of(&Weather::draw(
            &self.normals,
            self.first,
            self.ask.days,
            &Observed::new(),
            Noise::default(),
            (seed, sky),
        ))
    }

    /// `count` weathers.
    pub fn skies(&self, seed: u64, count: u64) -> Vec<Arc<Air<f64>>> {
        (0..count).map(|s| Arc::new(self.sky(seed, s))).collect()
    }

    /// What truly happens for a row under a kernel and a weather.
    pub fn truth(&self, row: &Row, air: &Air<f64>, kernel: Kernel) -> Truth {
        let plan = &self.real;
        let mut p = prior::params(row, &plan.vessel);
        if kernel != Kernel::Own {
            // Under another kernel the engine's own only has to be above nought wherever the other is.
            (p.t_best, p.t_least, p.cold_share) = (62.0, -18.0, 0.0);
            p = p.completed();
        }
        let v = plan.vessel.driven();
        let at_25 = kernel.over(25.0, 25.0, &p);
        let scaled = |by: f64| Params {
            k_r: p.k_r * by,
            k_c: p.k_c * by,
            k_l: p.k_l * by,
            // Shorter than 0.4 d and an hour is too long a step for it.
            lag: (p.lag / by.max(1e-3)).max(p.lag.min(0.4)),
            ..p
        };
        let potential = scaled(at_25);
        let mut s = empty(air.days[0].mean);
        let mut deeds = plan.deeds.iter().peekable();
        let (mut turned, mut put_in) = (0.0, 0.0);
        let mut before = Before::none(0.0);
        let opening = plan.vessel.opening();
        let mut hours = Vec::with_capacity(plan.days * STEPS);
        for at in 0..plan.days * STEPS {
            while let Some(next) = deeds.next_if(|d| Plan::hour(d.day) <= at) {
                done(&mut s, &next.deed, &p, &v);
                if next.deed == Deed::Turn {
                    turned = at as f64 / STEPS as f64;
                }
                put_in = next.deed.leaves(put_in);
                before = Before::none(0.0);
            }
            let drive = |at: usize| {
                air.at(
                    &plan.courses,
                    (at / STEPS, at % STEPS),
                    turned,
                    (p.sun_gain, opening),
                )
            };
            let now = scaled(kernel.over(s.core, s.shell, &p));
            let between = (&drive(at), &drive(at + 1));
            let h = 1.0 / STEPS as f64;
            let r = hour(
                &mut s,
                &mut before,
                &now,
                &v,
                between,
                (h, finer(put_in, &v)),
            );
            let m = &s.matter;
            let organic = m.quick + m.cellulose + m.lignin + m.humus;
            let dry = organic + s.kept.ash;
            let si = signs(&s, &potential);
            let gone = m.n_air + m.n_drained;
            hours.push(Hour {
                core: s.core,
                shell: s.shell,
                water: water_share(m.water, dry),
                litres: r.bulk.volume * 1000.0,
                mass: dry + m.water,
                recognisable: si.recognisable,
                uptake: si.uptake,
                cn: si.cn,
                oxygen: r.oxygen,
                clumped: m.clumped * 100.0,
                acids: m.acids / (dry + 1e-9) * 1000.0,
                lost: 100.0 * gone / (gone + m.n_organic + m.n_mineral + 1e-12),
            });
        }
        let ready = rungs(&hours, plan.last_feed(), plan.days);
        Truth { hours, ready }
    }
}

/// Day of each rung, by what is there at the end of each day.
fn rungs(hours: &[Hour], last_feed: f64, days: usize) -> [f64; 5] {
    Rung::ALL.map(|rung| {
        let l = rung.limits();
        let limits = [l.uptake, l.cn, l.recognisable];
        let seen = |day: usize| {
            let h = &hours[day * STEPS - 1];
            [h.uptake, h.cn, h.recognisable]
        };
        let first = (last_feed + l.rest).ceil().max(1.0) as usize;
        for day in first..=days {
            let now = seen(day);
            if now.iter().zip(limits).all(|(v, l)| *v <= l) {
                let before = if day > 1 { seen(day - 1) } else { now };
                let share = (0..3)
                    .filter(|&i| before[i] > limits[i])
                    .map(|i| (before[i] - limits[i]) / (before[i] - now[i]))
                    .fold(0.0, f64::max);
                return (day as f64 - 1.0 + share).max(last_feed + l.rest);
            }
        }
        f64::INFINITY
    })
}

impl Truth {
    /// The state at a moment.
    pub fn at(&self, day: f64) -> &Hour {
        let hour = (day * STEPS as f64).round() as usize;
        &self.hours[hour.saturating_sub(1).min(self.hours.len() - 1)]
    }

    /// °C at a probe, without noise.
    pub fn probe(&self, day: f64) -> f64 {
        let h = self.at(day);
        h.core + 0.5 * (h.core - h.shell).max(0.0)
    }

    /// One reading with its operator's noise.
    pub fn read(&self, kind: Kind, day: f64, rng: &mut ChaCha8Rng) -> Reading {
        let noise = kind.noise().sd * rng.sample::<f64, _>(StandardNormal);
        let h = self.at(day);
        let class = |x: f64| kind.cuts().iter().filter(|c| **c < x).count();
        let seen = match kind {
            Kind::Core => Seen::Core(self.probe(day) + noise),
            Kind::Level => Seen::Litres(h.litres * noise.exp()),
            Kind::Weight => Seen::Kilograms(h.mass * noise.exp()),
            Kind::Uptake => Seen::Uptake(h.uptake * noise.exp()),
            Kind::Squeeze => Seen::Squeeze(1 + class(h.water + noise) as u8),
            Kind::Card => Seen::Card(Card::ALL[class(h.recognisable + noise)]),
            Kind::Warmth => Seen::Warmth(Warmth::ALL[class(self.probe(day) + noise)]),
            Kind::Smell => {
                let whole = day.floor() as usize;
                let today = &self.hours[whole * STEPS..(whole + 1) * STEPS];
                let end = today.last().expect("a day has hours");
                let lost_before = if whole == 0 {
                    0.0
                } else {
                    self.hours[whole * STEPS - 1].lost
                };
                let shares = smells::shares(&smells::Signs {
                    oxygen: today.iter().map(|h| h.oxygen).fold(100.0, f64::min),
                    clumped: end.clumped,
                    acids: end.acids,
                    uptake: end.uptake,
                    water: end.water * 100.0,
                    nitrogen: (end.lost - lost_before).max(0.0),
                });
                let mut u: f64 = rng.random();
                let word = shares.iter().position(|p| {
                    u -= p;
                    u < 0.0
                });
                Seen::Smell(Smell::ALL[word.unwrap_or(5)])
            }
        };
        Reading::new(day, seen)
    }

    /// Weekly readings of some kinds up to a day; card from day 21 on. Taken at half past nine, at six in the evening in
    /// turn.
    pub fn weekly(&self, kinds: &[Kind], until: f64, rng: &mut ChaCha8Rng) -> Vec<Reading> {
        let mut out = Vec::new();
        let mut week = 1;
        while f64::from(week) * 7.0 <= until {
            let day = f64::from(week) * 7.0 + if week % 2 == 0 { 0.4 } else { 0.75 } - 1.0;
            for &kind in kinds {
                if kind == Kind::Card && day < 20.0 {
                    continue;
                }
                out.push(self.read(kind, day, rng));
            }
            week += 1;
        }
        out
    }
}
