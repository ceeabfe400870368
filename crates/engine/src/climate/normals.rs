//! What each day of the year is like at a place: temperature, its range, daylight, radiation.
//!
//! - Daily mean: month means preserved (`spline`).
//! - Relative sunshine n/N: one figure for the year, tilted towards the sunnier season,
//!   n/N = k (1 + 0.35 (R_a/mean R_a − 1)), k such that the hours of the year are kept. The 0.35 is judged: at
//!   50° N about 0.8 k in December and 1.2 k in June. Wrong in sign where winter is the clear season (Tokyo).
//! - Radiation: FAO-56 eq. 35. Daily range: FAO-56 eq. 50 solved for it, T_max − T_min = (R_s/(k_Rs R_a))²,
//!   k_Rs 0.17, judged, between inland 0.16 and coast 0.19 (p. 60).
//! - Without sunshine hours n/N is 0.57, the median of the 269 towns of the table.
//!
//! Months are calendar months: in the south July is the cold one.

use std::fmt;

use units::{OutOfRange, Range, ranges};

use super::calendar::Day;
use super::{spline, sun};

/// Mean air temperature of a month.
pub const MONTH_C: Range = Range {
    name: "mean temperature of a month",
    unit: "°C",
    least: -60.0,
    most: 50.0,
};
/// Rain of a year; the wettest gauges reach 11.9 m (recalled).
pub const RAIN_MM: Range = Range {
    name: "rain of a year",
    unit: "mm",
    least: 0.0,
    most: 13_000.0,
};
/// Sunshine of a year; daylight is about 4,400 h.
pub const SUN_H: Range = Range {
    name: "sunshine of a year",
    unit: "h",
    least: 0.0,
    most: 4_500.0,
};
/// k_Rs for a place of which it is not known whether it lies at the coast (judged).
pub const KRS: f64 = 0.17;
/// n/N where no sunshine is known: median of the table of towns.
pub const SUNSHINE: f64 = 0.57;
/// How strongly sunshine follows the season (judged).
const TILT: f64 = 0.35;

/// Where the drum stands, as a climate table has it.
#[derive(Debug, Clone, PartialEq)]
pub struct Place {
    /// Degrees, north positive.
    pub latitude: f64,
    /// Mean air temperature of January to December, °C.
    pub monthly_mean_c: [f64; 12],
    /// Rain of a year, mm, if known.
    pub annual_rain_mm: Option<f64>,
    /// Sunshine of a year, h, if known.
    pub annual_sun_h: Option<f64>,
}

impl From<&catalogue::climate::Town> for Place {
    fn from(town: &catalogue::climate::Town) -> Self {
        Self {
            latitude: town.latitude,
            monthly_mean_c: town.monthly_mean_c,
            annual_rain_mm: Some(town.annual_rain_mm),
            annual_sun_h: Some(town.annual_sun_h),
        }
    }
}

/// A figure of a place that cannot be.
#[derive(Debug, Clone, PartialEq)]
pub struct BadPlace {
    /// Month 1 to 12, if it is a month's.
    pub month: Option<u32>,
    /// What is wrong.
    pub why: OutOfRange,
}

impl fmt::Display for BadPlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(month) = self.month {
            write!(f, "month {month}: ")?;
        }
        self.why.fmt(f)
    }
}

impl std::error::Error for BadPlace {}

/// A day of the year as it usually is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Typical {
    /// Mean air temperature, °C.
    pub mean_c: f64,
    /// Warmest less coldest, K.
    pub range_k: f64,
    /// Sunrise to sunset, h.
    pub daylight_h: f64,
    /// R_a, radiation above the air, MJ/m²·d.
    pub extraterrestrial_mj: f64,
    /// R_s, radiation on level ground, MJ/m²·d.
    pub radiation_mj: f64,
}

/// The usual days of a common and of a leap year.
#[derive(Debug, Clone, PartialEq)]
pub struct Normals {
    place: Place,
    common: Vec<Typical>,
    leap: Vec<Typical>,
}

