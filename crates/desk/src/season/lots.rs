//! What the chambers hold now, as a plan sees it.

use engine::season::{Lot, STRATA, WEEKS};
use jiff::civil::Date;
use std::sync::Arc;

use super::facts::SeasonAssumed;
use crate::forecast::USUAL_LITRES;
use crate::{Desk, Error, ForecastAnswer, ForecastAsk, HOUSEHOLD};

/// Members of a forecast made for the plan alone (choice).
const MEMBERS: usize = 200;
/// Batches done before a habit is read from them (choice).
const LEAST_DONE: usize = 2;
/// A level older than this says little of today, d (choice).
const OLD_DAYS: i32 = 45;
/// A measured level may move the reckoned one by at most this factor (choice: beyond, one of both is wrong).
const MOST: f64 = 2.5;

/// The one or two chambers of the plan.
pub(super) struct Held {
    /// The one that fills (or was closed last), then the other.
    pub(super) names: Vec<String>,
    pub(super) size_l: Vec<f64>,
    pub(super) filling: bool,
    /// Measured over reckoned litres of what fills now; 1 where nothing was measured.
    pub(super) reads: f64,
    within: Vec<Option<(Arc<ForecastAnswer>, f64)>>,
}

impl Held {
    /// What is in both, in the view of one stratum.
    pub(super) fn lots(&self, stratum: usize) -> (Lot, Lot) {
        let of = |k: usize| {
            self.within
                .get(k)
                .and_then(Option::as_ref)
                .map_or_else(|| Lot::nothing(WEEKS), |(a, times)| lot(a, *times, stratum))
        };
        (of(0), of(1))
    }

    /// What topping up each closed chamber costs: weeks to a bed with something fresh in it, and without.
    pub(super) fn top_up(&self, fresh: f64) -> Vec<(String, f64, f64)> {
        self.names
            .iter()
            .zip(&self.within)
            .filter_map(|(name, within)| {
                let (a, _) = within.as_ref().filter(|(a, _)| a.state == "closed")?;
                let without = lot(a, 1.0, STRATA / 2).bed.max(0.0);
                Some((name.clone(), fresh.max(without), without))
            })
            .collect()
    }

    /// Chambers whose contents are fit for a bed by a day, with the runs in twenty that say so.
    pub(super) fn ready_by(&self, by: Date) -> Vec<(String, usize)> {
        self.names
            .iter()
            .zip(&self.within)
            .filter_map(|(name, within)| {
                let (a, _) = within.as_ref()?;
                let bed = a.rungs.iter().find(|r| r.rung == "planted_bed")?;
                let fit = bed.dots.iter().flatten().filter(|d| **d <= by).count();
                Some((name.clone(), fit))
            })
            .collect()
    }
}

/// Litres on a day of a forecast, for a share of the members: straight lines between weeks and between the
/// 5, 50 and 95 %.
fn litres(a: &ForecastAnswer, day: f64, share: f64) -> f64 {
    let at = (day / 7.0).max(0.0);
    let (from, part) = (at.floor() as usize, at.fract());
    let last = a.weeks.len().saturating_sub(1);
    let of = |w: usize| {
        a.weeks.get(w.min(last)).map_or(0.0, |w| {
            let s = w.litres;
            if share < 0.5 {
                s.low + (s.mid - s.low) * ((share - 0.05) / 0.45).max(0.0)
            } else {
                s.mid + (s.high - s.mid) * ((share - 0.5) / 0.45).min(1.0)
            }
        })
    };
    of(from) + (of(from + 1) - of(from)) * part
}

fn lot(a: &ForecastAnswer, times: f64, stratum: usize) -> Lot {
    let share = (stratum as f64 + 0.5) / STRATA as f64;
    let today = a.days_since_first as f64;
    let mut least = f64::INFINITY;
    let litres = (0..WEEKS)
        .map(|t| {
            // Nothing more goes in: it takes no more room than it did.
            least = least.min(litres(a, today + (t + 1) as f64 * 7.0, share) * times);
            least
        })
        .collect();
    let weeks = |rung: &str| {
        a.rungs
            .iter()
            .find(|r| r.rung == rung)
            .and_then(|r| r.dots.get(stratum).copied().flatten())
            .map_or(f64::INFINITY, |date| {
                f64::from(a.today.until(date).map_or(0, |s| s.get_days())) / 7.0
            })
    };
    Lot {
        closed: -f64::from(a.last_feed.until(a.today).map_or(0, |s| s.get_days())) / 7.0,
        litres,
        mulch: weeks("mulch"),
        bed: weeks("planted_bed"),
    }
}

