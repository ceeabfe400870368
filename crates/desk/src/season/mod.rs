//! Will there be room, and compost when beds want it?
//!
//! Journal → inflow, what is in the chambers, a table of typical batches → years as they may turn out → what
//! happens when doing as now, and the change-over weeks that lose least. Kept like a forecast: a page never waits.

mod away;
mod browns;
mod facts;
mod learn;
mod lots;
mod months;
mod rules;

use std::sync::Arc;

use engine::batch::vessel::Vessel;
use engine::climate::Normals;
use engine::season::{self, Act, Chambers, Course, Problem, Table, WEEKS};
use jiff::ToSpan as _;
use jiff::civil::Date;

use crate::forecast::{day_of, place};
use crate::{Assumed, Desk, Error, HOUSEHOLD, SEED};

pub use away::{AwayAct, AwayAnswer, RoomThen, Sitter};
pub(crate) use rules::RULES;

pub use facts::{
    BrownsFacts, ChangeFacts, LayIn, MonthFacts, OverFacts, ReadyFor, SeasonAct, SeasonAnswer,
    SeasonAssumed, Spilt,
};

/// Years drawn (choice).
const MEMBERS: usize = 200;
/// Members of each of the twelve typical batches (choice).
const TABLE_MEMBERS: usize = 200;
/// Share of a chamber that turning needs (common practice: leave a fifth).
const FREE: f64 = 0.2;
/// Litres of a week that count as an overflow, and of a year (choice).
const WEEK_L: f64 = 0.5;
const YEAR_L: f64 = 5.0;
/// Least chance that is shown, and litres an act must keep off the ground to be worth a line (choice).
const CHANCE: f64 = 0.05;
/// Share of the years from which on a week is spoken of (choice).
pub(crate) const SPOKEN: f64 = 0.25;
const WORTH_L: f64 = 1.0;
/// Emptied this many weeks before it is fit for a bed: early (choice).
const EARLY_WEEKS: f64 = 2.0;

/// The table of typical batches and what it was made for.
#[derive(Debug, Default)]
pub(crate) struct Typical(Option<(String, Arc<Table>)>);

impl Desk {
    /// The season, if it is worked out for the journal as it is today.
    #[must_use]
    pub fn season_if_known(&self) -> Option<Arc<SeasonAnswer>> {
        let mut known = None;
        let _ = self.keeping(
            |kept| {
                known.clone_from(&kept.season);
                &mut kept.nothing
            },
            |_| Ok(()),
        );
        known
    }

    /// Works out and keeps the season; for the server, beside its pages and after the forecasts it rests on.
    ///
    /// # Errors
    /// As [`Self::season`]; a household without a chamber has no season, which is no error.
    pub fn work_out_season(&self) -> Result<(), Error> {
        if self.season_if_known().is_some() || self.store()?.chambers(HOUSEHOLD)?.is_empty() {
            return Ok(());
        }
        let mark = self.mark()?;
        let answer = Arc::new(self.season(None)?);
        self.keep_if_still(mark, |kept| kept.season = Some(Arc::clone(&answer)))
    }

