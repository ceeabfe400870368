//! Undo, redo, correction.

use jiff::Timestamp;
use journal::{Body, Corrected, Error, Page, Sqlite, Store};

use crate::common::*;

#[test]
fn undo_and_redo_bring_back_the_same_state() {
    let journal = Sqlite::open_memory().unwrap();
    add(&journal, event(1, 0, put_in("near", "card", 1.0))).unwrap();
    let without = journal.state_hash(HOME).unwrap();
    add(&journal, event(2, 1, put_in("near", "leaves", 2.0))).unwrap();
    let with = journal.state_hash(HOME).unwrap();
    assert_ne!(with, without);
    // Undo, undo the undo, undo that, and so on: every second one brings it back.
    for n in 3..9 {
        add(&journal, event(n, n as i64, undo(n - 1))).unwrap();
        let now = journal.state_hash(HOME).unwrap();
        assert_eq!(
            now,
            if n % 2 == 1 {
                without.clone()
            } else {
                with.clone()
            },
            "after {n}"
        );
    }
    // It may be undone anew once it is back.
    add(&journal, event(9, 9, undo(2))).unwrap();
    assert_eq!(journal.state_hash(HOME).unwrap(), without);
    assert_eq!(
        journal.entry(HOME, id(2)).unwrap().unwrap().undone_by,
        Some(id(9))
    );
}

#[test]
fn an_undone_entry_is_kept_and_shown_on_demand() {
    let journal = Sqlite::open_memory().unwrap();
    journal
        .append(&[event(1, 0, note("a")), event(2, 1, undo(1))])
        .unwrap();
    assert!(notes(&journal).is_empty());
    let page = Page {
        undone: true,
        ..Page::default()
    };
    let all = journal.history(HOME, &page).unwrap();
    assert_eq!((all.len(), all[0].undone_by), (1, Some(id(2))));
    assert_eq!(journal.events(HOME, &Page::default()).unwrap().len(), 2);
}

#[test]
fn what_cannot_be_undone_is_refused_with_the_reason() {
    let journal = Sqlite::open_memory().unwrap();
    journal
        .append(&[event(1, 0, note("a")), event(2, 1, undo(1))])
        .unwrap();
    assert_eq!(
        add(&journal, event(3, 2, undo(1))).unwrap_err(),
        Error::AlreadyUndone {
            event: id(1),
            by: id(2)
        }
    );
    assert_eq!(
        add(&journal, event(3, 2, undo(8))).unwrap_err(),
        Error::UnknownEvent { event: id(8) }
    );
    // Nor itself, nor an entry of another household.
    assert_eq!(
        add(&journal, event(3, 2, undo(3))).unwrap_err(),
        Error::UnknownEvent { event: id(3) }
    );
    let mut stranger = event(3, 2, undo(2));
    stranger.household = "next-door".into();
    assert_eq!(
        add(&journal, stranger).unwrap_err(),
        Error::UnknownEvent { event: id(2) }
    );
}

#[test]
fn the_latest_correction_holds_and_the_first_words_remain() {
    let journal = Sqlite::open_memory().unwrap();
    add(&journal, event(1, 0, note("a"))).unwrap();
    add(&journal, event(2, 1, correct(1, note("b")))).unwrap();
    // Written last, though its clock was behind.
    add(&journal, event(3, -5, correct(1, note("c")))).unwrap();
    assert_eq!(notes(&journal), ["c"]);
    let entry = journal.entry(HOME, id(1)).unwrap().unwrap();
    assert_eq!((entry.at, entry.corrected_by), (hour(0), Some(id(3))));
    assert_eq!(
        journal.event(HOME, id(1)).unwrap().unwrap().body.known(),
        Some(&note("a"))
    );
    add(&journal, event(4, 2, undo(3))).unwrap();
    assert_eq!(notes(&journal), ["b"]);
    add(&journal, event(5, 3, undo(2))).unwrap();
    assert_eq!(notes(&journal), ["a"]);
    add(&journal, event(6, 4, undo(4))).unwrap();
    assert_eq!(notes(&journal), ["c"]);
}

#[test]
fn a_correction_may_mend_the_time_and_so_the_order() {
    let journal = Sqlite::open_memory().unwrap();
    let at: Option<Timestamp> = Some(hour(-24));
    journal
        .append(&[
            event(1, 0, emptied("near", 30.0)),
            event(2, 1, put_in("near", "card", 1.0)),
            event(
                3,
                2,
                Body::Corrected(Corrected {
                    event: id(2),
                    at,
                    body: Box::new(put_in("near", "card", 2.0)),
                }),
            ),
        ])
        .unwrap();
    let fills = journal.fills(HOME).unwrap();
    assert_eq!(fills.len(), 1);
    assert_eq!(
        (fills[0].started, fills[0].emptied),
        (hour(-24), Some(hour(0)))
    );
    let portions = journal.portions(HOME, fills[0].id).unwrap();
    assert_eq!(
        (portions[0].at, portions[0].portion.kg.mid),
        (hour(-24), 2.0)
    );
}

#[test]
fn what_cannot_be_corrected_is_refused_with_the_reason() {
    let journal = Sqlite::open_memory().unwrap();
    journal
        .append(&[event(1, 0, note("a")), event(2, 1, correct(1, note("b")))])
        .unwrap();
    assert_eq!(
        add(&journal, event(3, 2, correct(2, note("c")))).unwrap_err(),
        Error::NotCorrectable {
            event: id(2),
            kind: "corrected".into()
        }
    );
    assert_eq!(
        add(&journal, event(3, 2, correct(1, undo(2)))).unwrap_err(),
        Error::NotCorrectable {
            event: id(1),
            kind: "undone".into()
        }
    );
    assert_eq!(
        add(&journal, event(3, 2, correct(1, closed("near")))).unwrap_err(),
        Error::KindChange {
            event: id(1),
            was: "note".into(),
            now: "closed".into()
        }
    );
    add(&journal, event(3, 2, undo(1))).unwrap();
    assert_eq!(
        add(&journal, event(4, 3, correct(1, note("c")))).unwrap_err(),
        Error::AlreadyUndone {
            event: id(1),
            by: id(3)
        }
    );
}
