//! Keeping what follows from the events in step with them.

use rusqlite::{Connection, OptionalExtension, params};

use super::fail::Inner;
use super::row::{self, stamp, word};
use super::{ledger, read};
use crate::event::{Entry, Event};
use crate::id::EventId;
use crate::resolve;
use crate::tables::{self, Change};

/// The layout of the derived tables. Another number, or none, has them rebuilt on opening.
/// Raise it with every change to them, to what is derived, or to the kinds that can be read.
const DERIVED: i64 = 4;

const TABLES: &[&str] = &[
    "weather",
    "own_figure",
    "own_material",
    "stock",
    "unknown",
    "portion",
    "fill",
    "chamber",
    "settings",
    "entry",
    "derived",
];

/// Whether the derived tables are there, in today's layout.
pub(super) fn current(conn: &Connection) -> Inner<bool> {
    let names = TABLES
        .iter()
        .map(|name| format!("'{name}'"))
        .collect::<Vec<_>>()
        .join(", ");
    let sql =
        format!("SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name IN ({names})");
    let there: i64 = conn.prepare_cached(&sql)?.query_row([], |row| row.get(0))?;
    if there != TABLES.len() as i64 {
        return Ok(false);
    }
    let layout: Option<i64> = conn
        .prepare_cached("SELECT layout FROM derived")?
        .query_row([], |row| row.get(0))
        .optional()?;
    Ok(layout == Some(DERIVED))
}

/// Drops the derived tables and works them out again.
pub(super) fn rebuild(conn: &Connection) -> Inner<()> {
    for table in TABLES {
        conn.execute_batch(&format!("DROP TABLE IF EXISTS {table}"))?;
    }
    conn.execute_batch(include_str!("derived.sql"))?;
    for household in read::households(conn)? {
        household_anew(conn, &household)?;
    }
    conn.execute("INSERT INTO derived (layout) VALUES (?1)", [DERIVED])?;
    Ok(())
}

/// Follows events just written, all of one household and in order of writing.
///
/// The common case, something new about the household's latest days, adds rows. An undo, a
/// correction or an entry for an earlier time has the household worked out anew.
pub(super) fn follow(conn: &Connection, household: &str, fresh: &[Event]) -> Inner<()> {
    if fresh
        .iter()
        .any(|event| event.raw.kind == "undone" || event.raw.kind == "corrected")
    {
        return household_anew(conn, household);
    }
    let latest = latest(conn, household)?;
    let mut moving = Vec::new();
    for event in fresh {
        let (entry, text) = resolve::plain(event);
        put_entry(conn, household, &entry, event.raw.version, &text)?;
        if entry.body.known().is_some_and(tables::moves) {
            moving.push(entry);
        }
    }
    moving.sort_by(resolve::order);
    let Some(first) = moving.first() else {
        return Ok(());
    };
    let first = (stamp(first.at), stamp(first.recorded), first.id.to_string());
    if latest.is_some_and(|latest| latest > first) {
        return household_anew(conn, household);
    }
    let mut ledger = ledger::load(conn, household)?;
    for entry in &moving {
        for change in ledger.apply(entry) {
            put(conn, household, &change)?;
        }
    }
    Ok(())
}

/// Where the latest entry stands in the order of time.
fn latest(conn: &Connection, household: &str) -> Inner<Option<(String, String, String)>> {
    Ok(conn
        .prepare_cached(
            "SELECT at, recorded, id FROM entry WHERE household = ?1
             ORDER BY at DESC, recorded DESC, id DESC LIMIT 1",
        )?
        .query_row([household], |row| {
            Ok((row.get(0)?, row.get(1)?, row.get(2)?))
        })
        .optional()?)
}

fn household_anew(conn: &Connection, household: &str) -> Inner<()> {
    for table in ["unknown", "portion"] {
        let sql =
            format!("DELETE FROM {table} WHERE fill IN (SELECT id FROM fill WHERE household = ?1)");
        conn.prepare_cached(&sql)?.execute([household])?;
    }
    for table in TABLES
        .iter()
        .filter(|t| !["unknown", "portion", "derived"].contains(t))
    {
        let sql = format!("DELETE FROM {table} WHERE household = ?1");
        conn.prepare_cached(&sql)?.execute([household])?;
    }
    let events = written(conn, household)?;
    let mut moving = Vec::new();
    for ((entry, text), event) in resolve::entries(&events).into_iter().zip(&events) {
        // A corrected body is written in today's version, whatever the first one was in.
        let version = match (entry.corrected_by, entry.body.known()) {
            (Some(_), Some(body)) => body.version(),
            _ => event.raw.version,
        };
        put_entry(conn, household, &entry, version, &text)?;
        if entry.undone_by.is_none() && entry.body.known().is_some_and(tables::moves) {
            moving.push(entry);
        }
    }
    moving.sort_by(resolve::order);
    let mut ledger = tables::Ledger::default();
    for entry in &moving {
        for change in ledger.apply(entry) {
            put(conn, household, &change)?;
        }
    }
    Ok(())
}

