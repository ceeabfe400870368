//! This went in.

use jiff::Timestamp;
use journal::{Amount, Appended, Body, EventId, NewEvent, Opened, Portion, PutIn};
use units::{Spread, ranges};
use uuid::Uuid;

use crate::answer::{AddAnswer, Line, Reading};
use crate::read::Read;
use crate::{Clock, Desk, Error, HOUSEHOLD, HouseholdChange};

impl Desk {
    /// Records an entry into a chamber: the one named, the one in the words, or the one to tip into.
    /// A repeated post with the same key is one entry.
    ///
    /// # Errors
    /// [`Error::Refused`] when anything in it stays out of any compost: nothing is recorded then.
    pub fn add(&self, text: &str, to: Option<&str>, key: Option<&str>) -> Result<AddAnswer, Error> {
        let read = self.read_to_record(text)?;
        let named = to.or(read.reading.chamber.as_deref());
        let (portions, unknown) = recorded(&read.reading)?;
        if self.store()?.chambers(HOUSEHOLD)?.is_empty() {
            // The first entry of a new journal begins its first chamber: nothing is asked before it.
            let name = named.unwrap_or("Chamber").to_owned();
            let change = HouseholdChange::Chamber {
                name,
                litres: None,
                length_cm: None,
                across_cm: None,
                upright: None,
            };
            self.change_household(change, None)?;
        }
        let chamber = match named {
            Some(name) => self.chamber_named(name)?,
            None => self.tip_into()?,
        };
        let body = Body::PutIn(PutIn {
            chamber: chamber.id.clone(),
            text: text.to_owned(),
            portions,
            unknown,
        });
        let done = self.write(body, read.at, key)?;
        Ok(AddAnswer {
            id: done.id.to_string(),
            read: read.reading,
            chamber: chamber.name.unwrap_or(chamber.id),
            written: done.written,
        })
    }

    /// Says what an already part-full chamber holds: level (per cent of the chamber), since when, and
    /// roughly what.
    ///
    /// # Errors
    /// As [`Desk::add`]; a level outside 0–100 %.
    pub fn open_part_full(
        &self,
        chamber: &str,
        level_pct: Option<f64>,
        since_days: Option<u16>,
        text: &str,
        key: Option<&str>,
    ) -> Result<AddAnswer, Error> {
        level_pct.map(|l| ranges::LEVEL_PCT.check(l)).transpose()?;
        let chamber = self.chamber_named(chamber)?;
        let read = self.read_to_record(text)?;
        let since = since_days.and_then(|days| {
            let today = self.clock.now(&self.zone()).date();
            today
                .checked_sub(jiff::Span::new().days(i64::from(days)))
                .ok()
        });
        let (portions, _) = recorded(&read.reading)?;
        let body = Body::Opened(Opened {
            chamber: chamber.id.clone(),
            level: level_pct.map(|l| l / 100.0),
            since,
            portions,
        });
        let done = self.write(body, None, key)?;
        Ok(AddAnswer {
            id: done.id.to_string(),
            read: read.reading,
            chamber: chamber.name.unwrap_or(chamber.id),
            written: done.written,
        })
    }

    /// Reads an entry that is to be recorded: anything in it that stays out of any compost refuses it whole.
    pub(crate) fn read_to_record(&self, text: &str) -> Result<Read, Error> {
        let read = self.read(text)?;
        match read.reading.refused.first() {
            Some(line) => Err(Error::Refused {
                name: line.name.clone(),
                caution: stop(&line.caution),
            }),
            None => Ok(read),
        }
    }

    /// Writes one event, now, about `at` (or now).
    pub(crate) fn write(
        &self,
        body: Body,
        at: Option<Timestamp>,
        key: Option<&str>,
    ) -> Result<Appended, Error> {
        let event = self.new_event(body, at, key)?;
        let done = self.store()?.append(&[event])?;
        done.into_iter().next().ok_or(Error::NothingToUndo)
    }

    /// An event of this household, now, about `at` (or now).
    pub(crate) fn new_event(
        &self,
        body: Body,
        at: Option<Timestamp>,
        key: Option<&str>,
    ) -> Result<NewEvent, Error> {
        let now = self.clock.now(&self.zone()).timestamp();
        Ok(NewEvent {
            id: self.new_id(now)?,
            household: HOUSEHOLD.into(),
            at: at.unwrap_or(now),
            recorded: now,
            key: key.filter(|k| !k.is_empty()).map(str::to_owned),
            body,
        })
    }

    pub(crate) fn new_id(&self, now: Timestamp) -> Result<EventId, Error> {
        let uuid = match self.clock {
            Clock::System => Uuid::now_v7(),
            // The demo's day stands still; its ids still have to differ, and to stand in order.
            Clock::Fixed(_) => {
                let seconds = u64::try_from(now.as_second()).unwrap_or_default();
                Uuid::new_v7(uuid::Timestamp::from_unix(&ORDER, seconds, 0))
            }
        };
        Ok(EventId::new(uuid)?)
    }
}

/// Order of ids made at one moment of a clock that stands still.
static ORDER: std::sync::Mutex<uuid::ContextV7> = std::sync::Mutex::new(uuid::ContextV7::new());

/// What of a reading is recorded: its portions and the words not understood.
pub(crate) fn recorded(reading: &Reading) -> Result<(Vec<Portion>, Vec<String>), Error> {
    let portions = reading
        .items
        .iter()
        .map(portion)
        .collect::<Result<Vec<_>, _>>()?;
    let unknown = reading.unknown.iter().map(|u| u.text.clone()).collect();
    Ok((portions, unknown))
}

pub(crate) fn portion(line: &Line) -> Result<Portion, Error> {
    let amount = |s: Option<Spread>| {
        let s = s.unwrap_or(Spread::exact(0.0));
        Amount {
            low: s.low,
            mid: s.mid,
            high: s.high,
        }
    };
    if let Some(kg) = line.kg {
        ranges::PORTION_KG.check(kg.mid)?;
    }
    Ok(Portion {
        material: line.material.clone(),
        text: line.text.clone(),
        kg: amount(line.kg),
        litres: amount(line.litres),
        hand: true,
    })
}

fn stop(text: &str) -> String {
    let text = text.trim();
    if text.is_empty() || text.ends_with('.') {
        text.to_owned()
    } else {
        format!("{text}.")
    }
}
