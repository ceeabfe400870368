//! Writing, reading back, keys, limits.

use std::collections::BTreeMap;

use journal::{
    Amount, Body, ChamberSet, English, Error, Figure, Foretold, ForetoldRung, Hour, Hours,
    HouseholdSet, Measured, Moved, Opened, Order, OwnFigures, Page, PutIn, Reading, Recorded,
    SensorSet, Shape, Sqlite, StockMoved, StockSet, Store, TEXT_BYTES, Units, WeatherSet,
};

use crate::common::*;

const NASTY: &str = "'); DROP TABLE event; -- <script>alert(\"x\")</script> & \\ \u{0} \u{1F342}\n\
                     ligne deux\u{2028}fin";
/// As [`NASTY`], for names, which hold no control characters.
const NASTY_NAME: &str = "'); DELETE FROM event; -- <b>\"x\"</b> \u{1F342}";

/// One body of every kind with the same text wherever a text fits.
fn every_kind(text: &str, name: &str) -> Vec<Body> {
    let mut portion = portion(name, 1.5);
    portion.text = text.into();
    let figure = Figure {
        value: 30.1,
        low: 20.0,
        high: 1e-7 + 40.0,
    };
    vec![
        Body::HouseholdSet(HouseholdSet {
            name: Some(text.into()),
            place: Some(text.into()),
            latitude: Some(50.85),
            zone: Some(text.into()),
            units: Some(Units::Us),
            english: Some(English::American),
            caddy_l: Some(6.0),
            caddy_full_kg: Some(3.4),
            handful_l: Some(0.1 + 0.2),
            food_allowed: Some(false),
            apart_m: Some(3.5),
            largest_l: Some(400.0),
        }),
        Body::ChamberSet(ChamberSet {
            chamber: name.into(),
            name: Some(text.into()),
            litres: Some(130.0),
            shape: Some(Shape::Drum),
            length_cm: Some(72.0),
            width_cm: Some(68.0),
            height_cm: None,
        }),
        Body::Opened(Opened {
            chamber: name.into(),
            level: Some(0.4),
            since: Some("2025-11-03".parse().unwrap()),
            portions: vec![portion.clone()],
        }),
        Body::PutIn(PutIn {
            chamber: name.into(),
            text: text.into(),
            portions: vec![portion.clone(), portion],
            unknown: vec![text.into()],
        }),
        Body::StockSet(StockSet {
            material: name.into(),
            litres: Some(60.0),
            kg: None,
        }),
        Body::StockMoved(StockMoved {
            material: name.into(),
            litres: Some(-2.5),
            kg: Some(0.3),
            why: text.into(),
        }),
        Body::OwnFigures(OwnFigures {
            material: name.into(),
            name: Some(text.into()),
            figures: BTreeMap::from([(name.to_owned(), figure)]),
        }),
        Body::Reading(Reading {
            chamber: Some(name.into()),
            text: text.into(),
            values: BTreeMap::from([
                (name.to_owned(), Measured::Number(-3.25)),
                ("smell".to_owned(), Measured::Text(text.into())),
            ]),
            aside: BTreeMap::from([(name.to_owned(), text.to_owned())]),
        }),
        Body::WeatherSet(WeatherSet {
            source: text.into(),
            days: vec![weather_day("2026-09-18", -3.25)],
        }),
        note(text),
        closed(name),
        emptied(name, 31.0),
        correct(10, note(text)),
        undo(11),
        Body::Foretold(Foretold {
            chamber: name.into(),
            readings: 3,
            rungs: vec![ForetoldRung {
                rung: name.into(),
                early: Some("2026-10-01".parse().unwrap()),
                middle: Some("2026-11-01".parse().unwrap()),
                late: None,
                days: [Some(12.25), Some(0.1 + 0.2), None],
            }],
            drum: BTreeMap::from([(name.to_owned(), [-0.25, 0.75])]),
        }),
        Body::Moved(Moved {
            chamber: name.into(),
            to: format!("{name}2"),
            share: 0.1 + 0.2,
        }),
        Body::SensorSet(SensorSet {
            sensor: name.into(),
            chamber: Some(name.into()),
            token_sha256: Some("ab".repeat(32)),
            revoked: true,
        }),
        Body::Hours(Hours {
            sensor: name.into(),
            chamber: None,
            hours: vec![Hour {
                at: "2026-09-18T18:00:00Z".parse().unwrap(),
                celsius: Some(41.25),
                points: 7,
            }],
            aside: BTreeMap::from([("powered_up".to_owned(), 2)]),
        }),
    ]
}

