//! Hourly files of building simulation: EPW and TMY3.
//!
//! Formats: US Department of Energy, EnergyPlus Auxiliary Programs, chapter "Weather converter program" (EPW
//! data dictionary: field 7 dry bulb, missing 99.9; field 14 global radiation, missing 9999); Wilcox, S. and
//! Marion, W., 2008, Users Manual for TMY3 Data Sets, NREL/TP-581-43156, table 1-2 (missing −9900). Stamps
//! are the end of the hour, 1 to 24, so that hour 24 is of its own day. Rain is left out: few files measured it.
//!
//! A file whose months come from several years is a typical year: no such day ever was.

use super::cells::{self, Order, Stamp};
use super::days::{AIR_C, DAY_SUN, Row};
use super::error::FileError;
use super::headings::Unit;
use super::{Note, Sheet};
use crate::climate::weather::ObservedDay;

/// A common year for typical years, and a leap year for those with 29 February.
const NOMINAL: (i32, i32) = (2001, 2004);

struct Hour {
    line: usize,
    ymd: (i32, u32, u32),
    air: Option<f64>,
    sun: Option<f64>,
}

/// Where the columns stand.
struct Layout<'a> {
    heads: [&'a str; 2],
    air: usize,
    sun: usize,
}

/// Reads EPW.
pub(super) fn read_epw(text: &str, notes: &mut Vec<Note>) -> Result<Sheet, FileError> {
    let mut lines = cells::lines(text);
    let first = lines.next().map_or("", |(_, l)| l);
    let place = cells::split(first, ',');
    let last = lines
        .by_ref()
        .find(|(_, l)| l.to_uppercase().starts_with("DATA PERIODS"));
    if last.is_none() {
        return Err(FileError::NoHeadings {
            line: 1,
            read: "LOCATION without DATA PERIODS".to_owned(),
        });
    }
    let layout = Layout {
        heads: ["dry bulb", "global horizontal radiation"],
        air: 6,
        sun: 13,
    };
    let mut hours = Vec::new();
    for (line, said) in lines {
        let cells = cells::split(said, ',');
        let n = |at: usize| cells.get(at).and_then(|c| c.parse::<u32>().ok());
        let (Some(y), Some(m), Some(d)) = (n(0), n(1), n(2)) else {
            let value = said.chars().take(20).collect();
            return Err(FileError::Date { line, value });
        };
        hours.push(hour(
            line,
            (y as i32, m, d),
            &cells,
            &layout,
            [99.9, 9999.0],
        )?);
    }
    finish(hours, place.get(1), place.get(6), false, notes)
}

/// Reads TMY3.
pub(super) fn read_tmy3(text: &str, notes: &mut Vec<Note>) -> Result<Sheet, FileError> {
    let mut lines = cells::lines(text);
    let place = cells::split(lines.next().map_or("", |(_, l)| l), ',');
    let (line, said) = lines.next().ok_or(FileError::Empty)?;
    let heads = cells::split(said, ',');
    let find = |name: &str| heads.iter().position(|h| h.starts_with(name));
    let (Some(air), Some(sun)) = (find("Dry-bulb (C)"), find("GHI (W/m^2)")) else {
        return Err(FileError::NoHeadings {
            line,
            read: said.chars().take(60).collect(),
        });
    };
    let layout = Layout {
        heads: ["Dry-bulb (C)", "GHI (W/m^2)"],
        air,
        sun,
    };
    let mut hours = Vec::new();
    for (line, said) in lines {
        let cells = cells::split(said, ',');
        let cell = cells.first().copied().unwrap_or_default();
        let Some((Stamp::Open(m, d, y), _)) = cells::stamp(cell) else {
            let value = cell.chars().take(20).collect();
            return Err(FileError::Date { line, value });
        };
        hours.push(hour(line, (y, m, d), &cells, &layout, [-9900.0, -9900.0])?);
    }
    finish(hours, place.get(1), place.get(4), true, notes)
}

fn hour(
    line: usize,
    ymd: (i32, u32, u32),
    cells: &[&str],
    layout: &Layout<'_>,
    missing: [f64; 2],
) -> Result<Hour, FileError> {
    let wanted = layout.air.max(layout.sun) + 1;
    if cells.len() < wanted {
        return Err(FileError::Short {
            line,
            found: cells.len(),
            wanted,
            of: "cells",
        });
    }
    let read = |which: usize, at: usize| {
        let column = layout.heads[which].to_owned();
        let raw = cells::number(cells[at]).map_err(|()| FileError::NotANumber {
            line,
            column: column.clone(),
            value: cells[at].chars().take(40).collect(),
        })?;
        let (unit, range) = [(Unit::Celsius, AIR_C), (Unit::Watt, DAY_SUN)][which];
        raw.filter(|v| *v != missing[which])
            .map(|v| range.check(unit.convert(v)))
            .transpose()
            .map_err(|why| FileError::OutOfRange { line, column, why })
    };
    Ok(Hour {
        line,
        ymd,
        air: read(0, layout.air)?,
        sun: read(1, layout.sun)?,
    })
}

fn finish(
    hours: Vec<Hour>,
    name: Option<&&str>,
    latitude: Option<&&str>,
    typical: bool,
    notes: &mut Vec<Note>,
) -> Result<Sheet, FileError> {
    let first = hours.first().ok_or(FileError::NoDays)?.ymd.0;
    let typical_year = typical || hours.iter().any(|h| h.ymd.0 != first);
    let leap = hours.iter().any(|h| (h.ymd.1, h.ymd.2) == (2, 29));
    let nominal = if leap { NOMINAL.1 } else { NOMINAL.0 };
    let missing = hours.iter().filter(|h| h.air.is_none()).count();
    let mut rows = Vec::with_capacity(hours.len());
    for h in hours {
        let (y, m, d) = h.ymd;
        let stamp = Stamp::Ymd(if typical_year { nominal } else { y }, m, d);
        let day = cells::day(stamp, Order::DayFirst).ok_or_else(|| FileError::Date {
            line: h.line,
            value: format!("{y:04}-{m:02}-{d:02}"),
        })?;
        let seen = ObservedDay {
            mean_c: h.air,
            radiation_mj: h.sun,
            ..ObservedDay::default()
        };
        rows.push(Row {
            line: h.line,
            day,
            timed: true,
            seen,
        });
    }
    notes.push(Note::Ignored {
        column: "rain".to_owned(),
    });
    notes.extend((missing > 0).then_some(Note::Missing { cells: missing }));
    Ok(Sheet {
        rows,
        station: name.map(|n| (*n).to_owned()),
        latitude: latitude.and_then(|l| l.parse().ok()),
        typical_year,
    })
}
