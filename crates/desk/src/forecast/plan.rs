//! From the journal to a run: feeds, turnings, vessel, weather.

use std::collections::BTreeMap;
use std::sync::Arc;

use catalogue::climate::Towns;
use engine::assimilate::carry::Carried;
use engine::assimilate::members;
use engine::batch::air::{Air, courses};
use engine::batch::events::{Deed, Feed};
use engine::batch::substrate::{Pieces, feed};
use engine::batch::vessel::{Kind, Vessel};
use engine::climate::{Day, Noise, Normals, Observed, Weather};
use engine::ensemble::prior::Row;
use engine::ensemble::{At, Member, Plan, prior};
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use journal::{Body, Chamber, Fill, Measured, Page, PortionRow, Shape};

use super::answer::Assumed;
use super::{AHEAD, LONGEST, place};
use crate::{Desk, Error, HOUSEHOLD};

/// Scraps come from a kitchen, °C (choice).
pub(crate) const KITCHEN_C: f64 = 15.0;
/// Turned about this often where nothing is noted, d (choice: with each caddy).
const TURNED_EVERY: u32 = 3;
/// The same of a bin or heap, which takes a fork, d (choice: as the household bins of `docs/validation.md`).
const FORKED_EVERY: u32 = 14;
/// Longer than this without a note is taken as turned all the same, d (choice).
const UNNOTED: f64 = 14.0;
/// A chamber whose size is not known, L (choice: a usual two-chamber drum).
pub(crate) const USUAL_LITRES: f64 = 110.0;
/// Chambers of a grey drum with sun for half the day (choice).
pub(crate) const USUAL: (f64, f64) = (0.8, 0.5);
/// Members share this many draws of the weather.
const SKIES: u64 = 250;

/// A run, and what it stands on.
pub(crate) struct Run {
    pub(crate) plan: Plan,
    pub(super) first: Date,
    /// Days from the first feed to today.
    pub(super) today: usize,
    pub(super) state: &'static str,
    pub(super) assumed: Vec<Assumed>,
    normals: Normals,
    observed: Observed,
    /// When the record of the fill began.
    pub(crate) started: Timestamp,
    /// When something was last moved into the chamber or out of it.
    pub(crate) moved: Option<Timestamp>,
    /// Days from the start of the run to the first feed and to now.
    first_day: f64,
    pub(crate) now: f64,
    /// An entry whose readings are left out, for a look at what they did.
    pub(crate) skips: Option<journal::EventId>,
    /// Members as readings left them; the prior's own until then.
    pub(super) rows: Option<Vec<Row>>,
    /// What the batch before taught.
    pub(super) carried: Carried,
}

impl Run {
    /// Members of a seed, as readings left them.
    pub(super) fn members(&self, seed: u64, count: usize) -> Vec<Member> {
        let rows = self
            .rows
            .clone()
            .unwrap_or_else(|| self.carried.rows(seed, count));
        let rows = &rows[..count.min(rows.len())];
        members(&self.plan, &self.skies(seed, count), rows)
    }

    /// Weather of a seed.
    pub(super) fn skies(&self, seed: u64, count: usize) -> Vec<Arc<Air<f64>>> {
        let span = (self.first, self.plan.days, &self.observed);
        skies(&self.normals, span, seed, count)
    }

    /// A moment in days since the start of the run.
    pub(crate) fn day_of(&self, at: Timestamp, zone: &TimeZone) -> f64 {
        days_since(self.first, &at.to_zoned_datetime(zone.clone()).datetime())
    }

    /// Day of the first feed, with its hour.
    pub(crate) const fn first_day(&self) -> f64 {
        self.first_day
    }
}

/// Members of a seed: parameters each its own, weather shared by a few; measured days are the same for all.
pub(super) fn drawn(
    normals: &Normals,
    (first, days, observed): (Date, usize, &Observed),
    vessel: &Vessel,
    seed: u64,
    count: usize,
) -> Vec<Member> {
    let skies = skies(normals, (first, days, observed), seed, count);
    (0..count)
        .map(|member| Member {
            params: prior::params(&prior::row(seed, member as u64), vessel),
            air: Arc::clone(&skies[member % skies.len()]),
        })
        .collect()
}

