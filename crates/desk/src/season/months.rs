//! Weeks of many runs as months of one strip.

use engine::season::{Course, Problem, WEEKS};
use jiff::ToSpan as _;
use jiff::civil::Date;
use units::Spread;

use super::facts::MonthFacts;

/// Litres that count as empty (choice).
const EMPTY_L: f64 = 1.0;

fn at(sorted: &[f64], share: f64) -> f64 {
    let last = sorted.len().saturating_sub(1);
    sorted
        .get((last as f64 * share).round() as usize)
        .copied()
        .unwrap_or_default()
}

/// Each chamber in each of twelve months, from the one in which the first week ends.
pub(super) fn of(
    problem: &Problem,
    courses: &[Course],
    today: Date,
    names: &[String],
) -> Vec<MonthFacts> {
    let end = |w: usize| today.saturating_add((w as i64 * 7 + 6).days());
    let mut all = Vec::new();
    // Late in a month the first week ends in the next: the year begins there.
    let mut month = end(0).first_of_month();
    for _ in 0..12 {
        let weeks: Vec<usize> = (0..WEEKS)
            .filter(|w| end(*w).first_of_month() == month)
            .collect();
        // A last week that runs into the next month still shows where this one ends.
        let Some((last, middle)) = weeks.last().zip(weeks.get(weeks.len() / 2)) else {
            month = month.saturating_add(1.months());
            continue;
        };
        for (k, name) in names.iter().enumerate() {
            let mut litres: Vec<f64> = courses.iter().map(|c| c.level[k][*last]).collect();
            litres.sort_by(f64::total_cmp);
            let level_l = Spread::new(at(&litres, 0.1), at(&litres, 0.5), at(&litres, 0.9));
            let fills = courses
                .iter()
                .filter(|c| c.fills[*middle] == Some(k))
                .count();
            let emptied = courses
                .iter()
                .filter(|c| {
                    c.changes
                        .iter()
                        .any(|w| weeks.contains(w) && c.fills[*w] == Some(k))
                })
                .count();
            all.push(MonthFacts {
                month,
                chamber: name.clone(),
                state: if fills * 2 > problem.years.len() {
                    "filling"
                } else if level_l.mid < EMPTY_L {
                    "empty"
                } else {
                    "closed"
                },
                level_l,
                emptied: (emptied as f64 / courses.len().max(1) as f64 * 20.0).round() as usize,
            });
        }
        month = month.saturating_add(1.months());
    }
    all
}
