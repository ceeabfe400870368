//! Hours of heat, plain and weighted.
//!
//! Plain: time at 55 °C or more. Weighted: F = Σ Δt · 10^((T−55)/z), T ≥ 50 °C counted, T capped at 70, z = 7.142857:
//! the slope 0.14 per °C of D(d) = 131 700 000 / 10^(0.14 t), the Class A equation of US 40 CFR 503 (seen in 15A NCAC
//! 02T .1106). On a straight line the integral is exact. Kill: L = F / 0.833 h, D₅₅ of *E. coli* warmed slowly
//! (Singh, Jiang & Luo 2010, seen; computed 50 min), z as above. All curves of kill tail; L tells little above 5.
//! The weight rewards short peaks more than any rule does: grade on the worse of both.

use super::course::{Course, Piece};

/// °C of the plain hours.
pub const HOT_C: f64 = 55.0;
/// °C from which weighted hours count, and beyond which they weigh no more.
pub const COUNTED_C: f64 = 50.0;
/// See [`COUNTED_C`].
pub const CAP_C: f64 = 70.0;
/// °C for a tenfold kill: 1/0.14.
pub const Z_C: f64 = 7.142_857;
/// D at 55 °C, h.
pub const D55_H: f64 = 50.0 / 60.0;
/// Hours at 55 °C that the yardstick asks for (PFRP; EFSA 2024).
pub const YARDSTICK_H: f64 = 72.0;

/// Days of the Class A equation at a temperature.
#[must_use]
pub fn class_a_days(celsius: f64) -> f64 {
    131_700_000.0 / 10_f64.powf(0.14 * celsius)
}

/// Time at least so warm, h.
#[must_use]
pub fn plain(course: &Course, least: f64) -> f64 {
    course
        .pieces
        .iter()
        .filter_map(|p| p.above(least))
        .map(|(from, to)| to - from)
        .fold(0.0, |a, b| a + b)
}

/// Weighted hours of a line that stays within 50 to 70 °C.
fn on_a_line(hours: f64, t0: f64, t1: f64) -> f64 {
    let weight = |t: f64| 10_f64.powf((t - HOT_C) / Z_C);
    if (t1 - t0).abs() < 1e-9 {
        hours * weight(t0)
    } else {
        hours / (t1 - t0) * Z_C / std::f64::consts::LN_10 * (weight(t1) - weight(t0))
    }
}

fn weighted_piece(piece: &Piece) -> f64 {
    let Some((from, to)) = piece.above(COUNTED_C) else {
        return 0.0;
    };
    let ((h0, h1), (t0, t1)) = (piece.hours, piece.celsius);
    let at = |h: f64| {
        if h1 > h0 {
            t0 + (t1 - t0) * (h - h0) / (h1 - h0)
        } else {
            t0
        }
    };
    let capped = piece.above(CAP_C);
    let beyond = capped.map_or(0.0, |(a, b)| b - a);
    // What lies under the cap is one stretch, before or behind what lies beyond it.
    let under = match capped {
        None => Some((from, to)),
        Some((a, b)) if a > from => Some((from, a.min(to))).filter(|_| b >= to),
        Some((_, b)) => Some((b, to)),
    };
    let below = under.map_or(0.0, |(a, b)| on_a_line(b - a, at(a), at(b)));
    below + on_a_line(beyond, CAP_C, CAP_C)
}

/// Weighted hours at 55 °C.
#[must_use]
pub fn weighted(course: &Course) -> f64 {
    course
        .pieces
        .iter()
        .map(weighted_piece)
        .fold(0.0, |a, b| a + b)
}

/// Tenfold kills of the marker, from weighted hours.
#[must_use]
pub fn log_reduction(weighted: f64) -> f64 {
    weighted / D55_H
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::heat_record::{Place, Reading};

    fn course(points: &[(f64, f64)]) -> Course {
        let readings: Vec<Reading> = points
            .iter()
            .map(|&(hour, celsius)| Reading {
                hour,
                celsius,
                place: Place::Core,
            })
            .collect();
        Course::of(&readings, |_| true)
    }

    #[test]
    fn a_slope_is_summed_as_finely_as_one_likes() {
        for (t0, t1) in [
            (40.0, 80.0),
            (80.0, 40.0),
            (52.0, 66.0),
            (72.0, 78.0),
            (60.0, 60.0),
        ] {
            let whole = weighted(&course(&[(0.0, t0), (24.0, t1)]));
            let steps = 200_000;
            let sum: f64 = (0..steps)
                .map(|i| t0 + (t1 - t0) * (f64::from(i) + 0.5) / f64::from(steps))
                .filter(|t| *t >= COUNTED_C)
                .map(|t| 10_f64.powf((t.min(CAP_C) - HOT_C) / Z_C) * 24.0 / f64::from(steps))
                .sum();
            assert!(
                (whole - sum).abs() < 1e-3 * sum.max(1.0),
                "{t0} to {t1}: {whole}, {sum}"
            );
        }
    }
}
