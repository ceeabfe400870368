//! It was turned; it was watered. Both are readings, so that a forecast follows what was done.

use std::collections::BTreeMap;

use journal::{Body, Chamber, Measured, NewEvent, Page, Reading};
use units::ranges;

use crate::{Desk, Error, HOUSEHOLD};

/// Material that is poured.
const WATER: &str = "water-plain";

/// Something done to chambers, as it was noted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TendAnswer {
    /// Ids of the entries, one a chamber.
    pub ids: Vec<String>,
    /// Names of the chambers.
    pub chambers: Vec<String>,
    /// What stands in the log.
    pub text: String,
    /// Whether it was written now, or had been before with the same key.
    pub written: bool,
}

fn name_of(chamber: &Chamber) -> String {
    chamber.name.clone().unwrap_or_else(|| chamber.id.clone())
}

/// A number without a unit.
fn bare(amount: &str) -> Option<f64> {
    amount.replace(',', ".").parse().ok()
}

impl Desk {
    /// Notes that a chamber was turned now. Without a name: every chamber that holds something, as a drum of two
    /// chambers turns as one.
    ///
    /// # Errors
    /// No such chamber, or none that holds anything.
    pub fn turned(&self, chamber: Option<&str>, key: Option<&str>) -> Result<TendAnswer, Error> {
        let chambers = match chamber {
            Some(name) => vec![self.holding(name)?],
            None => {
                let mut all = Vec::new();
                for chamber in self.store()?.chambers(HOUSEHOLD)? {
                    if self.store()?.contents(HOUSEHOLD, &chamber.id)?.is_some() {
                        all.push(chamber);
                    }
                }
                all
            }
        };
        if chambers.is_empty() {
            return Err(Error::BadSetting {
                field: "chamber".into(),
                reason: "none holds anything yet, so there is nothing to turn".into(),
            });
        }
        self.tend(&chambers, "turned", ("turns", 1.0), key)
    }

    /// Notes that water was poured into a chamber now, from words: `2 L`, `half a bucket`.
    ///
    /// # Errors
    /// No such chamber or an empty one; an amount that does not read or is out of range.
    pub fn watered(
        &self,
        chamber: &str,
        amount: &str,
        key: Option<&str>,
    ) -> Result<TendAnswer, Error> {
        let chamber = self.holding(chamber)?;
        let amount = amount.trim();
        let litres = self.poured(amount)?;
        ranges::WATER_L.check(litres)?;
        let unit = if bare(amount).is_some() { " L" } else { "" };
        let text = format!("watered: {amount}{unit}");
        self.tend(&[chamber], &text, ("water_l", litres), key)
    }

    /// Litres that words mean; a bare number is litres.
    fn poured(&self, amount: &str) -> Result<f64, Error> {
        if let Some(litres) = bare(amount) {
            return Ok(litres);
        }
        let wrong = || Error::BadSetting {
            field: "water".into(),
            reason: format!(
                "`{}` is not an amount; say it as 2 L or half a bucket",
                crate::read::shortened(amount)
            ),
        };
        let read = self
            .read(&format!("{amount} of water"))
            .map_err(|_| wrong())?
            .reading;
        match read.items.as_slice() {
            [one] if one.material == WATER && one.assumed.is_none() && read.unknown.is_empty() => {
                one.litres.map(|l| l.mid).ok_or_else(wrong)
            }
            _ => Err(wrong()),
        }
    }

    /// The chamber of that name, if it holds something.
    fn holding(&self, name: &str) -> Result<Chamber, Error> {
        let chamber = self.chamber_named(name)?;
        if self.store()?.contents(HOUSEHOLD, &chamber.id)?.is_none() {
            return Err(Error::BadSetting {
                field: name_of(&chamber),
                reason: "is empty; nothing was recorded".into(),
            });
        }
        Ok(chamber)
    }

    fn tend(
        &self,
        chambers: &[Chamber],
        text: &str,
        (what, value): (&str, f64),
        key: Option<&str>,
    ) -> Result<TendAnswer, Error> {
        let key = key.filter(|k| !k.is_empty());
        let events = chambers
            .iter()
            .map(|chamber| {
                let body = Body::Reading(Reading {
                    chamber: Some(chamber.id.clone()),
                    text: text.to_owned(),
                    values: BTreeMap::from([(what.to_owned(), Measured::Number(value))]),
                    ..Reading::default()
                });
                // One key a form, one entry a chamber.
                let key = key.map(|k| match chambers {
                    [_] => k.to_owned(),
                    _ => format!("{k}.{}", chamber.id),
                });
                self.new_event(body, None, key.as_deref())
            })
            .collect::<Result<Vec<NewEvent>, Error>>()?;
        let done = self.store()?.append(&events)?;
        Ok(TendAnswer {
            ids: done.iter().map(|d| d.id.to_string()).collect(),
            chambers: chambers.iter().map(name_of).collect(),
            text: text.to_owned(),
            written: done.iter().any(|d| d.written),
        })
    }

    /// Names of the chambers that were turned today.
    pub(crate) fn turned_today(&self) -> Result<Vec<String>, Error> {
        let zone = self.zone();
        let morning = self.clock.now(&zone).start_of_day().ok();
        let page = Page {
            kind: Some("reading".into()),
            from: morning.map(|m| m.timestamp()),
            ..Page::default()
        };
        let turned: Vec<String> = self
            .store()?
            .history(HOUSEHOLD, &page)?
            .iter()
            .filter_map(|entry| match entry.body.known() {
                Some(Body::Reading(it)) if it.values.contains_key("turns") => it.chamber.clone(),
                _ => None,
            })
            .collect();
        Ok(self
            .chamber_names()?
            .into_iter()
            .filter(|(id, _)| turned.contains(id))
            .map(|(_, name)| name)
            .collect())
    }
}