/// Every event of the household in order of writing.
fn written(conn: &Connection, household: &str) -> Inner<Vec<Event>> {
    let sql = format!(
        "SELECT {} FROM event WHERE household = ?1 ORDER BY seq",
        row::EVENT
    );
    let mut statement = conn.prepare_cached(&sql)?;
    let rows = statement.query_map([household], row::event)?;
    Ok(rows
        .map(|raw| raw.map(|raw| raw.decode()))
        .collect::<rusqlite::Result<_>>()?)
}

/// The undo that holds against an event, if one does; found along the chain of undos only.
pub(super) fn undone_by(conn: &Connection, id: EventId) -> Inner<Option<EventId>> {
    let columns = row::EVENT
        .split(", ")
        .map(|c| format!("e.{c}"))
        .collect::<Vec<_>>()
        .join(", ");
    let sql = format!(
        "WITH RECURSIVE chain (id) AS (
             VALUES (?1)
             UNION
             SELECT e.id FROM event e JOIN chain ON e.target = chain.id WHERE e.kind = 'undone'
         )
         SELECT {columns} FROM event e JOIN chain ON e.id = chain.id ORDER BY e.seq"
    );
    let mut statement = conn.prepare_cached(&sql)?;
    let rows = statement.query_map([id.to_string()], row::event)?;
    let chain = rows
        .map(|raw| raw.map(|raw| raw.decode()))
        .collect::<rusqlite::Result<Vec<_>>>()?;
    Ok(resolve::undone(&chain).get(&id).copied())
}

fn put_entry(
    conn: &Connection,
    household: &str,
    entry: &Entry,
    version: u32,
    text: &str,
) -> Inner<()> {
    conn.prepare_cached("INSERT INTO entry VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)")?
        .execute(params![
            entry.id.to_string(),
            household,
            stamp(entry.at),
            stamp(entry.recorded),
            entry.kind,
            version,
            text,
            entry.body.known().is_some(),
            entry.corrected_by.map(|id| id.to_string()),
            entry.undone_by.map(|id| id.to_string()),
        ])?;
    Ok(())
}

