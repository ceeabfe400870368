//! The one call: prior rows and readings in, posterior rows and a forecast out.
//!
//! Every parameter with a spread is moved, together with those that readings say little about: their misfit is one.
//! Weather is not moved; it may be left out, as `smoother` says.

use std::sync::Arc;

use nalgebra::{DMatrix, DVector};
use rand::SeedableRng as _;
use rand_chacha::ChaCha8Rng;
use thiserror::Error;

use crate::batch::air::Air;
use crate::ensemble::prior::{Row, params};
use crate::ensemble::{Ensemble, Member, Plan, simulate};
use crate::forecast::Rung;

use super::observe;
use super::reading::{Kind, Reading, Seen};
use super::smoother::{self, Stuck};

/// A row is held to so many standard deviations: beyond lies no prior, only a straight line drawn too far (choice).
const FURTHEST: f64 = 4.0;
/// Readings of a kind that are taken one by one; more become medians of six hours, of days, of weeks (choice).
const MOST_CORE: usize = 120;
/// Where the model's own error counts, as noise that lasts for weeks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ModelError {
    /// Nowhere: for truths that are the model's own.
    Nowhere,
    /// For temperatures: a probe can be read any number of times, and without it a thousand points would outvote
    /// everything else.
    Heat,
    /// For every kind.
    Everywhere,
}

impl ModelError {
    /// Whether it counts for a kind.
    #[must_use]
    pub fn counts(self, kind: Kind) -> bool {
        match self {
            Self::Nowhere => false,
            Self::Heat => matches!(kind, Kind::Core | Kind::Warmth),
            Self::Everywhere => true,
        }
    }
}

/// How to learn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Settings {
    /// Seed of the drawn noise.
    pub seed: u64,
    /// Passes; 4 by Emerick & Reynolds 2013.
    pub passes: usize,
    /// Where the model's own error counts.
    pub model_error: ModelError,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            seed: 1,
            passes: 4,
            model_error: ModelError::Heat,
        }
    }
}

/// What members say of one reading, before and after: mean and standard deviation, in the number the reading looks at
/// (°C, ln L, ln kg, water share, share left, ln uptake; for a smell the share of noses).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fit {
    /// The reading.
    pub reading: Reading,
    /// Its value as a number, and the spread of that.
    pub value: (f64, f64),
    /// Members before.
    pub before: (f64, f64),
    /// Members after.
    pub after: (f64, f64),
}

impl Fit {
    /// How far the reading lies from the members before, in standard deviations of both; above 3 one of the two is wrong.
    #[must_use]
    pub fn surprise(&self) -> f64 {
        let model = self.reading.kind().noise().model_sd;
        let sd = (self.value.1.powi(2) + self.before.1.powi(2) + model.powi(2)).sqrt();
        (self.value.0 - self.before.0) / sd
    }
}

/// What was learnt.
#[derive(Debug, Clone, PartialEq)]
pub struct Learnt {
    /// Posterior rows, in the order of the prior ones.
    pub rows: Vec<Row>,
    /// Their run to the horizon.
    pub ensemble: Ensemble,
    /// Each reading before and after.
    pub fits: Vec<Fit>,
    /// Passes made.
    pub passes: usize,
    /// Readings that the passes used, after medians were taken.
    pub used: usize,
}

/// Why nothing was learnt.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NotLearnt {
    /// Too few members to tell how readings and parameters go together.
    #[error("{members} members are too few to learn from readings; give {least} or more")]
    FewMembers {
        /// How many were given.
        members: usize,
        /// How many are needed.
        least: usize,
    },
    /// No weather.
    #[error("no weather was given; give each member a series of days as long as the run")]
    NoWeather,
    /// No pass.
    #[error("{passes} passes; give 1 to 20")]
    Passes {
        /// How many were asked for.
        passes: usize,
    },
    /// A reading out of its range.
    #[error("reading on day {day:.1}: {cause}")]
    Reading {
        /// Its day.
        day: f64,
        /// What is wrong.
        cause: units::OutOfRange,
    },
    /// A reading after the end of the run.
    #[error("reading on day {day:.1} is after the end of the run on day {days}; run for longer")]
    AfterTheRun {
        /// Its day.
        day: f64,
        /// Days of the run.
        days: usize,
    },
    /// The algebra failed.
    #[error(transparent)]
    Stuck(#[from] Stuck),
}

/// Least number of members.
const LEAST_MEMBERS: usize = 20;

/// Members of rows; weather is dealt round.
#[must_use]
pub fn members(plan: &Plan, air: &[Arc<Air<f64>>], rows: &[Row]) -> Vec<Member> {
    rows.iter()
        .zip(air.iter().cycle())
        .map(|(row, air)| Member {
            params: params(row, &plan.vessel),
            air: Arc::clone(air),
        })
        .collect()
}

