//! The file: whose it is, whether it is whole, who else holds it, what happens when it is full.

use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use journal::{Error, Options, Sqlite, Store};
use rusqlite::Connection;
use tempfile::TempDir;

use crate::common::*;

fn open_error(path: &Path) -> Error {
    Sqlite::open(path).map(|_| ()).unwrap_err()
}

/// A journal with a few hundred events, closed, its log folded in.
fn filled(folder: &TempDir) -> std::path::PathBuf {
    let path = folder.path().join("journal.db");
    let journal = Sqlite::open(&path).unwrap();
    let events: Vec<_> = (1..300)
        .map(|n| event(n, n as i64, put_in("near", "card", 1.0)))
        .collect();
    journal.append(&events).unwrap();
    drop(journal);
    assert!(!folder.path().join("journal.db-wal").exists());
    path
}

#[test]
fn a_journal_opened_again_holds_what_was_written() {
    let folder = TempDir::new().unwrap();
    let path = filled(&folder);
    let journal = Sqlite::open(&path).unwrap();
    assert_eq!(journal.count(HOME).unwrap(), 299);
    assert_eq!(journal.path(), path);
    let conn = Connection::open(&path).unwrap();
    let pragma = |name: &str| -> String {
        conn.query_row(
            &format!("SELECT CAST({name} AS TEXT) FROM pragma_{name}"),
            [],
            |r| r.get(0),
        )
        .unwrap()
    };
    assert_eq!(pragma("journal_mode"), "wal");
    assert_eq!(pragma("application_id"), 0x4C77_4A31.to_string());
    assert_eq!(pragma("user_version"), "1");
}

#[test]
fn an_event_cannot_be_changed_deleted_or_replaced() {
    let folder = TempDir::new().unwrap();
    let path = filled(&folder);
    // A connection of someone else's, with nothing switched on.
    let conn = Connection::open(&path).unwrap();
    for sql in [
        "UPDATE event SET body = '{}'",
        "DELETE FROM event",
        "INSERT OR REPLACE INTO event SELECT * FROM event LIMIT 1",
        "REPLACE INTO event (id, household, at, recorded, kind, version, body)
         SELECT id, household, at, recorded, kind, version, body FROM event LIMIT 1",
    ] {
        let error = conn.execute(sql, []).unwrap_err().to_string();
        assert!(error.contains("an event is never"), "{sql}: {error}");
    }
    let count: i64 = conn
        .query_row("SELECT count(*) FROM event", [], |r| r.get(0))
        .unwrap();
    assert_eq!(count, 299);
}

#[test]
fn a_text_file_is_refused_and_left_alone() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("shopping.txt");
    for text in ["leeks, squash, tea\n", "SQLite format 2\0 and so on"] {
        fs::write(&path, text).unwrap();
        let error = open_error(&path);
        assert_eq!(
            error,
            Error::Foreign {
                path: path.clone(),
                found: "no database".into()
            }
        );
        assert_eq!(fs::read_to_string(&path).unwrap(), text);
    }
    assert!(matches!(open_error(folder.path()), Error::Foreign { .. }));
}

#[test]
fn a_database_of_another_program_is_refused_and_left_alone() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("other.db");
    let conn = Connection::open(&path).unwrap();
    conn.execute_batch("CREATE TABLE event (id TEXT); INSERT INTO event VALUES ('mine')")
        .unwrap();
    drop(conn);
    let before = fs::read(&path).unwrap();
    let error = open_error(&path);
    assert!(matches!(error, Error::Foreign { .. }), "{error}");
    assert_eq!(fs::read(&path).unwrap(), before);
    // So is one that bears a mark of its own, even if it is empty.
    let marked = folder.path().join("marked.db");
    Connection::open(&marked)
        .unwrap()
        .execute_batch("PRAGMA application_id = 7")
        .unwrap();
    let error = open_error(&marked).to_string();
    assert!(
        error.contains("a database of another program (mark 0x7)"),
        "{error}"
    );
}

