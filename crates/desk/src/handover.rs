//! What does the next person need to know? Every chamber as it stands, for stopping or handing over.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::civil::Date;
use journal::{Body, Page};
use units::Spread;

use crate::check::SeenFacts;
use crate::{
    ChamberFacts, Desk, DoseLine, Error, ForecastAnswer, ForecastAsk, HOUSEHOLD, LocalRules,
    ReadyAnswer, SeasonAnswer,
};

/// A tub that one person lifts, kg (choice; many handling guides ask for less when it is lifted often).
pub const TUB_KG: f64 = 12.0;
/// A garden tub holds no more than this, L (common practice).
const TUB_L: f64 = 40.0;
/// Readings that tell what a chamber is like, in the order they are told.
const TOLD: [&str; 6] = [
    "level_pct",
    "squeeze",
    "core_c",
    "card",
    "smell",
    "weight_kg",
];

/// Tubs that a chamber fills.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tubs {
    /// Fewest and most.
    pub count: (u32, u32),
    /// Litres in each.
    pub litres: f64,
    /// Kilograms of one.
    pub kg: f64,
}

impl Tubs {
    /// Of so much: none heavier than one person lifts, none fuller than it holds.
    fn of(mass_kg: Spread, litres: Spread) -> Self {
        let density = mass_kg.mid / litres.mid.max(1.0);
        // A mark on the wall of a tub is read to 5 L.
        let each = ((TUB_KG / density.max(0.01)).min(TUB_L) / 5.0)
            .floor()
            .max(1.0)
            * 5.0;
        let kg = each * density;
        let count = |mass: f64| (mass / kg).ceil().max(1.0) as u32;
        Self {
            count: (count(mass_kg.low), count(mass_kg.high)),
            litres: each,
            kg,
        }
    }
}

/// What is known of the inside of a chamber.
#[derive(Debug, Clone, PartialEq)]
pub enum Within {
    /// Nothing is in it.
    Empty,
    /// Its forecast is being worked out.
    Soon,
    /// It has no forecast, and why.
    NotFollowed(String),
    /// It is followed.
    Known {
        /// The forecast.
        forecast: Arc<ForecastAnswer>,
        /// What it is fit for by forecast and tests.
        ready: Box<ReadyAnswer>,
        /// Tubs to carry it in.
        tubs: Tubs,
    },
}

/// A chamber as it is handed over.
#[derive(Debug, Clone, PartialEq)]
pub struct HandedOver {
    /// As it stands.
    pub chamber: ChamberFacts,
    /// What is in it.
    pub within: Within,
    /// The last of each reading of this batch, and its day.
    pub looks: Vec<(SeenFacts, Date)>,
    /// Readings that tell much and were not taken of this batch.
    pub never: Vec<&'static str>,
}

/// `handover`.
#[derive(Debug, Clone, PartialEq)]
pub struct HandoverAnswer {
    /// Name of the household.
    pub household: String,
    /// Today.
    pub today: Date,
    /// Chambers.
    pub chambers: Vec<HandedOver>,
    /// Chamber for the next caddy.
    pub tip_into: Option<String>,
    /// Browns with a full caddy.
    pub browns: Vec<DoseLine>,
    /// Litres of the caddy.
    pub caddy_l: f64,
    /// The year ahead, if it is worked out.
    pub season: Option<Arc<SeasonAnswer>>,
    /// Local rules as noted.
    pub rules: LocalRules,
    /// Entries in the log.
    pub entries: usize,
}

impl Desk {
    /// Every chamber as it stands. A forecast that is not known is worked out with so many `members`; with `None` it is
    /// not waited for.
    ///
    /// # Errors
    /// As the journal's.
    pub fn handover(&self, members: Option<usize>) -> Result<HandoverAnswer, Error> {
        let today = self.today()?;
        let chambers = today
            .chambers
            .iter()
            .map(|c| self.handed_over(c, members))
            .collect::<Result<_, _>>()?;
        Ok(HandoverAnswer {
            household: self.household()?.name,
            today: self.clock.now(&self.zone()).date(),
            chambers,
            tip_into: today.tip_into,
            browns: today.usual.map(|usual| usual.doses).unwrap_or_default(),
            caddy_l: self.hands()?.caddy_l,
            season: self.season_if_known(),
            rules: self.local_rules()?,
            entries: self.store()?.count(HOUSEHOLD)?,
        })
    }