/// R, the noise of some readings: each its own, `sd`, and the model's, which lasts.
#[must_use]
pub fn covariance(readings: &[Reading], sd: &[f64], settings: &Settings) -> DMatrix<f64> {
    let noises: Vec<_> = readings.iter().map(|r| r.kind().noise()).collect();
    let n = readings.len();
    let apart = |i: usize, j: usize| (readings[i].day - readings[j].day).abs();
    DMatrix::from_fn(n, n, |i, j| {
        let own = if i == j { sd[i].powi(2) } else { 0.0 };
        let (a, b) = (noises[i], noises[j]);
        let counts = settings.model_error.counts(readings[i].kind());
        let shared = if counts && a.family == b.family && a.model_sd > 0.0 {
            a.model_sd * b.model_sd * a.per_week.powf(apart(i, j) / 7.0)
        } else {
            0.0
        };
        own + shared
    })
}

/// Medians where a kind has many readings, as of a probe or a load cell: of six hours, then of days, then of weeks. Of
/// classes the last of a day is taken.
#[must_use]
pub fn thinned(readings: &[Reading]) -> Vec<Reading> {
    let mut sorted = readings.to_vec();
    sorted.sort_by(|a, b| a.day.total_cmp(&b.day));
    let (numbers, classes): (Vec<Reading>, Vec<Reading>) = sorted
        .into_iter()
        .partition(|r| observe::class(&r.seen).is_none() && r.kind() != Kind::Smell);
    let mut out = one_look_a_day(classes);
    for kind in Kind::ALL {
        let of: Vec<Reading> = numbers
            .iter()
            .filter(|r| r.kind() == kind)
            .copied()
            .collect();
        out.extend(medians(of));
    }
    out.sort_by(|a, b| a.day.total_cmp(&b.day));
    out
}

/// A number as a reading of the kind of another.
fn like(reading: &Reading, day: f64, value: f64) -> Reading {
    let seen = match reading.seen {
        Seen::Litres(_) => Seen::Litres(value),
        Seen::Kilograms(_) => Seen::Kilograms(value),
        Seen::Uptake(_) => Seen::Uptake(value),
        _ => Seen::Core(value),
    };
    Reading::new(day, seen)
}

/// Readings of one kind with a number, thinned.
fn medians(mut core: Vec<Reading>) -> Vec<Reading> {
    for hours in [6.0, 24.0, 168.0] {
        if core.len() <= MOST_CORE {
            break;
        }
        let slot = |r: &Reading| (r.day * 24.0 / hours).floor();
        core = core
            .chunk_by(|a, b| slot(a) == slot(b))
            .map(|same| {
                let middle = |mut all: Vec<f64>| {
                    all.sort_by(f64::total_cmp);
                    0.5 * (all[(all.len() - 1) / 2] + all[all.len() / 2])
                };
                let values = same.iter().filter_map(|r| match r.seen {
                    Seen::Core(x) | Seen::Litres(x) | Seen::Kilograms(x) | Seen::Uptake(x) => {
                        Some(x)
                    }
                    _ => None,
                });
                let mut day = middle(same.iter().map(|r| r.day).collect());
                // The middle of a whole day's values is what the course of the day has at mid-morning.
                if hours >= 24.0 && same.len() > 1 && same[0].kind() == Kind::Core {
                    day = day.floor() + (observe::WARMEST - 6.0) / 24.0;
                }
                like(&same[0], day, middle(values.collect()))
            })
            .collect();
    }
    core
}

/// Runs members to `days` at most, which is as far as readings look; every day is kept.
fn short(plan: &Plan, days: usize) -> Plan {
    Plan {
        days: days.clamp(1, plan.days.max(1)),
        kept: None,
        ..plan.clone()
    }
}

/// The plan, with the days kept that readings look at: their own and the two beside.
fn seen_by(plan: &Plan, readings: &[Reading]) -> Plan {
    let Some(kept) = plan.kept.clone() else {
        return plan.clone();
    };
    let beside = readings.iter().flat_map(|r| {
        let day = r.day.max(0.0) as usize;
        day.saturating_sub(1)..=day + 1
    });
    plan.clone().keeping(kept.into_iter().chain(beside))
}

/// Of classes of a kind on a day, the last: ten taps of one card are one look.
fn one_look_a_day(readings: Vec<Reading>) -> Vec<Reading> {
    let mut out: Vec<Reading> = Vec::with_capacity(readings.len());
    for reading in readings {
        let again =
            |r: &Reading| r.kind() == reading.kind() && r.day.floor() == reading.day.floor();
        match out.iter_mut().rev().find(|r| again(r)) {
            Some(earlier) => *earlier = reading,
            None => out.push(reading),
        }
    }
    out
}

fn moments(all: &[f64]) -> (f64, f64) {
    let n = all.len().max(1) as f64;
    let mean = all.iter().sum::<f64>() / n;
    let sum: f64 = all.iter().map(|x| (x - mean).powi(2)).sum();
    (mean, (sum / (n - 1.0).max(1.0)).sqrt())
}

