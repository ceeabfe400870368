//! From rows to days: hours gathered, slips found, gaps listed.

use std::collections::BTreeMap;

use units::Range;

use super::error::FileError;
use super::{Gap, Note, Series};
use crate::climate::calendar::Day;
use crate::climate::weather::{Observed, ObservedDay};

/// Air temperature; records on land are −89 and 57 °C (WMO archive, recalled).
pub(super) const AIR_C: Range = Range {
    name: "air temperature",
    unit: "°C",
    least: -90.0,
    most: 60.0,
};
/// Rain of a day; the record is 1,825 mm (WMO archive, recalled).
pub(super) const DAY_RAIN: Range = Range {
    name: "rain of a day",
    unit: "mm",
    least: 0.0,
    most: 2000.0,
};
/// Radiation of a day, or hourly as if it held all day: 1,500 W/m² is 130.
pub(super) const DAY_SUN: Range = Range {
    name: "radiation",
    unit: "MJ/m²·d",
    least: 0.0,
    most: 130.0,
};
/// A day counts if it has this share of the readings that a day of the file usually has (judged).
const ENOUGH: f64 = 0.75;

/// One line, in our units.
#[derive(Debug, Clone, Copy)]
pub(super) struct Row {
    pub(super) line: usize,
    pub(super) day: Day,
    pub(super) timed: bool,
    pub(super) seen: ObservedDay,
}

/// Days, gaps and notes of a file's rows.
pub(super) fn gather(
    rows: &[Row],
    notes: &mut Vec<Note>,
) -> Result<(Observed, Vec<Gap>), FileError> {
    let mut by_day: BTreeMap<Day, Vec<&Row>> = BTreeMap::new();
    for row in rows {
        by_day.entry(row.day).or_default().push(row);
    }
    let timed = by_day
        .values()
        .any(|r| r.len() > 1 && r.iter().all(|r| r.timed));
    let mut days: BTreeMap<Day, (usize, ObservedDay)> = if timed {
        by_hour(&by_day, notes)
    } else {
        let mut days = BTreeMap::new();
        for (&day, rows) in &by_day {
            if let [first, again, ..] = rows[..] {
                return Err(FileError::Twice {
                    line: again.line,
                    day,
                    before: first.line,
                });
            }
            days.insert(day, (rows[0].line, rows[0].seen));
        }
        days
    };
    order(&mut days, notes)?;
    let days: Observed = days
        .into_iter()
        .map(|(day, (_, seen))| (day, seen))
        .collect();
    if !days.values().any(|o| o.mean().is_some()) {
        return Err(FileError::NoDays);
    }
    let gaps = gaps(&days);
    Ok((days, gaps))
}

fn by_hour(
    by_day: &BTreeMap<Day, Vec<&Row>>,
    notes: &mut Vec<Note>,
) -> BTreeMap<Day, (usize, ObservedDay)> {
    let mut counts: Vec<usize> = by_day.values().map(Vec::len).collect();
    counts.sort_unstable();
    let enough = (ENOUGH * counts[counts.len() / 2] as f64).ceil() as usize;
    let mut thin = 0;
    let mut days = BTreeMap::new();
    for (&day, rows) in by_day {
        let values = |of: fn(&ObservedDay) -> Option<f64>| -> Option<Vec<f64>> {
            let all: Vec<f64> = rows.iter().filter_map(|r| of(&r.seen)).collect();
            (all.len() >= enough && !all.is_empty()).then_some(all)
        };
        let mean = |all: &[f64]| all.iter().sum::<f64>() / all.len() as f64;
        let air = values(|o| o.mean_c);
        if air.is_none() && rows.iter().any(|r| r.seen.mean_c.is_some()) {
            thin += 1;
        }
        let seen = ObservedDay {
            mean_c: air.as_deref().map(mean),
            min_c: air
                .as_ref()
                .map(|a| a.iter().copied().fold(f64::MAX, f64::min)),
            max_c: air
                .as_ref()
                .map(|a| a.iter().copied().fold(f64::MIN, f64::max)),
            radiation_mj: values(|o| o.radiation_mj).as_deref().map(mean),
            rain_mm: values(|o| o.rain_mm).map(|a| a.iter().sum()),
        };
        days.insert(day, (rows[0].line, seen));
    }
    if thin > 0 {
        notes.push(Note::ThinDays {
            days: thin,
            readings: enough,
        });
    }
    days
}

/// Minimum above maximum: refused when it is the rule, else that day's pair is dropped and noted.
fn order(
    days: &mut BTreeMap<Day, (usize, ObservedDay)>,
    notes: &mut Vec<Note>,
) -> Result<(), FileError> {
    let both = |o: &ObservedDay| o.min_c.zip(o.max_c);
    let pairs = days.values().filter(|(_, o)| both(o).is_some()).count();
    let wrong: Vec<(usize, f64, f64)> = days
        .values()
        .filter_map(|(line, o)| both(o).map(|(min, max)| (*line, min, max)))
        .filter(|(_, min, max)| min > max)
        .collect();
    if let Some(&(line, min, max)) = wrong.first()
        && wrong.len() * 10 >= pairs * 9
        && pairs > 1
    {
        return Err(FileError::Swapped {
            line,
            min,
            max,
            days: wrong.len(),
            of: pairs,
        });
    }
    for (line, seen) in days.values_mut() {
        if both(seen).is_some_and(|(min, max)| min > max) {
            notes.push(Note::MinOverMax { line: *line });
            (seen.min_c, seen.max_c) = (None, None);
        }
        // A mean outside its own minimum and maximum is another clock's day; the pair is kept.
        if let (Some(mean), Some((min, max))) = (seen.mean_c, both(seen))
            && !(min..=max).contains(&mean)
        {
            notes.push(Note::MeanOutside { line: *line });
            seen.mean_c = None;
        }
    }
    Ok(())
}

fn gaps(days: &Observed) -> Vec<Gap> {
    let mut all = Vec::new();
    let (Some((&first, _)), Some((&last, _))) = (days.first_key_value(), days.last_key_value())
    else {
        return all;
    };
    for series in [Series::Temperature, Series::Radiation, Series::Rain] {
        let has = |o: &ObservedDay| match series {
            Series::Temperature => o.mean().is_some(),
            Series::Radiation => o.radiation_mj.is_some(),
            Series::Rain => o.rain_mm.is_some(),
        };
        // A series that the file does not carry at all is no gap.
        if !days.values().any(has) {
            continue;
        }
        let mut open = first;
        for (&day, _) in days.iter().filter(|(_, o)| has(o)) {
            if day > open {
                all.push(Gap {
                    series,
                    first: open,
                    last: day + -1,
                });
            }
            open = day + 1;
        }
        if open <= last {
            all.push(Gap {
                series,
                first: open,
                last,
            });
        }
    }
    all
}
