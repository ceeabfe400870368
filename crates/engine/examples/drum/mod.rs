//! The small drum that the studies of seasons and rungs share, and what is varied in it.
//!
//! A chamber of 106 L, bare and black, in the open at 48° N, mean 11 ± 8 °C. 48 kg go in over six weeks, in 14
//! feeds. Kitchen greens are 0.60/0.28/0.12 quick, cellulose, lignin-like, card 0.06/0.70/0.24 (choice, as in
//! `batch::substrate`); C:N 17 and 500, from the catalogue's mixed kitchen scraps and corrugated card. The mix
//! follows from the C:N asked for: less nitrogen means more card.
#![allow(dead_code, unreachable_pub, reason = "each study uses its own part")]
#![allow(
    clippy::expect_used,
    clippy::panic,
    reason = "a study stops where a table is broken"
)]

use std::sync::Arc;

use engine::batch::air::{Air, courses};
use engine::batch::events::{Deed, Feed};
use engine::batch::vessel::Vessel;
use engine::climate::{Day, Noise, Normals, Observed, Place, Weather};
use engine::ensemble::{At, Ensemble, Member, Plan, prior, simulate};

/// Of members and their weather.
pub const SEED: u64 = 1;
/// Feeds, 3 days apart.
const FEEDS: i32 = 14;
const KITCHEN: (f64, [f64; 3]) = (17.0, [0.60, 0.28, 0.12]);
const CARD: (f64, [f64; 3]) = (500.0, [0.06, 0.70, 0.24]);

/// What is varied.
#[derive(Debug, Clone, Copy)]
pub struct Drum {
    /// Month and day of the first feed.
    pub start: (u32, u32),
    /// Wet kilograms in all.
    pub kg: f64,
    /// C:N of the mix.
    pub cn: f64,
    /// Water share of the mix.
    pub water: f64,
    /// Days to run.
    pub days: usize,
    /// Factor of piece size.
    pub pieces: f64,
    /// Factor on the loss of heat.
    pub insulation: f64,
    /// Sun on it.
    pub sun: f64,
    /// Factors on the limits of the rungs.
    pub stricter: [f64; 3],
}

impl Default for Drum {
    fn default() -> Self {
        Self {
            start: (5, 1),
            kg: 48.0,
            cn: 30.0,
            water: 0.58,
            days: 600,
            pieces: 1.0,
            insulation: 1.0,
            sun: 1.0,
            stricter: [1.0; 3],
        }
    }
}

/// Share of the carbon that is the kitchen's, for a C:N; all of it below the kitchen's own.
fn kitchen_share(cn: f64) -> f64 {
    ((1.0 / cn - 1.0 / CARD.0) / (1.0 / KITCHEN.0 - 1.0 / CARD.0)).clamp(0.0, 1.0)
}

impl Drum {
    /// One feed of `kg`.
    fn feed(&self, kg: f64) -> Feed {
        let dry = kg * (1.0 - self.water);
        let organic = dry * 0.9;
        let carbon = organic * 0.5;
        let share = kitchen_share(self.cn);
        let pool = |at: usize| organic * (share * KITCHEN.1[at] + (1.0 - share) * CARD.1[at]);
        Feed {
            water: kg * self.water,
            quick: pool(0),
            cellulose: pool(1),
            lignin: pool(2),
            ash: dry - organic,
            carbon,
            nitrogen: carbon / self.cn,
            dry_density: 1.0 / (share / 170.0 + (1.0 - share) / 90.0),
            pieces: self.pieces,
            temperature: 15.0,
        }
    }

    /// Runs `count` members.
    pub fn run(&self, count: u64) -> Ensemble {
        let (plan, members) = self.set(count);
        simulate(&plan, &members)
    }

    /// The plan and `count` members, ready to run.
    pub fn set(&self, count: u64) -> (Plan, Vec<Member>) {
        let vessel = Vessel {
            insulation: self.insulation,
            sun: self.sun,
            ..Vessel::default()
        };
        let month = std::f64::consts::TAU / 12.0;
        // Coldest in the middle of January.
        let normals = Normals::new(Place {
            latitude: 48.0,
            monthly_mean_c: std::array::from_fn(|i| 11.0 - 8.0 * (i as f64 * month).cos()),
            annual_rain_mm: Some(800.0),
            annual_sun_h: Some(1700.0),
        })
        .expect("a place on earth");
        let first = Day::from_ymd(2025, self.start.0, self.start.1).expect("a day of the year");
        let each = self.kg / f64::from(FEEDS);
        let mut deeds: Vec<At> = (0..FEEDS)
            .map(|i| At {
                day: f64::from(i) * 3.0,
                deed: Deed::Feed(self.feed(each)),
            })
            .collect();
        deeds.extend((1..self.days / 3).map(|i| At {
            day: i as f64 * 3.0 + 0.04,
            deed: Deed::Turn,
        }));
        let day_of_year = first.of_year().1 as f64 + 1.0;
        let courses = courses(normals.latitude_rad(), day_of_year, self.days + 1);
        let mut plan = Plan::new(vessel, deeds, self.days, courses);
        plan.stricter = self.stricter;
        let members: Vec<Member> = (0..count)
            .map(|m| {
                let weather = Weather::draw(
                    &normals,
                    first,
                    self.days,
                    &Observed::new(),
                    Noise::default(),
                    (SEED, m),
                );
                Member {
                    params: prior::params(&prior::row(SEED, m), &vessel),
                    air: Arc::new(Air::of(&weather)),
                }
            })
            .collect();
        (plan, members)
    }
}

/// 5, 50 and 95 % of a figure of each member.
pub fn spread(run: &Ensemble, of: impl Fn(&engine::ensemble::Outcome) -> f64) -> [f64; 3] {
    let mut v: Vec<f64> = run.outcomes.iter().map(of).collect();
    v.sort_by(f64::total_cmp);
    [0.05, 0.5, 0.95].map(|share| v[((v.len() - 1) as f64 * share).round() as usize])
}

/// First day after the last feed on which a member's mean core is within 3 K of the air's mean.
pub fn cooled(run: &Ensemble) -> Vec<f64> {
    use engine::ensemble::Daily;
    let last_feed = 3 * (FEEDS as usize - 1);
    let mut first = vec![f64::INFINITY; run.outcomes.len()];
    for day in last_feed + 1..run.days {
        let air = run.daily(Daily::Air, day);
        for ((slot, core), air) in first.iter_mut().zip(run.daily(Daily::Core, day)).zip(air) {
            if slot.is_infinite() && (core - air).abs() <= 3.0 {
                *slot = day as f64;
            }
        }
    }
    first
}
