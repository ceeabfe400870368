//! Published runs set up in the model, and what was measured in them: used by `validate` and by a test.
//!
//! A member keeps its decay, microbes and shape of curve through all studies. What belongs to a vessel or a
//! feed (heat loss, vents, sun, drain, doubts about the feed) is drawn afresh for each study.
#![allow(dead_code, unreachable_pub, reason = "each study uses its own part")]
#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a study stops where a table is broken"
)]

pub mod score;
pub mod setup;

use std::sync::Arc;

use catalogue::climate::{FoundTown, Towns};
use engine::batch::air::{Air, courses};
use engine::batch::events::{Deed, Feed};
use engine::batch::params::Params;
use engine::climate::{Day, Noise, Normals, Observed, Place, Weather};
use engine::ensemble::{At, Daily, Ensemble, Member, Plan, prior, simulate};
use setup::{Case, Feeds, Site};

/// Seed of everything drawn here.
const SEED: u64 = 2026;
/// Vessels, feeds and weathers a member meets in one study: with one alone, weights by other studies rest on
/// the luck of the vessel.
pub const DRAWS: usize = 8;

/// Parameters that belong to a vessel or a feed.
const REDRAWN: [&str; 10] = [
    "drain",
    "clumping",
    "ua",
    "g_core",
    "vent",
    "condensed",
    "sun_gain",
    "feed_n",
    "feed_quick",
    "feed_wet",
];

const TABLE: &str = include_str!("../../data/validation.csv");

/// One measured figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Target {
    /// Which run.
    pub study: &'static str,
    /// Where it was published.
    pub citation: &'static str,
    /// How far the publication was read.
    pub read: &'static str,
    /// What was measured.
    pub quantity: &'static str,
    /// Reported range; both ends equal for a single value.
    pub range: [f64; 2],
    /// What counts as one off.
    pub tolerance: f64,
    /// How the figure is read.
    pub note: &'static str,
}

/// All measured figures.
pub fn targets() -> Vec<Target> {
    TABLE
        .lines()
        .skip(1)
        .map(|line| {
            let f: Vec<&str> = line.split(',').collect();
            let number = |at: usize| f[at].parse().expect("a number in validation.csv");
            Target {
                study: f[0],
                citation: f[1],
                read: f[2],
                quantity: f[3],
                range: [number(4), number(5)],
                tolerance: number(6),
                note: f[7],
            }
        })
        .collect()
}

impl Target {
    /// Whether it is a share of all members rather than a figure of each.
    pub fn of_all(&self) -> bool {
        self.quantity == "share_wetter_than_70_pct"
    }

    /// The member's figure.
    pub fn of(&self, run: &Ensemble, last_feed: usize, member: usize) -> f64 {
        let o = &run.outcomes[member];
        match self.quantity {
            "peak_c" => o.peak_c,
            "peak_day" => o.peak_day,
            "days_ge_40" => o.days_ge_40,
            "days_ge_55" => o.days_ge_55,
            "wet_mass_loss_pct" => o.wet_mass_loss_pct,
            "organic_matter_loss_pct" => o.organic_matter_loss_pct,
            "carbon_loss_pct" => o.carbon_loss_pct,
            "nitrogen_loss_pct" => o.nitrogen_loss_pct,
            "final_cn" => o.final_cn,
            "final_water_pct" => o.final_water_pct,
            "mean_rise_k" => o.mean_rise,
            "co2_c_mg_g_d" => value(run, Daily::Uptake, run.days - 1, member) / 2.67,
            "stable_day" => (last_feed..run.days)
                .find(|&day| value(run, Daily::Uptake, day, member) <= 20.0)
                .map_or(f64::INFINITY, |day| day as f64 + 1.0),
            "share_wetter_than_70_pct" => 100.0 * f64::from(o.final_water_pct > 70.0),
            other => panic!("validation.csv names an unknown quantity: {other}"),
        }
    }

    /// How far `value` lies outside the range: 0 inside, signed.
    pub fn off(&self, value: f64) -> f64 {
        let [low, high] = self.range;
        (value - high).max(0.0) + (value - low).min(0.0)
    }
}

/// A quantity of one member on a day.
pub fn value(run: &Ensemble, quantity: Daily, day: usize, member: usize) -> f64 {
    run.daily(quantity, day)
        .nth(member)
        .map_or(f64::NAN, f64::from)
}

fn normals(town: &str) -> Normals {
    let towns = Towns::load().expect("the table of towns");
    let FoundTown::One(town) = towns.find(town) else {
        panic!("not one town of the table: {town}")
    };
    Normals::new(Place::from(town)).expect("the town's figures")
}

