//! What is moved from one chamber to another: nothing is lost, days are kept, and an undo takes it back.

use journal::{Body, Moved, Page, Sqlite, Store, export, import};
use proptest::prelude::*;

use crate::common::*;

fn moved(from: &str, to: &str, share: f64) -> Body {
    Body::Moved(Moved {
        chamber: from.into(),
        to: to.into(),
        share,
    })
}

/// Kilograms, and the hours at which they went in, of a chamber.
fn held(journal: &Sqlite, chamber: &str) -> (f64, Vec<jiff::Timestamp>) {
    let Some((_, rows)) = journal.contents(HOME, chamber).unwrap() else {
        return (0.0, Vec::new());
    };
    let kg = rows.iter().map(|row| row.portion.kg.mid).sum();
    (kg, rows.iter().map(|row| row.at).collect())
}

#[test]
fn half_goes_over_and_keeps_its_days() {
    let journal = Sqlite::open_memory().unwrap();
    for (n, body) in [
        put_in("near", "card", 1.0),
        put_in("near", "leaves", 3.0),
        put_in("far", "card", 5.0),
        moved("near", "far", 0.5),
    ]
    .into_iter()
    .enumerate()
    {
        add(&journal, event(n as u64 + 1, n as i64, body)).unwrap();
    }
    assert_eq!(held(&journal, "near"), (2.0, vec![hour(0), hour(1)]));
    assert_eq!(
        held(&journal, "far"),
        (7.0, vec![hour(0), hour(1), hour(2)])
    );
    let fills = journal.fills(HOME).unwrap();
    assert!(fills.iter().all(|fill| fill.moved == Some(hour(3))));
    add(&journal, event(9, 4, undo(4))).unwrap();
    assert_eq!(held(&journal, "near").0, 4.0);
    assert_eq!(held(&journal, "far"), (5.0, vec![hour(2)]));
}

#[test]
fn all_of_a_finishing_batch_goes_on_finishing_elsewhere() {
    let journal = Sqlite::open_memory().unwrap();
    for (n, body) in [
        put_in("near", "card", 1.0),
        closed("near"),
        moved("near", "far", 1.0),
    ]
    .into_iter()
    .enumerate()
    {
        add(&journal, event(n as u64 + 1, n as i64, body)).unwrap();
    }
    assert_eq!(held(&journal, "near"), (0.0, Vec::new()));
    assert_eq!(held(&journal, "far"), (1.0, vec![hour(0)]));
    let (fill, _) = journal.contents(HOME, "far").unwrap().unwrap();
    assert_eq!(fill.closed, Some(hour(1)));
}

#[test]
fn moving_from_nothing_or_into_itself_changes_nothing() {
    let journal = Sqlite::open_memory().unwrap();
    add(&journal, event(1, 0, put_in("near", "card", 1.0))).unwrap();
    add(&journal, event(2, 1, moved("far", "near", 0.5))).unwrap();
    add(&journal, event(3, 2, moved("near", "near", 0.5))).unwrap();
    assert_eq!(held(&journal, "near"), (1.0, vec![hour(0)]));
    assert_eq!(journal.fills(HOME).unwrap().len(), 1);
}

#[test]
fn a_share_must_be_one() {
    let journal = Sqlite::open_memory().unwrap();
    for share in [0.0, -0.5, 1.5, f64::NAN] {
        let refused = add(&journal, event(1, 0, moved("near", "far", share))).unwrap_err();
        assert!(refused.to_string().contains("share"), "{refused}");
    }
    assert!(journal.history(HOME, &Page::default()).unwrap().is_empty());
}

proptest! {
    // Whatever is moved to and fro, and whenever it is written down: kilograms stay, and an export reads the same.
    #[test]
    fn kilograms_stay(deeds in prop::collection::vec((0..3_usize, 0..3_usize, 0.01..=1.0_f64), 1..12)) {
        let names = ["near", "far", "bin"];
        let journal = Sqlite::open_memory().unwrap();
        let mut put = 0.0;
        for (n, (from, to, share)) in deeds.iter().enumerate() {
            let n = n as u64;
            let kg = 1.0 + *share;
            add(&journal, event(2 * n + 1, 2 * n as i64, put_in(names[*from], "card", kg))).unwrap();
            put += kg;
            let late = deeds.len() as i64 * 2 - n as i64;
            add(&journal, event(2 * n + 2, late, moved(names[*from], names[*to], *share))).unwrap();
        }
        let all: f64 = names.iter().map(|name| held(&journal, name).0).sum();
        prop_assert!((all - put).abs() < 1e-9 * put, "{all} kg of {put}");
        let mut out = Vec::new();
        export(&journal, HOME, &mut out).unwrap();
        let other = Sqlite::open_memory().unwrap();
        import(&other, &mut out.as_slice()).unwrap();
        for name in names {
            prop_assert_eq!(held(&journal, name), held(&other, name));
        }
    }
}
