//! Whether an event may be written: texts, names, numbers and times within their limits.

use jiff::Timestamp;
use jiff::civil::Date;

use crate::body::{Amount, Body, Figure, Measured, Portion};
use crate::error::{Error, Result};
use crate::range::{
    AIR_C, APART_M, CADDY_KG, CADDY_L, CHAMBER_L, FIGURE, HANDFUL_L, ID_BYTES, ITEMS, KG, KG_MOVED,
    LATITUDE, LENGTH_CM, LEVEL, LITRES, LITRES_MOVED, RADIATION, Range, SHARE_MOVED, TEXT_BYTES,
    TIME_LEAST, TIME_MOST, VALUE, WEATHER_DAYS, of_value,
};

/// Checks what stands around the body.
pub(crate) fn envelope(
    household: &str,
    key: Option<&str>,
    at: Timestamp,
    recorded: Timestamp,
) -> Result<()> {
    name("household", household)?;
    if let Some(key) = key {
        name("key", key)?;
    }
    time("at", at)?;
    time("recorded", recorded)
}

/// Checks a body.
pub(crate) fn body(body: &Body) -> Result<()> {
    match body {
        Body::HouseholdSet(it) => {
            for (field, value) in [("name", &it.name), ("place", &it.place), ("zone", &it.zone)] {
                text_if(field, value.as_deref())?;
            }
            number_if("latitude", it.latitude, &LATITUDE)?;
            number_if("caddy_l", it.caddy_l, &CADDY_L)?;
            number_if("caddy_full_kg", it.caddy_full_kg, &CADDY_KG)?;
            number_if("handful_l", it.handful_l, &HANDFUL_L)?;
            number_if("apart_m", it.apart_m, &APART_M)?;
            number_if("largest_l", it.largest_l, &CHAMBER_L)
        }
        Body::ChamberSet(it) => {
            name("chamber", &it.chamber)?;
            text_if("name", it.name.as_deref())?;
            number_if("litres", it.litres, &CHAMBER_L)?;
            number_if("length_cm", it.length_cm, &LENGTH_CM)?;
            number_if("width_cm", it.width_cm, &LENGTH_CM)?;
            number_if("height_cm", it.height_cm, &LENGTH_CM)
        }
        Body::Opened(it) => {
            name("chamber", &it.chamber)?;
            number_if("level", it.level, &LEVEL)?;
            it.since.map_or(Ok(()), |day| date("since", day))?;
            portions(&it.portions)
        }
        Body::PutIn(it) => {
            name("chamber", &it.chamber)?;
            text("text", &it.text)?;
            portions(&it.portions)?;
            count("unknown", it.unknown.len())?;
            for (i, word) in it.unknown.iter().enumerate() {
                text(&format!("unknown[{i}]"), word)?;
            }
            Ok(())
        }
        Body::Closed(it) => name("chamber", &it.chamber),
        Body::Emptied(it) => {
            name("chamber", &it.chamber)?;
            number_if("litres", it.litres, &LITRES)?;
            it.fit_for.as_deref().map_or(Ok(()), |r| name("fit_for", r))
        }
        Body::Moved(it) => {
            name("chamber", &it.chamber)?;
            name("to", &it.to)?;
            number("share", it.share, &SHARE_MOVED)
        }
        Body::StockSet(it) => {
            name("material", &it.material)?;
            number_if("litres", it.litres, &LITRES)?;
            number_if("kg", it.kg, &KG)
        }
        Body::StockMoved(it) => {
            name("material", &it.material)?;
            number_if("litres", it.litres, &LITRES_MOVED)?;
            number_if("kg", it.kg, &KG_MOVED)?;
            text("why", &it.why)
        }
        Body::OwnFigures(it) => {
            name("material", &it.material)?;
            text_if("name", it.name.as_deref())?;
            count("figures", it.figures.len())?;
            for (property, value) in &it.figures {
                name("figures", property)?;
                figure(&format!("figures.{property}"), value)?;
            }
            Ok(())
        }
        Body::Reading(it) => {
            if let Some(chamber) = &it.chamber {
                name("chamber", chamber)?;
            }
            text("text", &it.text)?;
            count("values", it.values.len())?;
            for (property, value) in &it.values {
                name("values", property)?;
                let field = format!("values.{property}");
                match value {
                    Measured::Number(value) => number(&field, *value, of_value(property))?,
                    Measured::Text(value) => text(&field, value)?,
                }
            }
            count("aside", it.aside.len())?;
            for (property, reason) in &it.aside {
                name("aside", property)?;
                text(&format!("aside.{property}"), reason)?;
            }
            Ok(())
        }
        Body::WeatherSet(it) => {
            text("source", &it.source)?;
            count_to("days", it.days.len(), WEATHER_DAYS)?;
            for (i, it) in it.days.iter().enumerate() {
                date(&format!("days[{i}].day"), it.day)?;
                for (field, value, range) in [
                    ("mean_c", it.mean_c, &AIR_C),
                    ("min_c", it.min_c, &AIR_C),
                    ("max_c", it.max_c, &AIR_C),
                    ("radiation_mj", it.radiation_mj, &RADIATION),
                ] {
                    number_if(&format!("days[{i}].{field}"), value, range)?;
                }
            }
            Ok(())
        }
        Body::Note(it) => text("text", &it.text),
        Body::Foretold(it) => {
            name("chamber", &it.chamber)?;
            count("rungs", it.rungs.len())?;
            for row in &it.rungs {
                name("rung", &row.rung)?;
                for (field, day) in [
                    ("early", row.early),
                    ("middle", row.middle),
                    ("late", row.late),
                ] {
                    day.map_or(Ok(()), |day| date(field, day))?;
                }
                for days in row.days.into_iter().flatten() {
                    number("days", days, &VALUE)?;
                }
            }
            count("drum", it.drum.len())?;
            for (parameter, both) in &it.drum {
                name("drum", parameter)?;
                for value in both {
                    number(&format!("drum.{parameter}"), *value, &VALUE)?;
                }
            }
            Ok(())
        }
        Body::SensorSet(it) => {
            name("sensor", &it.sensor)?;
            it.chamber
                .as_deref()
                .map_or(Ok(()), |c| name("chamber", c))?;
            it.token_sha256
                .as_deref()
                .map_or(Ok(()), |h| name("token_sha256", h))
        }
        Body::Hours(it) => {
            name("sensor", &it.sensor)?;
            it.chamber
                .as_deref()
                .map_or(Ok(()), |c| name("chamber", c))?;
            count("hours", it.hours.len())?;
            for hour in &it.hours {
                time("hours.at", hour.at)?;
                number_if("hours.celsius", hour.celsius, &VALUE)?;
            }
            count("aside", it.aside.len())?;
            it.aside.keys().try_for_each(|reason| name("aside", reason))
        }
        Body::Undone(_) => Ok(()),
        Body::Corrected(it) => {
            if let Some(at) = it.at {
                time("at", at)?;
            }
            if it.body.target().is_some() {
                return Err(Error::NotCorrectable {
                    event: it.event,
                    kind: it.body.kind().to_owned(),
                });
            }
            self::body(&it.body)
        }
    }
}

