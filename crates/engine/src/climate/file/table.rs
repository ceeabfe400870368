//! Tables with headings: any CSV, and GHCN-Daily with one column an element.

use super::cells::{self, Order, Stamp};
use super::days::{AIR_C, DAY_RAIN, DAY_SUN, Row};
use super::error::FileError;
use super::headings::{Column, Unit, column, unit};
use super::{Format, Note, units};
use crate::climate::calendar::Day;
use crate::climate::weather::ObservedDay;

/// Columns with numbers, in the order of [`Raw::values`].
const SERIES: [Column; 5] = [
    Column::Mean,
    Column::Min,
    Column::Max,
    Column::Rain,
    Column::Radiation,
];
/// How far down the headings may stand.
const PREAMBLE: usize = 80;

/// The headings of a table.
pub(super) struct Heads<'a> {
    line: usize,
    separator: char,
    cells: Vec<&'a str>,
    columns: Vec<Option<Column>>,
}

impl Heads<'_> {
    fn at(&self, column: Column) -> Option<usize> {
        self.columns.iter().position(|&c| c == Some(column))
    }

    fn format(&self) -> Format {
        let has = |name| self.cells.contains(&name);
        if has("STATION") && has("DATE") && ["TMAX", "TMIN", "TAVG", "PRCP"].into_iter().any(has) {
            Format::GhcnCsv
        } else {
            Format::Csv
        }
    }
}

struct Raw {
    line: usize,
    stamp: Stamp,
    timed: bool,
    values: [Option<f64>; 5],
}

/// The first line that names both a date and a temperature.
pub(super) fn heads(text: &str) -> Result<Heads<'_>, FileError> {
    let mut most_like: Option<(usize, usize, &str)> = None;
    for (line, said) in (1..).zip(text.lines()).take(PREAMBLE) {
        let said = said.trim_start_matches('#').trim();
        let separator = cells::separator(said);
        let cells = cells::split(said, separator);
        let columns: Vec<_> = cells.iter().map(|c| column(c)).collect();
        let has = |c| columns.contains(&Some(c));
        let dated = has(Column::Date)
            || [Column::Year, Column::Month, Column::DayOfMonth]
                .into_iter()
                .all(has);
        if dated
            && [Column::Mean, Column::Min, Column::Max]
                .into_iter()
                .any(has)
        {
            return Ok(Heads {
                line,
                separator,
                cells,
                columns,
            });
        }
        if !said.is_empty() && most_like.is_none_or(|(n, _, _)| cells.len() > n) {
            most_like = Some((cells.len(), line, said));
        }
    }
    let (_, line, read) = most_like.ok_or(FileError::Empty)?;
    Err(FileError::NoHeadings {
        line,
        read: read.chars().take(60).collect(),
    })
}

/// Reads all rows below the headings.
pub(super) fn read(
    text: &str,
    heads: &Heads<'_>,
    notes: &mut Vec<Note>,
) -> Result<(Format, Vec<Row>, Option<String>), FileError> {
    once_each(heads)?;
    let (mut raws, mut station, mut missing, mut flagged) = (Vec::new(), None, 0, 0);
    for (line, said) in cells::lines(text).filter(|(line, _)| *line > heads.line) {
        let cells = cells::split(said, heads.separator);
        if cells.len() < heads.cells.len().min(2) || cells.iter().all(|c| c.is_empty()) {
            return Err(FileError::Short {
                line,
                found: cells.len(),
                wanted: heads.cells.len(),
                of: "cells",
            });
        }
        if let Some(second) = heads.at(Column::Station).and_then(|at| cells.get(at)) {
            let first: &String = station.get_or_insert_with(|| (*second).to_owned());
            if first != second {
                return Err(FileError::Stations {
                    line,
                    first: first.clone(),
                    second: (*second).to_owned(),
                });
            }
        }
        let (stamp, timed) = date(line, heads, &cells)?;
        let mut values = [None; 5];
        for (value, column) in values.iter_mut().zip(SERIES) {
            let Some(at) = heads.at(column) else { continue };
            let cell = cells.get(at).copied().unwrap_or_default();
            if is_flagged(heads, &cells, at) {
                flagged += 1;
                continue;
            }
            // Trace: too little to measure.
            if column == Column::Rain && matches!(cell, "T" | "trace" | "Trace") {
                *value = Some(0.0);
                continue;
            }
            *value = cells::number(cell).map_err(|()| FileError::NotANumber {
                line,
                column: heads.cells[at].to_owned(),
                value: cell.chars().take(40).collect(),
            })?;
            missing += usize::from(value.is_none());
        }
        raws.push(Raw {
            line,
            stamp,
            timed,
            values,
        });
    }
    if raws.is_empty() {
        return Err(FileError::NoDays);
    }
    let days = resolve(&raws)?;
    let units = decide(heads, &raws, &days, notes)?;
    let mut rows = Vec::with_capacity(raws.len());
    for (raw, day) in raws.iter().zip(days) {
        let seen = convert(heads, raw, &units, &mut missing)?;
        rows.push(Row {
            line: raw.line,
            day,
            timed: raw.timed,
            seen,
        });
    }
    notes.extend((missing > 0).then_some(Note::Missing { cells: missing }));
    notes.extend((flagged > 0).then_some(Note::Flagged { cells: flagged }));
    Ok((heads.format(), rows, station))
}

