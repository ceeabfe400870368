//! The climate of the household: by town in its place, else by latitude, else a stated stand-in.

use catalogue::climate::{FoundTown, Town, Towns};
use engine::climate::{Normals, Place};
use units::Spread;

use super::answer::Assumed;
use super::plan::day_of;
use crate::Desk;

/// Taken where nothing is known of the place (choice: a mild town in the middle of the table).
const STAND_IN: &str = "Brussels";
/// Towns within this of the latitude count as alike, °.
const ALIKE: f64 = 3.0;

fn named<'a>(towns: &'a Towns, place: &str) -> Option<&'a Town> {
    let words: Vec<&str> = place
        .split(|c: char| !c.is_alphanumeric() && c != '-')
        .filter(|w| !w.is_empty())
        .collect();
    // Longest run of words that is a town: "New York", then "York".
    (1..=3.min(words.len())).rev().find_map(|long| {
        words
            .windows(long)
            .find_map(|some| match towns.find(&some.join(" ")) {
                FoundTown::One(town) => Some(town),
                _ => None,
            })
    })
}

/// Place of the climate, and what it takes for granted.
pub(crate) fn place(
    towns: &Towns,
    words: Option<&str>,
    latitude: Option<f64>,
) -> Option<(Place, Assumed)> {
    if let Some(town) = words.and_then(|w| named(towns, w)) {
        return Some((Place::from(town), Assumed::Town(town.name.clone())));
    }
    if let Some(latitude) = latitude {
        let alike: Vec<&Town> = towns
            .all()
            .iter()
            .filter(|t| (t.latitude - latitude).abs() <= ALIKE)
            .collect();
        if !alike.is_empty() {
            let n = alike.len() as f64;
            let mean = |f: &dyn Fn(&Town) -> f64| alike.iter().map(|t| f(t)).sum::<f64>() / n;
            let place = Place {
                latitude,
                monthly_mean_c: std::array::from_fn(|m| mean(&|t| t.monthly_mean_c[m])),
                annual_rain_mm: Some(mean(&|t| t.annual_rain_mm)),
                annual_sun_h: Some(mean(&|t| t.annual_sun_h)),
            };
            return Some((place, Assumed::Latitude(latitude)));
        }
    }
    match towns.find(STAND_IN) {
        FoundTown::One(town) => Some((Place::from(town), Assumed::NoPlace(town.name.clone()))),
        _ => None,
    }
}

/// A day lies within this of the usual one, K (judged: nine days of ten at middle latitudes).
const A_DAY_K: f64 = 6.0;

impl Desk {
    /// The air of a usual day like today; `None` where the place is not known.
    pub(crate) fn usual_air_now(&self) -> Option<Spread> {
        let settings = self.settings().ok()?;
        let towns = Towns::load().ok()?;
        let (place, assumed) = place(&towns, settings.place.as_deref(), settings.latitude)?;
        if matches!(assumed, Assumed::NoPlace(_)) {
            return None;
        }
        let normals = Normals::new(place).ok()?;
        let mean = normals
            .on(day_of(self.clock.now(&self.zone()).date()))
            .mean_c;
        Some(Spread::new(mean - A_DAY_K, mean, mean + A_DAY_K))
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "tests")]
    use super::*;

    #[test]
    fn a_town_is_found_within_a_place() {
        let towns = Towns::load().unwrap();
        let found = |words| place(&towns, Some(words), None).unwrap().1;
        assert_eq!(
            found("A paved courtyard, Brussels climate (invented)"),
            Assumed::Town("Brussels".into())
        );
        assert_eq!(
            found("behind the shed"),
            Assumed::NoPlace("Brussels".into())
        );
    }

    #[test]
    fn the_south_keeps_its_seasons() {
        let towns = Towns::load().unwrap();
        let (place, _) = place(&towns, None, Some(-34.0)).unwrap();
        assert!(place.monthly_mean_c[0] > place.monthly_mean_c[6]);
    }
}
