//! Writing: one transaction for all events of a call.

use std::collections::BTreeMap;

use rusqlite::{Connection, OptionalExtension, params};

use super::derive;
use super::fail::{Fail, Inner};
use super::read;
use super::row::{self, stamp};
use crate::body::Body;
use crate::codec;
use crate::error::Error;
use crate::event::{Event, NewEvent, RawEvent, Recorded};
use crate::id::EventId;
use crate::store::{Appended, Restored};

/// Events just written, by household, in order of writing.
type Fresh = BTreeMap<String, Vec<Event>>;

/// Writes new events. `raw` holds the same events, checked and encoded.
pub(super) fn append(
    conn: &Connection,
    events: &[NewEvent],
    raw: Vec<RawEvent>,
) -> Inner<Vec<Appended>> {
    let mut fresh = Fresh::new();
    let mut told = Vec::with_capacity(raw.len());
    for (new, raw) in events.iter().zip(raw) {
        if let Some(id) = there(conn, &raw)? {
            told.push(Appended { id, written: false });
            continue;
        }
        may(conn, &raw.household, &new.body)?;
        told.push(Appended {
            id: raw.id,
            written: true,
        });
        insert(conn, &raw, new.body.target())?;
        let event = Event {
            body: Recorded::Known(new.body.clone()),
            raw,
        };
        fresh
            .entry(event.raw.household.clone())
            .or_default()
            .push(event);
    }
    follow(conn, &fresh)?;
    Ok(told)
}

/// Writes events from an export.
///
/// Two copies of one journal may each hold an undo of the same event; both are kept, so what
/// [`append`] refuses as done already is let through here.
pub(super) fn restore(conn: &Connection, events: &[RawEvent]) -> Inner<Restored> {
    let mut fresh = Fresh::new();
    let mut told = Restored::default();
    for (i, raw) in events.iter().enumerate() {
        let at_line = |fail: Fail| match fail {
            Fail::Fact(fact) => Fail::Fact(Error::Import {
                line: i + 1,
                why: fact.to_string(),
            }),
            sql => sql,
        };
        let event = checked(raw).map_err(|fact| at_line(fact.into()))?;
        if let Recorded::Unknown { why, .. } = &event.body {
            told.unreadable.push((raw.id, why.clone()));
        }
        if let Some(found) = read::event(conn, &raw.household, raw.id)? {
            if found.raw != *raw {
                return Err(at_line(Error::IdConflict { id: raw.id }.into()));
            }
            told.present += 1;
            continue;
        }
        // Not there by id, so what is found now holds the key, or the id elsewhere.
        if let Some(first) = there(conn, raw).map_err(at_line)? {
            let key = raw.key.clone().unwrap_or_default();
            return Err(at_line(Error::KeyConflict { key, first }.into()));
        }
        let target = codec::target(&raw.kind, &raw.body);
        if let Some(target) = target
            && read::event(conn, &raw.household, target)?.is_none()
        {
            return Err(at_line(Error::UnknownEvent { event: target }.into()));
        }
        insert(conn, raw, target)?;
        told.written += 1;
        fresh.entry(raw.household.clone()).or_default().push(event);
    }
    follow(conn, &fresh)?;
    Ok(told)
}

/// Reads and checks an event of an export. What this program cannot read is let through.
fn checked(raw: &RawEvent) -> Result<Event, Error> {
    crate::check::envelope(&raw.household, raw.key.as_deref(), raw.at, raw.recorded)?;
    crate::check::name("kind", &raw.kind)?;
    let event = raw.clone().decode();
    match &event.body {
        Recorded::Known(body) => crate::check::body(body)?,
        Recorded::Unknown {
            why: codec::Unreadable::Malformed { kind, detail },
            ..
        } => {
            return Err(Error::Malformed {
                kind: kind.clone(),
                detail: detail.clone(),
            });
        }
        Recorded::Unknown { .. } => {}
    }
    Ok(event)
}

fn follow(conn: &Connection, fresh: &Fresh) -> Inner<()> {
    for (household, events) in fresh {
        derive::follow(conn, household, events)?;
    }
    Ok(())
}

/// The event that makes this one needless: the first with its key, or itself.
fn there(conn: &Connection, raw: &RawEvent) -> Inner<Option<EventId>> {
    if let Some(key) = &raw.key {
        let sql = format!(
            "SELECT {} FROM event WHERE household = ?1 AND key = ?2",
            row::EVENT
        );
        let first = conn
            .prepare_cached(&sql)?
            .query_row(params![raw.household, key], row::event)
            .optional()?;
        if let Some(first) = first {
            // A second post comes with its own id and times; what it says is what counts.
            let same =
                (&first.kind, first.version, &first.body) == (&raw.kind, raw.version, &raw.body);
            return if same {
                Ok(Some(first.id))
            } else {
                Err(Error::KeyConflict {
                    key: key.clone(),
                    first: first.id,
                }
                .into())
            };
        }
    }
    let sql = format!("SELECT {} FROM event WHERE id = ?1", row::EVENT);
    let first = conn
        .prepare_cached(&sql)?
        .query_row([raw.id.to_string()], row::event)
        .optional()?;
    match first {
        None => Ok(None),
        Some(first)
            if RawEvent {
                recorded: raw.recorded,
                ..first.clone()
            } == *raw =>
        {
            Ok(Some(raw.id))
        }
        Some(_) => Err(Error::IdConflict { id: raw.id }.into()),
    }
}

/// Whether an undo or a correction may be written.
fn may(conn: &Connection, household: &str, body: &Body) -> Inner<()> {
    let Some(event) = body.target() else {
        return Ok(());
    };
    let Some(target) = read::event(conn, household, event)? else {
        return Err(Error::UnknownEvent { event }.into());
    };
    if let Body::Corrected(it) = body {
        let was = target.raw.kind;
        if was == "undone" || was == "corrected" {
            return Err(Error::NotCorrectable { event, kind: was }.into());
        }
        if was != it.body.kind() {
            return Err(Error::KindChange {
                event,
                was,
                now: it.body.kind().into(),
            }
            .into());
        }
    }
    if let Some(by) = derive::undone_by(conn, event)? {
        return Err(Error::AlreadyUndone { event, by }.into());
    }
    Ok(())
}

fn insert(conn: &Connection, raw: &RawEvent, target: Option<EventId>) -> Inner<()> {
    conn.prepare_cached(
        "INSERT INTO event (id, household, at, recorded, kind, version, key, target, body)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
    )?
    .execute(params![
        raw.id.to_string(),
        raw.household,
        stamp(raw.at),
        stamp(raw.recorded),
        raw.kind,
        raw.version,
        raw.key,
        target.map(|id| id.to_string()),
        raw.body,
    ])?;
    Ok(())
}
