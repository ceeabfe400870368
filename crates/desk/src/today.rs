//! Anything to do now?

use journal::{Body, Page};

use crate::answer::TodayAnswer;
use crate::{Desk, DoseAsk, Error, HOUSEHOLD};

/// The answer for a journal of so many events on one day; any event makes it old.
pub(crate) type Kept = Option<(usize, jiff::civil::Date, TodayAnswer)>;

impl Desk {
    /// Which chamber, how much card with a full caddy, and what happened last.
    ///
    /// # Errors
    /// As the journal's.
    pub fn today(&self) -> Result<TodayAnswer, Error> {
        // Looked at far more often than anything is written: worked out once for each state.
        let state = (
            self.store()?.count(HOUSEHOLD)?,
            self.clock.now(&self.zone()).date(),
        );
        if let Ok(kept) = self.kept.read()
            && let Some((events, day, answer)) = kept.as_ref()
            && (*events, *day) == state
        {
            return Ok(answer.clone());
        }
        let answer = self.work_out_today()?;
        if let Ok(mut kept) = self.kept.write() {
            *kept = Some((state.0, state.1, answer.clone()));
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
                text: "full caddy".into(),
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
        })
    }
}