fn put(conn: &Connection, household: &str, change: &Change) -> Inner<()> {
    match change {
        Change::Settings(it) => conn
            .prepare_cached(
                "INSERT INTO settings VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11,
                 ?12, ?13)
                 ON CONFLICT (household) DO UPDATE SET name = excluded.name,
                 place = excluded.place, latitude = excluded.latitude, zone = excluded.zone,
                 units = excluded.units, english = excluded.english, caddy_l = excluded.caddy_l,
                 caddy_full_kg = excluded.caddy_full_kg, handful_l = excluded.handful_l,
                 food_allowed = excluded.food_allowed, apart_m = excluded.apart_m,
                 largest_l = excluded.largest_l",
            )?
            .execute(params![
                household,
                it.name,
                it.place,
                it.latitude,
                it.zone,
                word(it.units.as_ref()),
                word(it.english.as_ref()),
                it.caddy_l,
                it.caddy_full_kg,
                it.handful_l,
                it.food_allowed,
                it.apart_m,
                it.largest_l,
            ])?,
        Change::Chamber(it) => conn
            .prepare_cached(
                "INSERT INTO chamber VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)
                 ON CONFLICT (household, id) DO UPDATE SET name = excluded.name,
                 litres = excluded.litres, shape = excluded.shape, length_cm = excluded.length_cm,
                 width_cm = excluded.width_cm, height_cm = excluded.height_cm",
            )?
            .execute(params![
                household,
                it.id,
                it.name,
                it.litres,
                word(it.shape.as_ref()),
                it.length_cm,
                it.width_cm,
                it.height_cm,
            ])?,
        Change::Fill(it) => conn
            .prepare_cached(
                "INSERT INTO fill VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)
                 ON CONFLICT (id) DO UPDATE SET since = excluded.since, level = excluded.level,
                 closed = excluded.closed, emptied = excluded.emptied,
                 litres_out = excluded.litres_out, moved = excluded.moved",
            )?
            .execute(params![
                it.id.to_string(),
                household,
                it.chamber,
                stamp(it.started),
                it.since.map(|day| day.to_string()),
                it.level,
                it.closed.map(stamp),
                it.emptied.map(stamp),
                it.litres_out,
                it.moved.map(stamp),
            ])?,
        Change::Portion(it) => conn
            .prepare_cached(
                "INSERT INTO portion VALUES
                 (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14)",
            )?
            .execute(params![
                it.fill.to_string(),
                stamp(it.at),
                stamp(it.recorded),
                it.event.to_string(),
                it.row as i64,
                it.portion.material,
                it.portion.text,
                it.portion.kg.low,
                it.portion.kg.mid,
                it.portion.kg.high,
                it.portion.litres.low,
                it.portion.litres.mid,
                it.portion.litres.high,
                it.portion.hand,
            ])?,
        Change::Moved { from, to, share } => {
            // Some of a portion may be there from an earlier moving.
            conn.prepare_cached(
                "INSERT INTO portion
                 SELECT ?2, at, recorded, event, row, material, text, kg_low * ?3, kg_mid * ?3,
                 kg_high * ?3, litres_low * ?3, litres_mid * ?3, litres_high * ?3, hand
                 FROM portion WHERE fill = ?1
                 ON CONFLICT (fill, at, recorded, event, row) DO UPDATE SET
                 kg_low = kg_low + excluded.kg_low, kg_mid = kg_mid + excluded.kg_mid,
                 kg_high = kg_high + excluded.kg_high,
                 litres_low = litres_low + excluded.litres_low,
                 litres_mid = litres_mid + excluded.litres_mid,
                 litres_high = litres_high + excluded.litres_high",
            )?
            .execute(params![from.to_string(), to.to_string(), share])?;
            conn.prepare_cached(
                "UPDATE portion SET kg_low = kg_low * ?2, kg_mid = kg_mid * ?2,
                 kg_high = kg_high * ?2, litres_low = litres_low * ?2,
                 litres_mid = litres_mid * ?2, litres_high = litres_high * ?2
                 WHERE fill = ?1",
            )?
            .execute(params![from.to_string(), 1.0 - share])?
        }
        Change::Unknown(it) => conn
            .prepare_cached("INSERT INTO unknown VALUES (?1, ?2, ?3, ?4, ?5, ?6)")?
            .execute(params![
                it.fill.to_string(),
                stamp(it.at),
                stamp(it.recorded),
                it.event.to_string(),
                it.row as i64,
                it.text,
            ])?,
        Change::Stock(it) => conn
            .prepare_cached(
                "INSERT INTO stock VALUES (?1, ?2, ?3, ?4, ?5)
                 ON CONFLICT (household, material) DO UPDATE SET litres = excluded.litres,
                 kg = excluded.kg, counted = excluded.counted",
            )?
            .execute(params![
                household,
                it.material,
                it.litres,
                it.kg,
                it.counted.map(stamp)
            ])?,
        Change::OwnMaterial { id, name } => conn
            .prepare_cached(
                "INSERT INTO own_material VALUES (?1, ?2, ?3)
                 ON CONFLICT (household, id) DO UPDATE SET name = excluded.name",
            )?
            .execute(params![household, id, name])?,
        Change::OwnFigure {
            material,
            property,
            figure,
        } => conn
            .prepare_cached(
                "INSERT INTO own_figure VALUES (?1, ?2, ?3, ?4, ?5, ?6)
                 ON CONFLICT (household, material, property) DO UPDATE SET
                 value = excluded.value, low = excluded.low, high = excluded.high",
            )?
            .execute(params![
                household,
                material,
                property,
                figure.value,
                figure.low,
                figure.high
            ])?,
        Change::Weather(it) => conn
            .prepare_cached(
                "INSERT INTO weather VALUES (?1, ?2, ?3, ?4, ?5, ?6)
                 ON CONFLICT (household, day) DO UPDATE SET mean_c = excluded.mean_c,
                 min_c = excluded.min_c, max_c = excluded.max_c,
                 radiation_mj = excluded.radiation_mj",
            )?
            .execute(params![
                household,
                it.day.to_string(),
                it.mean_c,
                it.min_c,
                it.max_c,
                it.radiation_mj,
            ])?,
    };
    Ok(())
}
