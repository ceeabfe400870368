//! What the tests of the batch and the comparison of its two modes share: members, plans, both modes by the hour.

#![allow(
    dead_code,
    clippy::unwrap_used,
    reason = "each test takes what it needs; a test fails by panicking"
)]

use std::sync::Arc;

use engine::batch::air::{Air, STEPS, courses};
use engine::batch::drivers::Drivers;
use engine::batch::events::{Deed, Feed, done};
use engine::batch::params::Params;
use engine::batch::readiness::signs;
use engine::batch::reference;
use engine::batch::state::State;
use engine::batch::step::{Before, finer, hour};
use engine::batch::vessel::Vessel;
use engine::climate::{Day, Noise, Normals, Observed, Place, Weather};
use engine::ensemble::{At, Member, Plan, prior, run::empty};
use engine::forecast::rungs::Rung;

/// Latitude of the invented garden.
pub(crate) const LATITUDE: f64 = 48.0;

/// Kitchen greens and card at C:N 30: `kg` on the scale, `water` its share.
pub(crate) fn kitchen(kg: f64, water: f64) -> Feed {
    let dry = kg * (1.0 - water);
    let organic = dry * 0.9;
    Feed {
        water: kg * water,
        quick: organic * 0.40,
        cellulose: organic * 0.43,
        lignin: organic * 0.17,
        ash: dry * 0.1,
        carbon: dry * 0.45,
        nitrogen: dry * 0.45 / 30.0,
        dry_density: 130.0,
        pieces: 1.0,
        temperature: 15.0,
    }
}

/// 48 kg in fourteen feeds over six weeks, turned every third day until `days`.
pub(crate) fn six_weeks(days: usize) -> Vec<At> {
    let feeds = (0..14).map(|i| At {
        day: f64::from(i) * 3.0,
        deed: Deed::Feed(kitchen(48.0 / 14.0, 0.58)),
    });
    let turns = (1..days / 3).map(|i| At {
        day: i as f64 * 3.0 + 0.04,
        deed: Deed::Turn,
    });
    feeds.chain(turns).collect()
}

/// A plan from the first of a month on, in the invented garden.
pub(crate) fn plan(vessel: Vessel, deeds: Vec<At>, days: usize, (month, day): (u32, u32)) -> Plan {
    let first = Day::from_ymd(2025, month, day).unwrap();
    let of_year = first.of_year().1 as f64 + 1.0;
    Plan::new(
        vessel,
        deeds,
        days,
        courses(LATITUDE.to_radians(), of_year, days + 1),
    )
}

/// Normals of the invented garden: mean 11 °C, amplitude 8 K.
pub(crate) fn normals(mean: f64, amplitude: f64) -> Normals {
    let monthly_mean_c =
        std::array::from_fn(|i| mean - amplitude * (i as f64 * std::f64::consts::TAU / 12.0).cos());
    Normals::new(Place {
        latitude: LATITUDE,
        monthly_mean_c,
        annual_rain_mm: Some(800.0),
        annual_sun_h: Some(1700.0),
    })
    .unwrap()
}

/// Weather of member `m` from a date on, with the noise of the priors.
pub(crate) fn weather(
    normals: &Normals,
    (month, day): (u32, u32),
    days: usize,
    m: u64,
) -> Air<f64> {
    let first = Day::from_ymd(2025, month, day).unwrap();
    let noise = Noise {
        sigma_k: 2.5,
        phi: 0.75,
    };
    Air::of(&Weather::draw(
        normals,
        first,
        days,
        &Observed::new(),
        noise,
        (1, m),
    ))
}

/// Member `m` of the priors in a vessel, with its weather.
pub(crate) fn member(vessel: &Vessel, air: Air<f64>, m: u64) -> Member {
    Member {
        params: prior::params(&prior::row(1, m), vessel),
        air: Arc::new(air),
    }
}

/// State after each hour, and what the modes need to get there.
pub(crate) struct Hours<'a> {
    plan: &'a Plan,
    member: &'a Member,
}

/// How an hour is passed.
pub(crate) trait Mode {
    /// From `now` to `next` in `h` days; `jumped` if something was done before: kg put in so far.
    fn pass(
        &mut self,
        s: &mut State<f64>,
        p: &Params<f64>,
        v: &engine::batch::drivers::Vessel,
        between: (&Drivers<f64>, &Drivers<f64>),
        jumped: Option<f64>,
    );
}

/// The fast mode as the ensemble runs it.
pub(crate) struct Fast {
    before: Before<f64>,
    count: usize,
    least: usize,
}

impl Fast {
    /// With `least` steps an hour or more; the ensemble runs with 1.
    pub(crate) fn at(least: usize) -> Self {
        Self {
            before: Before::none(0.0),
            count: least,
            least,
        }
    }
}

