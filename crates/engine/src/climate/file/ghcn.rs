//! GHCN-Daily: `.dly` (fixed width, a month a line) and the long CSV (an element of a day a line).
//!
//! Format: NOAA National Centers for Environmental Information, GHCN-Daily readme.txt, section III, and readme
//! of the by-year files. Values are tenths of °C and of mm; −9999 is missing; a letter in the quality column
//! means that the value failed a check, so it is not used.

use std::collections::BTreeMap;

use super::cells;
use super::days::{AIR_C, DAY_RAIN, Row};
use super::error::FileError;
use super::{Note, headings::Unit};
use crate::climate::calendar::{Day, month_length};
use crate::climate::weather::ObservedDay;

/// Elements that are read.
const ELEMENTS: [&str; 4] = ["TAVG", "TMIN", "TMAX", "PRCP"];

#[derive(Default)]
struct Sheet {
    station: Option<String>,
    days: BTreeMap<Day, (usize, ObservedDay)>,
    missing: usize,
    flagged: usize,
}

/// Whether a line is one of a `.dly` file.
pub(super) fn is_dly(line: &str) -> bool {
    let digits = |part: Option<&str>| part.is_some_and(|p| p.bytes().all(|b| b.is_ascii_digit()));
    let upper = |b: u8| b.is_ascii_uppercase() || b.is_ascii_digit();
    digits(line.get(11..17))
        && line
            .get(..11)
            .is_some_and(|id| id.bytes().all(|b| upper(b) || b == b'_' || b == b'-'))
        && line.get(17..21).is_some_and(|e| e.bytes().all(upper))
        && line.get(21..26).is_some()
}

/// Whether a line is one of the long CSV.
pub(super) fn is_long(line: &str) -> bool {
    let cells = cells::split(line, ',');
    cells.len() >= 4
        && cells[0].len() == 11
        && cells[1].len() == 8
        && cells[1].bytes().all(|b| b.is_ascii_digit())
        && cells[2].len() == 4
}

/// Reads a `.dly` file.
pub(super) fn read_dly(
    text: &str,
    notes: &mut Vec<Note>,
) -> Result<(Vec<Row>, Option<String>), FileError> {
    let mut sheet = Sheet::default();
    for (line, said) in cells::lines(text) {
        if !is_dly(said) {
            return Err(FileError::Short {
                line,
                found: said.chars().count(),
                wanted: 269,
                of: "characters",
            });
        }
        sheet.of_one_station(line, &said[..11])?;
        let (year, month) = (
            said[11..15].parse().unwrap_or(0),
            said[15..17].parse().unwrap_or(0),
        );
        let element = &said[17..21];
        if !ELEMENTS.contains(&element) {
            continue;
        }
        for n in 1..=31_u32 {
            let at = 21 + 8 * (n as usize - 1);
            // The last days may be cut off by editors that trim blanks, but not within a value.
            if said.trim_end().len() <= at {
                break;
            }
            let cell = said.get(at..at + 5).ok_or(FileError::Short {
                line,
                found: said.chars().count(),
                wanted: at + 5,
                of: "characters",
            })?;
            let flag = said.get(at + 6..at + 7).unwrap_or(" ");
            // A month has no 31st: the column is there all the same, marked as missing.
            if n > month_length(year, month) && cell.trim() == "-9999" {
                continue;
            }
            let value = format!("{year:04}-{month:02}-{n:02}");
            let day = Day::from_ymd(year, month, n).map_err(|_| FileError::Date { line, value })?;
            sheet.put(line, day, element, cell, flag)?;
        }
    }
    Ok(sheet.finish(notes))
}

/// Reads the long CSV.
pub(super) fn read_long(
    text: &str,
    notes: &mut Vec<Note>,
) -> Result<(Vec<Row>, Option<String>), FileError> {
    let mut sheet = Sheet::default();
    for (line, said) in cells::lines(text) {
        let cells = cells::split(said, ',');
        let [id, date, element, cell, ..] = cells[..] else {
            return Err(FileError::Short {
                line,
                found: cells.len(),
                wanted: 4,
                of: "cells",
            });
        };
        sheet.of_one_station(line, id)?;
        let wrong = || FileError::Date {
            line,
            value: date.chars().take(40).collect(),
        };
        let (stamp, _) = cells::stamp(date).ok_or_else(wrong)?;
        let day = cells::day(stamp, cells::Order::DayFirst).ok_or_else(wrong)?;
        if ELEMENTS.contains(&element) {
            sheet.put(
                line,
                day,
                element,
                cell,
                cells.get(5).copied().unwrap_or_default(),
            )?;
        }
    }
    Ok(sheet.finish(notes))
}

impl Sheet {
    fn of_one_station(&mut self, line: usize, id: &str) -> Result<(), FileError> {
        let first = self.station.get_or_insert_with(|| id.to_owned());
        if first == id {
            return Ok(());
        }
        Err(FileError::Stations {
            line,
            first: first.clone(),
            second: id.to_owned(),
        })
    }

    fn put(
        &mut self,
        line: usize,
        day: Day,
        element: &str,
        cell: &str,
        flag: &str,
    ) -> Result<(), FileError> {
        let cell = cell.trim();
        let raw: i32 = cell.parse().map_err(|_| FileError::NotANumber {
            line,
            column: element.to_owned(),
            value: cell.to_owned(),
        })?;
        let (before, seen) = self
            .days
            .entry(day)
            .or_insert((line, ObservedDay::default()));
        if raw == -9999 {
            self.missing += 1;
            return Ok(());
        }
        if !flag.trim().is_empty() {
            self.flagged += 1;
            return Ok(());
        }
        let (to, range) = match element {
            "TAVG" => (&mut seen.mean_c, AIR_C),
            "TMIN" => (&mut seen.min_c, AIR_C),
            "TMAX" => (&mut seen.max_c, AIR_C),
            _ => (&mut seen.rain_mm, DAY_RAIN),
        };
        if to.is_some() {
            return Err(FileError::Twice {
                line,
                day,
                before: *before,
            });
        }
        let value = range
            .check(f64::from(raw) / 10.0)
            .map_err(|why| FileError::OutOfRange {
                line,
                column: element.to_owned(),
                why,
            })?;
        *to = Some(value);
        Ok(())
    }

    fn finish(self, notes: &mut Vec<Note>) -> (Vec<Row>, Option<String>) {
        notes.push(Note::Unit {
            column: "TAVG, TMIN, TMAX".to_owned(),
            unit: Unit::TenthsCelsius,
            told: true,
        });
        notes.extend((self.missing > 0).then_some(Note::Missing {
            cells: self.missing,
        }));
        notes.extend((self.flagged > 0).then_some(Note::Flagged {
            cells: self.flagged,
        }));
        let rows = self.days.into_iter().map(|(day, (line, seen))| Row {
            line,
            day,
            timed: false,
            seen,
        });
        (rows.collect(), self.station)
    }
}
