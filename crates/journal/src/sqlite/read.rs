//! Reading.

use std::collections::BTreeMap;

use rusqlite::types::Value;
use rusqlite::{Connection, OptionalExtension, Row, params, params_from_iter};

use super::fail::Inner;
use super::row::{self, parsed, parsed_if, stamp, word_if};
use crate::body::{Amount, Figure, Portion, WeatherDay};
use crate::codec::Unreadable;
use crate::error::Error;
use crate::event::{Entry, Event, Recorded};
use crate::id::EventId;
use crate::store::{Order, Page};
use crate::tables::{Chamber, Fill, OwnMaterial, PortionRow, Settings, Stock, UnknownWord};

fn all<T>(
    conn: &Connection,
    sql: &str,
    params: impl rusqlite::Params,
    read: impl FnMut(&Row<'_>) -> rusqlite::Result<T>,
) -> Inner<Vec<T>> {
    let mut statement = conn.prepare_cached(sql)?;
    let rows = statement.query_map(params, read)?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

pub(super) fn households(conn: &Connection) -> Inner<Vec<String>> {
    all(
        conn,
        "SELECT DISTINCT household FROM event ORDER BY household",
        [],
        |row| row.get(0),
    )
}

pub(super) fn count(conn: &Connection, household: &str) -> Inner<usize> {
    let count: i64 = conn
        .prepare_cached("SELECT count(*) FROM event WHERE household = ?1")?
        .query_row([household], |row| row.get(0))?;
    Ok(usize::try_from(count).unwrap_or(0))
}

/// The place of the last event in the order of writing: events are never taken away.
pub(super) fn mark(conn: &Connection) -> Inner<i64> {
    let last: Option<i64> = conn
        .prepare_cached("SELECT max(seq) FROM event")?
        .query_row([], |row| row.get(0))?;
    Ok(last.unwrap_or(0))
}

pub(super) fn event(conn: &Connection, household: &str, id: EventId) -> Inner<Option<Event>> {
    let sql = format!(
        "SELECT {} FROM event WHERE id = ?1 AND household = ?2",
        row::EVENT
    );
    let raw = conn
        .prepare_cached(&sql)?
        .query_row(params![id.to_string(), household], row::event)
        .optional()?;
    Ok(raw.map(|raw| raw.decode()))
}

pub(super) fn events(conn: &Connection, household: &str, page: &Page) -> Inner<Vec<Event>> {
    let (sql, values) = paged(conn, "event", row::EVENT, household, page, "")?;
    let raw = all(conn, &sql, params_from_iter(values), row::event)?;
    Ok(raw.into_iter().map(|raw| raw.decode()).collect())
}

pub(super) fn entry(conn: &Connection, household: &str, id: EventId) -> Inner<Option<Entry>> {
    let sql = format!(
        "SELECT {} FROM entry WHERE id = ?1 AND household = ?2",
        row::ENTRY
    );
    Ok(conn
        .prepare_cached(&sql)?
        .query_row(params![id.to_string(), household], row::entry)
        .optional()?)
}

pub(super) fn history(conn: &Connection, household: &str, page: &Page) -> Inner<Vec<Entry>> {
    let mut only = " AND kind NOT IN ('undone', 'corrected')".to_owned();
    if !page.undone {
        only.push_str(" AND undone_by IS NULL");
    }
    let page = Page {
        order: Order::Happened,
        ..page.clone()
    };
    let (sql, values) = paged(conn, "entry", row::ENTRY, household, &page, &only)?;
    all(conn, &sql, params_from_iter(values), row::entry)
}

/// The query for a page of a table, with its values.
fn paged(
    conn: &Connection,
    table: &str,
    columns: &str,
    household: &str,
    page: &Page,
    only: &str,
) -> Inner<(String, Vec<Value>)> {
    let mut sql = format!("SELECT {columns} FROM {table} WHERE household = ?{only}");
    let mut values = vec![Value::from(household.to_owned())];
    if let Some(from) = page.from {
        sql.push_str(" AND at >= ?");
        values.push(stamp(from).into());
    }
    if let Some(until) = page.until {
        sql.push_str(" AND at < ?");
        values.push(stamp(until).into());
    }
    if let Some(kind) = &page.kind {
        sql.push_str(" AND kind = ?");
        values.push(kind.clone().into());
    }
    for kind in &page.without {
        sql.push_str(" AND kind <> ?");
        values.push(kind.clone().into());
    }
    let (keys, sort) = match page.order {
        Order::Happened => ("(at, recorded, id)", ["at", "recorded", "id"].as_slice()),
        Order::Written => ("(seq)", ["seq"].as_slice()),
    };
    if let Some(after) = page.after {
        let there = format!("SELECT 1 FROM {table} WHERE id = ?1 AND household = ?2");
        if !conn
            .prepare_cached(&there)?
            .exists(params![after.to_string(), household])?
        {
            return Err(Error::UnknownEvent { event: after }.into());
        }
        let beyond = if page.reverse { '<' } else { '>' };
        let list = sort.join(", ");
        sql.push_str(&format!(
            " AND {keys} {beyond} (SELECT {list} FROM {table} WHERE id = ?)"
        ));
        values.push(after.to_string().into());
    }
    let way = if page.reverse { " DESC" } else { "" };
    let sort = sort
        .iter()
        .map(|key| format!("{key}{way}"))
        .collect::<Vec<_>>()
        .join(", ");
    sql.push_str(&format!(" ORDER BY {sort}"));
    if let Some(limit) = page.limit {
        sql.push_str(" LIMIT ?");
        values.push(i64::from(limit).into());
    }
    Ok((sql, values))
}

pub(super) fn unreadable(conn: &Connection, household: &str) -> Inner<Vec<(EventId, Unreadable)>> {
    let sql = format!(
        "SELECT {} FROM entry WHERE household = ?1 AND readable = 0 ORDER BY at, recorded, id",
        row::ENTRY
    );
    let entries = all(conn, &sql, [household], row::entry)?;
    Ok(entries
        .into_iter()
        .filter_map(|entry| match entry.body {
            Recorded::Unknown { why, .. } => Some((entry.id, why)),
            Recorded::Known(_) => None,
        })
        .collect())
}

pub(super) fn settings(conn: &Connection, household: &str) -> Inner<Settings> {
    let found = conn
        .prepare_cached(
            "SELECT name, place, latitude, zone, units, english, caddy_l, caddy_full_kg,
             handful_l, food_allowed, apart_m, largest_l FROM settings WHERE household = ?1",
        )?
        .query_row([household], |row| {
            Ok(Settings {
                name: row.get(0)?,
                place: row.get(1)?,
                latitude: row.get(2)?,
                zone: row.get(3)?,
                units: word_if(row, 4)?,
                english: word_if(row, 5)?,
                caddy_l: row.get(6)?,
                caddy_full_kg: row.get(7)?,
                handful_l: row.get(8)?,
                food_allowed: row.get(9)?,
                apart_m: row.get(10)?,
                largest_l: row.get(11)?,
            })
        })
        .optional()?;
    Ok(found.unwrap_or_default())
}

pub(super) fn chambers(conn: &Connection, household: &str) -> Inner<Vec<Chamber>> {
    let sql = "SELECT id, name, litres, shape, length_cm, width_cm, height_cm FROM chamber
               WHERE household = ?1 ORDER BY id";
    all(conn, sql, [household], |row| {
        Ok(Chamber {
            id: row.get(0)?,
            name: row.get(1)?,
            litres: row.get(2)?,
            shape: word_if(row, 3)?,
            length_cm: row.get(4)?,
            width_cm: row.get(5)?,
            height_cm: row.get(6)?,
        })
    })
}

/// Fills of the household for which the condition, a constant of this program, holds.
pub(super) fn fills(conn: &Connection, household: &str, holds: &str) -> Inner<Vec<Fill>> {
    let sql = format!(
        "SELECT id, chamber, started, since, level, closed, emptied, litres_out, moved FROM fill
         WHERE household = ?1 AND {holds} ORDER BY started, id"
    );
    all(conn, &sql, [household], fill)
}

fn fill(row: &Row<'_>) -> rusqlite::Result<Fill> {
    Ok(Fill {
        id: parsed(row, 0)?,
        chamber: row.get(1)?,
        started: parsed(row, 2)?,
        since: parsed_if(row, 3)?,
        level: row.get(4)?,
        closed: parsed_if(row, 5)?,
        emptied: parsed_if(row, 6)?,
        litres_out: row.get(7)?,
        moved: parsed_if(row, 8)?,
    })
}

pub(super) fn contents(
    conn: &Connection,
    household: &str,
    chamber: &str,
) -> Inner<Option<(Fill, Vec<PortionRow>)>> {
    let now = fills(conn, household, "emptied IS NULL")?;
    let Some(fill) = now.into_iter().find(|fill| fill.chamber == chamber) else {
        return Ok(None);
    };
    let portions = portions(conn, household, fill.id)?;
    Ok(Some((fill, portions)))
}

pub(super) fn portions(
    conn: &Connection,
    household: &str,
    fill: EventId,
) -> Inner<Vec<PortionRow>> {
    let sql = "SELECT p.fill, p.at, p.recorded, p.event, p.row, p.material, p.text, p.kg_low,
               p.kg_mid, p.kg_high, p.litres_low, p.litres_mid, p.litres_high, p.hand
               FROM portion p JOIN fill f ON f.id = p.fill
               WHERE p.fill = ?1 AND f.household = ?2
               ORDER BY p.at, p.recorded, p.event, p.row";
    all(conn, sql, params![fill.to_string(), household], |row| {
        Ok(PortionRow {
            fill: parsed(row, 0)?,
            at: parsed(row, 1)?,
            recorded: parsed(row, 2)?,
            event: parsed(row, 3)?,
            row: usize::try_from(row.get::<_, u32>(4)?).unwrap_or(usize::MAX),
            portion: Portion {
                material: row.get(5)?,
                text: row.get(6)?,
                kg: Amount {
                    low: row.get(7)?,
                    mid: row.get(8)?,
                    high: row.get(9)?,
                },
                litres: Amount {
                    low: row.get(10)?,
                    mid: row.get(11)?,
                    high: row.get(12)?,
                },
                hand: row.get(13)?,
            },
        })
    })
}

pub(super) fn unknown_words(
    conn: &Connection,
    household: &str,
    fill: EventId,
) -> Inner<Vec<UnknownWord>> {
    let sql = "SELECT u.fill, u.at, u.recorded, u.event, u.row, u.text
               FROM unknown u JOIN fill f ON f.id = u.fill
               WHERE u.fill = ?1 AND f.household = ?2
               ORDER BY u.at, u.recorded, u.event, u.row";
    all(conn, sql, params![fill.to_string(), household], |row| {
        Ok(UnknownWord {
            fill: parsed(row, 0)?,
            at: parsed(row, 1)?,
            recorded: parsed(row, 2)?,
            event: parsed(row, 3)?,
            row: usize::try_from(row.get::<_, u32>(4)?).unwrap_or(usize::MAX),
            text: row.get(5)?,
        })
    })
}

pub(super) fn stock(conn: &Connection, household: &str) -> Inner<Vec<Stock>> {
    let sql = "SELECT material, litres, kg, counted FROM stock WHERE household = ?1
               ORDER BY material";
    all(conn, sql, [household], |row| {
        Ok(Stock {
            material: row.get(0)?,
            litres: row.get(1)?,
            kg: row.get(2)?,
            counted: parsed_if(row, 3)?,
        })
    })
}

pub(super) fn weather(conn: &Connection, household: &str) -> Inner<Vec<WeatherDay>> {
    let sql = "SELECT day, mean_c, min_c, max_c, radiation_mj FROM weather
               WHERE household = ?1 ORDER BY day";
    all(conn, sql, [household], |row| {
        Ok(WeatherDay {
            day: parsed(row, 0)?,
            mean_c: row.get(1)?,
            min_c: row.get(2)?,
            max_c: row.get(3)?,
            radiation_mj: row.get(4)?,
        })
    })
}

pub(super) fn own_names(
    conn: &Connection,
    household: &str,
) -> Inner<Vec<(String, Option<String>)>> {
    let sql = "SELECT id, name FROM own_material WHERE household = ?1 ORDER BY id";
    all(conn, sql, [household], |row| Ok((row.get(0)?, row.get(1)?)))
}

pub(super) fn own_figures(conn: &Connection, household: &str) -> Inner<Vec<OwnMaterial>> {
    let sql = "SELECT property, value, low, high FROM own_figure
               WHERE household = ?1 AND material = ?2";
    own_names(conn, household)?
        .into_iter()
        .map(|(id, name)| {
            let figures = all(conn, sql, params![household, id], |row| {
                let figure = Figure {
                    value: row.get(1)?,
                    low: row.get(2)?,
                    high: row.get(3)?,
                };
                Ok((row.get(0)?, figure))
            })?;
            Ok(OwnMaterial {
                id,
                name,
                figures: figures.into_iter().collect::<BTreeMap<_, _>>(),
            })
        })
        .collect()
}
