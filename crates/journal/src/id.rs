//! The id of an event.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use uuid::Uuid;

use crate::error::Error;

/// The id of an event: a UUID of version 7, written in lower case with hyphens.
///
/// The caller makes it, because time and chance do not enter here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EventId(Uuid);

impl EventId {
    /// Takes a UUID as an id. Fails with [`Error::BadId`] if it is not of version 7.
    pub fn new(uuid: Uuid) -> Result<Self, Error> {
        if uuid.get_version_num() == 7 {
            Ok(Self(uuid))
        } else {
            Err(Error::BadId {
                value: uuid.to_string(),
            })
        }
    }

    /// The UUID itself.
    pub fn uuid(self) -> Uuid {
        self.0
    }
}

impl FromStr for EventId {
    type Err = Error;

    /// Reads an id. Fails with [`Error::BadId`] on anything but a UUID of version 7.
    fn from_str(text: &str) -> Result<Self, Error> {
        let bad = || Error::BadId {
            value: text.chars().take(60).collect(),
        };
        Uuid::try_parse(text)
            .map_err(|_| bad())
            .and_then(|uuid| Self::new(uuid).map_err(|_| bad()))
    }
}

impl fmt::Display for EventId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.hyphenated().fmt(f)
    }
}

impl Serialize for EventId {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for EventId {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = std::borrow::Cow::<'de, str>::deserialize(from)?;
        text.parse().map_err(de::Error::custom)
    }
}