    /// Chambers through the next year; with a day, when to close so that there is compost by then.
    ///
    /// # Errors
    /// No chamber; a day that is past; as the journal's.
    pub fn season(&self, by: Option<Date>) -> Result<SeasonAnswer, Error> {
        let zone = self.zone();
        let today = self.clock.now(&zone).date();
        if let Some(by) = by {
            let last = today.saturating_add(400.days());
            if by <= today || by > last {
                return Err(Error::BadSetting {
                    field: by.to_string(),
                    reason: format!("give a day after {today} and before {last}"),
                });
            }
        }
        let mut assumed = Vec::new();
        let (normals, stands) = self.season_place()?;
        let south = normals.place().latitude < 0.0;
        assumed.push(stands);
        let log = self.season_log(today, south)?;
        let months: Vec<u32> = (0..WEEKS)
            .map(|w| {
                let mid = today.saturating_add((w as i64 * 7 + 3).days());
                u32::from(mid.month().unsigned_abs())
            })
            .collect();
        let weekly = log.inflow.ahead(&months);
        assumed.push(if weekly.known > 0 {
            SeasonAssumed::Learned(weekly.known)
        } else {
            SeasonAssumed::Usual
        });
        let held = self.season_lots(today, &mut assumed)?;
        let rests = self.season_rests()?;
        if held.names.len() > 1 {
            assumed.push(rests.map_or(SeasonAssumed::Bed, SeasonAssumed::Rests));
        }
        // What reads lower or higher than reckoned does so for what comes too: halfway, a level is ±10 points.
        let weekly = weekly.times(held.reads.sqrt());
        assumed.push(SeasonAssumed::Room(FREE * 100.0));
        let table = self.season_table(&normals, held.size_l[0], log.mix);
        let room: Vec<f64> = held.size_l.iter().map(|l| l * (1.0 - FREE)).collect();
        let chambers = Chambers {
            room: room.clone(),
            filling: held.filling,
            rests,
        };
        let start = day_of(today);
        let lots = |stratum| held.lots(stratum);
        let problem = Problem::draw(&table, start, chambers, &weekly, lots, MEMBERS, SEED);
        let now = season::as_now(&problem);
        let found = season::plan(&problem);
        let by_plan = season::follow(&problem, &found.changes);
        let week = |w: usize| today.saturating_add((w as i64 * 7).days());
        let tried = [0.7, 1.3].map(|factor| {
            let other = problem.with_inflow(factor);
            (
                factor,
                spilt(&season::as_now(&other)).mean,
                spilt(&season::follow(&other, &found.changes)).mean,
            )
        });
        let overflow: Vec<OverFacts> = (0..WEEKS)
            .map(|w| {
                let n = now.len() as f64;
                OverFacts {
                    week: week(w),
                    litres: now.iter().map(|c| c.overflow[w]).sum::<f64>() / n,
                    chance: now.iter().filter(|c| c.overflow[w] >= WEEK_L).count() as f64 / n,
                }
            })
            .filter(|o| o.chance >= CHANCE)
            .collect();
        let names = &held.names;
        let changes: Vec<ChangeFacts> = found
            .changes
            .iter()
            .enumerate()
            .map(|(n, w)| ChangeFacts {
                on: week(*w),
                close: names[n % 2].clone(),
                empty: names[(n + 1) % 2].clone(),
                early_weeks: too_early(&problem, &found.changes, n),
            })
            .collect();
        let (spilt_now, spilt_plan) = (spilt(&now), spilt(&by_plan));
        let gained = spilt_now.mean - spilt_plan.mean;
        let acts = acts(
            &normals,
            today,
            (&now, &by_plan),
            &overflow,
            &changes,
            gained,
        );
        let ready = by.map(|by| ReadyFor {
            by,
            chambers: held.ready_by(by),
            close_by: held
                .filling
                .then(|| table.close_by(start, day_of(by)))
                .flatten()
                .map(|day| today.saturating_add(i64::from(day - start).days())),
        });
        Ok(SeasonAnswer {
            today,
            filling: held.filling,
            room_l: room,
            weekly_l: weekly.litres.iter().sum::<f64>() / WEEKS as f64,
            months: months::of(&problem, &now, today, names),
            planned: months::of(&problem, &by_plan, today, names),
            overflow,
            now: spilt_now,
            plan: spilt_plan,
            tried,
            changes,
            acts,
            browns: self.season_browns(today, south, &log.browns)?,
            ready,
            top_up: held.top_up(table.to_bed(start, season::STRATA / 2)),
            assumed,
            south,
            members: MEMBERS,
            chambers: held.names,
            size_l: held.size_l,
        })
    }

    fn season_place(&self) -> Result<(Normals, SeasonAssumed), Error> {
        let towns = catalogue::climate::Towns::load()?;
        let settings = self.store()?.settings(HOUSEHOLD)?;
        let (place, stands) = place::place(&towns, settings.place.as_deref(), settings.latitude)
            .ok_or_else(|| Error::BadPlace("no town is known".into()))?;
        let normals = Normals::new(place).map_err(|e| Error::BadPlace(e.to_string()))?;
        let stands = match stands {
            Assumed::Town(name) => SeasonAssumed::Town { name, given: true },
            Assumed::NoPlace(name) => SeasonAssumed::Town { name, given: false },
            Assumed::Latitude(latitude) => SeasonAssumed::Latitude(latitude),
            _ => return Err(Error::BadPlace("no climate was chosen".into())),
        };
        Ok((normals, stands))
    }