fn portions(portions: &[Portion]) -> Result<()> {
    count("portions", portions.len())?;
    for (i, it) in portions.iter().enumerate() {
        name(&format!("portions[{i}].material"), &it.material)?;
        text(&format!("portions[{i}].text"), &it.text)?;
        amount(&format!("portions[{i}].kg"), it.kg, &KG)?;
        amount(&format!("portions[{i}].litres"), it.litres, &LITRES)?;
    }
    Ok(())
}

fn amount(field: &str, it: Amount, range: &Range) -> Result<()> {
    number(&format!("{field}.low"), it.low, range)?;
    number(&format!("{field}.mid"), it.mid, range)?;
    number(&format!("{field}.high"), it.high, range)?;
    ordered(field, it.low, it.mid, it.high)
}

fn figure(field: &str, it: &Figure) -> Result<()> {
    number(&format!("{field}.low"), it.low, &FIGURE)?;
    number(&format!("{field}.value"), it.value, &FIGURE)?;
    number(&format!("{field}.high"), it.high, &FIGURE)?;
    ordered(field, it.low, it.value, it.high)
}

fn ordered(field: &str, low: f64, mid: f64, high: f64) -> Result<()> {
    if low <= mid && mid <= high {
        Ok(())
    } else {
        Err(Error::Unordered {
            field: field.into(),
            low,
            mid,
            high,
        })
    }
}

fn number(field: &str, value: f64, range: &Range) -> Result<()> {
    if range.holds(value) {
        return Ok(());
    }
    Err(Error::BadValue {
        field: field.into(),
        value,
        name: range.name,
        unit: range.unit,
        least: range.least,
        most: range.most,
    })
}

fn number_if(field: &str, value: Option<f64>, range: &Range) -> Result<()> {
    value.map_or(Ok(()), |value| number(field, value, range))
}

fn text(field: &str, value: &str) -> Result<()> {
    within(field, value, TEXT_BYTES)
}

fn text_if(field: &str, value: Option<&str>) -> Result<()> {
    value.map_or(Ok(()), |value| text(field, value))
}

fn within(field: &str, value: &str, most: usize) -> Result<()> {
    if value.len() <= most {
        Ok(())
    } else {
        Err(Error::TooLong {
            field: field.into(),
            bytes: value.len(),
            most,
        })
    }
}

/// A name the journal files things under.
pub(crate) fn name(field: &str, value: &str) -> Result<()> {
    within(field, value, ID_BYTES)?;
    if value.trim().is_empty() || value.chars().any(char::is_control) {
        let value = value.escape_debug().to_string();
        return Err(Error::BadName {
            field: field.into(),
            value,
        });
    }
    Ok(())
}

fn count(field: &str, count: usize) -> Result<()> {
    count_to(field, count, ITEMS)
}

fn count_to(field: &str, count: usize, most: usize) -> Result<()> {
    if count <= most {
        Ok(())
    } else {
        Err(Error::TooMany {
            field: field.into(),
            count,
            most,
        })
    }
}

fn time(field: &str, value: Timestamp) -> Result<()> {
    if (TIME_LEAST..=TIME_MOST).contains(&value) {
        Ok(())
    } else {
        Err(Error::time(field, value))
    }
}

fn date(field: &str, value: Date) -> Result<()> {
    if (1970..2200).contains(&value.year()) {
        Ok(())
    } else {
        Err(Error::BadTime {
            field: field.into(),
            value: value.to_string(),
        })
    }
}
