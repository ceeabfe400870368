//! The whole case: vessel, place, start, horizon, what goes in and what is done.

use std::path::Path;

use catalogue::Catalogue;
use engine::batch::events::Deed;
use engine::batch::vessel::Vessel;
use engine::climate::Day;
use engine::ensemble::At;
use units::Range;

use super::error::{CaseError, CaseFault};
use super::feeds::{self, TEMPERATURE_C, day_range, row};
use super::place::{self, Sky, Told};
use super::sheet::{self, Table};
use super::vessel;

/// Days looked ahead (choice: beyond ten years nothing is left to happen).
pub(super) const DAYS: Range = row("days to look ahead", "days", 1.0, 3_650.0);
/// Members (choice: more do not sharpen a 5 % point that the priors leave blunt).
pub(super) const MEMBERS: Range = row("members", "", 1.0, 100_000.0);
/// Seed: whole numbers that a double holds.
pub(super) const SEED: Range = row("seed", "", 0.0, 9_007_199_254_740_991.0);
const EVERY: Range = row("days between turnings", "days", 0.25, 3_650.0);
const WATER_L: Range = row("water", "L", 0.01, 1_000.0);
const WATER_C: Range = row("temperature of the water", "°C", 0.0, 90.0);
const TAKE_PCT: Range = row("share taken out", "%", 0.0, 95.0);
const USUAL_DAYS: usize = 180;

/// A case as read.
#[derive(Debug)]
pub(super) struct Case {
    pub(super) vessel: Vessel,
    pub(super) sky: Sky,
    /// Day on which the first feed goes in.
    pub(super) first: Day,
    /// Time of the first feed on that day, in days.
    pub(super) offset: f64,
    pub(super) days: usize,
    pub(super) deeds: Vec<At>,
    pub(super) members: Option<u64>,
    pub(super) seed: Option<u64>,
    pub(super) told: Told,
}

/// Reads a case; weather files are looked for in `folder`.
pub(super) fn read(text: &str, folder: &Path, catalogue: &Catalogue) -> Result<Case, CaseError> {
    let parsed = sheet::parse(text)?;
    let root = Table::root(text, &parsed);
    root.keys(&sheet::ROOT)?;
    let start = root
        .get("start")
        .ok_or_else(|| {
            root.wrong("`start` is missing; give the date of day 0, as start = 2025-05-01")
        })?
        .day()?;
    let days = match root.get("days") {
        Some(cell) => cell.whole(DAYS)? as usize,
        None => USUAL_DAYS,
    };
    let whole = |key: &str, range| root.get(key).map(|c| c.whole(range)).transpose();
    let (members, seed) = (whole("members", MEMBERS)?, whole("seed", SEED)?);
    let mut told = Told::default();
    let vessel = vessel::read(&root, &mut told.missing)?;
    let mut deeds = feeds::read(&root, catalogue, (start, days), &mut told)?;
    // Nothing happens in an empty vessel: the run begins on the day of the first feed.
    let earliest = deeds.iter().map(|d| d.day).fold(f64::INFINITY, f64::min);
    let skipped = earliest.floor();
    let rest = (
        wettings(&root, earliest, days)?,
        takings(&root, earliest, days)?,
    );
    deeds.extend(rest.0);
    deeds.extend(rest.1);
    deeds.extend(turnings(&root, earliest, days, &mut told)?);
    for deed in &mut deeds {
        deed.day -= skipped;
    }
    let first = start + skipped as i32;
    let sky = place::read(&root, folder, (first, days), &mut told)?;
    Ok(Case {
        vessel,
        sky,
        first,
        offset: earliest - skipped,
        days,
        deeds,
        members,
        seed,
        told,
    })
}

/// A day on which something is done to what is there.
fn after(t: &Table<'_>, earliest: f64, days: usize) -> Result<f64, CaseError> {
    let day = t.needed("day", day_range(days))?;
    if day < earliest {
        return Err(t.wrong(format!(
            "day {day} is before the first feed, on day {earliest}; nothing is there yet"
        )));
    }
    Ok(day)
}

fn wettings(root: &Table<'_>, earliest: f64, days: usize) -> Result<Vec<At>, CaseError> {
    let one = |t: &Table<'_>| {
        t.keys(&["day", "litres", "temperature_c"])?;
        Ok(At {
            day: after(t, earliest, days)?,
            deed: Deed::Wet {
                kg: t.needed("litres", WATER_L)?,
                temperature: t.number("temperature_c", WATER_C)?.unwrap_or(TEMPERATURE_C),
            },
        })
    };
    root.tables("wettings")?.iter().map(one).collect()
}

fn takings(root: &Table<'_>, earliest: f64, days: usize) -> Result<Vec<At>, CaseError> {
    let one = |t: &Table<'_>| {
        t.keys(&["day", "share_pct"])?;
        Ok(At {
            day: after(t, earliest, days)?,
            deed: Deed::Take(t.needed("share_pct", TAKE_PCT)? / 100.0),
        })
    };
    root.tables("takings")?.iter().map(one).collect()
}

/// Days in a list, or every few days from the first feed on.
fn turnings(
    root: &Table<'_>,
    earliest: f64,
    days: usize,
    told: &mut Told,
) -> Result<Vec<At>, CaseError> {
    let turn = |day: f64| At {
        day,
        deed: Deed::Turn,
    };
    let listed = |cell: sheet::Cell<'_>| -> Result<Vec<At>, CaseError> {
        cell.items()?
            .map(|c| {
                let day = c.number(day_range(days))?;
                if day < earliest {
                    return Err(c.wrong(format!(
                        "day {day} is before the first feed, on day {earliest}; nothing is there yet"
                    )));
                }
                Ok(turn(day))
            })
            .collect()
    };
    let Some(cell) = root.get("turnings") else {
        told.missing.push("turnings".into());
        return Ok(Vec::new());
    };
    if cell.is_list() {
        return listed(cell);
    }
    let t = cell.table()?;
    t.keys(&["every_days", "until_day", "days"])?;
    match (t.number("every_days", EVERY)?, t.get("days")) {
        (Some(_), Some(cell)) => {
            Err(cell.wrong("every_days says when already; keep one of the two"))
        }
        (None, Some(cell)) => listed(cell),
        (None, None) => Err(t.wrong("says no days; give every_days, or days = [3, 6]")),
        (Some(every), None) => {
            let until = Range {
                least: earliest,
                ..day_range(days)
            };
            let end = earliest.floor() + days as f64;
            let until = t.number("until_day", until)?.unwrap_or(end);
            let count = ((until - earliest) / every + 1e-9).floor() as usize;
            Ok((1..=count)
                .map(|i| turn(earliest + every * i as f64))
                .collect())
        }
    }
}

/// A number given beside the file.
pub(super) fn beside(key: &str, range: Range, value: u64) -> Result<u64, CaseError> {
    range
        .check(value as f64)
        .map(|_| value)
        .map_err(|e| CaseError::plain(CaseFault::Bad, key, e.to_string()))
}
