//! What is known of the chamber: the forecast, what a hand measured since, and the log.

use std::sync::Arc;

use engine::diagnosis::{Evidence, Group, Quantity, Symptom};
use jiff::Timestamp;
use journal::{Body, Chamber, Measured, Page, PortionRow};
use units::Spread;

use super::{MEMBERS, Rests, nothing};
use crate::{Assumed, Desk, Error, ForecastAnswer, ForecastAsk, HOUSEHOLD};

/// Last additions are those of so many days (choice: four caddies).
const LATELY_DAYS: f64 = 14.0;
/// Scraps put in within so many days still drip (choice).
const JUST_NOW_DAYS: f64 = 2.0;
/// A reading speaks for so many days (judged): water and level drift slowly, warmth does not.
const SQUEEZE_DAYS: f64 = 7.0;
const LEVEL_DAYS: f64 = 14.0;
const CORE_DAYS: f64 = 3.0;
/// A level that was read is a finger’s width off, 4 % of a drum and a little; a probe two kelvin (judged).
const LEVEL_DOUBT: f64 = 5.0;
const CORE_DOUBT: f64 = 2.0;
/// Readings looked at; a year of weekly ones is below it (choice).
const READINGS: u32 = 300;

/// Everything the chances and amounts need.
pub(super) struct Known {
    pub(super) evidence: Evidence,
    /// Quantities that a hand measured.
    pub(super) measured: Vec<Quantity>,
    pub(super) chamber: Option<String>,
    pub(super) state: Option<&'static str>,
    pub(super) rests: Rests,
    pub(super) forecast: Option<Arc<ForecastAnswer>>,
    /// Juicy scraps put in just now, kg.
    pub(super) juicy_kg: f64,
}

/// Water that a squeeze tells, %: five grades, each as wide as two people differ (judged; the same as in the
/// written cases).
fn squeezed(text: &str) -> Option<Spread> {
    let text = text.to_lowercase();
    let has = |word: &str| text.contains(word);
    Some(match () {
        () if has("dust") => Spread::new(25.0, 35.0, 42.0),
        () if has("crumbl") => Spread::new(38.0, 45.0, 50.0),
        () if has("hold") => Spread::new(48.0, 55.0, 62.0),
        () if has("drop") || has("drip") => Spread::new(60.0, 67.0, 72.0),
        () if has("run") => Spread::new(68.0, 75.0, 82.0),
        () => return None,
    })
}

