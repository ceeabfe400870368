//! One member's weather: observed days where there are any, otherwise normals with noise.
//!
//! - Mean: usual mean + departure (`anomaly`), σ 2.5 K and φ 0.75 a day [both judged; towns inland in winter
//!   reach 5 K, the tropics 1 K].
//! - A wet day has 0.55 of a dry day's radiation and 0.65 of its daily range (judged); dry days make up for it, so the
//!   usual values stay the means.
//! - Observed days: mean as given, else the middle of minimum and maximum; radiation as given, else by
//!   FAO-56 eq. 50 from the range, else the usual. Days that miss are drawn, for each member afresh.
//! - Within the day: half cosines from the minimum at sunrise to the maximum at 14 h solar time and on to the
//!   next minimum (WAVE; de Wit, C. T. and others, 1978, Simulation of assimilation, respiration and
//!   transpiration of crops, recalled). Equal days keep their mean exactly.
//!
//! Streams of ChaCha8: three a member, so that a day keeps its luck when an earlier day becomes known.

use std::collections::BTreeMap;
use std::f64::consts::PI;

use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use rand_distr::StandardNormal;
use serde::{Deserialize, Serialize};

use super::calendar::Day;
use super::normals::{KRS, Normals, Typical};
use super::rain::{Rain, WET_MM};
use super::{anomaly, sun};

/// Wet to dry: radiation and daily range (judged).
const WET_TO_DRY: (f64, f64) = (0.55, 0.65);
/// Solar hour of the maximum.
const WARMEST_H: f64 = 14.0;
/// A departure further back than this is forgotten (0.75 to the 30th is 0.0002).
const MEMORY_DAYS: i32 = 30;

/// Day-to-day noise of the mean temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Noise {
    /// Standard deviation of departures, K.
    pub sigma_k: f64,
    /// Correlation of a day with the next, 0 to below 1.
    pub phi: f64,
}

impl Default for Noise {
    fn default() -> Self {
        Self {
            sigma_k: 2.5,
            phi: 0.75,
        }
    }
}

/// What is known of a day that was observed.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct ObservedDay {
    /// Mean air temperature, °C.
    pub mean_c: Option<f64>,
    /// Coldest, °C.
    pub min_c: Option<f64>,
    /// Warmest, °C.
    pub max_c: Option<f64>,
    /// Radiation on level ground, MJ/m²·d.
    pub radiation_mj: Option<f64>,
    /// Rain, mm.
    pub rain_mm: Option<f64>,
}

impl ObservedDay {
    /// Mean as given, else the middle of minimum and maximum.
    #[must_use]
    pub fn mean(&self) -> Option<f64> {
        self.mean_c
            .or_else(|| Some(0.5 * (self.min_c? + self.max_c?)))
    }
}

/// Observed days; days may miss.
pub type Observed = BTreeMap<Day, ObservedDay>;

/// The air of one day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayWeather {
    /// Which day.
    pub day: Day,
    /// Mean air temperature, °C.
    pub mean_c: f64,
    /// Coldest, °C.
    pub min_c: f64,
    /// Warmest, °C.
    pub max_c: f64,
    /// Radiation on level ground, MJ/m²·d.
    pub radiation_mj: f64,
    /// Rain, mm; `None` where neither the day nor the year's total is known.
    pub rain_mm: Option<f64>,
    /// Sunrise to sunset, h.
    pub daylight_h: f64,
    /// Whether the temperature was observed.
    pub observed: bool,
}

/// One member's series of days without a gap.
#[derive(Debug, Clone, PartialEq)]
pub struct Weather {
    latitude: f64,
    days: Vec<DayWeather>,
}

impl Weather {
    /// Draws `count` days from `first` on. Same arguments, same series, bit for bit.
    #[must_use]
    pub fn draw(
        normals: &Normals,
        first: Day,
        count: usize,
        observed: &Observed,
        noise: Noise,
        (seed, member): (u64, u64),
    ) -> Self {
        let stream = |which: u64| {
            let mut rng = ChaCha8Rng::seed_from_u64(seed);
            rng.set_stream(member.wrapping_mul(4).wrapping_add(which));
            rng
        };
        let (mut departures, mut skies, mut amounts) = (stream(0), stream(1), stream(2));
        // A departure seen shortly before the first day still counts.
        let lead = observed
            .range(first + -MEMORY_DAYS..first)
            .rev()
            .find(|(_, o)| o.mean().is_some())
            .map_or(0, |(&day, _)| (first - day) as usize);
        let start = first + -(lead as i32);
        let total = if count == 0 { 0 } else { lead + count };
        let mut known = vec![None; total];
        let mut seen = vec![None; total];
        for (&day, o) in observed.range(start..start + total as i32) {
            let at = (day - start) as usize;
            known[at] = o.mean().map(|mean| mean - normals.on(day).mean_c);
            seen[at] = Some(o);
        }
        let mut z = vec![0.0; total];
        // Days before the first come last in the stream: the days asked for keep their luck.
        for z in z[lead.min(total)..].iter_mut() {
            *z = departures.sample(StandardNormal);
        }
        for z in z[..lead.min(total)].iter_mut() {
            *z = departures.sample(StandardNormal);
        }
        let x = anomaly::fill(&known, &z, noise);
        let rain = normals
            .place()
            .annual_rain_mm
            .map(|mm| Rain::drawn(mm, &mut skies));
        let mut wet = None;
        let mut days = Vec::with_capacity(count);
        for at in lead.min(total)..total {
            let day = start + at as i32;
            let typical = normals.on(day);
            let u: f64 = skies.random();
            let told = seen[at].and_then(|o: &ObservedDay| o.rain_mm);
            let rain_mm = told.or_else(|| {
                let rain = rain.as_ref()?;
                Some(if rain.is_wet(wet, u) {
                    rain.amount(&mut amounts)
                } else {
                    0.0
                })
            });
            // A drawn wet day may bring less than 1 mm; it is wet all the same.
            wet = rain_mm.map(|mm| {
                if told.is_some() {
                    mm >= WET_MM
                } else {
                    mm > 0.0
                }
            });
            let sky = (rain.as_ref(), wet);
            days.push(one_day(day, typical, x[at], seen[at], sky, rain_mm));
        }
        Self {
            latitude: normals.latitude_rad(),
            days,
        }
    }

