//! The amount of an act, in the brown this household has.

use catalogue::{Catalogue, Role};
use engine::blend::Point;
use engine::diagnosis::{Act, Cause, Extra, Inside, Symptom, Things, amount};

use super::PutRightAmount;
use super::evidence::Known;
use crate::answer::LedBy;
use crate::dose::handful_kg;
use crate::forecast::USUAL_LITRES;
use crate::{Desk, DoseLine, Error};

/// Taken where no brown was counted (common practice).
const CARD: &str = "cardboard-corrugated";
/// Greens that most kitchens have (common practice).
const GREENS: &str = "coffee-grounds";
pub(super) const WATER: &str = "water-plain";
/// A bucket of the mix: 10 L, about 5 kg (common practice; 0.5 kg/L judged).
const BUCKET: (f64, f64) = (10.0, 5.0);
/// More than two buckets go in by steps: the mass inside is arithmetic, a squeeze is not (choice).
const STEP_L: f64 = 20.0;
/// Juicy scraps weigh about this, kg/L (judged: a caddy of 6 L holds 2.7 kg).
const SCRAPS_KG_L: f64 = 0.45;

/// A bucket as its symptom makes it likely: wet 70 %, dry 35 %, else 55 % (as in the worked amounts).
fn bucket(cause: Cause) -> Inside {
    let water = match cause {
        Cause::Wet | Cause::LowCn | Cause::WetFines | Cause::JuicyLoad => 0.70,
        Cause::Dry | Cause::DryHot => 0.35,
        _ => 0.55,
    };
    Inside {
        mass_kg: BUCKET.1,
        water,
        cn: None,
        litres: BUCKET.0,
        chamber_l: USUAL_LITRES,
        juicy_l: None,
    }
}

impl Desk {
    pub(super) fn amount_of(
        &self,
        act: Act,
        symptom: Symptom,
        cause: Cause,
        known: &Known,
    ) -> Result<Option<PutRightAmount>, Error> {
        let catalogue = self.catalogue()?;
        let brown = self.brown_at_hand(&catalogue)?;
        let point = |id: &str| catalogue.get(id).map(|m| Point::from(&m.composition()));
        let (Some(card), Some(greens)) = (point(&brown), point(GREENS)) else {
            return Ok(None);
        };
        let inside = known.forecast.as_ref().map(|f| {
            let i = &f.inside;
            let e = &known.evidence;
            // What a hand measured goes before what is worked out.
            let litres = e.litres.unwrap_or(i.litres).mid;
            Inside {
                mass_kg: i.mass_kg.mid * litres / i.litres.mid.max(1.0),
                water: e.water_pct.unwrap_or(i.water_pct).mid / 100.0,
                cn: Some(i.cn.mid),
                litres,
                chamber_l: f.chamber_litres,
                juicy_l: (known.juicy_kg > 0.0).then_some(known.juicy_kg / SCRAPS_KG_L),
            }
        });
        let state = inside.unwrap_or_else(|| bucket(cause));
        let things = Things { card, greens };
        let Some(found) = amount(act, symptom, cause, &state, &things) else {
            return Ok(None);
        };
        // A cover is worked out from the chamber alone.
        let per_bucket = inside.is_none() && act != Act::Cover;
        let found = if per_bucket {
            found.to_start(symptom, cause, &state, &things)
        } else {
            found
        };
        let id = match found.what {
            Extra::Card => brown.as_str(),
            Extra::Water => WATER,
            Extra::Greens => GREENS,
        };
        let Some(material) = catalogue.get(id) else {
            return Ok(None);
        };
        let handful = handful_kg(&catalogue, material, self.hands()?.handful_l);
        let line = |kg: f64, litres: f64| DoseLine {
            material: material.id.clone(),
            name: material.name.clone(),
            kg,
            litres: Some(litres),
            handfuls: handful.map(|h| kg / h),
            led_by: LedBy::Compromise,
        };
        let much = !per_bucket && found.what != Extra::Water && found.litres > STEP_L;
        let step = STEP_L / found.litres.max(STEP_L);
        Ok(Some(PutRightAmount {
            what: found.what.as_str(),
            line: line(found.kg, found.litres),
            today: much.then(|| line(found.kg * step, found.litres * step)),
            bound_by: found.bound_by.as_str(),
            water_after_pct: 100.0 * found.water_after,
            cn_after: found.cn_after,
            per_bucket,
        }))
    }

    /// The dry brown counted in the largest volume, else torn card.
    fn brown_at_hand(&self, catalogue: &Catalogue) -> Result<String, Error> {
        let dries = |id: &str| catalogue.get(id).is_some_and(|m| m.role == Role::Dries);
        Ok(self
            .stock_lines()?
            .into_iter()
            .filter(|s| s.kg.is_some_and(|kg| kg > 0.0) && dries(&s.material))
            .max_by(|a, b| a.litres.unwrap_or(0.0).total_cmp(&b.litres.unwrap_or(0.0)))
            .map_or_else(|| CARD.into(), |s| s.material))
    }
}
