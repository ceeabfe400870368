//! What follows from the events: fills, portions, settings, stock, own figures.

use std::collections::BTreeMap;

use journal::{
    Body, ChamberSet, Figure, HouseholdSet, Opened, OwnFigures, Sqlite, StockMoved, StockSet, Store,
};

use crate::common::*;

#[test]
fn two_chambers_take_turns() {
    let journal = Sqlite::open_memory().unwrap();
    journal
        .append(&[
            event(1, 0, put_in("near", "card", 1.0)),
            event(2, 1, put_in("near", "leaves", 2.0)),
            event(3, 2, closed("near")),
            event(4, 3, put_in("far", "card", 3.0)),
            event(5, 4, emptied("near", 31.0)),
            event(6, 5, put_in("near", "card", 4.0)),
        ])
        .unwrap();
    let fills = journal.fills(HOME).unwrap();
    assert_eq!(
        fills.iter().map(|f| f.id).collect::<Vec<_>>(),
        [id(1), id(4), id(6)]
    );
    assert_eq!(
        (fills[0].closed, fills[0].emptied),
        (Some(hour(2)), Some(hour(4)))
    );
    assert_eq!(fills[0].litres_out, Some(31.0));
    let filling = journal.filling(HOME).unwrap();
    assert_eq!(
        filling
            .iter()
            .map(|f| f.chamber.as_str())
            .collect::<Vec<_>>(),
        ["far", "near"]
    );
    let (fill, portions) = journal.contents(HOME, "near").unwrap().unwrap();
    assert_eq!(
        (fill.id, portions.len(), portions[0].portion.kg.mid),
        (id(6), 1, 4.0)
    );
    assert_eq!(journal.portions(HOME, id(1)).unwrap().len(), 2);
    assert_eq!(journal.contents(HOME, "third").unwrap(), None);
}

#[test]
fn a_late_entry_falls_into_the_fill_of_its_day() {
    let journal = Sqlite::open_memory().unwrap();
    for (n, h, body) in [
        (1, 0, put_in("near", "card", 1.0)),
        (2, 10, emptied("near", 30.0)),
        (3, 20, put_in("near", "card", 3.0)),
    ] {
        add(&journal, event(n, h, body)).unwrap();
    }
    let mut late = event(4, 5, put_in("near", "leaves", 2.0));
    late.recorded = hour(30);
    add(&journal, late).unwrap();
    let materials = |fill| -> Vec<String> {
        let rows = journal.portions(HOME, id(fill)).unwrap();
        rows.into_iter().map(|row| row.portion.material).collect()
    };
    assert_eq!(materials(1), ["card", "leaves"]);
    assert_eq!(materials(3), ["card"]);
}

#[test]
fn of_the_same_time_the_one_written_down_first_comes_first_then_the_lower_id() {
    let journal = Sqlite::open_memory().unwrap();
    for (n, recorded, text) in [(3, 1, "third"), (2, 1, "second"), (9, 0, "first")] {
        let mut event = event(n, 0, note(text));
        event.recorded = hour(recorded);
        add(&journal, event).unwrap();
    }
    assert_eq!(notes(&journal), ["first", "second", "third"]);
}

#[test]
fn a_chamber_part_full_at_the_start_has_its_level_and_day() {
    let journal = Sqlite::open_memory().unwrap();
    let since = Some("2025-10-01".parse().unwrap());
    let opened = Opened {
        chamber: "far".into(),
        level: Some(0.6),
        since,
        portions: vec![portion("mixed", 40.0)],
    };
    journal
        .append(&[
            event(1, 0, Body::Opened(opened)),
            event(2, 1, put_in("far", "card", 1.0)),
            event(3, 2, closed("far")),
        ])
        .unwrap();
    let (fill, portions) = journal.contents(HOME, "far").unwrap().unwrap();
    assert_eq!(
        (fill.started, fill.level, fill.since),
        (hour(0), Some(0.6), since)
    );
    assert_eq!(portions.len(), 2);
    assert!(journal.filling(HOME).unwrap().is_empty());
    // Opened again, it fills on.
    let again = Opened {
        chamber: "far".into(),
        ..Opened::default()
    };
    add(&journal, event(4, 3, Body::Opened(again))).unwrap();
    let filling = journal.filling(HOME).unwrap();
    assert_eq!(
        (filling.len(), filling[0].id, filling[0].level),
        (1, id(1), Some(0.6))
    );
}

