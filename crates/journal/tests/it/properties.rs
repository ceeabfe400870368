//! What holds for any run of events.

use std::collections::BTreeMap;

use journal::{
    Body, ChamberSet, Corrected, Figure, HouseholdSet, Measured, NewEvent, Opened, OwnFigures,
    PutIn, Reading, Sqlite, StockMoved, StockSet, Store, WeatherSet, export, import,
};
use proptest::prelude::*;
use rusqlite::Connection;
use tempfile::TempDir;

use crate::common::*;

/// What to do next; undo and correct pick among the events so far.
#[derive(Debug, Clone)]
enum Step {
    Plain(Body),
    Undo(prop::sample::Index),
    Correct(prop::sample::Index, Option<i64>, f64),
}

fn chamber() -> impl Strategy<Value = String> {
    prop_oneof![Just("near".to_owned()), Just("far".to_owned())]
}

fn some_portions() -> impl Strategy<Value = Vec<journal::Portion>> {
    let one = ("[a-c]", 0.0..50.0).prop_map(|(material, kg)| portion(&material, kg));
    prop::collection::vec(one, 0..3)
}

fn body() -> impl Strategy<Value = Body> {
    prop_oneof![
        4 => (chamber(), some_portions(), prop::collection::vec(".{0,6}", 0..2)).prop_map(
            |(chamber, portions, unknown)| Body::PutIn(PutIn {
                chamber,
                text: "in".into(),
                portions,
                unknown,
            })
        ),
        1 => (chamber(), prop::option::of(0.0..=1.0), some_portions()).prop_map(
            |(chamber, level, portions)| Body::Opened(Opened {
                chamber,
                level,
                since: None,
                portions,
            })
        ),
        1 => chamber().prop_map(|c| closed(&c)),
        1 => (chamber(), 0.0..100.0).prop_map(|(c, litres)| emptied(&c, litres)),
        1 => ("[a-b]", prop::option::of(0.0..90.0), prop::option::of(0.0..9.0)).prop_map(
            |(material, litres, kg)| Body::StockSet(StockSet { material, litres, kg })
        ),
        1 => ("[a-b]", prop::option::of(-9.0..9.0)).prop_map(|(material, litres)| {
            Body::StockMoved(StockMoved { material, litres, kg: None, why: "x".into() })
        }),
        1 => (prop::option::of(".{0,8}"), prop::option::of(-90.0..=90.0)).prop_map(
            |(name, latitude)| Body::HouseholdSet(HouseholdSet {
                name,
                latitude,
                ..HouseholdSet::default()
            })
        ),
        1 => (chamber(), prop::option::of(1.0..500.0)).prop_map(|(chamber, litres)| {
            Body::ChamberSet(ChamberSet { chamber, litres, ..ChamberSet::default() })
        }),
        1 => ("[a-b]", "[p-q]", 1.0..90.0).prop_map(|(material, property, value)| {
            let figure = Figure { value, low: value / 2.0, high: value * 2.0 };
            let figures = BTreeMap::from([(property, figure)]);
            Body::OwnFigures(OwnFigures { material, name: None, figures })
        }),
        1 => (prop::option::of(chamber()), any::<i16>()).prop_map(|(chamber, value)| {
            let values = BTreeMap::from([("t".to_owned(), Measured::Number(f64::from(value)))]);
            Body::Reading(Reading { chamber, values, ..Reading::default() })
        }),
        1 => prop::collection::vec((1..9_u8, -9.0..30.0), 0..3).prop_map(|days| {
            let days = days.iter().map(|(d, c)| weather_day(&format!("2026-01-0{d}"), *c));
            Body::WeatherSet(WeatherSet { source: "x".into(), days: days.collect() })
        }),
        1 => "\\PC{0,12}".prop_map(|text| note(&text)),
    ]
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        6 => body().prop_map(Step::Plain),
        1 => any::<prop::sample::Index>().prop_map(Step::Undo),
        1 => (any::<prop::sample::Index>(), prop::option::of(-20..20_i64), 0.0..9.0)
            .prop_map(|(which, at, kg)| Step::Correct(which, at, kg)),
    ]
}

/// A step with its hour, some late and many at the same time, and how far behind its writing is.
fn steps(most: usize) -> impl Strategy<Value = Vec<(Step, i64, i64)>> {
    prop::collection::vec((step(), 0..12_i64, 0..3_i64), 1..most)
        // In half of the runs most events come in order, which is the fast way.
        .prop_flat_map(|steps| (Just(steps), any::<bool>()))
        .prop_map(|(mut steps, in_order)| {
            if in_order {
                for (i, step) in steps.iter_mut().enumerate() {
                    step.1 += i as i64 * 8;
                }
            }
            steps
        })
}

/// Turns a step into an event that may be written; nothing if it finds no event to be about.
fn made(n: u64, step: &(Step, i64, i64), so_far: &[NewEvent]) -> Option<NewEvent> {
    let body = match &step.0 {
        Step::Plain(body) => body.clone(),
        Step::Undo(_) if so_far.is_empty() => return None,
        Step::Undo(which) => Body::Undone(journal::Undone {
            event: which.get(so_far).id,
        }),
        Step::Correct(which, at, kg) => {
            let put: Vec<_> = so_far
                .iter()
                .filter(|e| matches!(e.body, Body::PutIn(_)))
                .collect();
            if put.is_empty() {
                return None;
            }
            Body::Corrected(Corrected {
                event: which.get(&put).id,
                at: at.map(hour),
                body: Box::new(put_in("near", "mended", *kg)),
            })
        }
    };
    let mut event = event(n, step.1, body);
    event.recorded = hour(step.1 + step.2);
    Some(event)
}