    /// The days, in order.
    #[must_use]
    pub fn days(&self) -> &[DayWeather] {
        &self.days
    }

    /// One day, if it is in the series.
    #[must_use]
    pub fn get(&self, day: Day) -> Option<&DayWeather> {
        self.days.get(self.index(day)?)
    }

    /// Air temperature, °C, at a solar hour, 0 to 24. Follows mean ± half the range, so the mean holds.
    #[must_use]
    pub fn air_c(&self, day: Day, hour: f64) -> Option<f64> {
        let at = self.index(day)?;
        let today = self.days.get(at)?;
        let before = at.checked_sub(1).map_or(today, |i| &self.days[i]);
        let after = self.days.get(at + 1).unwrap_or(today);
        let rise = coldest_hour(today);
        let (from, to, share) = if hour < rise {
            let night = rise + 24.0 - WARMEST_H;
            (high(before), low(today), (hour + 24.0 - WARMEST_H) / night)
        } else if hour <= WARMEST_H {
            (low(today), high(today), (hour - rise) / (WARMEST_H - rise))
        } else {
            let night = coldest_hour(after) + 24.0 - WARMEST_H;
            (high(today), low(after), (hour - WARMEST_H) / night)
        };
        Some(from + (to - from) * 0.5 * (1.0 - (PI * share).cos()))
    }

    /// Radiation on level ground, W/m², at a solar hour.
    #[must_use]
    pub fn irradiance(&self, day: Day, hour: f64) -> Option<f64> {
        let today = self.get(day)?;
        let of_year = day.of_year().1 as f64 + 1.0;
        Some(sun::irradiance(
            self.latitude,
            of_year,
            today.radiation_mj,
            hour,
        ))
    }

    fn index(&self, day: Day) -> Option<usize> {
        usize::try_from(day - self.days.first()?.day).ok()
    }
}

/// Sunrise, held to 3 to 9 h where the sun hardly rises or sets (judged).
fn coldest_hour(day: &DayWeather) -> f64 {
    (12.0 - 0.5 * day.daylight_h).clamp(3.0, 9.0)
}

fn low(day: &DayWeather) -> f64 {
    day.mean_c - 0.5 * (day.max_c - day.min_c)
}

fn high(day: &DayWeather) -> f64 {
    day.mean_c + 0.5 * (day.max_c - day.min_c)
}

fn one_day(
    day: Day,
    typical: &Typical,
    departure: f64,
    seen: Option<&ObservedDay>,
    (rain, wet): (Option<&Rain>, Option<bool>),
    rain_mm: Option<f64>,
) -> DayWeather {
    let sky = |ratio: f64| match (rain, wet) {
        (Some(rain), Some(wet)) => {
            let dry = 1.0 / (1.0 - rain.wet_share() * (1.0 - ratio));
            if wet { ratio * dry } else { dry }
        }
        _ => 1.0,
    };
    let mean_c = typical.mean_c + departure;
    let half = 0.5 * typical.range_k * sky(WET_TO_DRY.1);
    let ends = seen.and_then(|o| o.min_c.zip(o.max_c));
    // The mean stays between the two, whatever was noted.
    let end = |of: fn(&ObservedDay) -> Option<f64>, usual: f64| seen.and_then(of).unwrap_or(usual);
    let min_c = end(|o| o.min_c, mean_c - half).min(mean_c);
    let max_c = end(|o| o.max_c, mean_c + half).max(mean_c);
    let ra = typical.extraterrestrial_mj;
    let radiation_mj = match (seen.and_then(|o| o.radiation_mj), ends) {
        (Some(measured), _) => measured,
        (None, Some((min, max))) => sun::from_range(ra, min, max, KRS),
        (None, None) => (typical.radiation_mj * sky(WET_TO_DRY.0)).min(0.80 * ra),
    };
    DayWeather {
        day,
        mean_c,
        min_c,
        max_c,
        radiation_mj,
        rain_mm,
        daylight_h: typical.daylight_h,
        observed: seen.is_some_and(|o| o.mean().is_some()),
    }
}
