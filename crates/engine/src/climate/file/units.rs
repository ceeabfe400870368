//! Which unit a column is in when its heading does not say, and what cannot be told.
//!
//! All rules are judged; each is noted with the reading, and doubt is refused rather than guessed.

use super::error::FileError;
use super::headings::Unit;

/// What is known of the temperature columns without a unit.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hints {
    pub(super) least: f64,
    pub(super) most: f64,
    /// Mean of maximum less minimum, where both are there.
    pub(super) range: Option<f64>,
    pub(super) whole: bool,
    /// From first to last day.
    pub(super) span_days: i32,
    /// The column names are GHCN's, whose whole numbers are tenths of °C or, ordered so, °F.
    pub(super) ghcn: bool,
}

/// Warmest number that is taken for °C; air has not passed 57 °C.
const MOST_C: f64 = 50.0;
/// Above it no °F is air.
const MOST_F: f64 = 135.0;
/// A day's range in tenths; 45 °F would be 25 K on the mean of days.
const TENTHS_RANGE: f64 = 45.0;

/// Unit of temperature.
pub(super) fn temperature(h: Hints) -> Result<Unit, FileError> {
    let unclear = FileError::UnitUnclear {
        least: h.least,
        most: h.most,
    };
    if !h.whole && h.least > 200.0 && h.most < 335.0 {
        return Ok(Unit::Kelvin);
    }
    if h.whole && h.range.is_some_and(|r| r > TENTHS_RANGE) {
        return Ok(Unit::TenthsCelsius);
    }
    if h.most > MOST_F {
        return if h.whole {
            Ok(Unit::TenthsCelsius)
        } else {
            Err(unclear)
        };
    }
    if h.most <= MOST_C && !(h.ghcn && h.whole) {
        return Ok(Unit::Celsius);
    }
    // Half a year below 13.5 °C would be a polar station.
    if h.least > -60.0 && h.most > MOST_C && (!h.whole || h.span_days >= 180) {
        return Ok(Unit::Fahrenheit);
    }
    Err(unclear)
}

/// Unit of rain, beside temperatures in `beside`.
pub(super) fn rain(beside: Unit, most: f64, ghcn: bool) -> Unit {
    match beside {
        Unit::TenthsCelsius if ghcn => Unit::TenthsMillimetre,
        // No town has had 20 in in a day for a file of its own to be in inches throughout.
        Unit::Fahrenheit if most < 20.0 => Unit::Inch,
        _ => Unit::Millimetre,
    }
}

/// Unit of radiation: daily means pass 60 W/m² nearly everywhere, daily sums stay below 45 MJ/m².
pub(super) fn radiation(most: f64) -> Unit {
    if most > 45.0 {
        Unit::Watt
    } else {
        Unit::Megajoule
    }
}
