//! Which events count, and what they say now: undo and correction worked out, pure.

use std::collections::HashMap;

use crate::body::{Body, Corrected};
use crate::event::{Entry, Event};
use crate::id::EventId;

/// For each event that does not count, the undo that holds.
///
/// `events` stand in order of writing. An undo names an event written before it, so going
/// backwards the fate of each undo is known before it is used.
pub(crate) fn undone(events: &[Event]) -> HashMap<EventId, EventId> {
    let mut by = HashMap::new();
    for event in events.iter().rev() {
        if let Some(Body::Undone(it)) = event.body.known()
            && !by.contains_key(&event.raw.id)
        {
            by.entry(it.event).or_insert(event.raw.id);
        }
    }
    by
}

/// Every event as it counts now, with the text of its body, in order of writing.
///
/// Of several corrections that hold, the one written last wins.
pub(crate) fn entries(events: &[Event]) -> Vec<(Entry, String)> {
    let undone = undone(events);
    let mut corrected: HashMap<EventId, (EventId, &Corrected)> = HashMap::new();
    for event in events {
        if let Some(Body::Corrected(it)) = event.body.known()
            && !undone.contains_key(&event.raw.id)
        {
            corrected.insert(it.event, (event.raw.id, it));
        }
    }
    events
        .iter()
        .map(|event| {
            let (mut entry, mut text) = plain(event);
            entry.undone_by = undone.get(&event.raw.id).copied();
            if let Some((by, it)) = corrected.get(&event.raw.id)
                && let Ok(new) = crate::codec::encode(&it.body)
            {
                entry.corrected_by = Some(*by);
                entry.at = it.at.unwrap_or(entry.at);
                entry.body = crate::event::Recorded::Known((*it.body).clone());
                text = new;
            }
            (entry, text)
        })
        .collect()
}

/// An event nothing else is about, as an entry.
pub(crate) fn plain(event: &Event) -> (Entry, String) {
    let entry = Entry {
        id: event.raw.id,
        at: event.raw.at,
        recorded: event.raw.recorded,
        kind: event.raw.kind.clone(),
        body: event.body.clone(),
        corrected_by: None,
        undone_by: None,
    };
    (entry, event.raw.body.clone())
}

/// The order in which things happened: by time, then when written down, then id.
pub(crate) fn order(a: &Entry, b: &Entry) -> std::cmp::Ordering {
    (a.at, a.recorded, a.id).cmp(&(b.at, b.recorded, b.id))
}
