//! Three years at once.

use std::time::Instant;

use journal::{Order, Page, Sqlite, Store};
use tempfile::TempDir;

use crate::common::*;

/// Three years of two chambers taking turns, three events a day.
fn three_years() -> Vec<journal::NewEvent> {
    (0..3_285_u64)
        .map(|n| {
            let chamber = if (n / 600) % 2 == 0 { "near" } else { "far" };
            let body = match n % 600 {
                599 => closed(chamber),
                300 => emptied(if chamber == "near" { "far" } else { "near" }, 31.0),
                k if k % 9 == 4 => note("rain"),
                _ => put_in(chamber, "card", 0.4),
            };
            event(n + 1, n as i64 * 8, body)
        })
        .collect()
}

#[test]
fn three_years_in_one_call_agree_with_one_call_each_and_read_fast() {
    let folder = TempDir::new().unwrap();
    let journal = Sqlite::open(folder.path().join("journal.db")).unwrap();
    let events = three_years();
    let started = Instant::now();
    journal.append(&events).unwrap();
    let wrote = started.elapsed();

    let single = Sqlite::open_memory().unwrap();
    for event in &events {
        single.append(std::slice::from_ref(event)).unwrap();
    }
    assert_eq!(
        single.state_hash(HOME).unwrap(),
        journal.state_hash(HOME).unwrap()
    );

    let started = Instant::now();
    let filling = journal.filling(HOME).unwrap();
    let (_, contents) = journal
        .contents(HOME, &filling[0].chamber)
        .unwrap()
        .unwrap();
    let latest = Page {
        reverse: true,
        limit: Some(50),
        ..Page::default()
    };
    assert_eq!(journal.history(HOME, &latest).unwrap().len(), 50);
    let read = started.elapsed();
    assert!(!contents.is_empty());

    let before = journal.state_hash(HOME).unwrap();
    let started = Instant::now();
    add(&journal, event(9_000, 90_000, undo(2))).unwrap();
    let undid = started.elapsed();
    assert_ne!(journal.state_hash(HOME).unwrap(), before);
    println!("wrote {wrote:?}, read {read:?}, undid {undid:?}");
    // Generous, for a loaded machine and an unoptimised build: a slip to one transaction for each
    // event, or to a walk through all portions for a page, costs far more.
    assert!(wrote.as_secs_f64() < 20.0, "{wrote:?}");
    assert!(read.as_secs_f64() < 2.0, "{read:?}");
    assert!(undid.as_secs_f64() < 20.0, "{undid:?}");

    let written = Page {
        order: Order::Written,
        ..Page::default()
    };
    assert_eq!(
        journal.events(HOME, &written).unwrap().len(),
        events.len() + 1
    );
}