/// Days between two turnings as this household notes them; a second tap and a forgotten month do not count.
fn usual_gap(turned: &[f64]) -> Option<u32> {
    let gaps: Vec<f64> = turned
        .windows(2)
        .map(|pair| pair[1] - pair[0])
        .filter(|gap| (0.5..=UNNOTED).contains(gap))
        .collect();
    let mean = gaps.iter().sum::<f64>() / gaps.len() as f64;
    (gaps.len() >= 2).then(|| mean.round().clamp(1.0, 30.0) as u32)
}

/// Turnings taken for granted from the first feed to the last note, where no note stands for long: one tap says
/// nothing of the weeks before it.
fn unnoted(turned: &[f64], every: u32) -> Vec<f64> {
    let every = f64::from(every);
    let mut all = Vec::new();
    let mut last = 0.0;
    for &noted in turned {
        if noted - last > UNNOTED {
            let count = ((noted - last) / every).ceil() as usize;
            all.extend((1..count).map(|i| last + i as f64 * every));
        }
        last = noted;
    }
    all
}

fn skies(
    normals: &Normals,
    (first, days, observed): (Date, usize, &Observed),
    seed: u64,
    count: usize,
) -> Vec<Arc<Air<f64>>> {
    let first = day_of(first);
    (0..SKIES.min(count as u64))
        .map(|sky| {
            let luck = (seed, sky);
            let weather = Weather::draw(normals, first, days, observed, Noise::default(), luck);
            Arc::new(Air::of(&weather))
        })
        .collect()
}

/// Days since a date, the hour as a fraction.
fn days_since(first: Date, at: &jiff::civil::DateTime) -> f64 {
    let days = at.date().since(first).map_or(0, |s| s.get_days());
    f64::from(days) + (f64::from(at.hour()) + f64::from(at.minute()) / 60.0) / 24.0
}

/// The engine's day of a date.
pub(crate) fn day_of(date: Date) -> Day {
    let epoch = jiff::civil::date(1970, 1, 1);
    Day(date.since(epoch).map_or(0, |span| span.get_days()))
}

impl Desk {
    /// The chamber asked for: by name, else the one closed longest, else the one filling.
    pub(crate) fn forecast_chamber(&self, name: Option<&str>) -> Result<Chamber, Error> {
        if let Some(name) = name {
            return self.chamber_named(name);
        }
        let store = self.store()?;
        let mut holding: Vec<(Option<Timestamp>, Chamber)> = Vec::new();
        for chamber in store.chambers(HOUSEHOLD)? {
            if let Some((fill, _)) = store.contents(HOUSEHOLD, &chamber.id)? {
                holding.push((fill.closed, chamber));
            }
        }
        holding.sort_by_key(|(closed, _)| (closed.is_none(), *closed));
        holding
            .into_iter()
            .next()
            .map(|(_, chamber)| chamber)
            .ok_or(Error::NothingToForecast { chamber: None })
    }