#[test]
fn every_kind_comes_back_as_it_was_whatever_its_texts_hold() {
    let journal = Sqlite::open_memory().unwrap();
    let bodies = every_kind(NASTY, NASTY_NAME);
    let kinds: std::collections::BTreeSet<_> = bodies.iter().map(Body::kind).collect();
    assert_eq!(kinds.len(), journal::KINDS.len());
    let mut events = Vec::new();
    for (i, body) in bodies.into_iter().enumerate() {
        let mut event = event(i as u64 + 1, i as i64, body);
        event.household = NASTY_NAME.into();
        event.key = Some(format!("{NASTY_NAME} {i}"));
        events.push(event);
    }
    journal.append(&events).unwrap();
    for event in &events {
        let back = journal.event(NASTY_NAME, event.id).unwrap().unwrap();
        assert_eq!(back.body, Recorded::Known(event.body.clone()));
        assert_eq!((back.raw.at, back.raw.recorded), (event.at, event.recorded));
        assert_eq!(back.raw.key, event.key);
    }
    // What follows from them holds the same texts.
    let settings = journal.settings(NASTY_NAME).unwrap();
    assert_eq!(settings.place.as_deref(), Some(NASTY));
    assert_eq!(settings.handful_l, Some(0.1 + 0.2));
    let chambers = journal.chambers(NASTY_NAME).unwrap();
    assert_eq!(
        (chambers[0].id.as_str(), chambers[0].name.as_deref()),
        (NASTY_NAME, Some(NASTY))
    );
    let fill = journal.fills(NASTY_NAME).unwrap().remove(0);
    let portions = journal.portions(NASTY_NAME, fill.id).unwrap();
    assert_eq!(portions.len(), 3);
    assert!(portions.iter().all(|row| row.portion.text == NASTY));
    assert_eq!(
        journal.unknown_words(NASTY_NAME, fill.id).unwrap()[0].text,
        NASTY
    );
    assert_eq!(
        journal.own_figures(NASTY_NAME).unwrap()[0].name.as_deref(),
        Some(NASTY)
    );
    assert_eq!(journal.stock(NASTY_NAME).unwrap()[0].litres, Some(57.5));
    assert_eq!(journal.households().unwrap(), [NASTY_NAME]);
    // Another household sees none of it.
    assert_eq!(journal.event(HOME, events[0].id).unwrap(), None);
    assert!(journal.portions(HOME, fill.id).unwrap().is_empty());
}

#[test]
fn a_second_post_with_the_same_key_writes_nothing() {
    let journal = Sqlite::open_memory().unwrap();
    let mut first = event(1, 0, note("once"));
    first.key = Some("form-7".into());
    assert!(add(&journal, first.clone()).unwrap().written);
    let again = journal::NewEvent {
        id: id(2),
        at: hour(1),
        recorded: hour(1),
        ..first.clone()
    };
    let told = add(&journal, again).unwrap();
    assert_eq!((told.id, told.written), (id(1), false));
    let other = journal::NewEvent {
        id: id(3),
        body: note("twice"),
        ..first.clone()
    };
    assert_eq!(
        add(&journal, other).unwrap_err(),
        Error::KeyConflict {
            key: "form-7".into(),
            first: id(1)
        }
    );
    // Another household may use the key.
    let next_door = journal::NewEvent {
        id: id(4),
        household: "next-door".into(),
        ..first.clone()
    };
    assert!(add(&journal, next_door).unwrap().written);
    assert_eq!(journal.count(HOME).unwrap(), 1);
}

#[test]
fn a_second_post_of_an_undo_is_no_error() {
    let journal = Sqlite::open_memory().unwrap();
    add(&journal, event(1, 0, note("a"))).unwrap();
    let mut first = event(2, 1, undo(1));
    first.key = Some("undo-1".into());
    assert!(add(&journal, first.clone()).unwrap().written);
    first.id = id(3);
    assert_eq!(add(&journal, first).unwrap().id, id(2));
}