fn check(
    plan: &Plan,
    air: &[Arc<Air<f64>>],
    prior: &[Row],
    readings: &[Reading],
    settings: &Settings,
) -> Result<(), NotLearnt> {
    if prior.len() < LEAST_MEMBERS {
        return Err(NotLearnt::FewMembers {
            members: prior.len(),
            least: LEAST_MEMBERS,
        });
    }
    if air.is_empty() || air.iter().any(|a| a.days.len() < plan.days) {
        return Err(NotLearnt::NoWeather);
    }
    if !(1..=20).contains(&settings.passes) {
        return Err(NotLearnt::Passes {
            passes: settings.passes,
        });
    }
    for reading in readings {
        reading.check().map_err(|cause| NotLearnt::Reading {
            day: reading.day,
            cause,
        })?;
        if reading.day >= plan.days as f64 {
            return Err(NotLearnt::AfterTheRun {
                day: reading.day,
                days: plan.days,
            });
        }
    }
    Ok(())
}

/// Learns from readings: `prior` rows are moved until they agree with them, then run to the horizon.
///
/// `air` is the members' weather, dealt round if there are fewer series than rows. Readings that [`super::screen`]
/// set aside must not be among `readings`.
///
/// # Errors
/// [`NotLearnt`] for too few members, weather shorter than the run, a reading out of its range or after the run.
pub fn learn(
    plan: &Plan,
    air: &[Arc<Air<f64>>],
    prior: &[Row],
    readings: &[Reading],
    settings: &Settings,
) -> Result<Learnt, NotLearnt> {
    check(plan, air, prior, readings, settings)?;
    let used = thinned(readings);
    let last = readings.iter().map(|r| r.day).fold(0.0, f64::max);
    // One day more: the afternoon of the last reading leans on the next day's mean.
    let near = short(plan, last.floor() as usize + 2);
    let numbers = |e: &Ensemble, plan: &Plan, of: &[Reading]| -> Vec<Vec<f64>> {
        of.iter().map(|r| observe::numbers(e, plan, r)).collect()
    };
    let mut before = Vec::new();
    let mut rows = prior.to_vec();
    if !used.is_empty() {
        let mut z = DMatrix::from_fn(prior[0].len(), prior.len(), |i, j| prior[j][i]);
        let e = simulate(&near, &members(&near, air, prior));
        before = numbers(&e, &near, readings)
            .iter()
            .map(|n| moments(n))
            .collect();
        let said = numbers(&e, &near, &used);
        let matched: Vec<(f64, f64)> = used
            .iter()
            .zip(&said)
            .map(|(r, n)| observe::matched(r, moments(n)))
            .collect();
        let (values, sd): (Vec<f64>, Vec<f64>) = matched.into_iter().unzip();
        let noise = covariance(&used, &sd, settings);
        let mut rng = ChaCha8Rng::seed_from_u64(settings.seed);
        // Streams of weather and of members lie elsewhere.
        rng.set_stream(3 << 61);
        let mut first = Some(said);
        let data = DVector::from_vec(values);
        smoother::passes(&mut z, &data, &noise, settings.passes, &mut rng, |z| {
            let y = first.take().unwrap_or_else(|| {
                let e = simulate(&near, &members(&near, air, &unpacked(z)));
                numbers(&e, &near, &used)
            });
            Ok::<_, NotLearnt>(DMatrix::from_fn(used.len(), z.ncols(), |i, j| y[i][j]))
        })?;
        rows = unpacked(&z);
    }
    let whole = seen_by(plan, readings);
    let ensemble = simulate(&whole, &members(&whole, air, &rows));
    let fits = numbers(&ensemble, &whole, readings)
        .iter()
        .zip(readings)
        .zip(before)
        .map(|((after, reading), before)| Fit {
            reading: *reading,
            value: observe::datum(reading),
            before,
            after: moments(after),
        })
        .collect();
    Ok(Learnt {
        rows,
        ensemble,
        fits,
        passes: if used.is_empty() { 0 } else { settings.passes },
        used: used.len(),
    })
}

/// Rows of columns, held to [`FURTHEST`].
fn unpacked(z: &DMatrix<f64>) -> Vec<Row> {
    z.column_iter()
        .map(|column| std::array::from_fn(|i| column[i].clamp(-FURTHEST, FURTHEST)))
        .collect()
}

impl Learnt {
    /// Days on which a rung is reached, of the members that had not reached it by `today`. When a hand says that it is
    /// not ready, the others are wrong.
    #[must_use]
    pub fn waiting(&self, rung: Rung, today: f64) -> Vec<f64> {
        self.ensemble
            .outcomes
            .iter()
            .map(|o| o.ready[rung as usize])
            .filter(|day| *day > today)
            .collect()
    }
}
