//! Bodies to JSON and back, by kind and version.
//!
//! A change to the fields of a kind is a new version: the old arm of [`decode`] stays and turns
//! the old record into the new one. A body this program cannot read is kept as it is and reported.

use jiff::Timestamp;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;

use crate::body::{Body, Corrected};
use crate::error::{Error, Result};
use crate::id::EventId;
use crate::range::LINE_BYTES;

/// Every kind this program writes, with the version it writes.
pub const KINDS: &[(&str, u32)] = &[
    ("household_set", 2),
    ("chamber_set", 1),
    ("opened", 1),
    ("put_in", 1),
    ("closed", 1),
    ("emptied", 2),
    ("stock_set", 1),
    ("stock_moved", 1),
    ("own_figures", 1),
    ("reading", 2),
    ("note", 1),
    ("undone", 1),
    ("corrected", 1),
    ("weather_set", 1),
    ("foretold", 1),
    ("sensor_set", 1),
    ("hours", 1),
    ("moved", 1),
];

/// The row of a kind, by its name.
fn listed(name: &'static str) -> (&'static str, u32) {
    let row = KINDS.iter().find(|(kind, _)| *kind == name);
    row.copied().unwrap_or((name, 1))
}

/// Why this program cannot read a body.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unreadable {
    /// No such kind here.
    #[error("this program does not know the kind \"{kind}\"; it is kept as it is")]
    Kind {
        /// The kind.
        kind: String,
    },
    /// A version of the kind that is not known here.
    #[error("this program does not know version {version} of \"{kind}\"; it is kept as it is")]
    Version {
        /// The kind.
        kind: String,
        /// The version.
        version: u32,
    },
    /// The kind and version are known but the text does not fit them.
    #[error("the text of this \"{kind}\" does not read as one ({detail}); it is kept as it is")]
    Malformed {
        /// The kind.
        kind: String,
        /// What does not fit.
        detail: String,
    },
}

impl Body {
    /// Its kind.
    pub fn kind(&self) -> &'static str {
        self.written().0
    }

    /// The version of its kind in which it is written.
    pub fn version(&self) -> u32 {
        self.written().1
    }

    fn written(&self) -> (&'static str, u32) {
        match self {
            Self::HouseholdSet(_) => KINDS[0],
            Self::ChamberSet(_) => KINDS[1],
            Self::Opened(_) => KINDS[2],
            Self::PutIn(_) => KINDS[3],
            Self::Closed(_) => KINDS[4],
            Self::Emptied(_) => KINDS[5],
            Self::StockSet(_) => KINDS[6],
            Self::StockMoved(_) => KINDS[7],
            Self::OwnFigures(_) => KINDS[8],
            Self::Reading(_) => KINDS[9],
            Self::Note(_) => KINDS[10],
            Self::Undone(_) => KINDS[11],
            Self::Corrected(_) => KINDS[12],
            Self::WeatherSet(_) => listed("weather_set"),
            Self::Foretold(_) => listed("foretold"),
            Self::SensorSet(_) => listed("sensor_set"),
            Self::Hours(_) => listed("hours"),
            Self::Moved(_) => listed("moved"),
        }
    }
}

/// A correction as written: the new body carries its own kind and version.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CorrectedText<'a> {
    event: EventId,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    at: Option<Timestamp>,
    kind: String,
    version: u32,
    #[serde(borrow)]
    body: &'a RawValue,
}

/// Writes a checked body as JSON on one line.
pub(crate) fn encode(body: &Body) -> Result<String> {
    let text = match body {
        Body::HouseholdSet(it) => serde_json::to_string(it),
        Body::ChamberSet(it) => serde_json::to_string(it),
        Body::Opened(it) => serde_json::to_string(it),
        Body::PutIn(it) => serde_json::to_string(it),
        Body::Closed(it) => serde_json::to_string(it),
        Body::Emptied(it) => serde_json::to_string(it),
        Body::StockSet(it) => serde_json::to_string(it),
        Body::StockMoved(it) => serde_json::to_string(it),
        Body::OwnFigures(it) => serde_json::to_string(it),
        Body::Reading(it) => serde_json::to_string(it),
        Body::WeatherSet(it) => serde_json::to_string(it),
        Body::Note(it) => serde_json::to_string(it),
        Body::Undone(it) => serde_json::to_string(it),
        Body::Foretold(it) => serde_json::to_string(it),
        Body::SensorSet(it) => serde_json::to_string(it),
        Body::Hours(it) => serde_json::to_string(it),
        Body::Moved(it) => serde_json::to_string(it),
        Body::Corrected(it) => {
            let inner = encode(&it.body)?;
            serde_json::from_str::<&RawValue>(&inner).and_then(|body| {
                serde_json::to_string(&CorrectedText {
                    event: it.event,
                    at: it.at,
                    kind: it.body.kind().to_owned(),
                    version: it.body.version(),
                    body,
                })
            })
        }
    };
    let text = text.map_err(|e| Error::Stream {
        doing: "write the entry",
        detail: e.to_string(),
    })?;
    if text.len() > LINE_BYTES {
        return Err(Error::TooLong {
            field: "body".into(),
            bytes: text.len(),
            most: LINE_BYTES,
        });
    }
    Ok(text)
}

