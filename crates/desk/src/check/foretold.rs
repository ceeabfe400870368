//! Forecasts as they were given, held against what came.

use std::collections::BTreeMap;

use engine::assimilate::carry::{Carried, Owner, carried, owner};
use engine::assimilate::stretch::{Past, Stretch};
use engine::ensemble::prior::{PRIORS, Row};
use jiff::Timestamp;
use jiff::civil::Date;
use journal::{Body, Emptied, Foretold, ForetoldRung, NewEvent, Page};

use super::answer::{Given, RecordFacts};
use crate::forecast::ForecastAnswer;
use crate::{Desk, Error, HOUSEHOLD};

/// A batch that was used, and what was said of it when it was closed.
struct Finished {
    foretold: ForetoldRung,
    said: Date,
    used: Date,
}

impl Finished {
    fn inside(&self) -> bool {
        let early = self.foretold.early.is_none_or(|d| d <= self.used);
        // Beyond the horizon has no early end: only a late one may be open.
        self.foretold.early.is_some() && early && self.foretold.late.is_none_or(|d| self.used <= d)
    }

    fn past(&self) -> Past {
        let days = self.used.since(self.said).map_or(0, |s| s.get_days());
        Past {
            forecast: self.foretold.days.map(|d| d.unwrap_or(f64::INFINITY)),
            came: f64::from(days),
        }
    }
}

impl Desk {
    fn foretold(&self) -> Result<Vec<(Timestamp, Foretold)>, Error> {
        let page = Page {
            kind: Some("foretold".into()),
            ..Page::default()
        };
        let all = self.store()?.history(HOUSEHOLD, &page)?;
        Ok(all
            .into_iter()
            .filter_map(|e| match e.body.known() {
                Some(Body::Foretold(it)) => Some((e.at, it.clone())),
                _ => None,
            })
            .collect())
    }

    /// Batches that were emptied with a word on what they were fit for, oldest first.
    fn finished(&self) -> Result<Vec<Finished>, Error> {
        let zone = self.zone();
        let foretold = self.foretold()?;
        let page = Page {
            kind: Some("emptied".into()),
            ..Page::default()
        };
        let mut emptied: Vec<(Timestamp, Emptied)> = Vec::new();
        for entry in self.store()?.history(HOUSEHOLD, &page)? {
            if let Some(Body::Emptied(it)) = entry.body.known() {
                emptied.push((entry.at, it.clone()));
            }
        }
        let fills = self.store()?.fills(HOUSEHOLD)?;
        Ok(emptied
            .iter()
            .filter_map(|(at, it)| {
                let rung = it.fit_for.as_deref()?;
                let fill = fills
                    .iter()
                    .find(|f| f.chamber == it.chamber && f.emptied == Some(*at))?;
                // The first forecast after closing: earlier ones said "if nothing more went in".
                let (when, said) = foretold.iter().find(|(when, f)| {
                    f.chamber == it.chamber && fill.closed.is_some_and(|c| *when >= c) && when < at
                })?;
                let row = said.rungs.iter().find(|r| r.rung == rung)?;
                let date = |at: Timestamp| at.to_zoned_datetime(zone.clone()).date();
                Some(Finished {
                    foretold: row.clone(),
                    said: date(*when),
                    used: date(*at),
                })
            })
            .collect())
    }

    /// How past windows fared, and how far the next are to be stretched.
    pub(crate) fn fared(&self) -> Result<(RecordFacts, Stretch), Error> {
        let finished = self.finished()?;
        let inside = finished.iter().filter(|f| f.inside()).count();
        let past: Vec<Past> = finished.iter().map(Finished::past).collect();
        let record = RecordFacts {
            batches: finished.len(),
            inside,
        };
        Ok((record, Stretch::of(&past)))
    }

    /// What the batch before taught of this chamber's drum.
    pub(crate) fn carried_into(&self, chamber: &str, started: Timestamp) -> Result<Carried, Error> {
        let foretold = self.foretold()?;
        let last = foretold
            .iter()
            .rev()
            .find(|(at, f)| f.chamber == chamber && *at < started && !f.drum.is_empty());
        let mut out = Carried::default();
        for (i, prior) in PRIORS.iter().enumerate() {
            if let Some([mean, sd]) = last.and_then(|(_, f)| f.drum.get(prior.name)) {
                (out.mean[i], out.sd[i]) = (*mean, *sd);
            }
        }
        Ok(out)
    }

