//! What was the weather here? Days measured by the household or a station near it, out of a file.
//!
//! They stand in place of drawn days in every forecast. Rain is left out: chambers here are closed drums, and no
//! rain falls into those.

use engine::climate::file;
use engine::climate::weather::ObservedDay;
use engine::climate::{Day, Normals, Observed};
use jiff::ToSpan as _;
use jiff::civil::Date;
use journal::{Body, WEATHER_DAYS, WeatherDay, WeatherSet};

use crate::forecast::{LONGEST, day_of, place};
use crate::simulate::measured::{FAR_OFF, notes};
use crate::{Desk, Error, HOUSEHOLD};

/// Letters of a file's name that are kept (choice).
const NAME: usize = 80;

/// `weather`.
#[derive(Debug, Clone, PartialEq)]
pub struct WeatherAnswer {
    /// Id of the entry.
    pub id: String,
    /// Whether it was written now, or had been before with the same key.
    pub written: bool,
    /// The days of the file that are kept.
    pub kept: MeasuredDays,
    /// Days of the file that are not kept: too long ago, and yet to come.
    pub left_out: (usize, usize),
    /// What was made of the file, in sentences.
    pub notes: Vec<String>,
}

/// Days of weather that were measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MeasuredDays {
    /// First.
    pub from: Date,
    /// Last.
    pub to: Date,
    /// How many; some between may miss.
    pub count: usize,
}

fn measured(days: &[Date]) -> Option<MeasuredDays> {
    Some(MeasuredDays {
        from: *days.first()?,
        to: *days.last()?,
        count: days.len(),
    })
}

fn date_of(day: Day) -> Option<Date> {
    let (year, month, of_month) = day.ymd();
    Date::new(
        i16::try_from(year).ok()?,
        i8::try_from(month).ok()?,
        i8::try_from(of_month).ok()?,
    )
    .ok()
}

fn bad(reason: String) -> Error {
    Error::BadSetting {
        field: "weather file".into(),
        reason,
    }
}

impl Desk {
    /// Takes measured days out of a weather file, those of the last four years up to today.
    ///
    /// # Errors
    /// As the engine's reader, with the line; a file without measured days that count. Nothing is kept then.
    pub fn set_weather(
        &self,
        bytes: &[u8],
        source: &str,
        key: Option<&str>,
    ) -> Result<WeatherAnswer, Error> {
        let reading = file::read(bytes)?;
        if reading.typical_year {
            return Err(bad(
                "is a typical year, put together from several; give days as they were measured"
                    .into(),
            ));
        }
        let today = self.clock.now(&self.zone()).date();
        let oldest = today
            .checked_sub((LONGEST as i64).days())
            .unwrap_or(Date::MIN);
        let mut days: Vec<WeatherDay> = Vec::new();
        let mut left_out = (0, 0);
        for (&day, seen) in reading.days.iter().filter(|(_, o)| o.mean().is_some()) {
            match date_of(day) {
                Some(day) if day > today => left_out.1 += 1,
                Some(day) if day >= oldest => days.push(WeatherDay {
                    day,
                    mean_c: seen.mean_c,
                    min_c: seen.min_c,
                    max_c: seen.max_c,
                    radiation_mj: seen.radiation_mj,
                }),
                _ => left_out.0 += 1,
            }
        }
        debug_assert!(days.len() <= WEATHER_DAYS, "four years are fewer");
        let dates: Vec<Date> = days.iter().map(|d| d.day).collect();
        let Some(kept) = measured(&dates) else {
            let all: Vec<String> = reading.days.keys().map(ToString::to_string).collect();
            let ends = [all.first(), all.last()].map(|d| d.cloned().unwrap_or_default());
            return Err(bad(format!(
                "runs from {} to {}; only days from {oldest} to {today} are kept, so give some of those",
                ends[0], ends[1]
            )));
        };
        let mut said = notes(&reading);
        said.extend(self.far_off(&reading)?);
        let body = Body::WeatherSet(WeatherSet {
            source: source.trim().chars().take(NAME).collect(),
            days,
        });
        let done = self.write(body, None, key)?;
        Ok(WeatherAnswer {
            id: done.id.to_string(),
            written: done.written,
            kept,
            left_out,
            notes: said,
        })
    }

    /// Measured days that the journal holds.
    ///
    /// # Errors
    /// As the journal's.
    pub fn weather_kept(&self) -> Result<Option<MeasuredDays>, Error> {
        let days = self.store()?.weather(HOUSEHOLD)?;
        Ok(measured(&days.iter().map(|d| d.day).collect::<Vec<_>>()))
    }

    /// Measured days up to today, as the engine takes them.
    pub(crate) fn observed(&self, today: Date) -> Result<Observed, Error> {
        let Some(store) = &self.store else {
            return Ok(Observed::new());
        };
        Ok(store
            .weather(HOUSEHOLD)?
            .into_iter()
            .filter(|d| d.day <= today)
            .map(|d| {
                let seen = ObservedDay {
                    mean_c: d.mean_c,
                    min_c: d.min_c,
                    max_c: d.max_c,
                    radiation_mj: d.radiation_mj,
                    rain_mm: None,
                };
                (day_of(d.day), seen)
            })
            .collect())
    }

    /// A warning where the file is far from what is usual here.
    fn far_off(&self, reading: &file::Reading) -> Result<Option<String>, Error> {
        let towns = catalogue::climate::Towns::load()?;
        let settings = self.settings()?;
        let usual = place::place(&towns, settings.place.as_deref(), settings.latitude)
            .and_then(|(place, _)| Normals::new(place).ok())
            .and_then(|normals| reading.mean_departure(&normals))
            .filter(|k| k.abs() > FAR_OFF);
        Ok(usual.map(|off| {
            format!(
                "It is {:.0} °C {} than usual at your place. Check its unit, and the place on the household page.",
                off.abs(),
                if off > 0.0 { "warmer" } else { "colder" }
            )
        }))
    }
}