#[test]
fn a_newer_layout_is_refused() {
    let folder = TempDir::new().unwrap();
    let path = filled(&folder);
    Connection::open(&path)
        .unwrap()
        .execute_batch("PRAGMA user_version = 9")
        .unwrap();
    assert_eq!(
        open_error(&path),
        Error::NewerLayout {
            path,
            found: 9,
            known: 1
        }
    );
}

#[test]
fn a_newer_layout_made_by_another_program_meanwhile_stops_writing() {
    let folder = TempDir::new().unwrap();
    let path = filled(&folder);
    let journal = Sqlite::open(&path).unwrap();
    Connection::open(&path)
        .unwrap()
        .execute_batch("PRAGMA user_version = 9")
        .unwrap();
    let error = add(&journal, event(900, 900, note("a"))).unwrap_err();
    assert_eq!(
        error,
        Error::NewerLayout {
            path,
            found: 9,
            known: 1
        }
    );
}

#[test]
fn a_file_cut_short_anywhere_is_refused_and_left_alone() {
    let folder = TempDir::new().unwrap();
    let path = filled(&folder);
    let whole = fs::read(&path).unwrap();
    for keep in [
        50,
        99,
        100,
        4_096,
        5_000,
        whole.len() / 2,
        whole.len() - 4_096,
        whole.len() - 1,
    ] {
        fs::write(&path, &whole[..keep]).unwrap();
        let error = open_error(&path);
        assert!(
            matches!(error, Error::Corrupt { .. }),
            "{keep} bytes kept: {error}"
        );
        assert_eq!(fs::read(&path).unwrap(), &whole[..keep]);
    }
}

#[test]
fn what_was_written_is_there_after_a_program_died_with_the_file_open() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("journal.db");
    let journal = Sqlite::open(&path).unwrap();
    let many: Vec<_> = (1..100)
        .map(|n| event(n, n as i64, put_in("near", "card", 1.0)))
        .collect();
    journal.append(&many).unwrap();
    // What a dead program leaves: the file as it is, and its log, never folded in.
    let left = folder.path().join("left.db");
    fs::copy(&path, &left).unwrap();
    fs::copy(
        folder.path().join("journal.db-wal"),
        folder.path().join("left.db-wal"),
    )
    .unwrap();
    assert_eq!(Sqlite::open(&left).unwrap().count(HOME).unwrap(), 99);
}

#[test]
fn a_file_with_a_page_overwritten_is_refused() {
    let folder = TempDir::new().unwrap();
    let path = filled(&folder);
    let mut bytes = fs::read(&path).unwrap();
    for page in 1..bytes.len() / 4_096 {
        bytes[page * 4_096..page * 4_096 + 64].fill(0xAA);
    }
    fs::write(&path, bytes).unwrap();
    let error = open_error(&path);
    assert!(matches!(error, Error::Corrupt { .. }), "{error}");
}

#[test]
fn a_missing_folder_is_named() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("no/such/journal.db");
    let error = open_error(&path);
    assert!(matches!(error, Error::CannotOpen { .. }), "{error}");
    assert!(error.to_string().contains("no/such/journal.db"), "{error}");
}

#[test]
fn an_empty_file_becomes_a_journal() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("journal.db");
    fs::write(&path, "").unwrap();
    assert!(
        add(&Sqlite::open(&path).unwrap(), event(1, 0, note("a")))
            .unwrap()
            .written
    );
}

#[test]
fn a_second_program_that_writes_is_waited_for_then_named() {
    let folder = TempDir::new().unwrap();
    let path = filled(&folder);
    let wait = Duration::from_millis(200);
    let journal = Sqlite::open_with(
        &path,
        &Options {
            wait,
            ..Options::default()
        },
    )
    .unwrap();
    let other = Connection::open(&path).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let started = Instant::now();
    let error = add(&journal, event(900, 900, note("a"))).unwrap_err();
    assert!(started.elapsed() >= wait);
    assert_eq!(
        error,
        Error::Busy {
            path: path.clone(),
            waited_s: 0.2
        }
    );
    let text = error.to_string();
    assert!(
        text.contains("journal.db is in use") && text.contains("Close the other"),
        "{text}"
    );
    // Reading goes on meanwhile, and writing once the other lets go.
    assert_eq!(journal.count(HOME).unwrap(), 299);
    other.execute_batch("ROLLBACK").unwrap();
    assert!(add(&journal, event(900, 900, note("a"))).unwrap().written);
}