impl Desk {
    /// Weeks from closing to emptying, the middle of those that were done; `None` below two.
    pub(super) fn season_rests(&self) -> Result<Option<f64>, Error> {
        let mut all: Vec<f64> = self
            .store()?
            .fills(HOUSEHOLD)?
            .iter()
            .filter_map(|f| Some(f.emptied?.duration_since(f.closed?).as_hours() as f64 / 168.0))
            .collect();
        all.sort_by(f64::total_cmp);
        Ok((all.len() >= LEAST_DONE).then(|| all[all.len() / 2]))
    }

    pub(super) fn season_lots(
        &self,
        today: Date,
        assumed: &mut Vec<SeasonAssumed>,
    ) -> Result<Held, Error> {
        let store = self.store()?;
        let mut all = Vec::new();
        for chamber in store.chambers(HOUSEHOLD)? {
            let contents = store.contents(HOUSEHOLD, &chamber.id)?;
            let order = match contents
                .as_ref()
                .map(|(fill, _)| (fill.closed, fill.started))
            {
                // Filling first, the latest begun before others; then empty; then closed, the longest first.
                Some((None, started)) => (0, -started.as_second()),
                None => (1, 0),
                Some((Some(closed), _)) => (2, closed.as_second()),
            };
            all.push((order, chamber));
        }
        if all.is_empty() {
            return Err(Error::BadSetting {
                field: "season".into(),
                reason: "no chamber has a name yet; name one on the household page first".into(),
            });
        }
        all.sort_by_key(|(order, _)| *order);
        let filling = all[0].0.0 < 2;
        let mut chosen: Vec<_> = all.iter().map(|(_, chamber)| chamber.clone()).collect();
        let left_out: Vec<String> = chosen
            .drain(2.min(chosen.len())..)
            .map(|c| c.name.unwrap_or(c.id))
            .collect();
        if !filling {
            // Both closed: the one closed longest is emptied first.
            chosen.reverse();
        }
        if !left_out.is_empty() {
            assumed.push(SeasonAssumed::LeftOut(left_out));
        }
        if chosen.len() == 1 {
            assumed.push(SeasonAssumed::One);
        }
        let mut held = Held {
            names: Vec::new(),
            size_l: Vec::new(),
            filling,
            reads: 1.0,
            within: Vec::new(),
        };
        let levels = self.levels()?;
        for chamber in chosen {
            let name = chamber.name.clone().unwrap_or_else(|| chamber.id.clone());
            let size = chamber.litres.unwrap_or_else(|| {
                assumed.push(SeasonAssumed::Litres(USUAL_LITRES));
                USUAL_LITRES
            });
            let known = match self.forecast_if_known(&chamber.id) {
                Some(known) => Some(known),
                None => match self.forecast(&ForecastAsk {
                    chamber: Some(chamber.id.clone()),
                    members: MEMBERS,
                    moves: false,
                    ..ForecastAsk::default()
                }) {
                    Ok(answer) => Some(Arc::new(answer)),
                    Err(Error::NothingToForecast { .. }) => None,
                    Err(other) => return Err(other),
                },
            };
            let within = known.map(|a| {
                let zone = self.zone();
                let measured = levels.get(&chamber.id).and_then(|level| {
                    let day = level.at.to_zoned_datetime(zone).date();
                    let age = day.until(today).map_or(i32::MAX, |s| s.get_days());
                    let since = a.first_feed.until(day).map_or(-1, |s| s.get_days());
                    let reckoned = litres(&a, f64::from(since.max(0)), 0.5);
                    (since >= 0 && age <= OLD_DAYS && reckoned > 1.0)
                        .then(|| (level.pct / 100.0 * size / reckoned).clamp(1.0 / MOST, MOST))
                });
                if measured.is_some() {
                    assumed.push(SeasonAssumed::Measured(name.clone()));
                }
                (a, measured.unwrap_or(1.0))
            });
            if held.names.is_empty() && filling {
                held.reads = within.as_ref().map_or(1.0, |(_, times)| *times);
            }
            held.names.push(name);
            held.size_l.push(size);
            held.within.push(within);
        }
        Ok(held)
    }
}