impl Normals {
    /// Works out both years.
    ///
    /// # Errors
    /// [`BadPlace`] names the figure, its value and what is allowed.
    pub fn new(place: Place) -> Result<Self, BadPlace> {
        let check = |range: Range, value: f64, month| {
            range.check(value).map_err(|why| BadPlace { month, why })
        };
        check(ranges::LATITUDE, place.latitude, None)?;
        for (month, &mean) in (1..).zip(&place.monthly_mean_c) {
            check(MONTH_C, mean, Some(month))?;
        }
        for (range, value) in [(RAIN_MM, place.annual_rain_mm), (SUN_H, place.annual_sun_h)] {
            value.map_or(Ok(0.0), |v| check(range, v, None))?;
        }
        let (common, leap) = (year(&place, false), year(&place, true));
        Ok(Self {
            place,
            common,
            leap,
        })
    }

    /// The place these are of.
    #[must_use]
    pub fn place(&self) -> &Place {
        &self.place
    }

    /// Latitude, rad.
    #[must_use]
    pub fn latitude_rad(&self) -> f64 {
        self.place.latitude.to_radians()
    }

    /// This day as it usually is.
    #[must_use]
    pub fn on(&self, day: Day) -> &Typical {
        let (leap, at) = day.of_year();
        if leap {
            &self.leap[at]
        } else {
            &self.common[at]
        }
    }

    /// Whether the warm months are the dark ones: a hint that the sign of the latitude was lost.
    ///
    /// Only outside the tropics (23.5°) and where the months differ by more than 5 K (judged).
    #[must_use]
    pub fn season_contradicts_latitude(&self) -> bool {
        let months = &self.place.monthly_mean_c;
        let (least, most) = months
            .iter()
            .fold((f64::MAX, f64::MIN), |(l, m), &t| (l.min(t), m.max(t)));
        let n = self.common.len() as f64;
        let mean = |of: fn(&Typical) -> f64| self.common.iter().map(of).sum::<f64>() / n;
        let (t, ra) = (mean(|d| d.mean_c), mean(|d| d.extraterrestrial_mj));
        let together: f64 = self
            .common
            .iter()
            .map(|d| (d.mean_c - t) * (d.extraterrestrial_mj - ra))
            .sum();
        self.place.latitude.abs() > 23.5 && most - least > 5.0 && together < 0.0
    }
}

fn year(place: &Place, leap: bool) -> Vec<Typical> {
    let latitude = place.latitude.to_radians();
    let means = spline::daily_means(&place.monthly_mean_c, leap);
    let mut days: Vec<Typical> = (1..)
        .zip(means)
        .map(|(j, mean_c)| {
            let j = f64::from(j);
            let ws = sun::sunset_angle(latitude, sun::declination(j));
            Typical {
                mean_c,
                range_k: 0.0,
                daylight_h: sun::daylight_hours(ws),
                extraterrestrial_mj: sun::extraterrestrial(latitude, j),
                radiation_mj: 0.0,
            }
        })
        .collect();
    let n = days.len() as f64;
    let mean_ra = days.iter().map(|d| d.extraterrestrial_mj).sum::<f64>() / n;
    let tilt = |d: &Typical| 1.0 + TILT * (d.extraterrestrial_mj / mean_ra - 1.0);
    let (light, tilted) = days.iter().fold((0.0, 0.0), |(light, tilted), d| {
        (light + d.daylight_h, tilted + d.daylight_h * tilt(d))
    });
    let hours = place
        .annual_sun_h
        .map_or(SUNSHINE * light, |h| h * n / 365.25);
    for day in &mut days {
        let relative = (hours / tilted * tilt(day)).clamp(0.0, 1.0);
        day.radiation_mj = sun::from_sunshine(day.extraterrestrial_mj, relative);
        // From the ratio itself, so that polar night has a range too.
        day.range_k = (sun::from_sunshine(1.0, relative) / KRS).powi(2);
    }
    days
}
