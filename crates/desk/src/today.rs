//! Anything to do now?

use std::collections::BTreeMap;

use journal::{Body, Page};

use crate::answer::{ChamberFacts, LogLine, TodayAnswer};
use crate::{Desk, DoseAsk, Error, HOUSEHOLD};

/// What a household tips in, as an entry.
pub(crate) const USUAL: &str = "full caddy";

/// Answers for the journal at one mark on one day; any event makes them old.
#[derive(Default)]
pub(crate) struct Kept {
    state: Option<(i64, jiff::civil::Date)>,
    today: Option<TodayAnswer>,
    chambers: Option<Vec<ChamberFacts>>,
    /// Forecasts worked out, by chamber.
    pub(crate) forecasts: BTreeMap<String, std::sync::Arc<crate::ForecastAnswer>>,
    /// The year ahead.
    pub(crate) season: Option<std::sync::Arc<crate::SeasonAnswer>>,
    /// What the usual browns buy.
    pub(crate) card: Option<crate::CardFacts>,
    /// Nothing: for a look at the rest.
    pub(crate) nothing: Option<()>,
    /// First pages of the log, by their most lines.
    pub(crate) logs: BTreeMap<u32, Option<Vec<LogLine>>>,
}

/// What every answer without words of its own rests on: while it stays the same, so do they.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    mark: i64,
    day: jiff::civil::Date,
    worked_out: usize,
}

impl Desk {
    /// How things stand: what is written, which day it is, which forecasts are worked out.
    ///
    /// # Errors
    /// As the journal's.
    pub fn standing(&self) -> Result<Standing, Error> {
        let mark = self.mark()?;
        let day = self.clock.now(&self.zone()).date();
        let kept = self.kept.lock().ok();
        let worked_out = kept
            .filter(|kept| kept.state == Some((mark, day)))
            .map_or(0, |kept| {
                kept.forecasts.len()
                    + usize::from(kept.card.is_some())
                    + usize::from(kept.season.is_some())
            });
        Ok(Standing {
            mark,
            day,
            worked_out,
        })
    }

    /// Which chamber, how much card with a full caddy, and what happened last.
    ///
    /// # Errors
    /// As the journal's.
    pub fn today(&self) -> Result<TodayAnswer, Error> {
        self.keeping(|kept| &mut kept.today, Self::work_out_today)
    }

    /// Every chamber as it stands.
    ///
    /// # Errors
    /// As the journal's.
    pub fn chambers(&self) -> Result<Vec<ChamberFacts>, Error> {
        self.keeping(|kept| &mut kept.chambers, Self::work_out_chambers)
    }

    /// Looked at far more often than anything is written: worked out once for each state.
    pub(crate) fn keeping<T: Clone>(
        &self,
        mut place: impl FnMut(&mut Kept) -> &mut Option<T>,
        work_out: impl FnOnce(&Self) -> Result<T, Error>,
    ) -> Result<T, Error> {
        let state = Some((
            self.store().and_then(|_| self.mark())?,
            self.clock.now(&self.zone()).date(),
        ));
        if let Ok(mut kept) = self.kept.lock() {
            if kept.state != state {
                *kept = Kept {
                    state,
                    ..Kept::default()
                };
            }
            if let Some(answer) = place(&mut kept) {
                return Ok(answer.clone());
            }
        }
        let answer = work_out(self)?;
        if let Ok(mut kept) = self.kept.lock()
            && kept.state == state
        {
            *place(&mut kept) = Some(answer.clone());
        }
        Ok(answer)
    }

    fn work_out_today(&self) -> Result<TodayAnswer, Error> {
        let tip_into = self.tip_into().ok().map(|c| c.name.unwrap_or(c.id));
        let zone = self.zone();
        let today = self.clock.now(&zone).date();
        let page = Page {
            kind: Some("put_in".into()),
            reverse: true,
            limit: Some(1),
            ..Page::default()
        };
        let last = self.store()?.history(HOUSEHOLD, &page)?.into_iter().next();
        let days_since_last = last
            .filter(|e| matches!(e.body.known(), Some(Body::PutIn(_))))
            .map(|e| i64::from((today - e.at.to_zoned_datetime(zone.clone()).date()).get_days()));
        let usual = match &tip_into {
            Some(_) => Some(self.dose(&DoseAsk {
                text: USUAL.into(),
                ..DoseAsk::default()
            })?),
            None => None,
        };
        Ok(TodayAnswer {
            date: self.today_text(),
            tip_into,
            chambers: self.chambers()?,
            days_since_last,
            usual,
            stock: self.stock_lines()?,
            latest: self.log(3, None)?,
            turned_today: self.turned_today()?,
        })
    }
}
