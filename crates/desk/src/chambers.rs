//! What is in the chambers, and which one takes tonight's caddy?

use std::collections::BTreeMap;

use catalogue::Catalogue;
use engine::blend::{Mixture, Portion};
use journal::{Body, Chamber, Closed, Emptied, Fill, Measured, Page, PortionRow};
use units::{Spread, ranges};

use crate::answer::ChamberFacts;
use crate::mix::facts;
use crate::{Desk, Error, HOUSEHOLD, SEED};

impl Desk {
    /// The chamber of that name or id, case aside.
    pub(crate) fn chamber_named(&self, name: &str) -> Result<Chamber, Error> {
        let all = self.store()?.chambers(HOUSEHOLD)?;
        let wanted = name.trim().to_lowercase();
        let known: Vec<String> = all
            .iter()
            .map(|c| c.name.clone().unwrap_or_else(|| c.id.clone()))
            .collect();
        all.into_iter()
            .find(|c| {
                c.id.to_lowercase() == wanted
                    || c.name.as_ref().is_some_and(|n| n.to_lowercase() == wanted)
            })
            .ok_or_else(|| Error::NoChamber {
                name: crate::read::shortened(name),
                known,
            })
    }

    /// The chamber to tip into: the one filling (the latest, if several are), else an empty one.
    pub(crate) fn tip_into(&self) -> Result<Chamber, Error> {
        let store = self.store()?;
        let all = store.chambers(HOUSEHOLD)?;
        let filling = store.filling(HOUSEHOLD)?;
        let by_id = |id: &str| all.iter().find(|c| c.id == id).cloned();
        if let Some(chamber) = filling.last().and_then(|f| by_id(&f.chamber)) {
            return Ok(chamber);
        }
        for chamber in &all {
            if store.contents(HOUSEHOLD, &chamber.id)?.is_none() {
                return Ok(chamber.clone());
            }
        }
        Err(Error::NoRoom {
            known: all
                .iter()
                .map(|c| c.name.clone().unwrap_or_else(|| c.id.clone()))
                .collect(),
        })
    }

    pub(crate) fn chamber_portions<'a>(
        &self,
        catalogue: &'a Catalogue,
        chamber: &str,
    ) -> Result<Vec<Portion<'a>>, Error> {
        let contents = self.store()?.contents(HOUSEHOLD, chamber)?;
        Ok(contents
            .map(|(_, rows)| weighed(catalogue, &rows))
            .unwrap_or_default())
    }

    pub(crate) fn work_out_chambers(&self) -> Result<Vec<ChamberFacts>, Error> {
        let store = self.store()?;
        let catalogue = self.catalogue()?;
        let levels = self.levels()?;
        let zone = self.zone();
        let today = self.clock.now(&zone).date();
        let mut all = Vec::new();
        for chamber in store.chambers(HOUSEHOLD)? {
            let contents = store.contents(HOUSEHOLD, &chamber.id)?;
            let (state, since, rows): (_, _, Vec<PortionRow>) = match &contents {
                None => ("empty", None, Vec::new()),
                Some((fill, rows)) => (state(fill), Some(began(fill, &zone)), rows.clone()),
            };
            let mixture = Mixture::of(&weighed(&catalogue, &rows), SEED);
            let mut kinds: BTreeMap<String, f64> = BTreeMap::new();
            for row in &rows {
                let name = catalogue
                    .get(&row.portion.material)
                    .map_or(&row.portion.material, |m| &m.name);
                *kinds.entry(name.clone()).or_default() += row.portion.kg.mid;
            }
            let mut kinds: Vec<_> = kinds.into_iter().collect();
            kinds.sort_by(|a, b| b.1.total_cmp(&a.1));
            kinds.truncate(6);
            let started = contents.as_ref().map(|(fill, _)| fill.started);
            all.push(ChamberFacts {
                level: levels
                    .get(&chamber.id)
                    .filter(|level| started.is_some_and(|s| level.at >= s))
                    .map(|level| level.told(&zone)),
                name: chamber.name.unwrap_or_else(|| chamber.id.clone()),
                id: chamber.id,
                litres: chamber.litres,
                state,
                days: since.map(|s| i64::from((today - s).get_days())),
                since: since.map(|s| s.strftime("%-d %B %Y").to_string()),
                portions: rows.len(),
                went_in: (!mixture.is_empty()).then(|| facts(&mixture)),
                kinds,
            });
        }
        Ok(all)
    }

    /// The latest level of each chamber: measured, or guessed when its record began.
    pub(crate) fn levels(&self) -> Result<BTreeMap<String, Level>, Error> {
        let mut latest: BTreeMap<String, Level> = BTreeMap::new();
        // What a level said before something was moved out or in, it does not say of now.
        let fills = self.store()?.fills(HOUSEHOLD)?;
        let moved: BTreeMap<&str, jiff::Timestamp> = fills
            .iter()
            .filter(|fill| fill.emptied.is_none())
            .filter_map(|fill| Some((fill.chamber.as_str(), fill.moved?)))
            .collect();
        for kind in ["reading", "opened"] {
            let page = Page {
                kind: Some(kind.into()),
                ..Page::default()
            };
            for entry in self.store()?.history(HOUSEHOLD, &page)? {
                let Some((chamber, pct, by_eye)) = entry.body.known().and_then(level_said) else {
                    continue;
                };
                if moved.get(chamber).is_some_and(|moved| entry.at <= *moved) {
                    continue;
                }
                let level = Level {
                    at: entry.at,
                    pct,
                    by_eye,
                };
                if latest.get(chamber).is_none_or(|known| known.at <= level.at) {
                    latest.insert(chamber.to_owned(), level);
                }
            }
        }
        Ok(latest)
    }

    /// Closes a chamber: it takes no more.
    ///
    /// # Errors
    /// A chamber that is empty or closed already.
    pub fn close(&self, name: &str, key: Option<&str>) -> Result<String, Error> {
        let chamber = self.chamber_named(name)?;
        let contents = self.store()?.contents(HOUSEHOLD, &chamber.id)?;
        let reason = match contents.as_ref().map(|(fill, _)| state(fill)) {
            Some("filling") => {
                return Ok(self
                    .write(
                        Body::Closed(Closed {
                            chamber: chamber.id,
                        }),
                        None,
                        key,
                    )?
                    .id
                    .to_string());
            }
            Some(_) => "is closed already; empty it when it is done",
            None => "is empty; there is nothing to close",
        };
        Err(Error::BadSetting {
            field: chamber.name.unwrap_or(chamber.id),
            reason: reason.into(),
        })
    }

    /// Empties a chamber, with the litres that came out if they were counted, and the rung it was fit for if it was
    /// judged.
    ///
    /// # Errors
    /// A chamber that is empty already; litres out of range.
    pub fn empty(
        &self,
        name: &str,
        litres: Option<f64>,
        fit_for: Option<&str>,
        key: Option<&str>,
    ) -> Result<String, Error> {
        if let Some(rung) = fit_for
            && !engine::forecast::Rung::ALL
                .iter()
                .any(|r| r.as_str() == rung)
        {
            return Err(Error::BadSetting {
                field: "fit for".into(),
                reason: format!(
                    "`{}` is no use here; say mulch, resting_bed, planted_bed, pots or seed_trays",
                    crate::read::shortened(rung)
                ),
            });
        }
        litres.map(|l| ranges::CHAMBER_L.check(l)).transpose()?;
        let chamber = self.chamber_named(name)?;
        if self.store()?.contents(HOUSEHOLD, &chamber.id)?.is_none() {
            return Err(Error::BadSetting {
                field: chamber.name.unwrap_or(chamber.id),
                reason: "is empty already; nothing was recorded".into(),
            });
        }
        Ok(self
            .write(
                Body::Emptied(Emptied {
                    chamber: chamber.id,
                    litres,
                    fit_for: fit_for.map(str::to_owned),
                }),
                None,
                key,
            )?
            .id
            .to_string())
    }
}

