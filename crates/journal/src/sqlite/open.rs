//! Opening a file: whose it is, whether it is whole, and which layout it has.

use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::Path;

use rusqlite::{Connection, OpenFlags, TransactionBehavior};

use super::Options;
use super::derive;
use super::fail::{Inner, Place};
use crate::error::Error;

/// Marks the file as a journal: the letters "LwJ1".
pub(super) const APPLICATION_ID: i64 = 0x4C77_4A31;

/// Layouts of the event table, the oldest first. Only ever added to.
const MIGRATIONS: &[&str] = &[include_str!("../../migrations/0001_event.sql")];

/// The latest layout.
pub(super) const LAYOUT: i64 = MIGRATIONS.len() as i64;

const MAGIC: &[u8] = b"SQLite format 3\0";
const HEADER_BYTES: usize = 100;

/// Opens or makes the journal in the file. A file of someone else's is not touched.
pub(super) fn file(place: &Place, options: &Options) -> Inner<Connection> {
    head(&place.path)?;
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE
        | OpenFlags::SQLITE_OPEN_CREATE
        | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let conn = Connection::open_with_flags(&place.path, flags)?;
    // SQLite opens what it may not write for reading alone, and says so only later.
    if conn.is_readonly("main")? {
        return Err(Error::ReadOnly {
            path: place.path.clone(),
        }
        .into());
    }
    prepare(conn, place, options)
}

/// Makes a journal that ends with the program.
pub(super) fn memory(place: &Place, options: &Options) -> Inner<Connection> {
    prepare(Connection::open_in_memory()?, place, options)
}

/// Looks at the first bytes, so that SQLite is never shown a file that is no database.
fn head(path: &Path) -> Inner<()> {
    let cannot = |e: std::io::Error| Error::CannotOpen {
        path: path.into(),
        detail: e.to_string(),
    };
    if path.is_dir() {
        return Err(Error::Foreign {
            path: path.into(),
            found: "a folder".into(),
        }
        .into());
    }
    let mut file = match File::open(path) {
        Ok(file) => file,
        Err(e) if e.kind() == ErrorKind::NotFound => return Ok(()),
        Err(e) => return Err(cannot(e).into()),
    };
    let mut bytes = Vec::new();
    file.by_ref()
        .take(HEADER_BYTES as u64)
        .read_to_end(&mut bytes)
        .map_err(cannot)?;
    if bytes.is_empty() {
        // What a program leaves that stopped before its first write.
        return Ok(());
    }
    if !bytes.starts_with(MAGIC) {
        return Err(Error::Foreign {
            path: path.into(),
            found: "no database".into(),
        }
        .into());
    }
    let length = file.metadata().map_err(cannot)?.len();
    let told = told_length(&bytes);
    // With a log beside it the file may lag behind its own first page.
    if told.is_none_or(|told| length < told && !logged(path)) {
        let detail = match told {
            Some(told) => format!("{length} bytes are left of {told}"),
            None => format!("only {length} bytes are left"),
        };
        return Err(Error::Corrupt {
            path: path.into(),
            detail,
        }
        .into());
    }
    Ok(())
}

/// The length the first page tells, in bytes; nothing if too little of it is left.
///
/// SQLite file format, section 1.3 "The Database Header": page size at byte 16, number of pages
/// at byte 28. SQLite itself fills a last page that is cut short with zeros and carries on.
fn told_length(head: &[u8]) -> Option<u64> {
    if head.len() < HEADER_BYTES {
        return None;
    }
    let size = u16::from_be_bytes(head.get(16..18)?.try_into().ok()?);
    let pages = u32::from_be_bytes(head.get(28..32)?.try_into().ok()?);
    let size = if size == 1 { 65_536 } else { u64::from(size) };
    Some(size * u64::from(pages))
}

/// Whether a write-ahead log with something in it lies beside the file.
fn logged(path: &Path) -> bool {
    let mut log = path.as_os_str().to_owned();
    log.push("-wal");
    std::fs::metadata(log).is_ok_and(|log| log.len() > 0)
}

fn prepare(mut conn: Connection, place: &Place, options: &Options) -> Inner<Connection> {
    conn.busy_timeout(options.wait)?;
    conn.set_prepared_statement_cache_capacity(64);
    let new = belongs(&conn, place)?;
    if !new {
        whole(&conn, place)?;
    }
    // The memory journal answers "memory" here and keeps its own way.
    conn.query_row("PRAGMA journal_mode = WAL", [], |row| {
        row.get::<_, String>(0)
    })?;
    conn.execute_batch(
        "PRAGMA synchronous = FULL;
         PRAGMA foreign_keys = ON;
         PRAGMA recursive_triggers = ON;
         PRAGMA trusted_schema = OFF;",
    )?;
    if let Some(pages) = options.most_pages {
        conn.query_row(&format!("PRAGMA max_page_count = {pages}"), [], |_| Ok(()))?;
    }
    migrate(&mut conn, place)?;
    Ok(conn)
}

fn number(conn: &Connection, sql: &str) -> Inner<i64> {
    Ok(conn.query_row(sql, [], |row| row.get(0))?)
}

/// Whether the database is new; fails if it is not a journal, or a newer one.
fn belongs(conn: &Connection, place: &Place) -> Inner<bool> {
    let application = number(conn, "PRAGMA application_id")?;
    let version = number(conn, "PRAGMA user_version")?;
    let tables = number(conn, "SELECT count(*) FROM sqlite_schema")?;
    let path = place.path.clone();
    match (application, version, tables) {
        (0, 0, 0) => Ok(true),
        (APPLICATION_ID, version, _) if version > LAYOUT => Err(Error::NewerLayout {
            path,
            found: version,
            known: LAYOUT,
        }
        .into()),
        (APPLICATION_ID, 1.., _) => Ok(false),
        _ => {
            let found = format!("a database of another program (mark {application:#x})");
            Err(Error::Foreign { path, found }.into())
        }
    }
}

fn whole(conn: &Connection, place: &Place) -> Inner<()> {
    let said: String = conn.query_row("PRAGMA quick_check(1)", [], |row| row.get(0))?;
    if said == "ok" {
        Ok(())
    } else {
        Err(Error::Corrupt {
            path: place.path.clone(),
            detail: said,
        }
        .into())
    }
}

/// Brings the events to the latest layout and what follows from them up to date.
fn migrate(conn: &mut Connection, place: &Place) -> Inner<()> {
    if number(conn, "PRAGMA user_version")? == LAYOUT && derive::current(conn)? {
        return Ok(());
    }
    let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate)?;
    // Another program may have done it while this one waited.
    belongs(&tx, place)?;
    let version = number(&tx, "PRAGMA user_version")?;
    for migration in MIGRATIONS
        .iter()
        .skip(usize::try_from(version).unwrap_or(0))
    {
        tx.execute_batch(migration)?;
    }
    tx.execute_batch(&format!(
        "PRAGMA application_id = {APPLICATION_ID}; PRAGMA user_version = {LAYOUT};"
    ))?;
    if !derive::current(&tx)? {
        derive::rebuild(&tx)?;
    }
    tx.commit()?;
    Ok(())
}

/// Fails if another program has changed the layout since the file was opened.
pub(super) fn unchanged(conn: &Connection, place: &Place) -> Inner<()> {
    let found = number(conn, "PRAGMA user_version")?;
    if found > LAYOUT || !derive::current(conn)? {
        return Err(Error::NewerLayout {
            path: place.path.clone(),
            found,
            known: LAYOUT,
        }
        .into());
    }
    Ok(())
}
