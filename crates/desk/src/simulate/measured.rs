//! Measured days out of a weather file, and what is done where it has none.

use std::path::Path;

use engine::climate::file::{self, Note, Reading, Series, Unit};
use engine::climate::normals::{RAIN_MM, SUN_H};
use engine::climate::{Day, Observed, Place};
use units::ranges;

use super::error::{CaseError, CaseFault};
use super::place::{Sky, Told, lacks, normals};
use super::sheet::{Cell, Table};

/// Beyond this the file is of another place, or in another unit (judged), K.
pub(crate) const FAR_OFF: f64 = 8.0;
/// Largest weather file, bytes (choice: a century of hours is about 60 MB).
const MOST_BYTES: u64 = 100_000_000;

/// Reads the file named in `cell`, from the folder of the case.
pub(super) fn open(cell: &Cell<'_>, folder: &Path) -> Result<Reading, CaseError> {
    let name = cell.words()?;
    let failed = |says: String| cell.wrong(format!("{name}: {says}")).but(CaseFault::Failed);
    let path = folder.join(name);
    let size = std::fs::metadata(&path).map_err(|e| failed(e.to_string()))?;
    if !size.is_file() {
        return Err(failed(
            "is no file; name a file, from the folder of the case".into(),
        ));
    }
    if size.len() > MOST_BYTES {
        return Err(failed(format!(
            "holds {} bytes; give at most {MOST_BYTES}",
            size.len()
        )));
    }
    let bytes = std::fs::read(&path).map_err(|e| failed(e.to_string()))?;
    file::read(&bytes).map_err(|e| failed(e.to_string()))
}

/// The air of a run from measured days, with drawn ones between and after.
pub(super) fn sky(
    t: &Table<'_>,
    cell: &Cell<'_>,
    reading: Reading,
    usual: Option<Place>,
    (first, days): (Day, usize),
    told: &mut Told,
) -> Result<Sky, CaseError> {
    let end = first + days as i32;
    let covered = |day: Day| reading.days.get(&day).is_some_and(|o| o.mean().is_some());
    let drawn: Vec<Day> = (0..days as i32)
        .map(|d| first + d)
        .filter(|&day| reading.typical_year || !covered(day))
        .collect();
    let given = usual.is_some();
    let place = match usual {
        Some(place) => place,
        None => from_file(t, cell, &reading, &drawn)?,
    };
    lacks(&place, told);
    let normals = normals(t, place)?;
    if given
        && let Some(off) = reading
            .mean_departure(&normals)
            .filter(|k| k.abs() > FAR_OFF)
    {
        told.notes.push(format!(
            "The weather file is {:.0} °C {} than usual at this place. Check its unit and its place.",
            off.abs(),
            if off > 0.0 { "warmer" } else { "colder" }
        ));
    }
    told.notes.extend(notes(&reading));
    if reading.typical_year {
        told.notes.push(
            "The weather file is a typical year, put together from several. Its monthly means are used, not its days."
                .into(),
        );
        return Ok(Sky::Drawn(Box::new(normals), Observed::new()));
    }
    for gap in reading
        .gaps
        .iter()
        .filter(|g| g.first < end && g.last >= first)
    {
        let (what, how) = match gap.series {
            Series::Temperature => ("temperature", "drawn between the days beside them"),
            Series::Radiation => ("sun", "worked out from the temperatures"),
            Series::Rain => ("rain", "drawn from a usual year"),
        };
        let (from, to) = (gap.first.max(first), gap.last.min(end + -1));
        told.notes.push(format!(
            "The weather file has no {what} from {from} to {to}: {how}."
        ));
        told.missing.push(format!("weather.{what}.{from}..{to}"));
    }
    let (from, to) = (reading.days.keys().next(), reading.days.keys().next_back());
    let outside = drawn
        .iter()
        .filter(|&&d| from.is_some_and(|f| d < *f) || to.is_some_and(|t| d > *t))
        .count();
    if outside > 0
        && let (Some(from), Some(to)) = (from, to)
    {
        told.notes.push(format!(
            "The weather file runs from {from} to {to}. The other {outside} of {days} days are drawn from usual weather."
        ));
        told.missing
            .push(format!("weather.{outside} of {days} days"));
    }
    Ok(Sky::Drawn(Box::new(normals), reading.days))
}

/// The usual year out of the file itself, if it holds the months that have to be drawn.
fn from_file(
    t: &Table<'_>,
    cell: &Cell<'_>,
    reading: &Reading,
    drawn: &[Day],
) -> Result<Place, CaseError> {
    let latitude = t.number("latitude", ranges::LATITUDE)?.or(reading.latitude);
    let latitude = latitude.ok_or_else(|| {
        cell.wrong("the file does not say where it is from; give latitude or town beside it")
    })?;
    let months = reading.monthly_means();
    if let Some(lack) = drawn
        .iter()
        .map(|d| d.ymd().1)
        .find(|m| months[*m as usize - 1].is_none())
    {
        return Err(cell.wrong(format!(
            "the file has fewer than 20 days of month {lack}, which this run needs; give town or monthly_mean_c beside it"
        )));
    }
    // Where every day is measured, the usual year only stands behind it.
    let means: Vec<f64> = reading.days.values().filter_map(|o| o.mean()).collect();
    let mean = means.iter().sum::<f64>() / means.len().max(1) as f64;
    Ok(Place {
        latitude,
        monthly_mean_c: months.map(|m| m.unwrap_or(mean)),
        annual_rain_mm: t.number("annual_rain_mm", RAIN_MM)?,
        annual_sun_h: t.number("annual_sun_h", SUN_H)?,
    })
}

/// What was made of the file, in sentences.
pub(crate) fn notes(reading: &Reading) -> Vec<String> {
    let mut all = Vec::new();
    for note in &reading.notes {
        let says = match note {
            Note::Unit {
                column,
                unit,
                told: false,
            } => format!(
                "The weather file names no unit for {column}; its numbers were taken as {}.",
                unit_name(*unit)
            ),
            Note::Flagged { cells } => format!(
                "{cells} values of the weather file failed the station's own check and are not used."
            ),
            Note::ThinDays { days, readings } => format!(
                "{days} days of the weather file have fewer than {readings} readings and are not used."
            ),
            Note::MinOverMax { line } => format!(
                "Line {line} of the weather file has its minimum above its maximum; it is not used."
            ),
            Note::MeanOutside { line } => format!(
                "Line {line} of the weather file has a mean outside its minimum and maximum; the mean is not used."
            ),
            Note::Unit { .. } | Note::Ignored { .. } | Note::Missing { .. } => continue,
        };
        all.push(says);
    }
    all
}

fn unit_name(unit: Unit) -> &'static str {
    match unit {
        Unit::Celsius => "°C",
        Unit::Fahrenheit => "°F",
        Unit::TenthsCelsius => "tenths of °C",
        Unit::Kelvin => "K",
        Unit::Millimetre => "mm",
        Unit::TenthsMillimetre => "tenths of mm",
        Unit::Centimetre => "cm",
        Unit::Inch => "inches",
        Unit::Megajoule => "MJ/m² a day",
        Unit::JoulePerSquareCentimetre => "J/cm² a day",
        Unit::KilowattHour => "kWh/m² a day",
        Unit::WattHour => "Wh/m² a day",
        Unit::Watt => "W/m²",
    }
}