/// Writes the steps one by one; what is undone already is passed over. Gives what was written.
fn play(journal: &Sqlite, steps: &[(Step, i64, i64)]) -> Vec<NewEvent> {
    let mut so_far = Vec::new();
    for (n, step) in steps.iter().enumerate() {
        let Some(event) = made(n as u64 + 1, step, &so_far) else {
            continue;
        };
        match journal.append(std::slice::from_ref(&event)) {
            Ok(_) => so_far.push(event),
            Err(journal::Error::AlreadyUndone { .. }) => {}
            Err(other) => panic!("{other}"),
        }
    }
    so_far
}

/// Every row of every derived table, undone entries too.
fn rows(conn: &Connection) -> Vec<String> {
    let tables = [
        "entry",
        "settings",
        "chamber",
        "fill",
        "portion",
        "unknown",
        "stock",
        "own_material",
        "own_figure",
    ];
    let mut all = Vec::new();
    for table in tables {
        let mut statement = conn.prepare(&format!("SELECT * FROM {table}")).unwrap();
        let columns = statement.column_count();
        let mut found = statement.query([]).unwrap();
        while let Some(row) = found.next().unwrap() {
            let cells: Vec<_> = (0..columns)
                .map(|i| format!("{:?}", row.get_ref(i).unwrap()))
                .collect();
            all.push(format!("{table}: {}", cells.join(" ")));
        }
    }
    all.sort();
    all
}

proptest! {
    // Fewer, as each of its steps waits for the disk.
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]

    #[test]
    fn one_by_one_gives_the_rows_of_a_rebuild_and_of_one_call(steps in steps(24)) {
        let folder = TempDir::new().unwrap();
        let path = folder.path().join("journal.db");
        let journal = Sqlite::open(&path).unwrap();
        let written = play(&journal, &steps);
        let conn = Connection::open(&path).unwrap();
        let kept = rows(&conn);
        journal.rebuild().unwrap();
        prop_assert_eq!(&rows(&conn), &kept);

        let path = folder.path().join("at-once.db");
        let at_once = Sqlite::open(&path).unwrap();
        at_once.append(&written).unwrap();
        prop_assert_eq!(&rows(&Connection::open(&path).unwrap()), &kept);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn undoing_the_last_event_brings_the_earlier_state_back(steps in steps(24)) {
        let journal = Sqlite::open_memory().unwrap();
        let mut so_far = Vec::new();
        let mut n = 0;
        for step in &steps {
            let before = journal.state_hash(HOME).unwrap();
            n += 1;
            let Some(event) = made(n, step, &so_far) else { continue };
            if journal.append(std::slice::from_ref(&event)).is_err() {
                continue;
            }
            let after = journal.state_hash(HOME).unwrap();
            let last = n;
            n += 1;
            add(&journal, crate::common::event(n, step.1, undo(last))).unwrap();
            prop_assert_eq!(journal.state_hash(HOME).unwrap(), before);
            n += 1;
            add(&journal, crate::common::event(n, step.1, undo(n - 1))).unwrap();
            prop_assert_eq!(journal.state_hash(HOME).unwrap(), after);
            so_far.push(event);
        }
    }

    #[test]
    fn an_export_read_back_gives_the_same_bytes_and_state(steps in steps(24)) {
        let journal = Sqlite::open_memory().unwrap();
        play(&journal, &steps);
        let mut first = Vec::new();
        export(&journal, HOME, &mut first).unwrap();
        let other = Sqlite::open_memory().unwrap();
        import(&other, &mut first.as_slice()).unwrap();
        let mut second = Vec::new();
        export(&other, HOME, &mut second).unwrap();
        prop_assert_eq!(first, second);
        prop_assert_eq!(
            other.state_hash(HOME).unwrap(),
            journal.state_hash(HOME).unwrap()
        );
    }

    #[test]
    fn a_number_comes_back_to_the_last_bit_or_is_refused(value in any::<f64>()) {
        let journal = Sqlite::open_memory().unwrap();
        let body = Body::Reading(Reading {
            values: BTreeMap::from([("t".to_owned(), Measured::Number(value))]),
            ..Reading::default()
        });
        match add(&journal, event(1, 0, body.clone())) {
            Ok(_) => {
                let back = journal.event(HOME, id(1)).unwrap().unwrap();
                prop_assert_eq!(back.body.known(), Some(&body));
            }
            Err(error) => {
                let refused = matches!(error, journal::Error::BadValue { .. });
                prop_assert!(refused && (value.is_nan() || value.abs() > 1e6), "{}", error);
            }
        }
    }

    #[test]
    fn any_bytes_are_refused_or_imported_without_a_panic(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        let journal = Sqlite::open_memory().unwrap();
        let mut input = b"{\"loamwright_journal\":1,\"household\":\"h\",\"events\":1}\n".to_vec();
        input.extend(bytes);
        prop_assert!(import(&journal, &mut input.as_slice()).is_err());
        prop_assert_eq!(journal.households().unwrap().len(), 0);
    }
}
