//! The envelope of an event: who, when, what kind, and the body inside.

use jiff::Timestamp;

use crate::body::Body;
use crate::codec::{self, Unreadable};
use crate::error::Result;
use crate::id::EventId;

/// An event to write. Id and times are the caller's.
#[derive(Debug, Clone, PartialEq)]
pub struct NewEvent {
    /// Its id, made by the caller.
    pub id: EventId,
    /// Id of the household.
    pub household: String,
    /// When it happened. The past is normal.
    pub at: Timestamp,
    /// When it was written down.
    pub recorded: Timestamp,
    /// A one-time key, unique in the household. A second post with it writes nothing.
    pub key: Option<String>,
    /// What it says.
    pub body: Body,
}

impl NewEvent {
    /// Checks and encodes the event. Fails with the fact that stands in the way.
    pub(crate) fn encode(&self) -> Result<RawEvent> {
        crate::check::envelope(&self.household, self.key.as_deref(), self.at, self.recorded)?;
        crate::check::body(&self.body)?;
        let body = codec::encode(&self.body)?;
        Ok(RawEvent {
            id: self.id,
            household: self.household.clone(),
            at: self.at,
            recorded: self.recorded,
            kind: self.body.kind().to_owned(),
            version: self.body.version(),
            key: self.key.clone(),
            body,
        })
    }
}

/// An event with its body as the JSON text that is stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RawEvent {
    /// Its id.
    pub id: EventId,
    /// Id of the household.
    pub household: String,
    /// When it happened.
    pub at: Timestamp,
    /// When it was written down.
    pub recorded: Timestamp,
    /// Its kind.
    pub kind: String,
    /// The version of its kind, which says how the body reads.
    pub version: u32,
    /// Its one-time key.
    pub key: Option<String>,
    /// The body, a JSON object on one line.
    pub body: String,
}

impl RawEvent {
    /// Reads the body.
    pub(crate) fn decode(self) -> Event {
        let body = Recorded::from_text(&self.kind, self.version, &self.body);
        Event { raw: self, body }
    }
}

/// A written event.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// The event as stored.
    pub raw: RawEvent,
    /// What it says.
    pub body: Recorded,
}

/// A body as it was read back.
#[derive(Debug, Clone, PartialEq)]
pub enum Recorded {
    /// This program can read it.
    Known(Body),
    /// This program cannot; the text is kept as it is.
    Unknown {
        /// The stored JSON.
        text: String,
        /// Why it cannot be read.
        why: Unreadable,
    },
}

impl Recorded {
    pub(crate) fn from_text(kind: &str, version: u32, text: &str) -> Self {
        match codec::decode(kind, version, text) {
            Ok(body) => Self::Known(body),
            Err(why) => Self::Unknown {
                text: text.to_owned(),
                why,
            },
        }
    }

    /// The body, if this program can read it.
    pub fn known(&self) -> Option<&Body> {
        match self {
            Self::Known(body) => Some(body),
            Self::Unknown { .. } => None,
        }
    }
}

/// An event as it counts now, with every undo and correction applied.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Id of the event.
    pub id: EventId,
    /// When it happened, after correction.
    pub at: Timestamp,
    /// When it was first written down.
    pub recorded: Timestamp,
    /// Its kind.
    pub kind: String,
    /// What it says, after correction.
    pub body: Recorded,
    /// The correction that holds, if one does.
    pub corrected_by: Option<EventId>,
    /// The undo that holds, if one does: then the event does not count.
    pub undone_by: Option<EventId>,
}