/// The group of a material, if it is in one.
pub(super) fn group(id: &str) -> Option<Group> {
    const STARCH: &[&str] = &[
        "bread-white",
        "bread-whole",
        "crackers-biscuits",
        "sourdough-discard",
        "tortilla-flatbread",
        "flour-white",
        "popcorn-cereal",
        "oats",
        "spent-grain",
        "yeast-lees",
    ];
    const COOKED: &[&str] = &[
        "mixed-food-waste-cooked",
        "pasta-cooked",
        "rice-cooked",
        "beans-cooked",
        "cooked-veg-plain",
        "porridge-cooked",
        "potato-cooked",
        "couscous-quinoa-cooked",
        "oily-cooked-food",
        "pizza-leftover",
        "croissant-pastry",
        "vegetable-soup",
        "vegetable-broth-solids",
        "hummus",
        "peanut-butter",
    ];
    const ANIMAL: &[&str] = &[
        "meat-raw",
        "poultry-meat",
        "fish",
        "prawn-shells",
        "bones",
        "dairy",
        "cheese",
        "butter-fat",
        "egg-raw",
        "raw-pet-food-wet",
        "pet-food-dry",
    ];
    const FRUIT: &[&str] = &[
        "banana-peel",
        "banana-whole",
        "apple-core",
        "pear-core",
        "apple-pomace",
        "orange-peel",
        "lemon-peel",
        "grapefruit-peel",
        "pineapple-waste",
        "mango-skin",
        "grapes",
        "berries",
        "stone-fruit",
        "kiwi-skin",
        "figs",
        "papaya-skin",
        "persimmon",
        "windfall-fruit",
        "windfalls-bulk",
        "citrus-pulp",
        "grape-pomace",
        "citrus-whole",
    ];
    const JUICY: &[&str] = &[
        "mixed-kitchen-scraps",
        "melon-rind",
        "melon-flesh",
        "tomato",
        "cucumber",
        "courgette",
        "lettuce",
        "celery",
        "spinach",
        "tomato-pomace",
        "vegetable-juice-pulp",
        "pumpkin",
        "rhubarb-stalks",
        "radish-turnip",
    ];
    const WEEDS: &[&str] = &[
        "weeds-green",
        "weeds-seeding",
        "grass-seeding",
        "nettles-seeding",
        "dandelion-leaves",
        "dock-leaves",
        "chickweed",
        "fat-hen",
        "perennial-weed-tops",
    ];
    match id {
        "grass-fresh" | "grass-wilted" | "lawn-thatch" => Some(Group::Grass),
        "coffee-grounds" | "tea-leaves" | "tea-bag-paper" | "coffee-beans-old" => {
            Some(Group::Coffee)
        }
        "wood-ash" | "garden-lime" | "coal-ash" => Some(Group::Ash),
        id if id.starts_with("manure-")
            || id.contains("bedding")
            || id.contains("litter")
            || id == "urine-human" =>
        {
            Some(Group::Manure)
        }
        id if STARCH.contains(&id) => Some(Group::Bread),
        id if COOKED.contains(&id) => Some(Group::Cooked),
        id if ANIMAL.contains(&id) => Some(Group::Meat),
        id if FRUIT.contains(&id) => Some(Group::Fruit),
        id if JUICY.contains(&id) => Some(Group::Juicy),
        id if WEEDS.contains(&id) => Some(Group::Weeds),
        _ => None,
    }
}

fn days_before(now: Timestamp, at: Timestamp) -> f64 {
    (now.as_second() - at.as_second()) as f64 / 86_400.0
}

/// Shares of the groups in what went in lately, % of wet mass; nothing if nothing did.
fn shares(rows: &[PortionRow], now: Timestamp) -> Vec<(Group, f64)> {
    let lately: Vec<_> = rows
        .iter()
        .filter(|r| days_before(now, r.at) <= LATELY_DAYS)
        .collect();
    let all: f64 = lately.iter().map(|r| r.portion.kg.mid).sum();
    if all <= 0.0 {
        return Vec::new();
    }
    let of = |g: Group| -> f64 {
        let own = lately
            .iter()
            .filter(|r| group(&r.portion.material) == Some(g));
        100.0 * own.map(|r| r.portion.kg.mid).sum::<f64>() / all
    };
    Group::ALL.iter().map(|g| (*g, of(*g))).collect()
}

impl Desk {
    /// The chamber it is about: the one named, the one filling, else one that holds something.
    fn put_right_chamber(&self, name: Option<&str>) -> Result<Option<Chamber>, Error> {
        if let Some(name) = name {
            return self.chamber_named(name).map(Some);
        }
        let Ok(store) = self.store() else {
            return Ok(None);
        };
        let all = store.chambers(HOUSEHOLD)?;
        if let Some(fill) = store.filling(HOUSEHOLD)?.last() {
            return Ok(all.into_iter().find(|c| c.id == fill.chamber));
        }
        for chamber in all {
            if store.contents(HOUSEHOLD, &chamber.id)?.is_some() {
                return Ok(Some(chamber));
            }
        }
        Ok(None)
    }