#[test]
fn closing_or_emptying_an_empty_chamber_changes_nothing_but_stays_in_the_history() {
    let journal = Sqlite::open_memory().unwrap();
    journal
        .append(&[
            event(1, 0, closed("near")),
            event(2, 1, emptied("near", 3.0)),
        ])
        .unwrap();
    assert!(journal.fills(HOME).unwrap().is_empty());
    assert_eq!(
        journal
            .history(HOME, &journal::Page::default())
            .unwrap()
            .len(),
        2
    );
}

#[test]
fn settings_and_chambers_change_field_by_field() {
    let journal = Sqlite::open_memory().unwrap();
    let set = |name: Option<&str>, caddy_l| {
        Body::HouseholdSet(HouseholdSet {
            name: name.map(Into::into),
            caddy_l,
            ..HouseholdSet::default()
        })
    };
    let chamber = |name: Option<&str>, litres| {
        Body::ChamberSet(ChamberSet {
            chamber: "near".into(),
            name: name.map(Into::into),
            litres,
            ..ChamberSet::default()
        })
    };
    for (n, body) in [
        (1, set(Some("Courtyard"), Some(6.0))),
        (2, set(None, Some(5.0))),
        (3, chamber(Some("Near"), None)),
        (4, chamber(None, Some(130.0))),
    ] {
        add(&journal, event(n, n as i64, body)).unwrap();
    }
    let settings = journal.settings(HOME).unwrap();
    assert_eq!(
        (settings.name.as_deref(), settings.caddy_l),
        (Some("Courtyard"), Some(5.0))
    );
    let chamber = journal.chambers(HOME).unwrap().remove(0);
    assert_eq!(
        (chamber.name.as_deref(), chamber.litres),
        (Some("Near"), Some(130.0))
    );
    assert_eq!(
        journal.settings("next-door").unwrap(),
        journal::Settings::default()
    );
}

#[test]
fn a_count_of_stock_stands_and_moves_add_to_it() {
    let journal = Sqlite::open_memory().unwrap();
    let count = |litres, kg| {
        Body::StockSet(StockSet {
            material: "card".into(),
            litres,
            kg,
        })
    };
    let moved = |litres| {
        let why = "used".into();
        Body::StockMoved(StockMoved {
            material: "card".into(),
            litres,
            kg: None,
            why,
        })
    };
    let stock = |j: &Sqlite| j.stock(HOME).unwrap().remove(0);
    add(&journal, event(1, 0, moved(Some(-4.0)))).unwrap();
    assert_eq!(
        (stock(&journal).litres, stock(&journal).counted),
        (Some(-4.0), None)
    );
    add(&journal, event(2, 1, count(Some(60.0), Some(5.0)))).unwrap();
    add(&journal, event(3, 2, moved(Some(-2.5)))).unwrap();
    let now = stock(&journal);
    assert_eq!(
        (now.litres, now.kg, now.counted),
        (Some(57.5), Some(5.0), Some(hour(1)))
    );
    // A new count says nothing of kilograms, so they are no longer known.
    add(&journal, event(4, 3, count(Some(50.0), None))).unwrap();
    assert_eq!(
        (stock(&journal).litres, stock(&journal).kg),
        (Some(50.0), None)
    );
}

#[test]
fn own_figures_stand_by_property_and_can_be_taken_back() {
    let journal = Sqlite::open_memory().unwrap();
    let own = |name: Option<&str>, property: &str, value: f64| {
        Body::OwnFigures(OwnFigures {
            material: "grounds".into(),
            name: name.map(Into::into),
            figures: BTreeMap::from([(
                property.to_owned(),
                Figure {
                    value,
                    low: value - 1.0,
                    high: value + 1.0,
                },
            )]),
        })
    };
    add(
        &journal,
        event(1, 0, own(Some("Bakery grounds"), "cn", 22.0)),
    )
    .unwrap();
    add(&journal, event(2, 1, own(None, "moisture", 60.0))).unwrap();
    add(&journal, event(3, 2, own(None, "cn", 20.0))).unwrap();
    let value = |j: &Sqlite, p: &str| j.own_figures(HOME).unwrap()[0].figures[p].value;
    assert_eq!(
        (value(&journal, "cn"), value(&journal, "moisture")),
        (20.0, 60.0)
    );
    add(&journal, event(4, 3, undo(3))).unwrap();
    assert_eq!(value(&journal, "cn"), 22.0);
    assert_eq!(
        journal.own_figures(HOME).unwrap()[0].name.as_deref(),
        Some("Bakery grounds")
    );
}
