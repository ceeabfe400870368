//! What did I just see, and what does it mean?
//!
//! Words → what was understood → what cannot be → one event → the forecast before and after. The page notes the look
//! and answers at once; the command waits for both forecasts. Everything is checked before anything is written, and
//! once it is written a forecast that cannot be made is no error.

mod answer;
mod foretold;
mod looks;
mod sensors;
mod sight;

use std::collections::BTreeMap;
use std::sync::Arc;

use catalogue::reading::Unread;
use engine::assimilate::moved::{Cause, moved};
use engine::assimilate::screen::screen;
use journal::{Body, Chamber, Measured, Reading};

pub use answer::{AsideFacts, CheckAnswer, Given, MovedFacts, RecordFacts, SeenFacts, WorthFacts};
pub(crate) use foretold::drum;
pub(crate) use looks::Looked;
pub(crate) use sensors::{Known as KnownSensor, Open as OpenHours};
pub use sensors::{ProbePlace, SensorFacts, SensorPoint, Sent};
pub(crate) use sight::seen_again;

use crate::clock;
use crate::forecast::{ForecastAnswer, ForecastAsk};
use crate::{Desk, Error};

/// The rung that dates are told for.
pub(crate) const BED: usize = 2;

/// A look that may be noted as it is.
struct ToNote {
    chamber: Chamber,
    name: String,
    at: jiff::Timestamp,
    understood: Vec<SeenFacts>,
    unknown: Vec<Unread>,
    reading: Reading,
}

impl Desk {
    /// Notes a look inside; no forecast is waited for.
    ///
    /// # Errors
    /// [`Error::NothingSeen`] when nothing was understood: nothing is recorded then. No such chamber, or one that holds
    /// nothing.
    pub fn note_look(
        &self,
        chamber: Option<&str>,
        text: &str,
        key: Option<&str>,
    ) -> Result<CheckAnswer, Error> {
        self.write_look(self.looked_at(chamber, text)?, key)
    }

    /// A look as it would be noted, all of it checked.
    fn looked_at(&self, chamber: Option<&str>, text: &str) -> Result<ToNote, Error> {
        let catalogue = self.catalogue()?;
        let look = catalogue.read_look(text, &self.hands()?)?;
        if let (Some(asked), Some(said)) = (chamber, &look.chamber)
            && self.chamber_named(asked)?.id != self.chamber_named(said)?.id
        {
            return Err(Error::BadSetting {
                field: "chamber".into(),
                reason: format!("the words say {said}, the place beside them {asked}; say one"),
            });
        }
        let chamber = self.forecast_chamber(chamber.or(look.chamber.as_deref()))?;
        let name = chamber.name.clone().unwrap_or_else(|| chamber.id.clone());
        if look.seen.is_empty() {
            return Err(Error::NothingSeen {
                text: crate::read::shortened(text),
                hint: look.unknown.first().map(|u| u.hint),
            });
        }
        let contents = self.store()?.contents(crate::HOUSEHOLD, &chamber.id)?;
        if contents.is_none() {
            return Err(Error::NothingToForecast {
                chamber: Some(name),
            });
        }
        let now = self.clock.now(&self.zone());
        let at = match &look.when {
            None => now.timestamp(),
            Some(when) => {
                clock::resolve(when, &now).ok_or_else(|| Error::BadDay(when.text.clone()))?
            }
        };
        let understood: Vec<SeenFacts> =
            look.seen.iter().map(|s| sight::told(s, &chamber)).collect();
        let values = sight::values(&look, &chamber);
        let aside = self.impossible(&chamber, &values, at)?;
        let reading = Reading {
            chamber: Some(chamber.id.clone()),
            text: text.to_owned(),
            values,
            aside,
        };
        Ok(ToNote {
            chamber,
            name,
            at,
            understood,
            unknown: look.unknown,
            reading,
        })
    }

    fn write_look(&self, look: ToNote, key: Option<&str>) -> Result<CheckAnswer, Error> {
        let set_aside = aside_facts(&look.reading.aside, &look.understood);
        let done = self.write(Body::Reading(look.reading), Some(look.at), key)?;
        Ok(CheckAnswer {
            id: done.id.to_string(),
            chamber: look.name,
            chamber_id: look.chamber.id,
            written: done.written,
            at: clock::moment(look.at, &self.zone()),
            understood: look.understood,
            unknown: look.unknown,
            set_aside,
            before: None,
            after: None,
            no_forecast: None,
            moved: Vec::new(),
        })
    }

    /// A look that was noted, read again from its words, with the forecast as it is known now.
    ///
    /// # Errors
    /// [`Error::NoSuchId`] where no look has this id.
    pub fn look_again(&self, id: &str) -> Result<CheckAnswer, Error> {
        let none = || Error::NoSuchId(crate::read::shortened(id));
        let entry = self
            .store()?
            .entry(crate::HOUSEHOLD, id.parse()?)?
            .ok_or_else(none)?;
        let Some(Body::Reading(it)) = entry.body.known() else {
            return Err(none());
        };
        let chamber = self.chamber_named(it.chamber.as_deref().ok_or_else(none)?)?;
        let look = self.catalogue()?.read_look(&it.text, &self.hands()?)?;
        let understood: Vec<SeenFacts> =
            look.seen.iter().map(|s| sight::told(s, &chamber)).collect();
        let set_aside = aside_facts(&it.aside, &understood);
        Ok(CheckAnswer {
            id: entry.id.to_string(),
            chamber: chamber.name.clone().unwrap_or_else(|| chamber.id.clone()),
            after: self.forecast_if_known(&chamber.id),
            chamber_id: chamber.id,
            written: entry.undone_by.is_none(),
            at: clock::moment(entry.at, &self.zone()),
            understood,
            unknown: look.unknown,
            set_aside,
            before: None,
            no_forecast: None,
            moved: Vec::new(),
        })
    }

