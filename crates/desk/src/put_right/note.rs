//! It is done; it helped.

use std::collections::BTreeMap;

use catalogue::{Material, Verdict};
use engine::diagnosis::{Act, Cause, Symptom};
use journal::{Amount, Body, Measured, Note, Page, Portion, PutIn, Reading};
use units::ranges;

use super::amounts::WATER;
use super::{cause_named, words};
use crate::{Desk, Error, HOUSEHOLD};

/// Readings looked at for what helped; ten years of weekly ones are below it (choice).
const MOST: u32 = 600;
/// A turning of the drum is five times round (common practice).
const ROUNDS: f64 = 5.0;

/// What was done about what, as it was shown: a second tap says the same, whatever has changed since.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PutRightDone {
    /// What was noticed, by id or in words.
    pub symptom: String,
    /// Chamber it is about; none for the caddy.
    pub chamber: Option<String>,
    /// The cause acted on, by id.
    pub cause: String,
    /// The act, by id.
    pub act: String,
    /// What was added and how much of it: material id, kg.
    pub added: Option<(String, f64)>,
    /// What it says in the log.
    pub text: String,
    /// Whether it helped: the cause then counts for this household.
    pub helped: bool,
}

impl Desk {
    /// Notes that an act was done, or that it helped. Card and greens put into a chamber that fills are
    /// counted as put in; water and turnings move the forecast. A repeat with the same key is one entry.
    ///
    /// # Errors
    /// A symptom, cause, act, material or chamber that does not exist; an amount out of range; as the journal's.
    pub fn note_put_right(&self, done: &PutRightDone, key: Option<&str>) -> Result<String, Error> {
        let symptom = words::read(&done.symptom)?;
        let unknown = |field: &str, given: &str| Error::BadSetting {
            field: field.into(),
            reason: format!(
                "`{}` is not known here; ask again what is wrong. Nothing was recorded",
                crate::read::shortened(given)
            ),
        };
        let cause = cause_named(&done.cause).ok_or_else(|| unknown("cause", &done.cause))?;
        let act = Act::parse(&done.act).ok_or_else(|| unknown("act", &done.act))?;
        let chamber = done
            .chamber
            .as_deref()
            .map(|name| self.chamber_named(name))
            .transpose()?
            .map(|c| c.id);
        let added = match &done.added {
            Some((material, kg)) => {
                ranges::PORTION_KG.check(*kg)?;
                let catalogue = self.catalogue()?;
                let found = catalogue
                    .get(material)
                    .filter(|m| m.verdict != Verdict::Never)
                    .ok_or_else(|| unknown("material", material))?;
                Some(self.portion_of(found, *kg))
            }
            None => None,
        };
        let body = self.body_of(symptom, cause, act, chamber, added, done)?;
        Ok(self.write(body, None, key)?.id.to_string())
    }

    fn portion_of(&self, material: &Material, kg: f64) -> Portion {
        // A hand measures it: people differ by a third either way (judged).
        let about = |x: f64| Amount {
            low: x * 0.7,
            mid: x,
            high: x * 1.3,
        };
        let density = material.composition().density.map_or(0.0, |d| d.mid);
        let litres = if density > 0.0 {
            kg * 1000.0 / density
        } else {
            0.0
        };
        Portion {
            material: material.id.clone(),
            text: material.name.clone(),
            kg: about(kg),
            litres: about(litres),
            hand: true,
        }
    }

    fn body_of(
        &self,
        symptom: Symptom,
        cause: Cause,
        act: Act,
        chamber: Option<String>,
        added: Option<Portion>,
        done: &PutRightDone,
    ) -> Result<Body, Error> {
        let text = done.text.clone();
        let mut values = BTreeMap::from([
            (
                "symptom".to_owned(),
                Measured::Text(symptom.as_str().into()),
            ),
            ("cause".to_owned(), Measured::Text(cause.as_str().into())),
        ]);
        if done.helped {
            values.insert("helped".into(), Measured::Number(1.0));
            return Ok(Body::Reading(Reading {
                chamber,
                text,
                values,
                ..Reading::default()
            }));
        }
        let Some(chamber) = chamber.filter(|_| !symptom.of_caddy()) else {
            return Ok(Body::Note(Note { text }));
        };
        match added {
            Some(portion) if portion.material == WATER => {
                values.insert("water_l".into(), Measured::Number(portion.kg.mid));
            }
            Some(portion) => {
                // A closed chamber counts its rest from the last thing put in: a little card does not begin
                // it anew.
                let fill = self.store()?.contents(HOUSEHOLD, &chamber)?;
                if fill.is_some_and(|(fill, _)| fill.closed.is_none()) {
                    return Ok(Body::PutIn(PutIn {
                        chamber,
                        text,
                        portions: vec![portion],
                        unknown: Vec::new(),
                    }));
                }
            }
            None => {}
        }
        if matches!(act, Act::Turn | Act::BreakClumps) {
            values.insert("turns".into(), Measured::Number(ROUNDS));
        }
        Ok(Body::Reading(Reading {
            chamber: Some(chamber),
            text,
            values,
            ..Reading::default()
        }))
    }

    /// How often each cause of a symptom was borne out here: acts noted as having helped.
    pub(super) fn borne_out(&self, symptom: Symptom) -> Result<Vec<(Cause, u32)>, Error> {
        let Ok(store) = self.store() else {
            return Ok(Vec::new());
        };
        let page = Page {
            kind: Some("reading".into()),
            reverse: true,
            limit: Some(MOST),
            ..Page::default()
        };
        let mut seen: BTreeMap<Cause, u32> = BTreeMap::new();
        for entry in store.history(HOUSEHOLD, &page)? {
            let Some(Body::Reading(it)) = entry.body.known() else {
                continue;
            };
            let text = |name: &str| match it.values.get(name) {
                Some(Measured::Text(text)) => Some(text.as_str()),
                _ => None,
            };
            if it.values.contains_key("helped")
                && text("symptom") == Some(symptom.as_str())
                && let Some(cause) = text("cause").and_then(cause_named)
            {
                *seen.entry(cause).or_default() += 1;
            }
        }
        Ok(seen.into_iter().collect())
    }
}
