//! Readings of a batch move its members; what each further reading would be worth.

use engine::assimilate::{Kind, NotLearnt, Settings, learn, members, worth};
use engine::ensemble::Ensemble;
use engine::forecast::Rung;
use engine::forecast::window::quantile;

use super::plan::Run;
use super::{ForecastAsk, in_parts};
use crate::check::{BED, Looked, WorthFacts};

/// Members that learn: each pass runs them all (Evensen & others use 100 to 500; choice).
const LEARNERS: usize = 250;
/// Fewer cannot learn; a look whether there is a forecast at all asks for one.
const LEAST: usize = 20;
/// A kind read within so many days is not asked for again (choice).
const FRESH: f64 = 4.0;
/// Least gain worth telling, d (choice).
const WORTH_TELLING: f64 = 1.0;

impl Run {
    /// Members to the horizon, moved by readings where there are any.
    pub(super) fn learn(
        &mut self,
        looked: &Looked,
        ask: &ForecastAsk,
        told: &mut dyn FnMut(usize),
    ) -> Result<Ensemble, NotLearnt> {
        if !learns(looked, ask) {
            let rows = self.carried.rows(ask.seed, ask.members);
            let air = self.skies(ask.seed, ask.members);
            let ensemble = in_parts(&self.plan, &members(&self.plan, &air, &rows), told);
            self.rows = Some(rows);
            return Ok(ensemble);
        }
        let count = ask.members.min(LEARNERS);
        let prior = self.carried.rows(ask.seed, count);
        let air = self.skies(ask.seed, count);
        let settings = Settings {
            seed: ask.seed,
            ..Settings::default()
        };
        let learnt = learn(&self.plan, &air, &prior, &looked.kept, &settings)?;
        told(ask.members);
        self.rows = Some(learnt.rows);
        Ok(learnt.ensemble)
    }
}

/// Whether there is something to learn from, and enough members to learn.
pub(super) fn learns(looked: &Looked, ask: &ForecastAsk) -> bool {
    !looked.kept.is_empty() && ask.members >= LEAST
}

/// 5, 50 and 95 % of days.
pub(super) fn ends(mut days: Vec<f64>) -> [f64; 3] {
    days.sort_by(f64::total_cmp);
    [0.05, 0.5, 0.95].map(|share| quantile(&days, share))
}

/// What each kind of reading is worth now, for the planted bed, or the next rung that most have not reached.
pub(super) fn worth(run: &Run, e: &Ensemble, looked: &Looked) -> Vec<WorthFacts> {
    let waiting = |rung: &Rung| {
        let ready = e
            .outcomes
            .iter()
            .filter(|o| o.ready[*rung as usize] <= run.now);
        ready.count() * 2 < e.outcomes.len()
    };
    let Some(rung) = Rung::ALL.into_iter().skip(BED).find(waiting) else {
        return Vec::new();
    };
    worth::worth(e, &run.plan, rung, run.now)
        .into_iter()
        // A jar or bag test grants a rung; it stands with the tests, not with the looks.
        .filter(|w| w.kind != Kind::Uptake && w.shorter >= WORTH_TELLING)
        .filter(|w| {
            looked
                .since(w.kind, run.now)
                .is_none_or(|days| days > FRESH)
        })
        .map(|w| WorthFacts {
            reading: w.kind.as_str(),
            rung: rung.as_str(),
            days_shorter: w.shorter,
        })
        .collect()
}