    pub(crate) fn run_of(&self, chamber: &Chamber) -> Result<Run, Error> {
        let name = chamber.name.clone().unwrap_or_else(|| chamber.id.clone());
        let store = self.store()?;
        let nothing = || Error::NothingToForecast {
            chamber: Some(name.clone()),
        };
        let (fill, rows) = store
            .contents(HOUSEHOLD, &chamber.id)?
            .ok_or_else(nothing)?;
        let zone = self.zone();
        let mut assumed = Vec::new();
        let towns = Towns::load()?;
        let settings = store.settings(HOUSEHOLD)?;
        let (place, stands) = place::place(&towns, settings.place.as_deref(), settings.latitude)
            .ok_or_else(nothing)?;
        assumed.push(stands);
        let normals = Normals::new(place.clone()).map_err(|e| Error::BadPlace(e.to_string()))?;

        let (feeds, left_out) = self.feeds(&fill, &rows, &zone)?;
        let first = *feeds.keys().next().ok_or_else(nothing)?;
        let start = first.date();
        let hours = |at: &jiff::civil::DateTime| {
            let days = at.date().since(start).map_or(0, |s| s.get_days());
            f64::from(days) + f64::from(at.hour()) / 24.0
        };
        let now = self.clock.now(&zone).datetime();
        let (first_day, carried) = (hours(&first), self.carried_into(&chamber.id, fill.started)?);
        let today = hours(&now).floor().max(0.0) as usize;
        if today + AHEAD > LONGEST {
            return Err(Error::TooOld {
                chamber: name,
                years: today as f64 / 365.25,
            });
        }
        let observed = self.observed(now.date())?;
        let seen: Vec<Day> = observed.range(day_of(start)..).map(|(d, _)| *d).collect();
        if let Some(last) = seen.last() {
            let since = *last - day_of(start);
            assumed.push(Assumed::Observed {
                days: seen.len(),
                to: start.saturating_add(jiff::Span::new().days(since)),
            });
        }
        let mut deeds: Vec<At> = feeds
            .iter()
            .map(|(at, feed)| At {
                day: hours(at),
                deed: Deed::Feed(*feed),
            })
            .collect();
        if fill.level.is_some() || fill.since.is_some() {
            assumed.push(Assumed::BeforeRecord);
        }
        let (noted, wetted) = self.noted(chamber, &fill, &zone)?;
        deeds.extend(wetted.into_iter().map(|(at, kg)| At {
            day: hours(&at),
            deed: Deed::Wet {
                kg,
                temperature: KITCHEN_C,
            },
        }));
        let turned: Vec<f64> = noted.iter().map(hours).collect();
        let upright = chamber.shape == Some(Shape::Box);
        let usual = if upright { FORKED_EVERY } else { TURNED_EVERY };
        let every = usual_gap(&turned).unwrap_or(usual);
        let days = today + AHEAD;
        let mut next = turned.last().map_or(0.0, |t| t + f64::from(every));
        deeds.extend(turned.iter().map(|&day| At {
            day,
            deed: Deed::Turn,
        }));
        let between = unnoted(&turned, every);
        deeds.extend(between.iter().map(|&day| At {
            day,
            deed: Deed::Turn,
        }));
        while next < days as f64 {
            if next > 0.0 {
                deeds.push(At {
                    day: next,
                    deed: Deed::Turn,
                });
            }
            next += f64::from(every);
        }
        assumed.push(Assumed::Turned {
            every,
            noted: !turned.is_empty(),
        });
        if !between.is_empty() {
            assumed.push(Assumed::TurnedBetween(every));
        }
        let state = if fill.closed.is_some() {
            "closed"
        } else {
            "filling"
        };
        if state == "filling" {
            assumed.push(Assumed::NothingMore);
        }
        let litres = chamber.litres.unwrap_or_else(|| {
            assumed.push(Assumed::Litres(USUAL_LITRES));
            USUAL_LITRES
        });
        assumed.push(if upright {
            Assumed::UsualBin
        } else {
            Assumed::UsualDrum
        });
        assumed.push(Assumed::Torn);
        if !left_out.is_empty() {
            assumed.push(Assumed::LeftOut(left_out));
        }
        let vessel = Vessel {
            kind: if upright { Kind::Bin } else { Kind::Drum },
            litres,
            absorptance: USUAL.0,
            sun: USUAL.1,
            ..Vessel::default()
        };
        let (_, day_of_year) = day_of(start).of_year();
        let courses = courses(normals.latitude_rad(), day_of_year as f64 + 1.0, days + 1);
        Ok(Run {
            plan: Plan::new(vessel, deeds, days, courses),
            first: start,
            today,
            state,
            assumed,
            normals,
            observed,
            started: fill.started,
            moved: fill.moved,
            first_day,
            now: days_since(start, &now),
            skips: None,
            rows: None,
            carried,
        })
    }

