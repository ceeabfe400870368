//! What a week's worth of a usual mix comes to: the share of its volume that is left, and when it is fit.
//!
//! ```text
//! left(m, a)   V(a) / V(0) of a batch put in within one week at the start of month m; a in weeks
//! lag(m)       days from its last feed to mulch, and to the planted bed, over 7: weeks
//! ```
//! Both from [`simulate`] in the household's climate and vessel: the same equations as a forecast, run twelve
//! times. Between months straight lines. Members are kept as twenty strata, from the one that rots fastest to
//! the slowest; one stratum stands for volume and date alike, since what rots slowly shrinks slowly (choice).
//!
//! It stops being true where a chamber heats as a whole: what is put in a full warm drum shrinks faster than
//! the lone batch of [`BATCH_KG`] here. The plan is then on the cautious side.

use std::sync::Arc;

use crate::batch::air::{Air, courses};
use crate::batch::events::{Deed, Feed};
use crate::batch::vessel::Vessel;
use crate::batch::volume::bulk;
use crate::climate::{Day, Noise, Normals, Observed, Weather};
use crate::ensemble::{At, Daily, Member, Plan, prior, simulate};
use crate::forecast::Rung;
use crate::forecast::window::quantile;

/// Strata of members, from the fastest to the slowest.
pub const STRATA: usize = 20;
/// Weeks of age followed: a year and the weeks a plan looks ahead.
pub const AGES: usize = 57;
/// Wet mass of the typical batch, kg (choice: a chamber about half full).
pub const BATCH_KG: f64 = 35.0;
/// Turned every so many days (choice: with each caddy).
const TURNED_EVERY: usize = 3;
/// Any year without 29 February: only its seasons count.
const YEAR: i32 = 2025;

/// A batch begun in one month.
#[derive(Debug, Clone, PartialEq)]
pub struct Typical {
    /// `[stratum][week]`: share of the first volume left.
    pub left: Vec<[f64; AGES]>,
    /// Weeks from the last feed to mulch, by stratum; infinite is "not within the weeks followed".
    pub mulch: [f64; STRATA],
    /// Weeks from the last feed to the planted bed.
    pub bed: [f64; STRATA],
}

/// Twelve batches, one for each month.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// January first.
    pub months: Vec<Typical>,
}

/// A day's place between two months: the earlier one, the later one, and how far between.
fn between(day: Day) -> (usize, usize, f64) {
    let (_, month, of_month) = day.ymd();
    let part = (f64::from(of_month) - 1.0) / 30.4;
    let from = month as usize - 1;
    (from, (from + 1) % 12, part.clamp(0.0, 1.0))
}

impl Table {
    /// Simulates the twelve batches with `members` each; `mix` is a kilogram of what usually goes in.
    #[must_use]
    pub fn simulate(
        normals: &Normals,
        vessel: &Vessel,
        mix: &Feed,
        members: usize,
        seed: u64,
    ) -> Self {
        let days = AGES * 7 + 4;
        let params: Vec<_> = (0..members)
            .map(|m| prior::params(&prior::row(seed, m as u64), vessel))
            .collect();
        let months = (1..=12)
            .map(|month| one(normals, vessel, mix, month, days, &params, seed))
            .collect();
        Self { months }
    }

    /// Share left of what went in on a day, `age` weeks later.
    #[must_use]
    pub fn left(&self, day: Day, age: usize, stratum: usize) -> f64 {
        let (from, to, part) = between(day);
        let at = age.min(AGES - 1);
        let of = |m: usize| self.months[m].left[stratum][at];
        of(from) + (of(to) - of(from)) * part
    }

    fn lag(&self, day: Day, of: impl Fn(&Typical) -> f64) -> f64 {
        let (from, to, part) = between(day);
        let (a, b) = (of(&self.months[from]), of(&self.months[to]));
        // No line leads to "never": the nearer month speaks.
        match (a.is_finite(), b.is_finite()) {
            (true, true) => a + (b - a) * part,
            _ if part < 0.5 => a,
            _ => b,
        }
    }

    /// Weeks from a closing day to mulch.
    #[must_use]
    pub fn to_mulch(&self, closed: Day, stratum: usize) -> f64 {
        self.lag(closed, |t| t.mulch[stratum])
    }

    /// Weeks from a closing day to the planted bed.
    #[must_use]
    pub fn to_bed(&self, closed: Day, stratum: usize) -> f64 {
        self.lag(closed, |t| t.bed[stratum])
    }

    /// The latest day on or after `from` by which to close so that 16 of 20 are fit for a bed by `by`.
    /// `None` if that day is past.
    #[must_use]
    pub fn close_by(&self, from: Day, by: Day) -> Option<Day> {
        // The sixteenth of twenty.
        let slow = STRATA * 4 / 5 - 1;
        (0..=(by - from).max(0))
            .rev()
            .map(|d| from + d)
            .find(|day| {
                let weeks = self.to_bed(*day, slow);
                f64::from(*day - from) + weeks * 7.0 <= f64::from(by - from)
            })
    }
}