    fn handed_over(
        &self,
        chamber: &ChamberFacts,
        members: Option<usize>,
    ) -> Result<HandedOver, Error> {
        if chamber.state == "empty" {
            return Ok(HandedOver {
                chamber: chamber.clone(),
                within: Within::Empty,
                looks: Vec::new(),
                never: Vec::new(),
            });
        }
        let looks = self.last_looks(&chamber.id)?;
        let never = TOLD
            .into_iter()
            .filter(|name| *name != "weight_kg" && !looks.iter().any(|(s, _)| s.reading == *name))
            .collect();
        Ok(HandedOver {
            within: self.within(&chamber.id, members)?,
            chamber: chamber.clone(),
            looks,
            never,
        })
    }

    fn within(&self, chamber: &str, members: Option<usize>) -> Result<Within, Error> {
        let forecast = match (self.forecast_if_known(chamber), members) {
            (Some(known), _) => known,
            // One run tells at once whether there will be a forecast at all.
            (None, members) => match self.forecast(&ForecastAsk {
                chamber: Some(chamber.to_owned()),
                members: members.unwrap_or(1),
                moves: false,
                ..ForecastAsk::default()
            }) {
                Ok(_) if members.is_none() => return Ok(Within::Soon),
                Ok(answer) => Arc::new(answer),
                Err(why @ (Error::NothingToForecast { .. } | Error::TooOld { .. })) => {
                    return Ok(Within::NotFollowed(why.to_string()));
                }
                Err(other) => return Err(other),
            },
        };
        let ready = self.ready_by(Some(chamber), Some(Arc::clone(&forecast)))?;
        Ok(Within::Known {
            tubs: Tubs::of(forecast.inside.mass_kg, forecast.inside.litres),
            ready: Box::new(ready),
            forecast,
        })
    }

    /// The last reading of each kind since the chamber began to fill; what cannot be is left out.
    fn last_looks(&self, chamber: &str) -> Result<Vec<(SeenFacts, Date)>, Error> {
        let store = self.store()?;
        let Some((fill, _)) = store.contents(HOUSEHOLD, chamber)? else {
            return Ok(Vec::new());
        };
        let page = Page {
            kind: Some("reading".into()),
            from: Some(fill.started),
            ..Page::default()
        };
        let zone = self.zone();
        let mut last: BTreeMap<String, (SeenFacts, Date)> = BTreeMap::new();
        for entry in store.history(HOUSEHOLD, &page)? {
            let Some(Body::Reading(it)) = entry.body.known() else {
                continue;
            };
            if it.chamber.as_deref() != Some(chamber) {
                continue;
            }
            let day = entry.at.to_zoned_datetime(zone.clone()).date();
            for (name, value) in &it.values {
                if it.aside.contains_key(name) {
                    continue;
                }
                let seen = crate::check::seen_again(name, value, &it.text);
                if seen.word.is_some() || seen.number.is_some() {
                    last.insert(name.clone(), (seen, day));
                }
            }
        }
        Ok(TOLD
            .into_iter()
            .filter_map(|name| last.remove(name))
            .collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_tub_is_heavier_than_one_person_lifts_or_fuller_than_it_holds() {
        for (mass, litres) in [(31.0, 55.0), (4.0, 60.0), (80.0, 90.0), (0.5, 2.0)] {
            let spread = |v: f64| Spread::new(v * 0.8, v, v * 1.3);
            let tubs = Tubs::of(spread(mass), spread(litres));
            assert!(tubs.kg <= TUB_KG + 1e-9 && tubs.litres <= TUB_L, "{tubs:?}");
            // As many as are told carry it all, by its low and by its high end.
            assert!(f64::from(tubs.count.0) * tubs.kg >= mass * 0.8 - 1e-9);
            assert!(f64::from(tubs.count.1) * tubs.kg >= mass * 1.3 - 1e-9);
            assert!(tubs.count.0 >= 1 && tubs.count.0 <= tubs.count.1);
        }
    }
}