fn once_each(heads: &Heads<'_>) -> Result<(), FileError> {
    let what = ["mean", "minimum", "maximum", "rain", "radiation"];
    for (column, what) in SERIES.into_iter().zip(what) {
        let mut named = (heads.columns.iter().zip(&heads.cells))
            .filter(|(c, _)| **c == Some(column))
            .map(|(_, cell)| (*cell).to_owned());
        if let (Some(first), Some(second)) = (named.next(), named.next()) {
            return Err(FileError::TwoColumns {
                line: heads.line,
                what,
                first,
                second,
            });
        }
    }
    Ok(())
}

fn date(line: usize, heads: &Heads<'_>, cells: &[&str]) -> Result<(Stamp, bool), FileError> {
    let all = |c| {
        (heads.columns.iter().zip(cells))
            .filter_map(move |(&head, &cell)| (head == Some(c)).then_some(cell))
    };
    let has_hour = heads.at(Column::Hour).is_some();
    let clock = all(Column::Date).any(|c| c.contains(':'));
    let read = all(Column::Date).find_map(cells::stamp);
    if let Some((stamp, timed)) = read {
        return Ok((stamp, timed || clock || has_hour));
    }
    let part = |c| all(c).next().unwrap_or_default();
    let ymd = [Column::Year, Column::Month, Column::DayOfMonth].map(part);
    let stamp = match (ymd[0].parse(), ymd[1].parse(), ymd[2].parse()) {
        (Ok(y), Ok(m), Ok(d)) => Some(Stamp::Ymd(y, m, d)),
        _ => None,
    };
    stamp.map(|s| (s, has_hour)).ok_or_else(|| FileError::Date {
        line,
        value: if ymd[0].is_empty() {
            part(Column::Date).chars().take(40).collect()
        } else {
            ymd.join("-")
        },
    })
}

/// GHCN-Daily: "measurement, quality, source" beside the element; a quality letter means it failed.
fn is_flagged(heads: &Heads<'_>, cells: &[&str], at: usize) -> bool {
    let next = heads.cells.get(at + 1);
    next.is_some_and(|h| h.strip_suffix("_ATTRIBUTES") == Some(heads.cells[at]))
        && cells
            .get(at + 1)
            .and_then(|c| c.split(',').nth(1))
            .is_some_and(|q| !q.trim().is_empty())
}

fn resolve(raws: &[Raw]) -> Result<Vec<Day>, FileError> {
    let open = |of: fn(u32, u32) -> bool| {
        raws.iter()
            .any(|r| matches!(r.stamp, Stamp::Open(a, b, _) if of(a, b)))
    };
    let order = match (open(|a, _| a > 12), open(|_, b| b > 12)) {
        (true, _) => Some(Order::DayFirst),
        (false, true) => Some(Order::MonthFirst),
        (false, false) => None,
    };
    raws.iter()
        .map(|r| {
            let value = |()| match r.stamp {
                Stamp::Ymd(y, m, d) => format!("{y:04}-{m:02}-{d:02}"),
                Stamp::Open(a, b, y) => format!("{a:02}/{b:02}/{y}"),
            };
            let line = r.line;
            match (r.stamp, order) {
                (Stamp::Open(..), None) => Err(FileError::DateOrder {
                    line,
                    value: value(()),
                }),
                (stamp, order) => {
                    cells::day(stamp, order.unwrap_or(Order::DayFirst)).ok_or_else(|| {
                        FileError::Date {
                            line,
                            value: value(()),
                        }
                    })
                }
            }
        })
        .collect()
}

