//! When can I use it, for what, and how sure is that?
//!
//! Journal → plan → ensemble → facts. A thousand members run once for each state of the journal and day; a
//! page never waits for them: [`Desk::forecast_if_known`] gives what is worked out, the server works it out
//! beside.

mod answer;
mod buys;
mod learnt;
mod moves;
pub(crate) mod place;
mod plan;

use std::sync::Arc;

use engine::assimilate::stretch::{Stretch, floored};
use engine::ensemble::{Daily, Ensemble, LANES, Member, simulate, summed};
use engine::forecast::{Rung, Window, turning::turning};
use jiff::civil::Date;
use units::Spread;

use journal::Chamber;

use crate::check::{RecordFacts, drum};
use crate::{Desk, Error};

pub use answer::{
    Assumed, ForecastAnswer, InsideFacts, LearntFacts, MoveFacts, RungFacts, WeekFacts,
};
pub use buys::{CardFacts, Gain};
pub(crate) use plan::{KITCHEN_C, Run, USUAL, USUAL_LITRES, day_of};

/// Members of a forecast shown.
pub(crate) const MEMBERS: usize = 1000;
/// Members of each "what would move it".
const MOVE_MEMBERS: usize = 200;
/// Packs between two looks at the progress (choice: a tenth of a second or so).
const PACKS: usize = 16;
/// Days looked ahead.
const AHEAD: usize = 365;
/// Longest run: three years back and one ahead.
pub(crate) const LONGEST: usize = 4 * 366;

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct ForecastAsk {
    /// Chamber; the one closed longest, else the one filling, if none is named.
    pub chamber: Option<String>,
    /// Members.
    pub members: usize,
    /// Seed.
    pub seed: u64,
    /// Whether to work out what would move the date.
    pub moves: bool,
}

impl Default for ForecastAsk {
    fn default() -> Self {
        Self {
            chamber: None,
            members: MEMBERS,
            seed: crate::SEED,
            moves: true,
        }
    }
}

impl Desk {
    /// Forecast of one chamber.
    ///
    /// # Errors
    /// No such chamber, an empty one, or as the journal's.
    pub fn forecast(&self, ask: &ForecastAsk) -> Result<ForecastAnswer, Error> {
        self.forecast_told(ask, &mut |_, _| {})
    }

    /// As [`Desk::forecast`]; `progress` is told runs done and runs in all.
    ///
    /// # Errors
    /// As [`Desk::forecast`].
    pub fn forecast_told(
        &self,
        ask: &ForecastAsk,
        progress: &mut dyn FnMut(usize, usize),
    ) -> Result<ForecastAnswer, Error> {
        let chamber = self.forecast_chamber(ask.chamber.as_deref())?;
        let run = self.run_of(&chamber)?;
        self.forecast_of(chamber, run, ask, progress)
    }

    /// As [`Desk::forecast`], without what one entry read; what it did stands.
    pub(crate) fn forecast_without(
        &self,
        ask: &ForecastAsk,
        entry: &str,
    ) -> Result<ForecastAnswer, Error> {
        let chamber = self.forecast_chamber(ask.chamber.as_deref())?;
        let mut run = self.run_of(&chamber)?;
        run.skips = Some(entry.parse()?);
        self.forecast_of(chamber, run, ask, &mut |_, _| {})
    }

