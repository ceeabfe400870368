//! How much of it, for this chamber.
//!
//! ```text
//! wetter to drier:   card  = m(w1 − w2)/(w2 − wc)                      w2 = 60 %
//! drier to wetter:   water = m(w2 − w1)/(1 − w2)                       w2 = 55 %
//! C:N up or down:    x     = (R·N − C)/[(1 − wb)(Cb − R·Nb)]           R = 25 with card, 35 with greens
//! ```
//! m wet mass, w water shares, R the aim (NRAES-54, ch. 3). They are solved by [`crate::dose::exact`]. Card
//! answers to water and to C:N, and the larger need binds. Aims: NRAES-54 Table 2.1 prefers 50–60 % water;
//! 25 and 35 are the nearest good C:N, so that the act stays the smallest. Carbon is taken as 45 % of dry
//! matter (judged: scraps and card lie within 42 to 47 %). Where room runs out, room binds.

use super::act::Act;
use super::cause::Cause;
use super::symptom::Symptom;
use crate::blend::{PACKING, Parts, Point};
use crate::dose::{Candidate, Problem, Target, Windows, exact};

/// Aims, see above.
const DRIED: f64 = 0.60;
const WETTED: f64 = 0.55;
const CN_UP: f64 = 25.0;
const CN_DOWN: f64 = 35.0;
/// Carbon share of dry matter.
const CARBON: f64 = 0.45;
/// What a nose or hand says of water, where arithmetic says less: slimy, dripping or foul is 68 % at least,
/// dusty and unchanged 40 % at most (outer limits of the windows; NRAES-54 Table 2.1, widened by choice).
const SOAKED: f64 = 0.68;
const PARCHED: f64 = 0.40;
/// Likewise of C:N: ammonia is 20 at most, all brown 50 at least (the same).
const RICH: f64 = 20.0;
const LEAN: f64 = 50.0;
/// A drum turns with a fifth of it empty (common practice).
const FULL: f64 = 0.8;
/// Share of the volume that cools a hot load, or opens balls (common practice: 10 to 20 %, 10 to 15 %).
const BY_VOLUME: f64 = 0.10;
/// Thickness of a cover, m (common practice: 2 cm).
const COVER_M: f64 = 0.02;
/// What nobody weighed is begun with half of what arithmetic asks, and with half a bucket at most, L (choice: a bucket
/// may be half as heavy as taken, or half as wet; a squeeze tells when to stop).
const START: f64 = 0.5;
const START_L: f64 = 5.0;
/// Dry card for each litre of juicy scraps put in (common practice: 1.5 to 2).
const PER_SCRAPS: f64 = 1.5;

named! {
    /// What is added.
    Extra {
        /// Torn card.
        Card = "card",
        /// Water.
        Water = "water",
        /// Greens: coffee grounds or grass.
        Greens = "greens",
    }
}

named! {
    /// What decides the amount.
    BoundBy {
        /// Water.
        Water = "water",
        /// Carbon to nitrogen.
        CarbonNitrogen = "carbon_nitrogen",
        /// The room that is left in the chamber.
        Room = "room",
        /// A share of the volume, by common practice.
        Volume = "volume",
    }
}

/// What is in the chamber, worked out or measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inside {
    /// Wet mass, kg.
    pub mass_kg: f64,
    /// Water share of wet mass.
    pub water: f64,
    /// Carbon to nitrogen.
    pub cn: Option<f64>,
    /// Volume, L.
    pub litres: f64,
    /// Size of the chamber, L.
    pub chamber_l: f64,
    /// Litres of juicy scraps put in last, if the log says.
    pub juicy_l: Option<f64>,
}

/// What a household adds: a point of the composition of each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Things {
    /// Torn card.
    pub card: Point,
    /// Greens.
    pub greens: Point,
}