/// A unit for each of the five series.
fn decide(
    heads: &Heads<'_>,
    raws: &[Raw],
    days: &[Day],
    notes: &mut Vec<Note>,
) -> Result<[Unit; 5], FileError> {
    let told = SERIES.map(|c| heads.at(c).and_then(|at| unit(heads.cells[at], c)));
    let most = |i: usize| {
        raws.iter()
            .filter_map(|r| r.values[i])
            .fold(f64::MIN, f64::max)
    };
    let ghcn = heads.format() == Format::GhcnCsv;
    let untold: Vec<f64> = (0..3)
        .filter(|&i| told[i].is_none())
        .flat_map(|i| raws.iter().filter_map(move |r| r.values[i]))
        .filter(|v| *v != 99.9)
        .collect();
    let inferred = if untold.is_empty() {
        Unit::Celsius
    } else {
        let ranges: Vec<f64> = raws
            .iter()
            .filter_map(|r| Some(r.values[2]? - r.values[1]?))
            .collect();
        let (first, last) = (days.iter().min(), days.iter().max());
        units::temperature(units::Hints {
            least: untold.iter().copied().fold(f64::MAX, f64::min),
            most: untold.iter().copied().fold(f64::MIN, f64::max),
            range: (!ranges.is_empty() && told[1].is_none() && told[2].is_none())
                .then(|| ranges.iter().sum::<f64>() / ranges.len() as f64),
            whole: untold.iter().all(|v| v.fract() == 0.0),
            span_days: last.zip(first).map_or(0, |(l, f)| *l - *f),
            ghcn,
        })?
    };
    let beside = told[..3]
        .iter()
        .flatten()
        .next()
        .copied()
        .unwrap_or(inferred);
    let units = [
        told[0].unwrap_or(inferred),
        told[1].unwrap_or(inferred),
        told[2].unwrap_or(inferred),
        told[3].unwrap_or_else(|| units::rain(beside, most(3), ghcn)),
        told[4].unwrap_or_else(|| units::radiation(most(4))),
    ];
    for (i, column) in SERIES.into_iter().enumerate() {
        if let Some(at) = heads.at(column) {
            notes.push(Note::Unit {
                column: heads.cells[at].to_owned(),
                unit: units[i],
                told: told[i].is_some(),
            });
        }
    }
    for (head, column) in heads.cells.iter().zip(&heads.columns) {
        if column.is_none() && !head.is_empty() {
            notes.push(Note::Ignored {
                column: (*head).to_owned(),
            });
        }
    }
    Ok(units)
}

fn convert(
    heads: &Heads<'_>,
    raw: &Raw,
    units: &[Unit; 5],
    missing: &mut usize,
) -> Result<ObservedDay, FileError> {
    let mut values = [None; 5];
    for (i, column) in SERIES.into_iter().enumerate() {
        let range = match column {
            Column::Rain => DAY_RAIN,
            Column::Radiation => DAY_SUN,
            _ => AIR_C,
        };
        values[i] = match raw.values[i] {
            // A mark of missing in °C; in °F it is a hot day.
            Some(99.9) if units[i] == Unit::Celsius => {
                *missing += 1;
                None
            }
            Some(v) => Some(range.check(units[i].convert(v)).map_err(|why| {
                FileError::OutOfRange {
                    line: raw.line,
                    column: heads
                        .at(column)
                        .map_or_else(String::new, |at| heads.cells[at].to_owned()),
                    why,
                }
            })?),
            None => None,
        };
    }
    Ok(ObservedDay {
        mean_c: values[0],
        min_c: values[1],
        max_c: values[2],
        rain_mm: values[3],
        radiation_mj: values[4],
    })
}