/// How full a chamber was.
pub(crate) struct Level {
    pub(crate) at: jiff::Timestamp,
    /// Per cent of the chamber.
    pub(crate) pct: f64,
    by_eye: bool,
}

impl Level {
    /// The figure and its date. A guess by eye bears tens, no more (judged: two people differ by ten
    /// points in a drum half full).
    fn told(&self, zone: &jiff::tz::TimeZone) -> (f64, String) {
        let day = self.at.to_zoned_datetime(zone.clone());
        if self.by_eye {
            let tens = (self.pct / 10.0).round() * 10.0;
            (tens, day.strftime("%-d %b, by eye").to_string())
        } else {
            (self.pct, day.strftime("%-d %B").to_string())
        }
    }
}

/// Chamber, level in per cent, and whether it was guessed, of an event that says a level.
fn level_said(body: &Body) -> Option<(&str, f64, bool)> {
    match body {
        // A level that cannot be does not count.
        Body::Reading(it) if it.aside.contains_key("level_pct") => None,
        Body::Reading(it) => match it.values.get("level_pct") {
            Some(Measured::Number(pct)) => Some((it.chamber.as_deref()?, *pct, false)),
            _ => None,
        },
        Body::Opened(it) => Some((&it.chamber, it.level? * 100.0, true)),
        _ => None,
    }
}

fn weighed<'a>(catalogue: &'a Catalogue, rows: &[PortionRow]) -> Vec<Portion<'a>> {
    rows.iter()
        .filter_map(|row| {
            let kg = row.portion.kg;
            Some(Portion {
                material: catalogue.get(&row.portion.material)?,
                kg: Spread::new(kg.low, kg.mid, kg.high),
            })
        })
        .collect()
}

fn state(fill: &Fill) -> &'static str {
    if fill.closed.is_some() {
        "closed"
    } else {
        "filling"
    }
}

fn began(fill: &Fill, zone: &jiff::tz::TimeZone) -> jiff::civil::Date {
    fill.since
        .unwrap_or_else(|| fill.started.to_zoned_datetime(zone.clone()).date())
}