#[test]
fn an_event_posted_again_whole_writes_nothing_and_a_taken_id_is_refused() {
    let journal = Sqlite::open_memory().unwrap();
    add(&journal, event(1, 0, note("a"))).unwrap();
    assert!(!add(&journal, event(1, 0, note("a"))).unwrap().written);
    let taken = Error::IdConflict { id: id(1) };
    assert_eq!(add(&journal, event(1, 0, note("b"))).unwrap_err(), taken);
    let mut elsewhere = event(1, 0, note("a"));
    elsewhere.household = "next-door".into();
    assert_eq!(add(&journal, elsewhere).unwrap_err(), taken);
}

#[test]
fn one_bad_event_keeps_all_out() {
    let journal = Sqlite::open_memory().unwrap();
    let before = journal.state_hash(HOME).unwrap();
    let events = [
        event(1, 0, put_in("near", "card", 1.0)),
        event(2, 1, undo(99)),
    ];
    assert_eq!(
        journal.append(&events).unwrap_err(),
        Error::UnknownEvent { event: id(99) }
    );
    assert_eq!(journal.count(HOME).unwrap(), 0);
    assert_eq!(journal.state_hash(HOME).unwrap(), before);
}

#[test]
fn a_bad_number_is_refused_by_field_value_and_range() {
    let journal = Sqlite::open_memory().unwrap();
    let bad = |body: Body| add(&journal, event(1, 0, body)).unwrap_err().to_string();
    let with = |kg: Amount| {
        let mut portion = portion("card", 1.0);
        portion.kg = kg;
        Body::PutIn(PutIn {
            chamber: "near".into(),
            portions: vec![crate::common::portion("card", 1.0), portion],
            ..PutIn::default()
        })
    };
    assert_eq!(
        bad(with(Amount {
            low: -1.0,
            mid: 0.0,
            high: 1.0
        })),
        "portions[1].kg.low: -1 is out of range. The weight must lie between 0 and 10000 kg."
    );
    assert_eq!(
        bad(with(Amount {
            low: 0.0,
            mid: f64::NAN,
            high: 1.0
        })),
        "portions[1].kg.mid: NaN is out of range. The weight must lie between 0 and 10000 kg."
    );
    assert_eq!(
        bad(with(Amount {
            low: 0.0,
            mid: 1.0,
            high: f64::INFINITY
        })),
        "portions[1].kg.high: inf is out of range. The weight must lie between 0 and 10000 kg."
    );
    assert_eq!(
        bad(with(Amount {
            low: 2.0,
            mid: 1.0,
            high: 3.0
        })),
        "portions[1].kg: low 2, middle 1, high 3. The low end must not be above the middle, nor \
         the middle above the high end."
    );
    assert_eq!(
        bad(Body::Opened(Opened {
            chamber: "near".into(),
            level: Some(40.0),
            ..Opened::default()
        })),
        "level: 40 is out of range. The share of the chamber that is full must lie between 0 and \
         1."
    );
    // The same holds inside a correction.
    add(&journal, event(1, 0, emptied("near", 31.0))).unwrap();
    let wrong = add(&journal, event(2, 1, correct(1, emptied("near", -3.0)))).unwrap_err();
    assert!(
        matches!(wrong, Error::BadValue { ref field, .. } if field == "litres"),
        "{wrong}"
    );
    assert_eq!(journal.count(HOME).unwrap(), 1);
}

#[test]
fn a_text_of_a_megabyte_is_refused_and_64_kib_fit() {
    let journal = Sqlite::open_memory().unwrap();
    let long = "x".repeat(1_000_000);
    assert_eq!(
        add(&journal, event(1, 0, note(&long))).unwrap_err(),
        Error::TooLong {
            field: "text".into(),
            bytes: 1_000_000,
            most: TEXT_BYTES
        }
    );
    assert!(
        add(&journal, event(1, 0, note(&long[..TEXT_BYTES])))
            .unwrap()
            .written
    );
    let crowd = Body::PutIn(PutIn {
        chamber: "near".into(),
        unknown: vec![String::new(); 1_001],
        ..PutIn::default()
    });
    let error = add(&journal, event(2, 1, crowd)).unwrap_err();
    assert_eq!(
        error,
        Error::TooMany {
            field: "unknown".into(),
            count: 1_001,
            most: 1_000
        }
    );
}

