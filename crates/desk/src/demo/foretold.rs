//! Forecasts as given when each invented batch was closed: worked out once, by `examples/demo_batches.rs`, from the
//! entries up to that day, and kept as they were given then.

use jiff::Timestamp;
use jiff::civil::Date;
use journal::{Foretold, ForetoldRung};

const TABLE: &str = include_str!("foretold.csv");

/// Every forecast with its moment, oldest first.
pub(super) fn all() -> Vec<(Timestamp, Foretold)> {
    let mut all: Vec<(Timestamp, Foretold)> = Vec::new();
    for line in TABLE.lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let [
            at,
            chamber,
            readings,
            rung,
            early,
            middle,
            late,
            p5,
            p50,
            p95,
            drum,
        ] = cells[..]
        else {
            continue;
        };
        let Ok(at) = at.parse::<Timestamp>() else {
            continue;
        };
        let date = |cell: &str| cell.parse::<Date>().ok();
        if all.last().is_none_or(|(then, _)| *then != at) {
            let drum = drum.split(';').filter_map(|one| {
                let mut words = one.split(' ');
                let name = words.next()?.to_owned();
                let (mean, sd) = (words.next()?.parse().ok()?, words.next()?.parse().ok()?);
                Some((name, [mean, sd]))
            });
            all.push((
                at,
                Foretold {
                    chamber: chamber.to_owned(),
                    readings: readings.parse().unwrap_or_default(),
                    rungs: Vec::new(),
                    drum: drum.collect(),
                },
            ));
        }
        if let Some((_, foretold)) = all.last_mut() {
            foretold.rungs.push(ForetoldRung {
                rung: rung.to_owned(),
                early: date(early),
                middle: date(middle),
                late: date(late),
                days: [p5, p50, p95].map(|d| d.parse().ok()),
            });
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_of_the_table_is_read() {
        let all = all();
        assert_eq!(all.len(), 6);
        let rows: usize = all.iter().map(|(_, f)| f.rungs.len()).sum();
        assert_eq!(rows, TABLE.lines().count() - 1);
        assert!(all.iter().all(|(_, f)| f.drum.len() >= 7));
        assert!(all.is_sorted_by_key(|(at, _)| *at));
    }
}