    pub(super) fn evidence(
        &self,
        symptom: Symptom,
        name: Option<&str>,
        wait: bool,
    ) -> Result<Known, Error> {
        let chamber = self.put_right_chamber(name)?;
        let mut known = Known {
            evidence: nothing(),
            measured: Vec::new(),
            chamber: None,
            state: None,
            rests: Rests::Nothing,
            forecast: None,
            juicy_kg: 0.0,
        };
        if symptom.of_caddy() {
            known.rests = Rests::Caddy;
            self.of_caddy(chamber.as_ref(), &mut known)?;
            return Ok(known);
        }
        let Some(chamber) = chamber else {
            return Ok(known);
        };
        let contents = self.store()?.contents(HOUSEHOLD, &chamber.id)?;
        known.chamber = Some(chamber.name.clone().unwrap_or_else(|| chamber.id.clone()));
        let Some((fill, rows)) = contents else {
            known.state = Some("empty");
            return Ok(known);
        };
        let closed = fill.closed.is_some();
        known.state = Some(if closed { "closed" } else { "filling" });
        known.rests = Rests::Log;
        let forecast = match self.forecast_if_known(&chamber.id) {
            None if wait => self.forecast_for(&chamber)?,
            known => known,
        };
        if let Some(forecast) = &forecast {
            known.rests = Rests::Forecast;
            simulated(forecast, &mut known.evidence);
        } else {
            known.evidence.air_c = self.usual_air_now();
        }
        known.forecast = forecast;
        self.logged(&rows, &mut known);
        known.evidence.closed = closed;
        self.measured(&chamber, fill.started, &mut known)?;
        Ok(known)
    }

    /// A forecast without its moves; nothing where the chamber holds nothing that rots.
    fn forecast_for(&self, chamber: &Chamber) -> Result<Option<Arc<ForecastAnswer>>, Error> {
        let ask = ForecastAsk {
            chamber: Some(chamber.id.clone()),
            members: MEMBERS,
            moves: false,
            ..ForecastAsk::default()
        };
        match self.forecast(&ask) {
            Ok(answer) => Ok(Some(Arc::new(answer))),
            // Neither keeps a symptom from having causes.
            Err(Error::NothingToForecast { .. } | Error::TooOld { .. }) => Ok(None),
            Err(other) => Err(other),
        }
    }

    /// For the caddy: when it was emptied last, the season, and what this household puts in.
    fn of_caddy(&self, chamber: Option<&Chamber>, known: &mut Known) -> Result<(), Error> {
        known.evidence.air_c = self.usual_air_now();
        let Some(chamber) = chamber else {
            return Ok(());
        };
        if let Some((_, rows)) = self.store()?.contents(HOUSEHOLD, &chamber.id)? {
            self.logged(&rows, known);
        }
        Ok(())
    }

    fn logged(&self, rows: &[PortionRow], known: &mut Known) {
        let now = self.clock.now(&self.zone()).timestamp();
        let ages: Vec<f64> = rows
            .iter()
            .map(|r| days_before(now, r.at).max(0.0))
            .collect();
        let last = ages.iter().copied().min_by(f64::total_cmp);
        let first = ages.iter().copied().max_by(f64::total_cmp);
        known.evidence.days_since_feed = last;
        known.evidence.filled_over_days = first.zip(last).map(|(first, last)| first - last);
        known.evidence.shares = shares(rows, now);
        known.juicy_kg = rows
            .iter()
            .filter(|r| days_before(now, r.at) <= JUST_NOW_DAYS)
            .filter(|r| group(&r.portion.material) == Some(Group::Juicy))
            .map(|r| r.portion.kg.mid)
            .sum();
    }