#[test]
fn blank_names_line_breaks_and_far_off_times_are_refused() {
    let journal = Sqlite::open_memory().unwrap();
    for name in ["", "  ", "a\nb", "a\u{0}"] {
        let error = add(&journal, event(1, 0, closed(name))).unwrap_err();
        assert!(matches!(error, Error::BadName { .. }), "{name:?}: {error}");
    }
    let mut early = event(1, 0, note("a"));
    early.at = "1969-12-31T23:59:59Z".parse().unwrap();
    let error = add(&journal, early).unwrap_err().to_string();
    assert_eq!(
        error,
        "at: 1969-12-31T23:59:59Z is out of range. It must lie between 1970-01-01T00:00:00Z and \
         2200-01-01T00:00:00Z."
    );
    assert!("0199".parse::<journal::EventId>().is_err());
    // A random id (version 4) does not sort by time.
    assert!(
        "a3bb189e-8bf9-4888-9912-ace4e6543002"
            .parse::<journal::EventId>()
            .is_err()
    );
}

#[test]
fn times_keep_their_last_nanosecond_and_sort_by_it() {
    let journal = Sqlite::open_memory().unwrap();
    for (n, at) in [
        "2026-01-01T00:00:00.5Z",
        "2026-01-01T00:00:00Z",
        "2026-01-01T00:00:00.000000001Z",
    ]
    .iter()
    .enumerate()
    {
        let mut event = event(n as u64 + 1, 0, note(at));
        event.at = at.parse().unwrap();
        add(&journal, event).unwrap();
    }
    assert_eq!(
        notes(&journal),
        [
            "2026-01-01T00:00:00Z",
            "2026-01-01T00:00:00.000000001Z",
            "2026-01-01T00:00:00.5Z"
        ]
    );
}

#[test]
fn pages_run_both_ways_without_gap_or_overlap() {
    let journal = Sqlite::open_memory().unwrap();
    // Three to an hour, so that pages break between events of the same time.
    let events: Vec<_> = (0..20)
        .map(|n| event(20 - n, n as i64 / 3, note("x")))
        .collect();
    journal.append(&events).unwrap();
    for reverse in [false, true] {
        for order in [Order::Happened, Order::Written] {
            let all = Page {
                reverse,
                order,
                ..Page::default()
            };
            let whole = journal.events(HOME, &all).unwrap();
            let mut pieces = Vec::new();
            let mut page = Page {
                limit: Some(7),
                ..all
            };
            loop {
                let piece = journal.events(HOME, &page).unwrap();
                let Some(last) = piece.last() else { break };
                page.after = Some(last.raw.id);
                pieces.extend(piece);
            }
            assert_eq!(pieces, whole);
            assert_eq!(whole.len(), 20);
        }
    }
    let written = Page {
        order: Order::Written,
        ..Page::default()
    };
    assert_eq!(journal.events(HOME, &written).unwrap()[0].raw.id, id(20));
    let span = Page {
        from: Some(hour(1)),
        until: Some(hour(3)),
        ..Page::default()
    };
    assert_eq!(journal.history(HOME, &span).unwrap().len(), 6);
    let kind = Page {
        kind: Some("put_in".into()),
        ..Page::default()
    };
    assert!(journal.history(HOME, &kind).unwrap().is_empty());
    let lost = Page {
        after: Some(id(99)),
        ..Page::default()
    };
    assert_eq!(
        journal.history(HOME, &lost).unwrap_err(),
        Error::UnknownEvent { event: id(99) }
    );
}

#[test]
fn kinds_that_are_not_wanted_are_left_out() {
    let journal = Sqlite::open_memory().unwrap();
    journal
        .append(&[event(1, 0, note("one")), event(2, 1, emptied("near", 3.0))])
        .unwrap();
    let page = Page {
        without: vec!["note".into()],
        ..Page::default()
    };
    let kinds: Vec<String> = journal
        .history(HOME, &page)
        .unwrap()
        .into_iter()
        .map(|e| e.kind)
        .collect();
    assert_eq!(kinds, ["emptied"]);
}
