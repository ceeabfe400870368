//! What an event says: one record per kind.

use std::collections::BTreeMap;

use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use crate::id::EventId;

/// What an event says.
#[derive(Debug, Clone, PartialEq)]
pub enum Body {
    /// Settings of the household.
    HouseholdSet(HouseholdSet),
    /// Name, size and shape of a chamber.
    ChamberSet(ChamberSet),
    /// What a chamber already held when its record began.
    Opened(Opened),
    /// Something went into a chamber.
    PutIn(PutIn),
    /// A chamber takes no more.
    Closed(Closed),
    /// A chamber was emptied.
    Emptied(Emptied),
    /// Some of what is in a chamber went into another.
    Moved(Moved),
    /// A stock was counted.
    StockSet(StockSet),
    /// A stock grew or shrank.
    StockMoved(StockMoved),
    /// The household's own figures for a material.
    OwnFigures(OwnFigures),
    /// Something was measured or seen.
    Reading(Reading),
    /// Days of weather were measured.
    WeatherSet(WeatherSet),
    /// Words only.
    Note(Note),
    /// A forecast as it was given.
    Foretold(Foretold),
    /// A probe that sends readings by itself.
    SensorSet(SensorSet),
    /// Medians of hours of a probe.
    Hours(Hours),
    /// An earlier event does not count.
    Undone(Undone),
    /// An earlier event reads differently.
    Corrected(Corrected),
}

/// Settings of the household. A field that is absent leaves the setting as it was.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct HouseholdSet {
    /// What the household calls itself.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Where it is, in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// Degrees north; south is negative.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub latitude: Option<f64>,
    /// Time zone, by its IANA name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub zone: Option<String>,
    /// Measures to show.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub units: Option<Units>,
    /// Words to show.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub english: Option<English>,
    /// Size of the caddy, L.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub caddy_l: Option<f64>,
    /// Weight of what a full caddy holds, kg.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub caddy_full_kg: Option<f64>,
    /// Volume of a handful of browns, L.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub handful_l: Option<f64>,
    /// Whether cooked food may go in under the household's local rules.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub food_allowed: Option<bool>,
    /// How far the bin must stand from a neighbour or a window under those rules, m.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub apart_m: Option<f64>,
    /// How large a chamber may be under those rules, L.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub largest_l: Option<f64>,
}

/// Measures to show.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Units {
    /// Litres, kilograms, °C.
    Metric,
    /// Gallons, pounds, °F.
    Us,
}

/// Which English to write.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum English {
    /// As written in Britain.
    British,
    /// As written in America.
    American,
}

/// Name, size and shape of a chamber. A field that is absent leaves it as it was.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChamberSet {
    /// Id of the chamber.
    pub chamber: String,
    /// What the household calls it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Volume, L.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub litres: Option<f64>,
    /// Shape.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shape: Option<Shape>,
    /// Length, cm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_cm: Option<f64>,
    /// Width, or the width across a drum, cm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width_cm: Option<f64>,
    /// Height, cm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_cm: Option<f64>,
}

/// Shape of a chamber.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Shape {
    /// A cylinder.
    Drum,
    /// A box.
    Box,
}

/// What a chamber already holds. Starts its fill, or adds to it and opens it again.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Opened {
    /// Id of the chamber.
    pub chamber: String,
    /// Share of the chamber that is full, 0 to 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub level: Option<f64>,
    /// The day on which filling began, if known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub since: Option<Date>,
    /// What is in it.
    #[serde(default)]
    pub portions: Vec<Portion>,
}

/// Something went into a chamber. Starts a fill if the chamber is empty.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PutIn {
    /// Id of the chamber.
    pub chamber: String,
    /// The words of the person.
    pub text: String,
    /// What was understood.
    #[serde(default)]
    pub portions: Vec<Portion>,
    /// Words that were not understood.
    #[serde(default)]
    pub unknown: Vec<String>,
}

/// Some of one material.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Portion {
    /// Id of the material.
    pub material: String,
    /// The words it was named by.
    pub text: String,
    /// Wet weight, kg.
    pub kg: Amount,
    /// Volume as it lies, L.
    pub litres: Amount,
    /// Whether it was measured by hand, without scale or vessel.
    #[serde(default)]
    pub hand: bool,
}

/// An amount with its spread, in the unit of the field that holds it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Amount {
    /// Low end.
    pub low: f64,
    /// Middle.
    pub mid: f64,
    /// High end.
    pub high: f64,
}

/// A chamber takes no more.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Closed {
    /// Id of the chamber.
    pub chamber: String,
}

/// A chamber was emptied. Ends its fill.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Emptied {
    /// Id of the chamber.
    pub chamber: String,
    /// Volume that came out, L.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub litres: Option<f64>,
    /// What it was fit for, as the household judged: a rung of the forecast.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fit_for: Option<String>,
}

/// Some of what is in a chamber went into another. What moves keeps its days; all of it ends the fill it leaves.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Moved {
    /// Id of the chamber it left.
    pub chamber: String,
    /// Id of the chamber it went into.
    pub to: String,
    /// Share of what was in it, above 0, to 1.
    pub share: f64,
}

/// A stock was counted: what there is now, whatever there was before.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StockSet {
    /// Id of the material.
    pub material: String,
    /// Volume as it lies, L.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub litres: Option<f64>,
    /// Weight, kg.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kg: Option<f64>,
}