fn deeds(case: &Case, temperature: f64) -> Vec<At> {
    let m = &case.mix;
    let feed = |kg: f64, day: f64| {
        let dry = kg * (1.0 - m.water);
        let organic = dry * (1.0 - m.ash);
        let carbon = organic * 0.5;
        let deed = Deed::Feed(Feed {
            water: kg * m.water,
            quick: organic * m.pools[0],
            cellulose: organic * m.pools[1],
            lignin: organic * m.pools[2],
            ash: dry * m.ash,
            carbon,
            nitrogen: carbon / m.cn,
            dry_density: m.density,
            pieces: 1.0,
            temperature,
        });
        At { day, deed }
    };
    let mut all = match case.feeds {
        Feeds::Once(kg) => vec![feed(kg, 0.0)],
        Feeds::Every { kg, days, until } => (0..)
            .map(|i| f64::from(i) * days)
            .take_while(|&day| day < until)
            .map(|day| feed(kg, day))
            .collect(),
    };
    if let Some(every) = case.turned {
        let turns = (1..).map(|i| f64::from(i) * every + 0.04);
        all.extend(turns.take_while(|&d| d < case.days as f64).map(|day| At {
            day,
            deed: Deed::Turn,
        }));
    }
    all
}

/// Runs a study with `count` members, each in [`DRAWS`] vessels, one after another.
pub fn run(case: &Case, index: usize, count: u64) -> (Ensemble, usize) {
    let first = Day::from_ymd(2025, case.start.0, case.start.1).expect("a day of the year");
    let town = match case.site {
        Site::Town(name) => Some(normals(name)),
        Site::Room(_) => None,
    };
    let temperature = match case.site {
        Site::Room(t) => t,
        Site::Town(_) => town.as_ref().map_or(15.0, |n| n.on(first).mean_c.max(5.0)),
    };
    let latitude = town.as_ref().map_or(0.8, Normals::latitude_rad);
    let days = courses(latitude, first.of_year().1 as f64 + 1.0, case.days + 1);
    let plan = Plan::new(case.vessel, deeds(case, temperature), case.days, days);
    let noise = Noise::default();
    let members: Vec<Member> = (0..count * DRAWS as u64)
        .map(|m| {
            let mut row = prior::row(SEED, m / DRAWS as u64);
            let own = prior::row(SEED + 1 + index as u64, m);
            for (at, name) in Params::<f64>::NAMES.iter().enumerate() {
                if REDRAWN.contains(name) {
                    row[at] = own[at];
                }
            }
            let air = match &town {
                None => Air::constant(temperature, 0.6, case.days),
                Some(n) => {
                    let draw = (SEED + index as u64, m);
                    Air::of(&Weather::draw(
                        n,
                        first,
                        case.days,
                        &Observed::new(),
                        noise,
                        draw,
                    ))
                }
            };
            Member {
                params: prior::params(&row, &case.vessel),
                air: Arc::new(air),
            }
        })
        .collect();
    let last = plan.last_feed().ceil() as usize;
    (simulate(&plan, &members), last)
}

/// Every run's figure for each target of every study; [`DRAWS`] runs a member.
/// `guess` may change a set-up first.
pub fn figures(count: u64, guess: impl Fn(&mut Case)) -> Vec<(Target, Vec<f64>)> {
    let targets = targets();
    let mut all = Vec::new();
    for (index, mut case) in setup::CASES.into_iter().enumerate() {
        guess(&mut case);
        let (ran, last) = run(&case, index, count);
        for target in targets.iter().filter(|t| t.study == case.study) {
            let values = (0..count as usize * DRAWS)
                .map(|m| target.of(&ran, last, m))
                .collect();
            all.push((target.clone(), values));
        }
    }
    assert_eq!(all.len(), targets.len(), "every row has a set-up");
    all
}

/// The value at `share` of the sorted values.
pub fn quantile(values: &[f64], share: f64) -> f64 {
    let mut v = values.to_vec();
    v.sort_by(f64::total_cmp);
    v[((v.len() - 1) as f64 * share).round() as usize]
}

/// Whether the reported range and the middle 90 % of members meet.
pub fn meets(target: &Target, values: &[f64]) -> bool {
    if target.of_all() {
        return target.off(mean(values)).abs() <= target.tolerance;
    }
    quantile(values, 0.05) <= target.range[1] && quantile(values, 0.95) >= target.range[0]
}

/// Mean.
pub fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

/// The middle: median, or mean where the target is a share of all.
pub fn middle(target: &Target, values: &[f64]) -> f64 {
    if target.of_all() {
        mean(values)
    } else {
        quantile(values, 0.5)
    }
}
