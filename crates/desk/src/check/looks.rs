//! What was read of a fill, screened, in days of its run.

use engine::assimilate::{Kind, Reading, Seen, screen::screen};
use jiff::civil::Date;
use journal::{Body, Chamber, Page};

use super::sight;
use crate::forecast::Run;
use crate::{Desk, Error, HOUSEHOLD};

/// A reading of the journal.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Said {
    pub(crate) reading: Reading,
    /// Sent by a probe: screened as it came.
    sensor: bool,
}

/// Readings of a fill.
#[derive(Debug, Clone, Default)]
pub(crate) struct Looked {
    /// Those to learn from, in order.
    pub(crate) kept: Vec<Reading>,
    /// How many cannot be.
    pub(crate) aside: usize,
    /// Day of the latest that counts.
    pub(crate) latest: Option<Date>,
    /// The latest temperature: day of the run, °C, and whether it counts.
    pub(crate) probe: Option<(f64, f64, bool)>,
}

impl Looked {
    /// Days since a kind was read last, before `now`.
    pub(crate) fn since(&self, kind: Kind, now: f64) -> Option<f64> {
        self.kept
            .iter()
            .filter(|r| r.kind() == kind)
            .map(|r| now - r.day)
            .min_by(f64::total_cmp)
    }
}

impl Desk {
    /// Readings of the fill of a run, and those that were set aside when they were noted; of a probe's points only
    /// that there was one.
    pub(super) fn said_of(
        &self,
        chamber: &Chamber,
        run: &Run,
    ) -> Result<(Vec<Said>, Vec<Option<Reading>>), Error> {
        let (zone, litres) = (self.zone(), run.plan.vessel.litres);
        let (mut all, mut aside) = (Vec::new(), Vec::new());
        for kind in ["reading", "hours"] {
            let page = Page {
                kind: Some(kind.into()),
                from: Some(run.started),
                ..Page::default()
            };
            for entry in self.store()?.history(HOUSEHOLD, &page)? {
                if run.skips == Some(entry.id) {
                    continue;
                }
                match entry.body.known() {
                    Some(Body::Reading(it)) if it.chamber.as_deref() == Some(&chamber.id) => {
                        let day = run.day_of(entry.at, &zone);
                        aside.extend(it.aside.keys().map(|name| {
                            let seen = sight::seen(name, it.values.get(name)?, litres)?;
                            Some(Reading::new(day, seen))
                        }));
                        // How much there was before a moving says nothing of now.
                        let before = run.moved.is_some_and(|moved| entry.at <= moved);
                        all.extend(it.values.iter().filter_map(|(name, value)| {
                            if it.aside.contains_key(name) {
                                return None;
                            }
                            let seen = sight::seen(name, value, litres)?;
                            if before && matches!(seen, Seen::Litres(_) | Seen::Kilograms(_)) {
                                return None;
                            }
                            Some(Said {
                                reading: Reading::new(day, seen),
                                sensor: false,
                            })
                        }));
                    }
                    Some(Body::Hours(it)) if it.chamber.as_deref() == Some(&chamber.id) => {
                        let points = it.aside.values().map(|n| *n as usize).sum();
                        aside.extend(std::iter::repeat_n(None, points));
                        all.extend(it.hours.iter().filter_map(|hour| {
                            let day = run.day_of(hour.at, &zone) + 0.5 / 24.0;
                            Some(Said {
                                reading: Reading::new(day, Seen::Core(hour.celsius?)),
                                sensor: true,
                            })
                        }));
                    }
                    _ => {}
                }
            }
        }
        Ok((all, aside))
    }

    /// Readings to learn from for a run.
    pub(crate) fn looked(&self, chamber: &Chamber, run: &Run) -> Result<Looked, Error> {
        let (said, mut apart) = self.said_of(chamber, run)?;
        // Hours of a probe were screened as they came; what people note is screened among itself.
        let (sent, noted): (Vec<Said>, Vec<Said>) = said.into_iter().partition(|s| s.sensor);
        let noted: Vec<Reading> = noted.iter().map(|s| s.reading).collect();
        let screened = screen(&noted, run.first_day(), run.now);
        apart.extend(screened.aside.iter().map(|a| Some(a.reading)));
        let mut kept = screened.kept;
        kept.extend(
            sent.iter()
                .map(|s| s.reading)
                .filter(|r| (run.first_day()..=run.now).contains(&r.day)),
        );
        kept.sort_by(|a, b| a.day.total_cmp(&b.day));
        let latest = kept.last().and_then(|r| run.date(r.day));
        let core = |r: &Reading, counts: bool| match r.seen {
            Seen::Core(c) => Some((r.day, c, counts)),
            _ => None,
        };
        let probe = kept
            .iter()
            .filter_map(|r| core(r, true))
            .chain(apart.iter().flatten().filter_map(|r| core(r, false)))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        Ok(Looked {
            kept,
            aside: apart.len(),
            latest,
            probe,
        })
    }
}
