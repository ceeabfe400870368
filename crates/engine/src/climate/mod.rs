//! The air around the drum: temperature, sun and rain, from normals, noise and observed days.
//!
//! [`Place`] → [`Normals`] (what a day of the year is like) → [`Weather`] (one member's series of days, with
//! observed days where there are any). [`mod@file`] reads observed days from text. No clock and no file is opened.

pub mod air;
mod anomaly;
mod calendar;
pub mod file;
pub mod normals;
pub mod rain;
pub mod sol_air;
mod spline;
pub mod sun;
pub mod weather;

pub use calendar::{Day, NoSuchDay};
pub use file::{FileError, Reading, read};
pub use normals::{BadPlace, Normals, Place, Typical};
pub use sol_air::Shell;
pub use weather::{DayWeather, Noise, Observed, Weather};
