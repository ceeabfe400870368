//! Days of weather as the batch meets them: hour by hour from a day's mean, range, sun and humidity.
//!
//! Mean and range move in straight lines from one noon to the next, the course within a day is that of
//! `climate::weather` (half cosines from sunrise to 14 h), the sun's is FAO-56's. All members of a run share
//! the course of the day; each has its own mean, range and sun. Between hours everything is a straight line.
//! Sol-air gain: `climate::sol_air`; the loss to the sky is 1 K.

use crate::climate::{Weather, sun};

use super::drivers::Drivers;
use super::lanes::Real;

/// Steps a day.
pub const STEPS: usize = 24;
/// Loss of the shell to the sky, K.
const SKY: f64 = 1.0;
/// Settling after a turning, d (choice).
const SETTLING: f64 = 4.0;

/// One day's air for one member, or for a pack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayAir<R> {
    /// Mean air temperature, °C.
    pub mean: R,
    /// Half the daily range, K.
    pub half_range: R,
    /// Radiation on level ground, MJ/m²·d.
    pub sun: R,
    /// Humidity ratio, kg/kg.
    pub humidity: R,
    /// Rain, mm.
    pub rain: R,
}

/// The course of one day, shared by all members.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Course {
    /// −1 at the coldest, 1 at the warmest, at each hour.
    pub swing: [f64; STEPS],
    /// W/m² for each MJ/m²·d, at each hour.
    pub sun: [f64; STEPS],
}

/// Days of air for one member; one day more than the run at the end.
#[derive(Debug, Clone, PartialEq)]
pub struct Air<R> {
    /// By day since the start.
    pub days: Vec<DayAir<R>>,
}

/// The courses of the days of a run.
#[must_use]
pub fn courses(latitude_rad: f64, first_day_of_year: f64, days: usize) -> Vec<Course> {
    (0..days)
        .map(|d| {
            let day = (first_day_of_year - 1.0 + d as f64).rem_euclid(365.25) + 1.0;
            let omega = sun::sunset_angle(latitude_rad, sun::declination(day));
            let rise = (12.0 - sun::daylight_hours(omega) / 2.0).clamp(2.0, 11.0);
            let mut course = Course {
                swing: [0.0; STEPS],
                sun: [0.0; STEPS],
            };
            let warmest = 14.0;
            for hour in 0..STEPS {
                let h = hour as f64;
                let rising = warmest - rise;
                let falling = 24.0 - rising;
                course.swing[hour] = if h >= rise && h <= warmest {
                    -(std::f64::consts::PI * (h - rise) / rising).cos()
                } else {
                    let since = (h - warmest).rem_euclid(24.0);
                    (std::f64::consts::PI * since / falling).cos()
                };
                course.sun[hour] = sun::irradiance(latitude_rad, day, 1.0, h).max(0.0);
            }
            course
        })
        .collect()
}

impl DayAir<f64> {
    /// From one day of weather; dew point at the day's least temperature (FAO-56 eq. 48).
    #[must_use]
    pub fn of(day: &crate::climate::DayWeather) -> Self {
        let vapour = crate::climate::air::vapour_from_minimum(day.min_c);
        Self {
            mean: day.mean_c,
            half_range: 0.5 * (day.max_c - day.min_c),
            sun: day.radiation_mj,
            humidity: crate::climate::air::humidity_ratio(vapour, 101.3).unwrap_or(0.0),
            rain: day.rain_mm.unwrap_or(0.0),
        }
    }
}

impl Air<f64> {
    /// From a member's weather; the last day is repeated once so that the final hour has an end.
    #[must_use]
    pub fn of(weather: &Weather) -> Self {
        let mut days: Vec<_> = weather.days().iter().map(DayAir::of).collect();
        if let Some(&last) = days.last() {
            days.push(last);
        }
        Self { days }
    }

    /// The same air every day: a room, or a test.
    #[must_use]
    pub fn constant(temperature: f64, relative_humidity: f64, count: usize) -> Self {
        let vapour = crate::climate::air::saturation(temperature) * relative_humidity;
        let day = DayAir {
            mean: temperature,
            half_range: 0.0,
            sun: 0.0,
            humidity: crate::climate::air::humidity_ratio(vapour, 101.3).unwrap_or(0.0),
            rain: 0.0,
        };
        Self {
            days: vec![day; count + 1],
        }
    }
}

impl<R: Real> Air<R> {
    /// Members side by side: `gather` makes one number a member into a pack.
    #[must_use]
    pub fn beside<const N: usize>(
        members: &[&Air<f64>; N],
        gather: impl Fn([f64; N]) -> R,
    ) -> Self {
        let count = members.iter().map(|m| m.days.len()).min().unwrap_or(0);
        let lane = |d: usize, f: fn(&DayAir<f64>) -> f64| gather(members.map(|m| f(&m.days[d])));
        Self {
            days: (0..count)
                .map(|d| DayAir {
                    mean: lane(d, |a| a.mean),
                    half_range: lane(d, |a| a.half_range),
                    sun: lane(d, |a| a.sun),
                    humidity: lane(d, |a| a.humidity),
                    rain: lane(d, |a| a.rain),
                })
                .collect(),
        }
    }

    /// Drivers at an hour of a day. `turned` is the moment of the last turning, in days.
    #[inline(always)]
    pub fn at(
        &self,
        courses: &[Course],
        (day, hour): (usize, usize),
        turned: f64,
        (sun_gain, opening): (R, f64),
    ) -> Drivers<R> {
        let last = self.days.len() - 1;
        let here = &self.days[day.min(last)];
        let course = &courses[day.min(courses.len() - 1)];
        // Straight lines from noon to noon.
        let (other, share) = if hour < 12 {
            (
                &self.days[day.saturating_sub(1).min(last)],
                0.5 - hour as f64 / 24.0,
            )
        } else {
            (&self.days[(day + 1).min(last)], hour as f64 / 24.0 - 0.5)
        };
        let mix = |a: R, b: R| (b - a) * share + a;
        let air = mix(here.half_range, other.half_range)
            .fma(sun_gain.of(course.swing[hour]), mix(here.mean, other.mean));
        let sun = here.sun * course.sun[hour];
        let since = day as f64 + hour as f64 / 24.0 - turned;
        Drivers {
            air,
            sol_air: sun_gain.fma(sun, air) - SKY,
            humidity: mix(here.humidity, other.humidity),
            rain: here.rain * opening,
            settled: 1.0 - (-since.max(0.0) / SETTLING).exp(),
        }
    }
}
