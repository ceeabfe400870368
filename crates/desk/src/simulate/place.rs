//! `[place]`: a town, twelve months, one even temperature, or a file of measured days.

use std::path::Path;

use catalogue::climate::{FoundTown, Town, Towns};
use engine::climate::normals::{MONTH_C, RAIN_MM, SUN_H};
use engine::climate::{Day, Normals, Observed, Place};
use units::{Range, ranges};

use super::error::{CaseError, CaseFault};
use super::feeds::row;
use super::measured;
use super::sheet::{Cell, Table};

const AIR_C: Range = row("air temperature", "°C", -40.0, 50.0);
const HUMIDITY_PCT: Range = row("relative humidity", "%", 0.0, 100.0);
/// Relative humidity of a constant air where none is given (judged: rooms and sheds 40–80 %).
const HUMIDITY: f64 = 0.6;

/// The air of a run.
#[derive(Debug, Clone)]
pub(super) enum Sky {
    /// The same all the time: °C, share of saturation.
    Constant(f64, f64),
    /// Drawn for each member, with measured days where there are any.
    Drawn(Box<Normals>, Observed),
}

/// What is told beside the air.
#[derive(Debug, Default)]
pub(super) struct Told {
    pub(super) missing: Vec<String>,
    pub(super) notes: Vec<String>,
}

/// Reads the place for `days` days from `first` on.
pub(super) fn read(
    root: &Table<'_>,
    folder: &Path,
    (first, days): (Day, usize),
    told: &mut Told,
) -> Result<Sky, CaseError> {
    const WAYS: &str = "give town, or latitude with monthly_mean_c, or air_c, or weather";
    let Some(t) = root.table("place")? else {
        return Err(root.wrong(format!("[place] is missing; {WAYS}")));
    };
    t.keys(&[
        "town",
        "latitude",
        "monthly_mean_c",
        "annual_rain_mm",
        "annual_sun_h",
        "air_c",
        "relative_humidity_pct",
        "weather",
    ])?;
    let only = |kept: &str, others: &[&str]| match others.iter().find_map(|o| t.get(o)) {
        Some(cell) => Err(cell.wrong(format!("does not go with {kept}; keep one of the two"))),
        None => Ok(()),
    };
    let months = [
        "latitude",
        "monthly_mean_c",
        "annual_rain_mm",
        "annual_sun_h",
    ];
    if let Some(air) = t.number("air_c", AIR_C)? {
        only("air_c", &months)?;
        only("air_c", &["town", "weather"])?;
        let humidity = t.share("relative_humidity_pct", HUMIDITY_PCT)?;
        if humidity.is_none() {
            told.missing.push("place.relative_humidity_pct".into());
        }
        return Ok(Sky::Constant(air, humidity.unwrap_or(HUMIDITY)));
    }
    if let Some(cell) = t.get("relative_humidity_pct") {
        return Err(cell.wrong("goes with air_c only; days of weather bring their own"));
    }
    let usual = match t.get("town") {
        Some(cell) => {
            only("town", &months)?;
            Some(town(&cell)?)
        }
        None => by_months(&t)?,
    };
    let Some(cell) = t.get("weather") else {
        let place = usual.ok_or_else(|| {
            t.wrong(if t.has("latitude") {
                "`monthly_mean_c` is missing; give twelve means from January to December".into()
            } else if t.has("monthly_mean_c") {
                "`latitude` is missing; give degrees, south negative".into()
            } else {
                format!("no place is named; {WAYS}")
            })
        })?;
        lacks(&place, told);
        return Ok(Sky::Drawn(Box::new(normals(&t, place)?), Observed::new()));
    };
    let reading = measured::open(&cell, folder)?;
    measured::sky(&t, &cell, reading, usual, (first, days), told)
}

pub(super) fn lacks(place: &Place, told: &mut Told) {
    for (key, lacks) in [
        ("place.annual_rain_mm", place.annual_rain_mm.is_none()),
        ("place.annual_sun_h", place.annual_sun_h.is_none()),
    ] {
        if lacks {
            told.missing.push(key.into());
        }
    }
}

fn town(cell: &Cell<'_>) -> Result<Place, CaseError> {
    let words = cell.words()?;
    let towns = Towns::load()
        .map_err(|e| CaseError::plain(CaseFault::Failed, "", format!("the table of towns: {e}")))?;
    let named = |all: &[&Town]| {
        let all: Vec<String> = all
            .iter()
            .take(5)
            .map(|t| format!("{}, {}", t.name, t.country))
            .collect();
        all.join("; ")
    };
    let asked = crate::read::shortened(words);
    match towns.find(words) {
        FoundTown::One(town) => Ok(Place::from(town)),
        FoundTown::Several(all) => Err(cell
            .wrong(format!(
                "`{asked}` may be {}; write one of them",
                named(&all)
            ))
            .but(CaseFault::NotUnderstood)),
        FoundTown::Nothing(near) => {
            let near = if near.is_empty() {
                String::new()
            } else {
                format!("did you mean {}? Otherwise ", named(&near))
            };
            Err(cell
                .wrong(format!(
                    "`{asked}` is not among the {} towns known here; {near}give latitude and monthly_mean_c",
                    towns.all().len()
                ))
                .but(CaseFault::NotUnderstood))
        }
    }
}

fn by_months(t: &Table<'_>) -> Result<Option<Place>, CaseError> {
    let latitude = t.number("latitude", ranges::LATITUDE)?;
    let rain = t.number("annual_rain_mm", RAIN_MM)?;
    let sun = t.number("annual_sun_h", SUN_H)?;
    let Some(cell) = t.get("monthly_mean_c") else {
        return Ok(None);
    };
    let all = cell
        .items()?
        .map(|c| c.number(MONTH_C))
        .collect::<Result<Vec<f64>, _>>()?;
    let count = all.len();
    let monthly_mean_c: [f64; 12] = all
        .try_into()
        .map_err(|_| cell.wrong(format!("{count} means; give twelve, January to December")))?;
    Ok(latitude.map(|latitude| Place {
        latitude,
        monthly_mean_c,
        annual_rain_mm: rain,
        annual_sun_h: sun,
    }))
}

pub(super) fn normals(t: &Table<'_>, place: Place) -> Result<Normals, CaseError> {
    let latitude = place.latitude;
    let normals = Normals::new(place).map_err(|e| t.wrong(e.to_string()))?;
    if normals.season_contradicts_latitude()
        && let Some(cell) = t.get("latitude").or_else(|| t.get("monthly_mean_c"))
    {
        return Err(cell.wrong(format!(
            "the warm months are the dark ones at {latitude}°; south is negative ({}), and months run January to December there too",
            -latitude
        )));
    }
    Ok(normals)
}
