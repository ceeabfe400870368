//! What the journal accepts: one row per quantity, and the limits of texts and times.
//!
//! All limits are judged: wide enough for a smallholding, narrow enough to catch a slipped
//! decimal point. The limits of a kind and version may be widened later, never narrowed, so that
//! an old export can always be read back.

use jiff::Timestamp;

/// The most bytes in one text a person wrote.
pub const TEXT_BYTES: usize = 64 * 1024;
/// The most bytes in an id, a name of a property or a one-time key.
pub const ID_BYTES: usize = 200;
/// The most rows in one event: portions, unknown words, figures or values.
pub const ITEMS: usize = 1_000;
/// The most days of weather in one event: four years and a month.
pub const WEATHER_DAYS: usize = 1_500;
/// The most bytes in the body of one event, and in one line of an import.
pub const LINE_BYTES: usize = 4 * 1024 * 1024;
/// The earliest time an event may carry: 1970-01-01 UTC.
pub const TIME_LEAST: Timestamp = Timestamp::UNIX_EPOCH;
/// The latest time an event may carry: 2200-01-01 UTC.
pub const TIME_MOST: Timestamp = Timestamp::constant(7_258_118_400, 0);

/// A quantity with its unit and the least and most the journal accepts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// What the quantity is, in words.
    pub name: &'static str,
    /// The unit, or an empty text for a plain number.
    pub unit: &'static str,
    /// The least value accepted.
    pub least: f64,
    /// The most accepted.
    pub most: f64,
}

impl Range {
    const fn new(name: &'static str, unit: &'static str, least: f64, most: f64) -> Self {
        Self {
            name,
            unit,
            least,
            most,
        }
    }

    /// Whether the value is a finite number within the range, ends included.
    pub fn holds(&self, value: f64) -> bool {
        value.is_finite() && value >= self.least && value <= self.most
    }
}

pub(crate) const LATITUDE: Range = Range::new("latitude", "degrees", -90.0, 90.0);
pub(crate) const CADDY_L: Range = Range::new("size of the caddy", "L", 0.1, 200.0);
pub(crate) const CADDY_KG: Range = Range::new("weight of a full caddy", "kg", 0.01, 200.0);
pub(crate) const HANDFUL_L: Range = Range::new("a handful", "L", 0.01, 5.0);
pub(crate) const CHAMBER_L: Range = Range::new("size of the chamber", "L", 1.0, 20_000.0);
pub(crate) const APART_M: Range = Range::new("distance of the bin", "m", 0.0, 1_000.0);
pub(crate) const LENGTH_CM: Range = Range::new("length, width or height", "cm", 1.0, 2_000.0);
pub(crate) const LEVEL: Range = Range::new("share of the chamber that is full", "", 0.0, 1.0);
pub(crate) const SHARE_MOVED: Range =
    Range::new("share of a chamber that was moved", "", 0.001, 1.0);
pub(crate) const KG: Range = Range::new("weight", "kg", 0.0, 10_000.0);
pub(crate) const LITRES: Range = Range::new("volume", "L", 0.0, 20_000.0);
pub(crate) const KG_MOVED: Range = Range::new("weight moved", "kg", -10_000.0, 10_000.0);
pub(crate) const LITRES_MOVED: Range = Range::new("volume moved", "L", -20_000.0, 20_000.0);
pub(crate) const FIGURE: Range = Range::new("figure of a material", "", 0.0, 1_000_000.0);
pub(crate) const AIR_C: Range = Range::new("air temperature", "°C", -90.0, 60.0);
pub(crate) const RADIATION: Range = Range::new("radiation of a day", "MJ/m²", 0.0, 130.0);
pub(crate) const VALUE: Range = Range::new("value read", "", -1_000_000.0, 1_000_000.0);

/// Values of a reading with limits of their own; every other name has those of [`VALUE`]. Judged, wider than any
/// test at home: a heap does not pass 75 °C, a flask holds litres, a dish some hundred seeds.
pub(crate) const VALUES: &[(&str, Range)] = &[
    ("water_l", Range::new("water poured in", "L", 0.0, 1_000.0)),
    ("turns", Range::new("turnings", "", 0.0, 10_000.0)),
    (
        "self_heating_k",
        Range::new("rise above the room", "K", 0.0, 80.0),
    ),
    ("flask_l", Range::new("size of the flask", "L", 0.05, 50.0)),
    ("days", Range::new("days watched", "days", 0.0, 400.0)),
    ("seeds_sown", Range::new("seeds sown", "", 0.0, 10_000.0)),
    (
        "seeds_up",
        Range::new("seeds that came up", "", 0.0, 10_000.0),
    ),
    (
        "control_sown",
        Range::new("control seeds sown", "", 0.0, 10_000.0),
    ),
    (
        "control_up",
        Range::new("control seeds that came up", "", 0.0, 10_000.0),
    ),
    ("roots_mm", Range::new("root", "mm", 0.0, 1_000.0)),
    (
        "control_roots_mm",
        Range::new("control root", "mm", 0.0, 1_000.0),
    ),
    (
        "jar_ppm",
        Range::new("rise of CO2", "ppm", 0.0, 1_000_000.0),
    ),
    ("jar_h", Range::new("hours shut", "h", 0.0, 1_000.0)),
    ("jar_l", Range::new("head space", "L", 0.0, 200.0)),
    ("sample_g", Range::new("sample", "g", 0.0, 100_000.0)),
    ("dry_pct", Range::new("dry matter", "%", 0.0, 100.0)),
    ("organic_pct", Range::new("organic matter", "%", 0.0, 100.0)),
    ("ash_pct", Range::new("ash", "%", 0.0, 100.0)),
    (
        "ash_start_pct",
        Range::new("ash at the start", "%", 0.0, 100.0),
    ),
];

/// The limits of a value by its name.
pub(crate) fn of_value(name: &str) -> &'static Range {
    VALUES
        .iter()
        .find(|(known, _)| *known == name)
        .map_or(&VALUE, |(_, range)| range)
}

/// Every range the journal checks, beside those of the values of a reading.
pub const RANGES: &[Range] = &[
    LATITUDE,
    CADDY_L,
    CADDY_KG,
    HANDFUL_L,
    CHAMBER_L,
    APART_M,
    LENGTH_CM,
    LEVEL,
    SHARE_MOVED,
    KG,
    LITRES,
    KG_MOVED,
    LITRES_MOVED,
    FIGURE,
    AIR_C,
    RADIATION,
    VALUE,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_range_is_ordered_and_refuses_what_is_not_a_number() {
        for range in RANGES.iter().chain(VALUES.iter().map(|(_, range)| range)) {
            assert!(range.least < range.most, "{}", range.name);
            assert!(
                range.holds(range.least) && range.holds(range.most),
                "{}",
                range.name
            );
            assert!(
                !range.holds(f64::NAN) && !range.holds(f64::INFINITY),
                "{}",
                range.name
            );
        }
    }

    #[test]
    fn the_latest_time_is_the_start_of_2200() {
        assert_eq!(TIME_MOST.to_string(), "2200-01-01T00:00:00Z");
    }
}