    /// The forecast of a chamber that was given last before an entry was written.
    ///
    /// # Errors
    /// As the journal's.
    pub fn given_before(&self, chamber: &str, entry: &str) -> Result<Option<Given>, Error> {
        let Some(entry) = self.store()?.entry(HOUSEHOLD, entry.parse()?)? else {
            return Ok(None);
        };
        let Some((fill, _)) = self.store()?.contents(HOUSEHOLD, chamber)? else {
            return Ok(None);
        };
        let foretold = self.foretold()?;
        let last = foretold
            .iter()
            .rev()
            .find(|(at, f)| f.chamber == chamber && *at >= fill.started && *at < entry.recorded);
        let zone = self.zone();
        Ok(last.and_then(|(at, f)| {
            let bed = engine::forecast::Rung::PlantedBed.as_str();
            let row = f.rungs.iter().find(|r| r.rung == bed)?;
            Some(Given {
                on: at.to_zoned_datetime(zone).date(),
                window: [row.early, row.middle, row.late],
            })
        }))
    }

    /// Keeps a forecast that was told to a person, once a day and chamber.
    ///
    /// # Errors
    /// As the journal's.
    pub fn keep_as_given(&self, told: &ForecastAnswer) -> Result<(), Error> {
        self.issue(&[told]).map(|_| ())
    }

    /// Stores forecasts as they were given, each chamber once a day; gives how many were new.
    ///
    /// # Errors
    /// As the journal's.
    pub(crate) fn issue(&self, answers: &[&ForecastAnswer]) -> Result<usize, Error> {
        let zone = self.zone();
        let now = self.clock.now(&zone);
        let midnight = now
            .start_of_day()
            .map_or_else(|_| now.timestamp(), |z| z.timestamp());
        let page = Page {
            kind: Some("foretold".into()),
            from: Some(midnight),
            ..Page::default()
        };
        let today = self.store()?.history(HOUSEHOLD, &page)?;
        let given = |id: &str| {
            today
                .iter()
                .any(|e| e.body.known().and_then(Body::chamber) == Some(id))
        };
        let mut events = Vec::new();
        for a in answers.iter().filter(|a| !given(&a.id)) {
            events.push(NewEvent {
                id: self.new_id(now.timestamp())?,
                household: HOUSEHOLD.into(),
                at: now.timestamp(),
                recorded: now.timestamp(),
                key: None,
                body: Body::Foretold(as_given(a)),
            });
        }
        if events.is_empty() {
            return Ok(0);
        }
        Ok(self.store()?.append(&events)?.len())
    }
}

/// A forecast as it is stored.
pub(crate) fn as_given(a: &ForecastAnswer) -> Foretold {
    let tenth = |days: f64| (days * 10.0).round() / 10.0;
    Foretold {
        chamber: a.id.clone(),
        readings: a.learnt.used,
        rungs: a
            .rungs
            .iter()
            .map(|r| ForetoldRung {
                rung: r.rung.to_owned(),
                early: r.early,
                middle: r.middle,
                late: r.late,
                days: r
                    .raw
                    .map(|d| d.map(|d| tenth(d - a.days_since_first as f64))),
            })
            .collect(),
        drum: a.learnt.drum.clone(),
    }
}

/// What rows taught of the drum and the household, by name.
pub(crate) fn drum(rows: &[Row]) -> BTreeMap<String, [f64; 2]> {
    let all = carried(rows);
    let thousandth = |x: f64| (x * 1000.0).round() / 1000.0;
    PRIORS
        .iter()
        .enumerate()
        .filter(|(_, p)| owner(p.name) != Owner::Batch)
        .map(|(i, p)| {
            (
                p.name.to_owned(),
                [thousandth(all.mean[i]), thousandth(all.sd[i])],
            )
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn finished(early: Option<Date>, late: Option<Date>, used: Date) -> Finished {
        Finished {
            foretold: ForetoldRung {
                rung: "planted_bed".into(),
                early,
                middle: early,
                late,
                days: [Some(20.0), Some(60.0), None],
            },
            said: date(2026, 3, 1),
            used,
        }
    }

    #[test]
    fn a_window_is_hit_ends_included_and_an_open_end_is_open() {
        let (a, b) = (Some(date(2026, 4, 1)), Some(date(2026, 6, 1)));
        assert!(finished(a, b, date(2026, 4, 1)).inside());
        assert!(finished(a, b, date(2026, 6, 1)).inside());
        assert!(!finished(a, b, date(2026, 6, 2)).inside());
        assert!(finished(a, None, date(2027, 6, 2)).inside());
        assert!(!finished(None, None, date(2026, 4, 1)).inside());
        let past = finished(a, None, date(2026, 5, 1)).past();
        assert_eq!(past.came, 61.0);
        assert!(past.forecast[2].is_infinite());
    }
}