    /// Feeds by the moment they went in, and materials left out.
    #[allow(clippy::type_complexity, reason = "two plain collections")]
    fn feeds(
        &self,
        fill: &Fill,
        rows: &[PortionRow],
        zone: &TimeZone,
    ) -> Result<(BTreeMap<jiff::civil::DateTime, Feed>, Vec<String>), Error> {
        let catalogue = self.catalogue()?;
        let mut feeds: BTreeMap<jiff::civil::DateTime, Feed> = BTreeMap::new();
        let mut left_out = Vec::new();
        for row in rows {
            let local = row.at.to_zoned_datetime(zone.clone()).datetime();
            // What was in before the record began went in half-way since then, for want of better.
            let at = match fill.since {
                Some(since) if row.at <= fill.started => {
                    let span = local.date().since(since).map_or(0, |s| s.get_days());
                    since
                        .checked_add(jiff::Span::new().days(span / 2))
                        .unwrap_or(since)
                        .at(12, 0, 0, 0)
                }
                _ => local,
            };
            let portion = &row.portion;
            let made = catalogue
                .get(&portion.material)
                .and_then(|m| feed(m, portion.kg.mid, Pieces::Torn, KITCHEN_C));
            match made {
                Some(new) => {
                    feeds
                        .entry(at)
                        .and_modify(|f| *f = f.with(&new))
                        .or_insert(new);
                }
                None => left_out.push(portion.material.clone()),
            }
        }
        left_out.sort();
        left_out.dedup();
        Ok((feeds, left_out))
    }

    /// The usual air of this place by the hour, from a moment on; `None` where no climate is known.
    pub(crate) fn usual_air(&self, from: Timestamp, hours: usize) -> Option<Vec<f64>> {
        let towns = Towns::load().ok()?;
        let settings = self.settings().ok()?;
        let (place, _) = place::place(&towns, settings.place.as_deref(), settings.latitude)?;
        let normals = Normals::new(place).ok()?;
        let local = from.to_zoned_datetime(self.zone()).datetime();
        let days = hours / 24 + 2;
        let first = day_of(local.date());
        let (none, noise) = (Observed::new(), Noise::default());
        let weather = Weather::draw(&normals, first, days, &none, noise, (crate::SEED, 0));
        let (_, day_of_year) = first.of_year();
        let courses = courses(normals.latitude_rad(), day_of_year as f64 + 1.0, days);
        let start = usize::try_from(local.hour()).ok()?;
        let all = weather
            .days()
            .iter()
            .zip(&courses)
            .flat_map(|(day, course)| {
                let half = 0.5 * (day.max_c - day.min_c);
                course.swing.iter().map(move |s| day.mean_c + half * s)
            });
        Some(all.skip(start).take(hours).collect())
    }

    /// Turnings and wettings that were written down for a fill: readings with `turns` or `water_l`.
    #[allow(clippy::type_complexity, reason = "two plain collections")]
    fn noted(
        &self,
        chamber: &Chamber,
        fill: &Fill,
        zone: &TimeZone,
    ) -> Result<
        (
            Vec<jiff::civil::DateTime>,
            Vec<(jiff::civil::DateTime, f64)>,
        ),
        Error,
    > {
        let page = Page {
            kind: Some("reading".into()),
            ..Page::default()
        };
        let (mut turned, mut wetted) = (Vec::new(), Vec::new());
        for entry in self.store()?.history(HOUSEHOLD, &page)? {
            let Some(Body::Reading(reading)) = entry.body.known() else {
                continue;
            };
            if reading.chamber.as_deref() != Some(chamber.id.as_str()) || entry.at < fill.started {
                continue;
            }
            let at = entry.at.to_zoned_datetime(zone.clone()).datetime();
            if reading.values.contains_key("turns") {
                turned.push(at);
            }
            if let Some(Measured::Number(litres)) = reading.values.get("water_l") {
                wetted.push((at, *litres));
            }
        }
        turned.sort();
        Ok((turned, wetted))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gaps_between_notes_are_filled_as_usual() {
        assert_eq!(usual_gap(&[1.0, 5.0]), None, "one gap is no custom");
        assert_eq!(usual_gap(&[1.0, 5.0, 5.1, 9.0, 80.0]), Some(4));
        assert!(unnoted(&[4.0, 10.0, 20.0], 4).is_empty());
        assert!(unnoted(&[], 3).is_empty());
        assert_eq!(unnoted(&[16.0], 4), [4.0, 8.0, 12.0]);
        assert_eq!(unnoted(&[2.0, 18.0], 5), [7.0, 12.0, 17.0]);
    }
}
