//! One pack of members from the first feed to the horizon.

use std::ops::Range;

use crate::batch::air::{Air, STEPS};
use crate::batch::balance;
use crate::batch::events::{Deed, LEAST_MICROBES, done, moved};
use crate::batch::lanes::{Lanes, Real};
use crate::batch::machine::{LANES, Machine};
use crate::batch::params::Params;
use crate::batch::rates::water_share;
use crate::batch::readiness::{Signs, signs};
use crate::batch::state::{Kept, Matter, State};
use crate::batch::step::{Before, finer, hour as pass};
use crate::forecast::rungs::Rung;

use super::plan::Plan;

macro_rules! daily {
    ($($(#[doc = $doc:literal])+ $variant:ident = $name:literal,)*) => {
        /// Quantities kept for each day.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum Daily { $($(#[doc = $doc])+ $variant,)* }
        impl Daily {
            /// All, in order.
            pub const ALL: &'static [Self] = &[$(Self::$variant),*];
            /// As in JSON.
            #[must_use]
            pub const fn as_str(self) -> &'static str { match self { $(Self::$variant => $name,)* } }
        }
    };
}

daily! {
    /// Core, mean of the day, °C.
    Core = "core_c",
    /// Core, warmest hour of the day, °C.
    CoreMax = "core_max_c",
    /// Shell at the end of the day, °C.
    Shell = "shell_c",
    /// Air, mean of the day, °C.
    Air = "air_c",
    /// Water share of wet mass, %.
    Water = "water_pct",
    /// Volume, L.
    Litres = "litres",
    /// Wet mass, kg.
    Mass = "mass_kg",
    /// Organic matter, kg.
    Organic = "organic_kg",
    /// C:N.
    CarbonNitrogen = "cn",
    /// Nitrogen lost, % of what was put in.
    NitrogenLost = "nitrogen_lost_pct",
    /// Free air space, %.
    AirSpace = "air_space_pct",
    /// Least oxygen of the day, vol-%.
    Oxygen = "oxygen_pct",
    /// Share in water-logged clumps, %.
    Clumped = "clumped_pct",
    /// Organic acids, g per kg dry matter.
    Acids = "acids_g_kg",
    /// Oxygen uptake at 25 °C, mg O2/g OM·d.
    Uptake = "uptake_mg_g_d",
    /// Recognisable share of card and stalk, %.
    Recognisable = "recognisable_pct",
}

/// How many daily quantities there are.
pub const DAILIES: usize = Daily::ALL.len();

/// What one member comes to.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Outcome {
    /// Warmest core, °C, and when, d.
    pub peak_c: f64,
    /// Day of the warmest core.
    pub peak_day: f64,
    /// Days whose mean core is at least 40 °C.
    pub days_ge_40: f64,
    /// Days whose mean core is at least 55 °C.
    pub days_ge_55: f64,
    /// Wet mass lost of what was put in, %.
    pub wet_mass_loss_pct: f64,
    /// Dry mass lost, %.
    pub dry_mass_loss_pct: f64,
    /// Organic matter lost, %.
    pub organic_matter_loss_pct: f64,
    /// Carbon lost, %.
    pub carbon_loss_pct: f64,
    /// Nitrogen lost, %.
    pub nitrogen_loss_pct: f64,
    /// C:N at the end.
    pub final_cn: f64,
    /// Water share at the end, %.
    pub final_water_pct: f64,
    /// Day on which each rung is reached; infinite if not by the horizon.
    pub ready: [f64; 5],
    /// Largest residual of mass, water, carbon, nitrogen.
    pub residual: [f64; 4],
    /// Residual of heat, share of the heat made and brought.
    pub heat_residual: f64,
    /// Microbes, clumps and the rest are finite and not negative.
    pub sound: bool,
    /// Mean core less mean air, K.
    pub mean_rise: f64,
}

/// An empty vessel at a temperature.
#[must_use]
pub fn empty<R: Real>(temperature: R) -> State<R> {
    let nought = temperature.of(0.0);
    let mut s = State {
        matter: Matter::all(nought),
        core: temperature,
        shell: temperature,
        kept: Kept::all(nought),
    };
    s.matter.microbes = nought.of(LEAST_MICROBES);
    s.kept.pieces = nought.of(1.0);
    s
}

#[derive(Clone, Copy)]
struct Reached {
    last: Option<Signs<[f64; LANES]>>,
    ready: [[f64; 5]; LANES],
}

impl Reached {
    fn nothing() -> Self {
        Self {
            last: None,
            ready: [[f64::INFINITY; 5]; LANES],
        }
    }

    fn all(&self, rung: usize) -> bool {
        self.ready.iter().all(|r| r[rung].is_finite())
    }

    /// Looks whether a rung was reached in the day that ends at `end`.
    fn look(&mut self, now: Signs<[f64; LANES]>, end: f64, last_feed: f64, stricter: [f64; 3]) {
        for (at, rung) in Rung::ALL.into_iter().enumerate() {
            let l = rung.limits();
            let rested = last_feed + l.rest;
            if end < rested {
                continue;
            }
            let limits = [
                l.uptake * stricter[0],
                l.cn * stricter[1],
                l.recognisable * stricter[2],
            ];
            for lane in 0..LANES {
                if self.ready[lane][at].is_finite() {
                    continue;
                }
                let values = [now.uptake[lane], now.cn[lane], now.recognisable[lane]];
                // Not a number is over every limit.
                if !values.iter().zip(&limits).all(|(v, l)| v <= l) {
                    continue;
                }
                // Inside the day each limit that was broken is crossed on a straight line; the latest counts.
                let mut share: f64 = 0.0;
                if let Some(last) = &self.last {
                    let before = [last.uptake[lane], last.cn[lane], last.recognisable[lane]];
                    for ((b, v), l) in before.iter().zip(&values).zip(&limits) {
                        if b > l && b > v {
                            share = share.max((b - l) / (b - v));
                        }
                    }
                }
                self.ready[lane][at] = (end - 1.0 + share).max(rested);
            }
        }
        self.last = Some(now);
    }
}

/// Where one pack's days are written.
pub trait Record {
    /// Takes the values of one quantity on the `day`-th day kept.
    fn take(&mut self, day: usize, quantity: Daily, values: &[f64; LANES]);
}

/// Keeps no days.
pub struct Nothing;

impl Record for Nothing {
    #[inline(always)]
    fn take(&mut self, _: usize, _: Daily, _: &[f64; LANES]) {}
}

/// Runs a pack; `record` is given each day. Gives back what members come to, and the steps it took.
#[inline(always)]
pub fn run<M: Machine>(
    plan: &Plan,
    p: &Params<Lanes<M>>,
    air: &Air<Lanes<M>>,
    record: &mut impl Record,
) -> ([Outcome; LANES], usize) {
    let mut way = Way::start(plan, p, air);
    way.days(plan, air, (0..plan.days, None), record);
    (way.end(plan), way.steps)
}

/// A pack on its way: all that the next day depends on.
#[derive(Clone, Copy)]
pub struct Way<M: Machine> {
    own: Params<Lanes<M>>,
    s: State<Lanes<M>>,
    before: Before<Lanes<M>>,
    start_heat: Lanes<M>,
    /// Deeds done.
    deeds: usize,
    turned: f64,
    put_in: f64,
    last_feed: f64,
    out: [Outcome; LANES],
    reached: Reached,
    worst: [Lanes<M>; 4],
    /// One over the most that was ever in: the scales of the ledger.
    per: [Lanes<M>; 3],
    rise: Lanes<M>,
    steps: usize,
}

impl<M: Machine> Way<M> {
    /// An empty vessel on the first day.
    #[inline(always)]
    pub fn start(plan: &Plan, p: &Params<Lanes<M>>, air: &Air<Lanes<M>>) -> Self {
        let of = |value: f64| p.k_r.of(value);
        let s: State<Lanes<M>> = empty(air.days[0].mean);
        let c = crate::batch::rates::capacities(of(0.0), of(0.0), &plan.vessel.driven());
        Self {
            own: *p,
            s,
            before: Before::none(of(0.0)),
            start_heat: c[0] * s.core + c[1] * s.shell,
            deeds: 0,
            turned: 0.0,
            put_in: 0.0,
            last_feed: plan.last_feed(),
            out: [Outcome {
                peak_c: f64::NEG_INFINITY,
                ready: [f64::INFINITY; 5],
                sound: true,
                ..Outcome::default()
            }; LANES],
            reached: Reached::nothing(),
            worst: [of(0.0); 4],
            per: balance::scales(&s),
            rise: of(0.0),
            steps: 0,
        }
    }

    /// The same way under another plan, whose deeds so far are the same. A later last feed starts the rest anew.
    #[inline(always)]
    pub fn onto(mut self, plan: &Plan) -> Self {
        let last_feed = plan.last_feed();
        if last_feed != self.last_feed {
            self.last_feed = last_feed;
            self.reached = Reached::nothing();
        }
        self
    }

    /// Day on which each member reached a rung; infinite if not yet.
    pub fn ready(&self, rung: usize) -> [f64; LANES] {
        self.reached.ready.map(|r| r[rung])
    }

    /// Runs days; ends early once every member has reached the rung `until`.
    #[inline(always)]
    pub fn days(
        &mut self,
        plan: &Plan,
        air: &Air<Lanes<M>>,
        (days, until): (Range<usize>, Option<usize>),
        record: &mut impl Record,
    ) {
        // A copy of its own, so that the compiler keeps it out of memory where it can.
        let mut w = *self;
        let like = w.own.k_r;
        let of = |value: f64| like.of(value);
        let v = plan.vessel.driven();
        let h = 1.0 / STEPS as f64;
        let opening = plan.vessel.opening();
        let mut litres = of(0.0);
        let mut air_space = of(0.0);
        let mut now = air.at(
            &plan.courses,
            (days.start, 0),
            w.turned,
            (w.own.sun_gain, opening),
        );
        for day in days {
            let mut core_sum = of(0.0);
            let mut core_max = of(-300.0);
            let mut hour_max = of(0.0);
            let mut air_sum = of(0.0);
            let mut oxygen_min = of(100.0);
            for hour in 0..STEPS {
                let at = day * STEPS + hour;
                while let Some(next) = plan.deeds.get(w.deeds).filter(|d| Plan::hour(d.day) <= at) {
                    w.deeds += 1;
                    moved(&mut w.own, &next.deed);
                    done(&mut w.s, &next.deed, &w.own, &v);
                    if next.deed == Deed::Turn {
                        w.turned = at as f64 * h;
                    }
                    w.put_in = next.deed.leaves(w.put_in);
                    w.before = Before::none(of(0.0));
                    for (per, new) in w.per.iter_mut().zip(balance::scales(&w.s)) {
                        *per = per.min(new);
                    }
                    now = air.at(
                        &plan.courses,
                        (day, hour),
                        w.turned,
                        (w.own.sun_gain, opening),
                    );
                }
                let then = if hour + 1 < STEPS {
                    (day, hour + 1)
                } else {
                    (day + 1, 0)
                };
                let next = air.at(&plan.courses, then, w.turned, (w.own.sun_gain, opening));
                let count = finer(w.put_in, &v);
                let r = pass(
                    &mut w.s,
                    &mut w.before,
                    &w.own,
                    &v,
                    (&now, &next),
                    (h, count),
                );
                w.steps += r.steps;
                oxygen_min = oxygen_min.min(r.oxygen);
                litres = r.bulk.volume;
                air_space = r.bulk.air_space;
                core_sum = core_sum + w.s.core;
                air_sum = air_sum + now.air;
                let hour_of_day = of(hour as f64 + 1.0);
                let gain = w.s.core - core_max;
                hour_max = gain.below(0.0, hour_max, hour_of_day);
                core_max = core_max.max(w.s.core);
                let open = balance::residuals(&w.s, &w.per);
                for (worst, o) in w.worst.iter_mut().zip(open) {
                    *worst = worst.max(o).max(-o);
                }
                now = next;
            }
            let m = &w.s.matter;
            let organic = m.quick + m.cellulose + m.lignin + m.humus;
            let dry = organic + w.s.kept.ash;
            let end = (day + 1) as f64;
            let core = core_sum * h;
            let mean_air = air_sum * h;
            w.rise = w.rise + core - mean_air;
            let si = signs(&w.s, &w.own);
            if let Some(slot) = plan.place(day) {
                let hundred = of(100.0);
                let lost_n = (m.n_air + m.n_drained)
                    / (m.n_air + m.n_drained + m.n_organic + m.n_mineral + 1e-12);
                for (quantity, value) in [
                    (Daily::Core, core),
                    (Daily::CoreMax, core_max),
                    (Daily::Shell, w.s.shell),
                    (Daily::Air, mean_air),
                    (Daily::Water, water_share(m.water, dry) * 100.0),
                    (Daily::Litres, litres * 1000.0),
                    (Daily::Mass, dry + m.water),
                    (Daily::Organic, organic),
                    (Daily::CarbonNitrogen, si.cn),
                    (Daily::NitrogenLost, lost_n * 100.0),
                    (Daily::AirSpace, air_space * 100.0),
                    (Daily::Oxygen, oxygen_min),
                    (Daily::Clumped, m.clumped * 100.0),
                    (Daily::Acids, m.acids / (dry + 1e-9) * 1000.0),
                    (Daily::Uptake, si.uptake),
                    (Daily::Recognisable, hundred * si.recognisable),
                ] {
                    record.take(slot, quantity, &value.store());
                }
            }
            let (core, core_max, hour_max) = (core.store(), core_max.store(), hour_max.store());
            for (lane, o) in w.out.iter_mut().enumerate() {
                if core_max[lane] > o.peak_c {
                    o.peak_c = core_max[lane];
                    o.peak_day = day as f64 + hour_max[lane] * h;
                }
                o.days_ge_40 += f64::from(core[lane] >= 40.0);
                o.days_ge_55 += f64::from(core[lane] >= 55.0);
            }
            if end > w.last_feed {
                let now = Signs {
                    uptake: si.uptake.store(),
                    cn: si.cn.store(),
                    recognisable: si.recognisable.store(),
                };
                w.reached.look(now, end, w.last_feed, plan.stricter);
            }
            if until.is_some_and(|rung| w.reached.all(rung)) {
                break;
            }
        }
        *self = w;
    }

    /// What each member comes to after the last day.
    #[inline(always)]
    pub fn end(self, plan: &Plan) -> [Outcome; LANES] {
        let Self {
            s,
            start_heat,
            mut out,
            reached,
            worst,
            rise,
            ..
        } = self;
        let of = |value: f64| start_heat.of(value);
        let v = plan.vessel.driven();
        let start = start_heat.store();
        let m = &s.matter;
        let k = &s.kept;
        let organic = m.quick + m.cellulose + m.lignin + m.humus;
        let heat = balance::heat_residual(&s, start_heat, &v);
        let mut sound = of(0.0);
        m.to_each(|at, value| {
            // Totals of heat may be negative in frost; every mass may not.
            if at < Matter::<f64>::COUNT - 2 {
                sound = sound.min(value);
            }
        });
        let all = (organic + k.ash).store();
        let (organic, organic_in) = (organic.store(), k.organic_in.store());
        let (water, mass_in, ash) = (m.water.store(), k.mass_in.store(), k.ash.store());
        let (carbon, carbon_in) = (m.carbon.store(), k.carbon_in.store());
        let (nitrogen, nitrogen_in) = ((m.n_organic + m.n_mineral).store(), k.nitrogen_in.store());
        let (heat, made, brought) = (heat.store(), m.heat_made.store(), k.heat_in.store());
        let (sound, core, rise) = (sound.store(), s.core.store(), rise.store());
        let worst = worst.map(Lanes::store);
        for (lane, o) in out.iter_mut().enumerate() {
            let lost = |now: f64, put_in: f64| 100.0 * (1.0 - now / put_in.max(1e-12));
            let mass = all[lane] + water[lane];
            o.wet_mass_loss_pct = lost(mass, mass_in[lane]);
            o.dry_mass_loss_pct = lost(all[lane], organic_in[lane] + ash[lane]);
            o.organic_matter_loss_pct = lost(organic[lane], organic_in[lane]);
            o.carbon_loss_pct = lost(carbon[lane], carbon_in[lane]);
            o.nitrogen_loss_pct = lost(nitrogen[lane], nitrogen_in[lane]);
            o.final_cn = carbon[lane] / nitrogen[lane].max(1e-12);
            o.final_water_pct = 100.0 * water[lane] / mass.max(1e-12);
            o.ready = reached.ready[lane];
            o.residual = worst.map(|w| w[lane]);
            let scale = made[lane] + brought[lane].abs() + start[lane].abs() + 1.0;
            o.heat_residual = heat[lane] / scale;
            o.sound = sound[lane] >= 0.0 && core[lane].is_finite() && mass.is_finite();
            o.mean_rise = rise[lane] / plan.days.max(1) as f64;
        }
        out
    }
}