    /// What a hand measured goes before what is worked out, while it is fresh.
    fn measured(
        &self,
        chamber: &Chamber,
        started: Timestamp,
        known: &mut Known,
    ) -> Result<(), Error> {
        let now = self.clock.now(&self.zone()).timestamp();
        let page = Page {
            kind: Some("reading".into()),
            reverse: true,
            limit: Some(READINGS),
            ..Page::default()
        };
        let (mut squeeze, mut level, mut core, mut turned) = (None, None, None, None);
        for entry in self.store()?.history(HOUSEHOLD, &page)? {
            let Some(Body::Reading(it)) = entry.body.known() else {
                continue;
            };
            if it.chamber.as_deref() != Some(chamber.id.as_str()) || entry.at < started {
                continue;
            }
            let age = days_before(now, entry.at).max(0.0);
            // What cannot be does not count here either.
            let counts = |name: &str| it.values.get(name).filter(|_| !it.aside.contains_key(name));
            let number = |name: &str| match counts(name) {
                Some(Measured::Number(n)) => Some(*n),
                _ => None,
            };
            let said = counts("squeeze").and_then(|m| match m {
                Measured::Text(text) => squeezed(text),
                Measured::Number(_) => None,
            });
            squeeze = squeeze.or(said.filter(|_| age <= SQUEEZE_DAYS));
            level = level.or(number("level_pct").filter(|_| age <= LEVEL_DAYS));
            core = core.or(number("core_c").filter(|_| age <= CORE_DAYS));
            turned = turned.or(number("turns").map(|_| age));
        }
        let about = |x: f64, doubt: f64| Spread::new(x - doubt, x, x + doubt);
        let mut by_hand = |place: &mut Option<Spread>, value: Option<Spread>, quantity| {
            if let Some(value) = value {
                *place = Some(value);
                known.measured.push(quantity);
            }
        };
        let e = &mut known.evidence;
        by_hand(&mut e.water_pct, squeeze, Quantity::Water);
        by_hand(
            &mut e.level_pct,
            level.map(|l| about(l, LEVEL_DOUBT)),
            Quantity::Level,
        );
        by_hand(
            &mut e.core_c,
            core.map(|c| about(c, CORE_DOUBT)),
            Quantity::Core,
        );
        if let (Some(level), Some(litres)) = (level, chamber.litres) {
            e.litres = Some(about(level, LEVEL_DOUBT).scale(litres / 100.0));
        }
        e.days_since_turn = turned.or(e.days_since_turn);
        Ok(())
    }
}

/// What is worked out for today.
fn simulated(a: &ForecastAnswer, e: &mut Evidence) {
    let i = &a.inside;
    e.water_pct = Some(i.water_pct);
    e.cn = Some(i.cn);
    e.air_space_pct = Some(i.air_space_pct);
    e.oxygen_pct = Some(i.oxygen_pct);
    e.clumped_pct = Some(i.clumped_pct);
    e.core_c = Some(i.core_c);
    // Where no place is known, the weather of a stand-in town speaks for nothing.
    let placed = !a.assumed.iter().any(|x| matches!(x, Assumed::NoPlace(_)));
    e.air_c = placed.then_some(i.air_c);
    e.litres = Some(i.litres);
    e.level_pct = Some(i.litres.scale(100.0 / a.chamber_litres));
    e.recognisable_pct = Some(i.recognisable_pct);
    // A week counts as hot if its first day is.
    let weeks = |read: fn(Spread) -> f64| {
        let past = a
            .weeks
            .iter()
            .filter(|w| w.date.is_some_and(|d| d <= a.today));
        7.0 * past.filter(|w| read(w.core_c) >= 40.0).count() as f64
    };
    e.days_ge_40 = Some(Spread::new(
        weeks(|s| s.low),
        weeks(|s| s.mid),
        weeks(|s| s.high),
    ));
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "tests")]
    use super::*;

    #[test]
    fn every_material_in_a_group_is_known() {
        let catalogue = catalogue::Catalogue::load().unwrap();
        let grouped = catalogue
            .materials()
            .iter()
            .filter_map(|m| group(&m.id))
            .collect::<Vec<_>>();
        for g in Group::ALL {
            assert!(grouped.contains(g), "{g:?} holds no material");
        }
        for id in [
            "melon-rind",
            "bread-white",
            "meat-raw",
            "wood-ash",
            "weeds-seeding",
            "berries",
            "pasta-cooked",
        ] {
            assert!(catalogue.get(id).is_some() && group(id).is_some(), "{id}");
        }
    }

    #[test]
    fn five_squeezes_rise() {
        let all: Vec<f64> = [
            "dusty",
            "crumbles",
            "holds, no drip",
            "one to three drops",
            "runs",
        ]
        .iter()
        .map(|t| squeezed(t).unwrap().mid)
        .collect();
        assert!(all.windows(2).all(|w| w[0] < w[1]), "{all:?}");
        assert!(squeezed("fine").is_none());
    }
}
