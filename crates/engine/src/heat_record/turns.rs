//! Turnings between hot spells, and the share of the mass that was never in the heat.
//!
//! f^n: f part of the mass outside the hot zone at each turning, n turnings between hot spells (Haug 1993, recalled).
//! A hot spell is 3 days or more at 55 °C; turnings without a hot spell before and behind them do not count. For a
//! drum f is 0.3 to 0.5 (judged). An unturned heap that held 50 °C for 7 days kept *E. coli* O157 at its surface for
//! up to 4 months (Shepherd et al., abstract seen): without turnings, hours mean little.

use super::course::Course;
use super::hours::HOT_C;

/// Least length of a hot spell, h.
pub const SPELL_H: f64 = 72.0;
/// Share outside the hot zone at each turning: low, middle, high.
pub const COOL: [f64; 3] = [0.3, 0.4, 0.5];
/// Turnings closer than this are one, h (choice: five times round is one turning).
const ONE_H: f64 = 6.0;

/// Times of turnings, those of one go taken together.
#[must_use]
pub fn occasions(turns: &[f64]) -> Vec<f64> {
    let mut all: Vec<f64> = turns.iter().copied().filter(|t| t.is_finite()).collect();
    all.sort_by(f64::total_cmp);
    let mut apart: Vec<f64> = Vec::new();
    for turn in all {
        if apart.last().is_none_or(|last| turn - last >= ONE_H) {
            apart.push(turn);
        }
    }
    apart
}

/// How many turnings have a hot spell on both sides.
#[must_use]
pub fn between(course: &Course, occasions: &[f64]) -> usize {
    let mut spells: Vec<usize> = course
        .stretches(HOT_C, occasions)
        .into_iter()
        .filter(|(from, to)| to - from >= SPELL_H - 1e-9)
        .map(|(from, _)| occasions.iter().filter(|t| **t <= from).count())
        .collect();
    spells.dedup();
    spells.len().saturating_sub(1)
}

/// How many of the turnings lie so many days apart, counted from the first.
#[must_use]
pub fn apart(occasions: &[f64], days: f64) -> usize {
    let mut last = f64::NEG_INFINITY;
    occasions
        .iter()
        .filter(|t| {
            let counts = **t - last >= days * 24.0 - 1e-9;
            if counts {
                last = **t;
            }
            counts
        })
        .count()
}

/// Share never in the heat after so many turnings.
#[must_use]
pub fn never_heated(cool: f64, turns: usize) -> f64 {
    cool.powi(i32::try_from(turns).unwrap_or(i32::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::heat_record::{Place, Reading};

    #[test]
    fn only_turnings_between_hot_spells_count() {
        let daily = |celsius: &dyn Fn(usize) -> f64| {
            let readings: Vec<Reading> = (0..30)
                .map(|day| Reading {
                    hour: day as f64 * 24.0,
                    celsius: celsius(day),
                    place: Place::Core,
                })
                .collect();
            Course::of(&readings, |_| true)
        };
        let hot = daily(&|_| 60.0);
        let every = |days: usize| -> Vec<f64> {
            (1..29)
                .step_by(days)
                .map(|d| d as f64 * 24.0 + 1.0)
                .collect()
        };
        assert_eq!(between(&hot, &[]), 0);
        assert_eq!(
            between(&hot, &every(4)),
            6,
            "seven turnings; one hot day before the first"
        );
        assert_eq!(
            between(&hot, &every(2)),
            0,
            "no spell of three days between them"
        );
        assert_eq!(between(&daily(&|_| 40.0), &every(4)), 0);
    }

    #[test]
    fn five_times_round_is_one_turning() {
        assert_eq!(occasions(&[30.0, 10.0, 10.1, 10.2]), [10.0, 30.0]);
        assert_eq!(apart(&[0.0, 24.0, 72.0, 150.0], 3.0), 3);
    }
}