/// How much.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Amount {
    /// Of what.
    pub what: Extra,
    /// Mass, kg.
    pub kg: f64,
    /// Volume as it lies, L.
    pub litres: f64,
    /// What decides it.
    pub bound_by: BoundBy,
    /// Water share after.
    pub water_after: f64,
    /// C:N after, where it is known before.
    pub cn_after: Option<f64>,
}

impl Amount {
    /// What to begin with where nobody weighed what is in there. A share of the volume is a rule of thumb as it stands.
    #[must_use]
    pub fn to_start(
        self,
        symptom: Symptom,
        cause: Cause,
        inside: &Inside,
        things: &Things,
    ) -> Self {
        if self.bound_by == BoundBy::Volume {
            return self;
        }
        let share = START.min(START_L / self.litres.max(f64::MIN_POSITIVE));
        let state = taken(symptom, cause, inside);
        let thing = match self.what {
            Extra::Card => things.card,
            Extra::Water => TAP,
            Extra::Greens => things.greens,
        };
        let kg = self.kg * share;
        let after = base(&state) + thing.parts(kg);
        Self {
            kg,
            litres: self.litres * share,
            water_after: after.water_share().unwrap_or(state.water),
            cn_after: state.cn.and_then(|_| after.carbon_nitrogen()),
            ..self
        }
    }
}

/// The state the amount is worked out for: what the symptom says goes before arithmetic.
#[must_use]
pub fn taken(symptom: Symptom, cause: Cause, inside: &Inside) -> Inside {
    let soaked = matches!(
        symptom,
        Symptom::Slimy | Symptom::Dripping | Symptom::Rotten
    );
    let mut taken = *inside;
    match cause {
        Cause::Wet if soaked => taken.water = taken.water.max(SOAKED),
        Cause::Dry | Cause::DryHot => taken.water = taken.water.min(PARCHED),
        Cause::LowCn => taken.cn = taken.cn.map(|cn| cn.min(RICH)),
        Cause::HighCn => taken.cn = taken.cn.map(|cn| cn.max(LEAN)),
        _ => {}
    }
    taken
}

fn base(inside: &Inside) -> Parts {
    let water = inside.mass_kg * inside.water;
    let dry = inside.mass_kg - water;
    let carbon = CARBON * dry;
    Parts {
        water,
        dry,
        carbon,
        // Without a C:N the row is never asked for.
        nitrogen: inside.cn.map_or(0.0, |cn| carbon / cn),
        litres: inside.litres / PACKING.1,
        ..Parts::default()
    }
}

/// Mass that brings the mix to one target; nothing if none does, or if it is there already.
fn need(base: Parts, thing: Point, target: Target) -> f64 {
    let problem = Problem {
        base,
        candidates: vec![Candidate {
            per_kg: thing.parts(1.0),
            stock_kg: None,
            handful_kg: None,
        }],
        windows: Windows::default(),
        packing: PACKING.1,
        limits: vec![target.limit()],
    };
    exact(&problem, &[target]).map_or(0.0, |q| q[0])
}

const TAP: Point = Point {
    water: 1.0,
    carbon: 0.0,
    nitrogen: 0.0,
    ash: 0.0,
    lignin: 0.0,
    carbonate: 0.0,
    density: 1000.0,
};