    fn forecast_of(
        &self,
        chamber: Chamber,
        mut run: Run,
        ask: &ForecastAsk,
        progress: &mut dyn FnMut(usize, usize),
    ) -> Result<ForecastAnswer, Error> {
        let looked = self.looked(&chamber, &run)?;
        let around = looked.kept.iter().flat_map(|r| {
            let day = r.day as usize;
            [day.saturating_sub(1), day, day + 1]
        });
        let now = [run.today.saturating_sub(1), run.today, run.today + 1];
        let keep: Vec<usize> = shown(run.plan.days, run.today)
            .chain(around)
            .chain(now)
            .collect();
        run.plan = run.plan.keeping(keep);
        let name = chamber.name.clone().unwrap_or_else(|| chamber.id.clone());
        let moved = if ask.moves {
            ask.members.min(MOVE_MEMBERS)
        } else {
            0
        };
        let (mut done, all) = (0, ask.members + moved * moves::ACTS);
        let mut told = |runs: usize| {
            done += runs;
            progress(done, all);
        };
        let learnt = run.learn(&looked, ask, &mut told);
        let ensemble = learnt.map_err(|cause| Error::Unlearnt {
            chamber: name.clone(),
            cause,
        })?;
        let (record, stretch) = self.fared()?;
        if let Some(open) = open_balance(&ensemble) {
            return Err(Error::OpenBalance(open));
        }
        let learns = learnt::learns(&looked, ask);
        // Without readings the window is the prior's: only past batches widen it.
        let stretch = if learns || stretch.rests_on > 0 {
            stretch
        } else {
            Stretch {
                factor: 1.0,
                rests_on: 0,
            }
        };
        let mut answer = facts(&run, &ensemble, ask, stretch);
        answer.chamber = name;
        answer.id = chamber.id;
        answer.record = record;
        answer.worth = learnt::worth(&run, &ensemble, &looked);
        if learns {
            answer.learnt.used = looked.kept.len();
            answer.learnt.drum = run.rows.as_deref().map(drum).unwrap_or_default();
        }
        answer.learnt.aside = looked.aside;
        answer.learnt.latest = looked.latest;
        answer.learnt.probe = looked
            .probe
            .and_then(|(day, c, counts)| Some((run.date(day)?, c, counts)));
        let moved = moved.min(ensemble.outcomes.len());
        if moved > 0 {
            let members = run.members(ask.seed, moved);
            answer.moves = moves::ranked(&run, &members, &ensemble.outcomes[..moved], &mut told);
        }
        Ok(answer)
    }

    /// The forecast of a chamber, if it is worked out for the journal as it is today.
    #[must_use]
    pub fn forecast_if_known(&self, chamber: &str) -> Option<Arc<ForecastAnswer>> {
        let mut known = None;
        let _ = self.keeping(
            |kept| {
                known = kept.forecasts.get(chamber).cloned();
                &mut kept.nothing
            },
            |_| Ok(()),
        );
        known
    }

    /// Works out and keeps the forecast of every chamber that holds something; for the server, beside its pages.
    ///
    /// # Errors
    /// The first that went wrong; the other chambers are worked out all the same.
    pub fn work_out_forecasts(&self) -> Result<(), Error> {
        let mut wrong = None;
        self.close_hours(self.clock.now(&self.zone()).timestamp())?;
        let mut fresh: Vec<Arc<ForecastAnswer>> = Vec::new();
        for chamber in self.chambers()? {
            if chamber.state == "empty" || self.forecast_if_known(&chamber.id).is_some() {
                continue;
            }
            let ask = ForecastAsk {
                chamber: Some(chamber.id.clone()),
                ..ForecastAsk::default()
            };
            let mark = self.mark()?;
            match self.forecast(&ask) {
                Ok(answer) => {
                    let answer = Arc::new(answer);
                    self.keep_if_still(mark, |kept| {
                        kept.forecasts
                            .insert(chamber.id.clone(), Arc::clone(&answer));
                    })?;
                    fresh.push(answer);
                }
                // A chamber without anything that rots has no forecast; its page says so.
                Err(Error::NothingToForecast { .. }) => {}
                Err(other) => wrong = wrong.or(Some(other)),
            }
        }
        if self.card_if_known().is_none() {
            let mark = self.mark()?;
            if let Some(usual) = self.today()?.usual
                && let Some(card) = self.card_buys(&usual, &mut |_, _| {})?
            {
                self.keep_if_still(mark, |kept| kept.card = Some(card))?;
            }
        }
        self.issue_kept(&fresh)?;
        wrong.map_or(Ok(()), Err)
    }

