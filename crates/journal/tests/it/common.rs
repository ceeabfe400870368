//! Events to try things with.

use jiff::{SignedDuration, Timestamp};
use journal::{
    Amount, Appended, Body, Closed, Corrected, Emptied, EventId, NewEvent, Note, Portion, PutIn,
    Result, Sqlite, Store, Undone, WeatherDay,
};

/// The household of all tests that need only one.
pub(crate) const HOME: &str = "courtyard";

/// The n-th id; ids rise with n.
pub(crate) fn id(n: u64) -> EventId {
    format!("01990000-0000-7000-8000-{n:012x}").parse().unwrap()
}

/// So many hours after the first of January 2026.
pub(crate) fn hour(h: i64) -> Timestamp {
    let start: Timestamp = "2026-01-01T00:00:00Z".parse().unwrap();
    start + SignedDuration::from_hours(h)
}

/// Event n of the household, at hour h, written down at once.
pub(crate) fn event(n: u64, h: i64, body: Body) -> NewEvent {
    NewEvent {
        id: id(n),
        household: HOME.into(),
        at: hour(h),
        recorded: hour(h),
        key: None,
        body,
    }
}

pub(crate) fn note(text: &str) -> Body {
    Body::Note(Note { text: text.into() })
}

pub(crate) fn portion(material: &str, kg: f64) -> Portion {
    Portion {
        material: material.into(),
        text: format!("some {material}"),
        kg: Amount {
            low: kg * 0.8,
            mid: kg,
            high: kg * 1.3,
        },
        litres: Amount {
            low: kg,
            mid: kg * 2.0,
            high: kg * 3.0,
        },
        hand: false,
    }
}

pub(crate) fn put_in(chamber: &str, material: &str, kg: f64) -> Body {
    Body::PutIn(PutIn {
        chamber: chamber.into(),
        text: format!("{material} for {chamber}"),
        portions: vec![portion(material, kg)],
        unknown: Vec::new(),
    })
}

/// A day of weather of this mean, °C.
pub(crate) fn weather_day(day: &str, mean: f64) -> WeatherDay {
    WeatherDay {
        day: day.parse().unwrap(),
        mean_c: Some(mean),
        min_c: Some(mean - 4.0),
        max_c: None,
        radiation_mj: Some(0.1 + 0.2),
    }
}

pub(crate) fn closed(chamber: &str) -> Body {
    Body::Closed(Closed {
        chamber: chamber.into(),
    })
}

pub(crate) fn emptied(chamber: &str, litres: f64) -> Body {
    Body::Emptied(Emptied {
        chamber: chamber.into(),
        litres: Some(litres),
        ..Emptied::default()
    })
}

pub(crate) fn undo(event: u64) -> Body {
    Body::Undone(Undone { event: id(event) })
}

pub(crate) fn correct(event: u64, body: Body) -> Body {
    Body::Corrected(Corrected {
        event: id(event),
        at: None,
        body: Box::new(body),
    })
}

/// Appends one event.
pub(crate) fn add(journal: &Sqlite, event: NewEvent) -> Result<Appended> {
    journal.append(&[event]).map(|told| told[0])
}

/// The texts of the notes that count, in order.
pub(crate) fn notes(journal: &Sqlite) -> Vec<String> {
    let history = journal.history(HOME, &journal::Page::default()).unwrap();
    history
        .iter()
        .filter_map(|entry| match entry.body.known() {
            Some(Body::Note(it)) => Some(it.text.clone()),
            _ => None,
        })
        .collect()
}