    /// Twelve typical batches in this climate and vessel. They depend on the log by steps of the mix only, so they are
    /// seldom made anew.
    fn season_table(&self, normals: &Normals, litres: f64, (cn, water): (f64, f64)) -> Arc<Table> {
        let key = format!("{:?} {litres} {cn} {water}", normals.place());
        if let Ok(typical) = self.typical.lock()
            && let Some((made_for, table)) = &typical.0
            && *made_for == key
        {
            return Arc::clone(table);
        }
        let mix = engine::season::course::mix_of(cn, water);
        let vessel = Vessel {
            litres,
            absorptance: crate::forecast::USUAL.0,
            sun: crate::forecast::USUAL.1,
            ..Vessel::default()
        };
        let table = Arc::new(Table::simulate(normals, &vessel, &mix, TABLE_MEMBERS, SEED));
        if let Ok(mut typical) = self.typical.lock() {
            typical.0 = Some((key, Arc::clone(&table)));
        }
        table
    }
}

/// Weeks before what is emptied at the n-th change is fit for a bed, in the median year.
fn too_early(problem: &Problem, changes: &[usize], n: usize) -> f64 {
    let mut all: Vec<f64> = problem
        .years
        .iter()
        .map(|y| match n {
            0 => y.other.bed,
            1 if !problem.chambers.filling => y.first.bed,
            _ => changes[n - 1] as f64 + y.bed[changes[n - 1]],
        })
        .map(|bed| (bed - changes[n] as f64).max(0.0))
        .collect();
    all.sort_by(f64::total_cmp);
    all.get(all.len() / 2).copied().unwrap_or_default()
}

fn spilt(courses: &[Course]) -> Spilt {
    let mut all: Vec<f64> = courses.iter().map(|c| c.overflow.iter().sum()).collect();
    all.sort_by(f64::total_cmp);
    let n = all.len().max(1) as f64;
    let over = all.iter().filter(|l| **l > YEAR_L).count() as f64;
    Spilt {
        mean: all.iter().sum::<f64>() / n,
        median: all.get(all.len() / 2).copied().unwrap_or_default(),
        in_twenty: (over / n * 20.0).round() as usize,
    }
}

/// What can be done about an overflow, least work first; nothing where there is none to speak of.
fn acts(
    normals: &Normals,
    today: Date,
    (now, planned): (&[Course], &[Course]),
    overflow: &[OverFacts],
    changes: &[ChangeFacts],
    by_plan: f64,
) -> Vec<SeasonAct> {
    // A quarter of the years is when it is spoken of; where none is, the first there is.
    let likely = overflow.iter().find(|o| o.chance >= SPOKEN);
    let Some(first) = likely.or(overflow.first()) else {
        return Vec::new();
    };
    let frozen: Vec<bool> = (0..WEEKS as i32)
        .map(|w| normals.on(day_of(today) + w * 7).mean_c < 0.0)
        .collect();
    let mut all: Vec<SeasonAct> = season::ranked(now, &frozen)
        .into_iter()
        .zip(season::ranked(planned, &frozen))
        .map(|(r, after)| SeasonAct {
            after_plan_l: after.effect,
            act: r.act.as_str(),
            by: first.week,
            minutes: r.act.minutes(),
            effect_l: r.effect,
        })
        .collect();
    if let Some(change) = changes.first() {
        let early = changes.iter().any(|c| c.early_weeks >= EARLY_WEEKS);
        let act = if early {
            Act::EmptyEarly
        } else {
            Act::ChangeOver
        };
        all.push(SeasonAct {
            act: act.as_str(),
            by: change.on,
            minutes: act.minutes(),
            effect_l: by_plan,
            after_plan_l: 0.0,
        });
    }
    all.retain(|a| a.effect_l >= WORTH_L);
    all.sort_by_key(|a| a.minutes);
    all
}
