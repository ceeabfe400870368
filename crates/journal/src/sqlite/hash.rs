//! One hash over everything that follows from the events.

use std::fmt::Write;

use rusqlite::Connection;
use rusqlite::types::ValueRef;
use sha2::{Digest, Sha256};

use super::fail::Inner;

/// Each table with its rows in a fixed order. What is undone does not count, nor who undid it.
const QUERIES: &[(&str, &str)] = &[
    (
        "entry",
        "SELECT id, at, recorded, kind, version, body, corrected_by FROM entry
         WHERE household = ?1 AND undone_by IS NULL AND kind NOT IN ('undone', 'corrected')
         ORDER BY id",
    ),
    ("settings", "SELECT * FROM settings WHERE household = ?1"),
    (
        "chamber",
        "SELECT * FROM chamber WHERE household = ?1 ORDER BY id",
    ),
    (
        "fill",
        "SELECT * FROM fill WHERE household = ?1 ORDER BY id",
    ),
    (
        "portion",
        "SELECT * FROM portion WHERE fill IN (SELECT id FROM fill WHERE household = ?1)
         ORDER BY fill, at, recorded, event, row",
    ),
    (
        "unknown",
        "SELECT * FROM unknown WHERE fill IN (SELECT id FROM fill WHERE household = ?1)
         ORDER BY fill, at, recorded, event, row",
    ),
    (
        "stock",
        "SELECT * FROM stock WHERE household = ?1 ORDER BY material",
    ),
    (
        "own_material",
        "SELECT * FROM own_material WHERE household = ?1 ORDER BY id",
    ),
    (
        "own_figure",
        "SELECT * FROM own_figure WHERE household = ?1 ORDER BY material, property",
    ),
    (
        "weather",
        "SELECT * FROM weather WHERE household = ?1 ORDER BY day",
    ),
];

pub(super) fn state(conn: &Connection, household: &str) -> Inner<String> {
    let mut hash = Sha256::new();
    for (table, sql) in QUERIES {
        text(&mut hash, b'#', table.as_bytes());
        let mut statement = conn.prepare_cached(sql)?;
        let columns = statement.column_count();
        let mut rows = statement.query([household])?;
        while let Some(row) = rows.next()? {
            hash.update(b"|");
            for column in 0..columns {
                match row.get_ref(column)? {
                    ValueRef::Null => hash.update(b"n"),
                    ValueRef::Integer(value) => text(&mut hash, b'i', &value.to_le_bytes()),
                    ValueRef::Real(value) => text(&mut hash, b'r', &value.to_le_bytes()),
                    ValueRef::Text(value) => text(&mut hash, b't', value),
                    ValueRef::Blob(value) => text(&mut hash, b'b', value),
                }
            }
        }
    }
    let mut hex = String::with_capacity(64);
    for byte in hash.finalize() {
        // Writing to a text cannot fail.
        let _ = write!(hex, "{byte:02x}");
    }
    Ok(hex)
}

/// Length first, so that no two rows run together alike.
fn text(hash: &mut Sha256, mark: u8, bytes: &[u8]) {
    hash.update([mark]);
    hash.update((bytes.len() as u64).to_le_bytes());
    hash.update(bytes);
}