    /// Stores forecasts as given. What is kept then stands for the journal with them in it: they change no forecast.
    fn issue_kept(&self, fresh: &[Arc<ForecastAnswer>]) -> Result<(), Error> {
        let mark = self.mark()?;
        let all: Vec<&ForecastAnswer> = fresh.iter().map(|a| &**a).collect();
        let known = self.forecasts_kept();
        let season = self.season_if_known();
        let written = self.issue(&all)?;
        let now = self.mark()?;
        if written > 0 && i64::try_from(written).is_ok_and(|n| mark + n == now) {
            let (forecasts, card) = known;
            self.keep_if_still(now, |kept| {
                kept.forecasts.clone_from(&forecasts);
                kept.card = card;
                kept.season.clone_from(&season);
            })?;
        }
        Ok(())
    }

    fn forecasts_kept(
        &self,
    ) -> (
        std::collections::BTreeMap<String, Arc<ForecastAnswer>>,
        Option<CardFacts>,
    ) {
        let mut known = (std::collections::BTreeMap::new(), None);
        let _ = self.keeping(
            |kept| {
                known = (kept.forecasts.clone(), kept.card);
                &mut kept.nothing
            },
            |_| Ok(()),
        );
        known
    }

    /// Keeps what was worked out for the journal at `mark`, unless something was written since.
    pub(crate) fn keep_if_still(
        &self,
        mark: i64,
        mut keep: impl FnMut(&mut crate::today::Kept),
    ) -> Result<(), Error> {
        if self.mark()? != mark {
            return Ok(());
        }
        self.keeping(
            |kept| {
                keep(kept);
                &mut kept.nothing
            },
            |_| Ok(()),
        )
    }
}

/// Runs members a few packs at a time, so that progress can be told.
fn in_parts(
    plan: &engine::ensemble::Plan,
    members: &[Member],
    told: &mut dyn FnMut(usize),
) -> Ensemble {
    let mut ensemble = simulate(plan, &[]);
    for some in members.chunks(PACKS * LANES) {
        ensemble.join(simulate(plan, some));
        told(some.len());
    }
    ensemble
}

/// The worst open balance, if one is open.
fn open_balance(ensemble: &Ensemble) -> Option<engine::batch::balance::Open> {
    use engine::batch::balance::{LIMIT, NAMES, Open};
    ensemble.outcomes.iter().find_map(|o| {
        let at = o.residual.iter().position(|r| r.is_nan() || *r > LIMIT)?;
        Some(Open {
            quantity: NAMES[at],
            day: ensemble.days as f64,
            residual: o.residual[at],
        })
    })
}

/// The days that are shown: one a week, and today.
fn shown(days: usize, today: usize) -> impl Iterator<Item = usize> {
    (0..days)
        .step_by(7)
        .chain([today.min(days.saturating_sub(1))])
}

fn spread(e: &Ensemble, quantity: Daily, day: usize) -> Spread {
    let q = e.quantiles(quantity, day, &[0.05, 0.5, 0.95]);
    Spread::new(q[0], q[1], q[2])
}

/// Days to a rung as they are shown: stretched as past batches ask, and never narrower than the floor.
fn shown_days(raw: &[f64], today: f64, stretch: Stretch) -> Vec<f64> {
    let mut days = stretch.stretched(raw, today);
    // The floor is of the 90 % window: the factor grows until it is met, or no more spread is there to stretch.
    for _ in 0..6 {
        let mut sorted = days.clone();
        sorted.sort_by(f64::total_cmp);
        let at = |share| engine::forecast::window::quantile(&sorted, share);
        let (early, middle, late) = (at(0.05), at(0.5), at(0.95));
        let (from, to) = floored((early, late), middle, today);
        let (is, least) = (late - early, to - from);
        if !least.is_finite() || is >= least - 1e-6 || is <= 0.0 {
            break;
        }
        let wider = Stretch {
            factor: (least / is).min(3.0),
            ..stretch
        };
        days = wider.stretched(&days, today);
    }
    days
}