impl Default for Fast {
    fn default() -> Self {
        Self::at(1)
    }
}

/// How far two runs of one member are apart.
pub(crate) struct Apart {
    /// Largest difference of the core at any hour, K.
    pub(crate) core: f64,
    /// Hour of it.
    pub(crate) hour: usize,
    /// Largest difference of the day of any rung, d; infinite if only one run reaches it.
    pub(crate) rung: f64,
}

/// Compares two runs hour by hour and rung by rung.
pub(crate) fn apart(hours: &Hours<'_>, a: &[State<f64>], b: &[State<f64>]) -> Apart {
    let (mut core, mut hour) = (0.0, 0);
    for (at, (a, b)) in a.iter().zip(b).enumerate() {
        let off = (a.core - b.core).abs();
        if off > core || off.is_nan() {
            (core, hour) = (off, at);
        }
    }
    let rung = hours
        .rungs(a)
        .iter()
        .zip(hours.rungs(b))
        .map(|(a, b)| if *a == b { 0.0 } else { (a - b).abs() })
        .fold(0.0, f64::max);
    Apart { core, hour, rung }
}

/// An hour, d.
pub(crate) const HOUR: f64 = 1.0 / STEPS as f64;

impl Mode for Fast {
    fn pass(
        &mut self,
        s: &mut State<f64>,
        p: &Params<f64>,
        v: &engine::batch::drivers::Vessel,
        between: (&Drivers<f64>, &Drivers<f64>),
        jumped: Option<f64>,
    ) {
        if let Some(kg) = jumped {
            self.before = Before::none(0.0);
            self.count = finer(kg, v).max(self.least);
        }
        hour(s, &mut self.before, p, v, between, (HOUR, self.count));
    }
}

/// The reference mode at a tolerance.
pub(crate) struct Tight {
    tolerance: f64,
    guess: f64,
}

impl Tight {
    /// At a relative tolerance.
    pub(crate) fn at(tolerance: f64) -> Self {
        Self {
            tolerance,
            guess: 1e-3,
        }
    }
}

impl Mode for Tight {
    fn pass(
        &mut self,
        s: &mut State<f64>,
        p: &Params<f64>,
        v: &engine::batch::drivers::Vessel,
        between: (&Drivers<f64>, &Drivers<f64>),
        jumped: Option<f64>,
    ) {
        if jumped.is_some() {
            self.guess = 1e-3;
        }
        reference::advance(s, p, v, between, HOUR, self.tolerance, &mut self.guess);
    }
}

impl<'a> Hours<'a> {
    /// The hours of a member in a plan.
    pub(crate) fn new(plan: &'a Plan, member: &'a Member) -> Self {
        Self { plan, member }
    }

    /// Drivers at an hour since the start; `turned` in days.
    pub(crate) fn drivers(&self, at: usize, turned: f64) -> Drivers<f64> {
        self.member.air.at(
            &self.plan.courses,
            (at / STEPS, at % STEPS),
            turned,
            (self.member.params.sun_gain, self.plan.vessel.opening()),
        )
    }

    /// States at the start and after each hour, before what is done then.
    pub(crate) fn run(&self, mode: &mut impl Mode) -> Vec<State<f64>> {
        let p = &self.member.params;
        let v = self.plan.vessel.driven();
        let mut s = empty(self.member.air.days[0].mean);
        let mut states = vec![s];
        let mut deeds = self.plan.deeds.iter().peekable();
        let (mut turned, mut put_in) = (0.0, 0.0);
        for at in 0..self.plan.days * STEPS {
            let mut jumped = None;
            while let Some(next) = deeds.next_if(|d| Plan::hour(d.day) <= at) {
                done(&mut s, &next.deed, p, &v);
                if next.deed == Deed::Turn {
                    turned = at as f64 * HOUR;
                }
                put_in = next.deed.leaves(put_in);
                jumped = Some(put_in);
            }
            let (now, next) = (self.drivers(at, turned), self.drivers(at + 1, turned));
            mode.pass(&mut s, p, &v, (&now, &next), jumped);
            states.push(s);
        }
        states
    }

    /// Day on which each rung is reached by what is seen at the end of each day.
    pub(crate) fn rungs(&self, states: &[State<f64>]) -> [f64; 5] {
        let last_feed = self.plan.last_feed();
        let p = &self.member.params;
        Rung::ALL.map(|rung| {
            let l = rung.limits();
            let limits = [l.uptake, l.cn, l.recognisable];
            let seen = |day: usize| {
                let s = signs(&states[day * STEPS], p);
                [s.uptake, s.cn, s.recognisable]
            };
            let first = (last_feed + l.rest).ceil() as usize;
            for day in first..=self.plan.days {
                let now = seen(day);
                if now.iter().zip(limits).all(|(v, l)| *v <= l) {
                    let before = seen(day - 1);
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
}