fn one(
    normals: &Normals,
    vessel: &Vessel,
    mix: &Feed,
    month: u32,
    days: usize,
    params: &[crate::batch::params::Params<f64>],
    seed: u64,
) -> Typical {
    // The first of a month is a day of every year.
    let first = Day::from_ymd(YEAR, month, 1).unwrap_or(Day(20_089));
    let half = mix.times(BATCH_KG / 2.0);
    let mut deeds = vec![
        At {
            day: 0.0,
            deed: Deed::Feed(half),
        },
        At {
            day: 3.0,
            deed: Deed::Feed(half),
        },
    ];
    deeds.extend((1..days / TURNED_EVERY).map(|i| At {
        day: (i * TURNED_EVERY) as f64 + 0.04,
        deed: Deed::Turn,
    }));
    let courses = courses(
        normals.latitude_rad(),
        first.of_year().1 as f64 + 1.0,
        days + 1,
    );
    let skies: Vec<Arc<Air<f64>>> = (0..params.len().min(25) as u64)
        .map(|sky| {
            let draw = (seed, u64::from(month) * 1000 + sky);
            let none = Observed::new();
            let weather = Weather::draw(normals, first, days, &none, Noise::default(), draw);
            Arc::new(Air::of(&weather))
        })
        .collect();
    let members: Vec<Member> = params
        .iter()
        .enumerate()
        .map(|(at, params)| Member {
            params: *params,
            air: Arc::clone(&skies[at % skies.len()]),
        })
        .collect();
    // Age counts from the day the last of it is in.
    let weekly = |age: usize| 3 + age * 7;
    let plan = Plan::new(*vessel, deeds, days, courses).keeping((0..AGES).map(weekly));
    let run = simulate(&plan, &members);
    let shares: Vec<f64> = (0..STRATA)
        .map(|s| (s as f64 + 0.5) / STRATA as f64)
        .collect();
    let start: Vec<f32> = run.daily(Daily::Litres, weekly(0)).collect();
    let by_age: Vec<Vec<f64>> = (0..AGES)
        .map(|age| {
            let now = run.daily(Daily::Litres, weekly(age));
            let share = |(now, then): (f32, &f32)| f64::from(now) / f64::from(*then).max(1e-6);
            let mut all: Vec<f64> = now.zip(&start).map(share).collect();
            all.sort_by(f64::total_cmp);
            all
        })
        .collect();
    let left = shares
        .iter()
        .map(|at| {
            // Rain and swelling aside, what is in never takes more room than it did.
            let mut least: f64 = 1.0;
            std::array::from_fn(|age| {
                least = least.min(quantile(&by_age[age], *at));
                least
            })
        })
        .collect();
    let last = plan.last_feed();
    let lags = |rung: usize| {
        let mut all: Vec<f64> = run
            .outcomes
            .iter()
            .map(|o| (o.ready[rung] - last) / 7.0)
            .collect();
        all.sort_by(f64::total_cmp);
        std::array::from_fn(|s| quantile(&all, shares[s]))
    };
    Typical {
        left,
        mulch: lags(Rung::Mulch as usize),
        bed: lags(Rung::PlantedBed as usize),
    }
}

/// Kitchen scraps and card: C:N, and shares of quick, cellulose, lignin-like; dry bulk density, kg/m³ (choice, as
/// in `batch::substrate`; C:N of mixed kitchen scraps and corrugated card by the catalogue).
const KITCHEN: (f64, [f64; 3], f64) = (17.0, [0.60, 0.28, 0.12], 170.0);
const CARD: (f64, [f64; 3], f64) = (500.0, [0.06, 0.70, 0.24], 90.0);

/// A kilogram of scraps and card of a C:N and a water share.
#[must_use]
pub fn mix_of(cn: f64, water: f64) -> Feed {
    let share = ((1.0 / cn - 1.0 / CARD.0) / (1.0 / KITCHEN.0 - 1.0 / CARD.0)).clamp(0.0, 1.0);
    let dry = 1.0 - water;
    // A tenth of the dry matter is ash, half of the rest carbon (choice).
    let organic = dry * 0.9;
    let carbon = organic * 0.5;
    let pool = |at: usize| organic * (share * KITCHEN.1[at] + (1.0 - share) * CARD.1[at]);
    Feed {
        water,
        quick: pool(0),
        cellulose: pool(1),
        lignin: pool(2),
        ash: dry - organic,
        carbon,
        nitrogen: carbon / cn,
        dry_density: 1.0 / (share / KITCHEN.2 + (1.0 - share) / CARD.2),
        pieces: 1.0,
        temperature: 15.0,
    }
}

/// Litres a feed takes up in the chamber when it is put in.
#[must_use]
pub fn litres(feed: &Feed) -> f64 {
    let organic = feed.quick + feed.cellulose + feed.lignin;
    let wet = feed.water + organic + feed.ash;
    if wet <= 0.0 {
        return 0.0;
    }
    let share = feed.water / wet;
    let dense = (feed.dry_density.max(1.0), 1.0);
    1000.0 * bulk(feed.water, organic, feed.ash, share, 0.0, dense, 0.0).volume
}