#[test]
fn two_journals_on_one_file_take_turns() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("journal.db");
    let threads: Vec<_> = (0..2)
        .map(|t| {
            let path = path.clone();
            std::thread::spawn(move || {
                // Both may be the first to open it.
                let journal = Sqlite::open(path).unwrap();
                for n in 0..20 {
                    let n = t * 100 + n;
                    add(&journal, event(n, n as i64, put_in("near", "card", 1.0))).unwrap();
                }
            })
        })
        .collect();
    for thread in threads {
        thread.join().unwrap();
    }
    let journal = Sqlite::open(&path).unwrap();
    assert_eq!(journal.count(HOME).unwrap(), 40);
    let kept = journal.state_hash(HOME).unwrap();
    journal.rebuild().unwrap();
    assert_eq!(journal.state_hash(HOME).unwrap(), kept);
}

#[test]
fn a_full_disk_is_named_and_nothing_is_half_written() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("journal.db");
    let options = Options {
        most_pages: Some(60),
        ..Options::default()
    };
    let journal = Sqlite::open_with(&path, &options).unwrap();
    add(&journal, event(1, 1, put_in("near", "card", 1.0))).unwrap();
    let before = journal.state_hash(HOME).unwrap();
    let many: Vec<_> = (2..2_000)
        .map(|n| event(n, n as i64, put_in("near", "card", 1.0)))
        .collect();
    assert_eq!(
        journal.append(&many).unwrap_err(),
        Error::DiskFull { path: path.clone() }
    );
    assert_eq!(journal.count(HOME).unwrap(), 1);
    assert_eq!(journal.state_hash(HOME).unwrap(), before);
    // One small entry still fits, and with room so do the many.
    add(&journal, event(2, 2, put_in("near", "card", 1.0))).unwrap();
    drop(journal);
    let journal = Sqlite::open(&path).unwrap();
    assert_eq!(
        journal
            .append(&many)
            .unwrap()
            .iter()
            .filter(|told| told.written)
            .count(),
        1_997
    );
}

#[test]
fn derived_tables_that_are_gone_or_old_are_worked_out_on_opening() {
    let folder = TempDir::new().unwrap();
    let path = filled(&folder);
    let hash = Sqlite::open(&path).unwrap().state_hash(HOME).unwrap();
    for sql in [
        "DROP TABLE portion",
        "UPDATE derived SET layout = 0; DELETE FROM portion",
    ] {
        Connection::open(&path).unwrap().execute_batch(sql).unwrap();
        let journal = Sqlite::open(&path).unwrap();
        assert_eq!(journal.portions(HOME, id(1)).unwrap().len(), 299, "{sql}");
        assert_eq!(journal.state_hash(HOME).unwrap(), hash, "{sql}");
    }
}

#[test]
fn the_mark_grows_with_what_another_connection_writes() {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("journal.db");
    let one = Sqlite::open(&path).unwrap();
    let two = Sqlite::open(&path).unwrap();
    assert_eq!(one.mark().unwrap(), 0);
    two.append(&[event(1, 1, note("from the other"))]).unwrap();
    let then = one.mark().unwrap();
    assert!(then > 0);
    assert_eq!(then, two.mark().unwrap());
    // What was there already writes nothing.
    one.append(&[event(1, 1, note("from the other"))]).unwrap();
    assert_eq!(two.mark().unwrap(), then);
    one.append(&[event(2, 2, note("more"))]).unwrap();
    assert!(two.mark().unwrap() > then);
}