    /// Notes a look inside and works out what it changed.
    ///
    /// # Errors
    /// As [`Desk::note_look`]. That no forecast can be made is told in the answer: the look is noted then.
    pub fn check(
        &self,
        chamber: Option<&str>,
        text: &str,
        key: Option<&str>,
    ) -> Result<CheckAnswer, Error> {
        let look = self.looked_at(chamber, text)?;
        let ask = ForecastAsk {
            chamber: Some(look.chamber.id.clone()),
            moves: false,
            ..ForecastAsk::default()
        };
        let before = match self.forecast_if_known(&look.chamber.id) {
            Some(known) => Ok(known),
            None => self.forecast(&ask).map(Arc::new),
        };
        let mut answer = self.write_look(look, key)?;
        let (before, after) = match (before, self.forecast(&ask)) {
            (Ok(before), Ok(after)) => (before, Arc::new(after)),
            (Err(why), _) | (_, Err(why)) => {
                answer.no_forecast = Some(why.to_string());
                return Ok(answer);
            }
        };
        self.issue(&[&after])?;
        let was_done = |s: &SeenFacts| match s.reading.as_str() {
            "turns" => Some(Cause::Turning),
            "water_l" => Some(Cause::Addition),
            _ => None,
        };
        let mut steps = Vec::new();
        // Turned and watered in one look: the turning stands for both.
        let done: Vec<Cause> = answer.understood.iter().filter_map(was_done).collect();
        if let Some(cause) = done.iter().find(|c| **c == Cause::Turning).or(done.first()) {
            // The same journal without what was read: what was done stands by itself.
            let acted = self.forecast_without(&ask, &answer.id)?;
            steps.push((*cause, middle(&acted)));
        }
        steps.push((Cause::Reading, middle(&after)));
        answer.moved = moved(middle(&before), &steps)
            .parts
            .into_iter()
            .map(|part| MovedFacts {
                cause: match part.cause {
                    Cause::Turning => "turning",
                    Cause::Addition => "addition",
                    _ => "reading",
                },
                days: part.days.is_finite().then_some(part.days),
            })
            .collect();
        answer.before = Some(before);
        answer.after = Some(after);
        Ok(answer)
    }

    /// Which of these values cannot be, beside what is known of the fill: name to reason.
    fn impossible(
        &self,
        chamber: &Chamber,
        values: &BTreeMap<String, Measured>,
        at: jiff::Timestamp,
    ) -> Result<BTreeMap<String, String>, Error> {
        let mut aside = BTreeMap::new();
        if let Some(Measured::Number(pct)) = values.get("level_pct")
            && *pct > sight::MOST_PCT
        {
            aside.insert("level_pct".into(), "out_of_range".to_owned());
        }
        let run = match self.run_of(chamber) {
            Ok(run) => run,
            // Nothing in it rots: there is no course to hold a reading against.
            // The same for a batch that is too old to be reckoned.
            Err(Error::NothingToForecast { .. } | Error::TooOld { .. }) => return Ok(aside),
            Err(other) => return Err(other),
        };
        let day = run.day_of(at, &self.zone());
        let litres = run.plan.vessel.litres;
        let (known, _) = self.said_of(chamber, &run)?;
        let mut all: Vec<engine::assimilate::Reading> = known.iter().map(|k| k.reading).collect();
        let fresh: Vec<(&String, engine::assimilate::Reading)> = values
            .iter()
            .filter_map(|(name, value)| {
                let seen = sight::seen(name, value, litres)?;
                Some((name, engine::assimilate::Reading::new(day, seen)))
            })
            .collect();
        all.extend(fresh.iter().map(|(_, r)| *r));
        let screened = screen(&all, run.first_day(), run.now);
        for (name, reading) in fresh {
            if let Some(found) = screened.aside.iter().find(|a| a.reading == reading) {
                aside.insert(name.clone(), sight::reason(found.reason).to_owned());
            }
        }
        Ok(aside)
    }
}

fn aside_facts(aside: &BTreeMap<String, String>, understood: &[SeenFacts]) -> Vec<AsideFacts> {
    let said = |reading: &str| understood.iter().find(|s| s.reading == reading);
    aside
        .iter()
        .map(|(reading, reason)| AsideFacts {
            reading: reading.clone(),
            said: said(reading).map(|s| s.text.clone()).unwrap_or_default(),
            reason: reason.clone(),
        })
        .collect()
}

/// The middle of the planted bed, in days since the first feed.
fn middle(a: &ForecastAnswer) -> f64 {
    a.rungs
        .get(BED)
        .and_then(|r| r.days[1])
        .unwrap_or(f64::INFINITY)
}