/// The amount of an act in this chamber; `None` for an act without one.
#[must_use]
pub fn amount(
    act: Act,
    symptom: Symptom,
    cause: Cause,
    inside: &Inside,
    things: &Things,
) -> Option<Amount> {
    let state = taken(symptom, cause, inside);
    let base = base(&state);
    let by_volume = |litres: f64| (litres * things.card.density / 1000.0, BoundBy::Volume);
    let (what, thing, (kg, bound_by)) = match (act, cause) {
        (Act::AddCard, Cause::JuicyLoad) => {
            let litres = state
                .juicy_l
                .map_or(BY_VOLUME * state.litres, |l| l * PER_SCRAPS);
            (Extra::Card, things.card, by_volume(litres))
        }
        (Act::AddCard, Cause::RichLoad) | (Act::AddCoarse, _) => (
            Extra::Card,
            things.card,
            by_volume(BY_VOLUME * state.litres),
        ),
        (Act::AddCard, _) => {
            let by_water = need(base, things.card, Target::Water(DRIED));
            let by_cn = match state.cn {
                Some(cn) if cn < CN_UP => need(base, things.card, Target::CarbonNitrogen(CN_UP)),
                _ => 0.0,
            };
            let bound = if by_cn > by_water {
                (by_cn, BoundBy::CarbonNitrogen)
            } else {
                (by_water, BoundBy::Water)
            };
            (Extra::Card, things.card, bound)
        }
        (Act::Cover, _) => {
            // The surface of a chamber of any usual shape is near its volume to the two thirds.
            let litres = COVER_M * (state.chamber_l / 1000.0).powf(2.0 / 3.0) * 1000.0;
            (Extra::Card, things.card, by_volume(litres))
        }
        (Act::AddWater, _) => {
            let kg = need(base, TAP, Target::Water(WETTED));
            (Extra::Water, TAP, (kg, BoundBy::Water))
        }
        (Act::AddGreens, _) => {
            let kg = match state.cn {
                Some(_) => need(base, things.greens, Target::CarbonNitrogen(CN_DOWN)),
                // Common practice: a tenth by volume.
                None => BY_VOLUME * state.litres * things.greens.density / 1000.0,
            };
            let bound = state
                .cn
                .map_or(BoundBy::Volume, |_| BoundBy::CarbonNitrogen);
            (Extra::Greens, things.greens, (kg, bound))
        }
        _ => return None,
    };
    let litres = kg * 1000.0 / thing.density;
    let room = ((FULL * state.chamber_l - state.litres) / PACKING.1).max(0.0);
    // Water sinks into the pores; a cover lies on top and is soon turned under.
    let (kg, litres, bound_by) = if what != Extra::Water && act != Act::Cover && litres > room {
        (room * thing.density / 1000.0, room, BoundBy::Room)
    } else {
        (kg, litres, bound_by)
    };
    let after = base + thing.parts(kg);
    Some(Amount {
        what,
        kg,
        litres,
        bound_by,
        water_after: after.water_share().unwrap_or(state.water),
        cn_after: state.cn.and_then(|_| after.carbon_nitrogen()),
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "tests")]
    use super::*;

    /// Card of the worked examples: 6 % water, 43 % carbon, 0.1 % nitrogen.
    const THINGS: Things = Things {
        card: Point {
            water: 0.06,
            carbon: 0.43,
            nitrogen: 0.001,
            ash: 0.1,
            lignin: 0.15,
            carbonate: 0.0,
            density: 63.0,
        },
        greens: Point {
            water: 0.6,
            carbon: 0.5,
            nitrogen: 0.02,
            ash: 0.02,
            lignin: 0.1,
            carbonate: 0.0,
            density: 500.0,
        },
    };

    fn inside(water: f64, cn: Option<f64>) -> Inside {
        Inside {
            mass_kg: 10.0,
            water,
            cn,
            litres: 20.0,
            chamber_l: 130.0,
            juicy_l: None,
        }
    }

    fn of(act: Act, symptom: Symptom, cause: Cause, inside: &Inside) -> Amount {
        amount(act, symptom, cause, inside, &THINGS).unwrap()
    }

    #[test]
    fn the_printed_amounts_come_out() {
        // 10 kg from 70 to 60 % with card at 6 %: 1.85 kg; from 35 to 55 %: 4.44 L of water (computed).
        let card = of(
            Act::AddCard,
            Symptom::Slimy,
            Cause::Wet,
            &inside(0.70, None),
        );
        assert!((card.kg - 1.852).abs() < 1e-3, "{card:?}");
        assert!((card.water_after - 0.60).abs() < 1e-6);
        let water = of(
            Act::AddWater,
            Symptom::DryUnchanged,
            Cause::Dry,
            &inside(0.35, None),
        );
        assert!((water.kg - 4.444).abs() < 1e-3, "{water:?}");
        // 10 kg of scraps, 25 % dry, C:N 15, to 25 with card: 1.97 kg; wetness asks for more and binds.
        let scraps = inside(0.75, Some(15.0));
        let base = base(&scraps);
        let by_cn = need(base, THINGS.card, Target::CarbonNitrogen(25.0));
        assert!((by_cn - 1.97).abs() < 0.01, "{by_cn}");
        let card = of(Act::AddCard, Symptom::Ammonia, Cause::LowCn, &scraps);
        assert_eq!(card.bound_by, BoundBy::Water);
        assert!(card.kg > by_cn && (card.water_after - 0.6).abs() < 1e-6);
    }

    #[test]
    fn the_nose_goes_before_arithmetic() {
        let damp = inside(0.55, None);
        let card = of(Act::AddCard, Symptom::Slimy, Cause::Wet, &damp);
        assert!(
            card.kg > 1.0,
            "slimy is wet, whatever is worked out: {card:?}"
        );
        let water = of(
            Act::AddWater,
            Symptom::DryUnchanged,
            Cause::Dry,
            &inside(0.6, None),
        );
        assert!(water.kg > 3.0, "{water:?}");
    }

    #[test]
    fn what_nobody_weighed_is_begun_with_half() {
        let bucket = Inside {
            mass_kg: 5.0,
            litres: 10.0,
            ..inside(0.70, None)
        };
        let (symptom, cause) = (Symptom::Slimy, Cause::Wet);
        let whole = of(Act::AddCard, symptom, cause, &bucket);
        let start = whole.to_start(symptom, cause, &bucket, &THINGS);
        // Half a bucket of card to a bucket: dry card is light, so the whole would be more than one.
        assert!(
            whole.litres > 10.0 && (start.litres - 5.0).abs() < 1e-9,
            "{start:?}"
        );
        // It dries, and stays on the wet side of what the whole amount comes to.
        assert!(start.water_after < 0.70 && start.water_after > whole.water_after);
        // Nothing is lost between mass, litres and water: 3.5 kg of water and 6 % of the card.
        let water = (3.5 + 0.06 * start.kg) / (5.0 + start.kg);
        assert!((start.water_after - water).abs() < 1e-9);
        // A rule of thumb by volume stays.
        let rich = of(Act::AddCard, Symptom::TooHot, Cause::RichLoad, &bucket);
        let kept = rich.to_start(Symptom::TooHot, Cause::RichLoad, &bucket, &THINGS);
        assert_eq!(kept, rich);
    }

    #[test]
    fn room_binds_where_it_runs_out() {
        let full = Inside {
            litres: 100.0,
            mass_kg: 50.0,
            ..inside(0.72, None)
        };
        let card = of(Act::AddCard, Symptom::Slimy, Cause::Wet, &full);
        assert_eq!(card.bound_by, BoundBy::Room);
        assert!((card.litres - 5.0).abs() < 1e-9, "{card:?}");
        assert!(card.water_after > 0.6);
    }

    #[test]
    fn greens_bring_c_n_down_and_a_wait_has_no_amount() {
        let greens = of(
            Act::AddGreens,
            Symptom::DryUnchanged,
            Cause::HighCn,
            &inside(0.5, Some(60.0)),
        );
        assert_eq!(greens.what, Extra::Greens);
        assert!((greens.cn_after.unwrap() - 35.0).abs() < 0.01, "{greens:?}");
        assert!(
            amount(
                Act::Wait,
                Symptom::NotHeating,
                Cause::Cold,
                &inside(0.5, None),
                &THINGS
            )
            .is_none()
        );
    }
}