fn facts(run: &Run, e: &Ensemble, ask: &ForecastAsk, stretch: Stretch) -> ForecastAnswer {
    let now = run.today.min(e.days - 1);
    let date = |day: f64| run.date(day);
    let rungs = Rung::ALL
        .into_iter()
        .enumerate()
        .map(|(at, rung)| {
            let raw: Vec<f64> = e.outcomes.iter().map(|o| o.ready[at]).collect();
            // What a stretch carries past the horizon is "not by the horizon", as it is for a member.
            let within = |day: f64| {
                if day > e.days as f64 {
                    f64::INFINITY
                } else {
                    day
                }
            };
            let days = shown_days(&raw, run.now, stretch);
            let w = Window::of(days.into_iter().map(within));
            let ends = learnt::ends(raw);
            RungFacts {
                rung: rung.as_str(),
                early: date(w.early),
                middle: date(w.middle),
                late: date(w.late),
                dots: w.dots.iter().map(|d| date(*d)).collect(),
                never: w.never,
                // A date is a whole day: what arrives today has arrived.
                in_twenty_by_now: w
                    .dots
                    .iter()
                    .filter(|d| d.floor() <= run.today as f64)
                    .count(),
                days: [w.early, w.middle, w.late].map(|d| d.is_finite().then_some(d)),
                raw: ends.map(|d| d.is_finite().then_some(d)),
            }
        })
        .collect();
    let inside = InsideFacts {
        core_c: spread(e, Daily::Core, now),
        shell_c: spread(e, Daily::Shell, now),
        air_c: spread(e, Daily::Air, now),
        water_pct: spread(e, Daily::Water, now),
        litres: spread(e, Daily::Litres, now),
        litres_10_90: {
            let q = e.quantiles(Daily::Litres, now, &[0.1, 0.9]);
            (q[0], q[1])
        },
        mass_kg: spread(e, Daily::Mass, now),
        cn: spread(e, Daily::CarbonNitrogen, now),
        air_space_pct: spread(e, Daily::AirSpace, now),
        oxygen_pct: spread(e, Daily::Oxygen, now),
        clumped_pct: spread(e, Daily::Clumped, now),
        acids_g_kg: spread(e, Daily::Acids, now),
        uptake: spread(e, Daily::Uptake, now),
        recognisable_pct: spread(e, Daily::Recognisable, now),
        nitrogen_lost_pct: spread(e, Daily::NitrogenLost, now),
    };
    let weeks = (0..e.days)
        .step_by(7)
        .map(|day| WeekFacts {
            date: date(day as f64),
            core_c: spread(e, Daily::Core, day),
            air_c: spread(e, Daily::Air, day).mid,
            water_pct: spread(e, Daily::Water, day),
            litres: spread(e, Daily::Litres, day),
            cn: spread(e, Daily::CarbonNitrogen, day),
            recognisable_pct: spread(e, Daily::Recognisable, day),
        })
        .collect();
    let peak = Window::of(e.outcomes.iter().map(|o| o.peak_c));
    ForecastAnswer {
        chamber: String::new(),
        id: String::new(),
        state: run.state,
        chamber_litres: run.plan.vessel.litres,
        first_feed: run.first,
        last_feed: date(run.plan.last_feed()).unwrap_or(run.first),
        today: date(run.today as f64).unwrap_or(run.first),
        days_since_first: run.today,
        horizon: date(e.days as f64).unwrap_or(run.first),
        assumed: run.assumed.clone(),
        rungs,
        turning: turning(inside.oxygen_pct.mid, inside.clumped_pct.mid / 100.0),
        inside,
        weeks,
        peak_c: Spread::new(peak.dots[0], peak.middle, peak.dots[19]),
        summed: summed(&e.outcomes).iter().map(|s| (s.name, s.at)).collect(),
        horizon_days: e.days,
        moves: Vec::new(),
        members: e.outcomes.len(),
        seed: ask.seed,
        learnt: LearntFacts {
            stretch: stretch.factor,
            stretch_rests_on: stretch.rests_on,
            ..LearntFacts::default()
        },
        worth: Vec::new(),
        record: RecordFacts {
            batches: 0,
            inside: 0,
        },
    }
}

impl Run {
    /// The date of a day since the first feed; `None` beyond the horizon.
    pub(crate) fn date(&self, day: f64) -> Option<Date> {
        let whole = day.is_finite().then(|| day.floor() as i64)?;
        self.first
            .checked_add(jiff::Span::new().try_days(whole).ok()?)
            .ok()
    }
}