/// A stock grew (above zero) or shrank (below zero).
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StockMoved {
    /// Id of the material.
    pub material: String,
    /// Change of volume, L.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub litres: Option<f64>,
    /// Change of weight, kg.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kg: Option<f64>,
    /// Why, in words.
    #[serde(default)]
    pub why: String,
}

/// The household's own figures, which stand before those of the catalogue.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnFigures {
    /// Id of the material, of the catalogue or new.
    pub material: String,
    /// What the household calls it; needed for a new material.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Property to figure, in the unit the property has in the catalogue.
    #[serde(default)]
    pub figures: BTreeMap<String, Figure>,
}

/// A figure with its spread, in the unit of its property.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Figure {
    /// The value.
    pub value: f64,
    /// Low end.
    pub low: f64,
    /// High end.
    pub high: f64,
}

/// Something was measured or seen.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Id of the chamber, if it was about one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chamber: Option<String>,
    /// The words of the person.
    #[serde(default)]
    pub text: String,
    /// Name of the reading to its value.
    #[serde(default)]
    pub values: BTreeMap<String, Measured>,
    /// Values that cannot be and do not count: name to reason.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub aside: BTreeMap<String, String>,
}

/// A value of a reading: a number in the unit its name implies, or a word.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Measured {
    /// A number.
    Number(f64),
    /// A word.
    Text(String),
}

/// Days of weather were measured where the household is. A day stands in place of what was noted of it before.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WeatherSet {
    /// Where the days are from, in words: a file, a station.
    #[serde(default)]
    pub source: String,
    /// The days.
    pub days: Vec<WeatherDay>,
}

/// What was measured of one day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WeatherDay {
    /// Which day.
    pub day: Date,
    /// Mean of the air, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mean_c: Option<f64>,
    /// Coldest, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub min_c: Option<f64>,
    /// Warmest, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_c: Option<f64>,
    /// Radiation on level ground, MJ/m²·d.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radiation_mj: Option<f64>,
}

/// A forecast as it was given on a day, so that it can be held against what came.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Foretold {
    /// Id of the chamber.
    pub chamber: String,
    /// How many readings it had learnt from.
    #[serde(default)]
    pub readings: usize,
    /// One row a use.
    pub rungs: Vec<ForetoldRung>,
    /// What was learnt of the drum, for its next batch: parameter to mean and spread.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub drum: BTreeMap<String, [f64; 2]>,
}

/// The forecast for one use.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ForetoldRung {
    /// The use.
    pub rung: String,
    /// Early end of the window shown; absent is beyond the horizon.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub early: Option<Date>,
    /// Its middle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub middle: Option<Date>,
    /// Its late end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub late: Option<Date>,
    /// Days from that day to 5, 50 and 95 % of the runs, as they came out; absent is beyond the horizon.
    pub days: [Option<f64>; 3],
}

/// A probe that sends readings by itself. A field that is absent leaves it as it was.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SensorSet {
    /// Id of the probe.
    pub sensor: String,
    /// The chamber it hangs in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chamber: Option<String>,
    /// SHA-256 of its token, in hexadecimal; the token itself is kept nowhere.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub token_sha256: Option<String>,
    /// Whether its token is taken back.
    #[serde(default)]
    pub revoked: bool,
}

/// Medians of hours of a probe. Single points are not kept.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hours {
    /// Id of the probe.
    pub sensor: String,
    /// The chamber it hung in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chamber: Option<String>,
    /// One row an hour.
    #[serde(default)]
    pub hours: Vec<Hour>,
    /// Points that cannot be: reason to how many.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub aside: BTreeMap<String, u32>,
}

/// One hour of a probe.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hour {
    /// When it began.
    pub at: Timestamp,
    /// Median, °C; absent when no point of it can be.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub celsius: Option<f64>,
    /// How many points it is of.
    pub points: u32,
}

/// Words only.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Note {
    /// The words.
    pub text: String,
}

/// An earlier event does not count. Undo the undo to bring it back.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Undone {
    /// The event that does not count.
    pub event: EventId,
}

/// An earlier event reads differently. The latest correction written holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Corrected {
    /// The event that reads differently: the first one, not an earlier correction of it.
    pub event: EventId,
    /// When it happened, if that was wrong too; absent, the first time stands.
    pub at: Option<Timestamp>,
    /// What it says now, of the same kind.
    pub body: Box<Body>,
}

impl Body {
    /// The chamber this is about, if it is about one.
    pub fn chamber(&self) -> Option<&str> {
        match self {
            Self::ChamberSet(it) => Some(&it.chamber),
            Self::Opened(it) => Some(&it.chamber),
            Self::PutIn(it) => Some(&it.chamber),
            Self::Closed(it) => Some(&it.chamber),
            Self::Emptied(it) => Some(&it.chamber),
            Self::Moved(it) => Some(&it.chamber),
            Self::Reading(it) => it.chamber.as_deref(),
            Self::Foretold(it) => Some(&it.chamber),
            Self::SensorSet(it) => it.chamber.as_deref(),
            Self::Hours(it) => it.chamber.as_deref(),
            Self::Corrected(it) => it.body.chamber(),
            _ => None,
        }
    }

    /// The earlier event this is about, if it is an undo or a correction.
    pub fn target(&self) -> Option<EventId> {
        match self {
            Self::Undone(it) => Some(it.event),
            Self::Corrected(it) => Some(it.event),
            _ => None,
        }
    }
}