/// Reads a body by its kind and version.
pub(crate) fn decode(
    kind: &str,
    version: u32,
    text: &str,
) -> std::result::Result<Body, Unreadable> {
    let body = match (kind, version) {
        ("household_set", 1 | 2) => Body::HouseholdSet(read(kind, text)?),
        ("chamber_set", 1) => Body::ChamberSet(read(kind, text)?),
        ("opened", 1) => Body::Opened(read(kind, text)?),
        ("put_in", 1) => Body::PutIn(read(kind, text)?),
        ("closed", 1) => Body::Closed(read(kind, text)?),
        // Version 2 of each, and of `household_set`, adds fields that may be absent.
        ("emptied", 1 | 2) => Body::Emptied(read(kind, text)?),
        ("stock_set", 1) => Body::StockSet(read(kind, text)?),
        ("stock_moved", 1) => Body::StockMoved(read(kind, text)?),
        ("own_figures", 1) => Body::OwnFigures(read(kind, text)?),
        ("reading", 1 | 2) => Body::Reading(read(kind, text)?),
        ("weather_set", 1) => Body::WeatherSet(read(kind, text)?),
        ("note", 1) => Body::Note(read(kind, text)?),
        ("undone", 1) => Body::Undone(read(kind, text)?),
        ("corrected", 1) => Body::Corrected(corrected(kind, text)?),
        ("foretold", 1) => Body::Foretold(read(kind, text)?),
        ("sensor_set", 1) => Body::SensorSet(read(kind, text)?),
        ("hours", 1) => Body::Hours(read(kind, text)?),
        ("moved", 1) => Body::Moved(read(kind, text)?),
        (kind, version) if KINDS.iter().any(|(known, _)| *known == kind) => {
            return Err(Unreadable::Version {
                kind: kind.to_owned(),
                version,
            });
        }
        (kind, _) => {
            return Err(Unreadable::Kind {
                kind: kind.to_owned(),
            });
        }
    };
    Ok(body)
}

fn corrected(kind: &str, text: &str) -> std::result::Result<Corrected, Unreadable> {
    let it: CorrectedText<'_> =
        serde_json::from_str(text).map_err(|e| malformed(kind, &e.to_string()))?;
    if it.kind == "corrected" || it.kind == "undone" {
        return Err(malformed(
            kind,
            "a correction cannot hold an undo or a correction",
        ));
    }
    let body = decode(&it.kind, it.version, it.body.get())?;
    Ok(Corrected {
        event: it.event,
        at: it.at,
        body: Box::new(body),
    })
}

/// The event an undo or a correction is about, read without its body.
///
/// A correction written by a newer program still names its event this way.
pub(crate) fn target(kind: &str, text: &str) -> Option<EventId> {
    #[derive(Deserialize)]
    struct Target {
        event: EventId,
    }
    match kind {
        "undone" | "corrected" => serde_json::from_str::<Target>(text).ok().map(|it| it.event),
        _ => None,
    }
}

fn read<T: DeserializeOwned>(kind: &str, text: &str) -> std::result::Result<T, Unreadable> {
    serde_json::from_str(text).map_err(|e| malformed(kind, &e.to_string()))
}

fn malformed(kind: &str, detail: &str) -> Unreadable {
    Unreadable::Malformed {
        kind: kind.to_owned(),
        detail: detail.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "tests")]
    use super::*;

    #[test]
    fn the_first_version_of_a_kind_still_reads() {
        let old = r#"{"chamber":"near","text":"41 C","values":{"core_c":41.0}}"#;
        let Body::Reading(reading) = decode("reading", 1, old).unwrap() else {
            unreachable!("a reading")
        };
        assert!(reading.aside.is_empty());
        assert_eq!(reading.values.len(), 1);
        let old = r#"{"chamber":"near","litres":31.0}"#;
        let body = decode("emptied", 1, old).unwrap();
        assert_eq!(body.version(), 2);
        assert!(decode("reading", 3, old).is_err());
        let old = r#"{"caddy_l":6.0,"food_allowed":false}"#;
        let Body::HouseholdSet(household) = decode("household_set", 1, old).unwrap() else {
            unreachable!("settings")
        };
        assert_eq!(
            (household.food_allowed, household.apart_m),
            (Some(false), None)
        );
    }
}
