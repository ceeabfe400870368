//! Readings to a course: straight lines between readings at most 24 h apart; what lies beyond is unknown.
//!
//! The peak of the day is never held: a single daily reading at noon already flatters (judged). Ignores what a probe
//! cannot see, which is all but a hand's breadth of the mass.

/// Longest gap that a line bridges, h (choice: readings once a day).
pub const BRIDGED_H: f64 = 24.0;

/// Where a probe stood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// In the middle.
    Core,
    /// A hand's breadth from the wall.
    Shell,
    /// Not said; it stands with the core and claims nothing for the shell.
    Unknown,
}

/// One logged temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Hours since the batch began.
    pub hour: f64,
    /// °C.
    pub celsius: f64,
    /// Where.
    pub place: Place,
}

/// A straight piece between two readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// Hours at its ends.
    pub hours: (f64, f64),
    /// °C at its ends.
    pub celsius: (f64, f64),
}

impl Piece {
    /// Its length, h.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.hours.1 - self.hours.0
    }

    /// The part of it, as hours, that is at least so warm.
    #[must_use]
    pub fn above(&self, least: f64) -> Option<(f64, f64)> {
        let ((h0, h1), (t0, t1)) = (self.hours, self.celsius);
        if t0 >= least && t1 >= least {
            return Some((h0, h1));
        }
        if t0 < least && t1 < least {
            return None;
        }
        let at = h0 + (least - t0) / (t1 - t0) * (h1 - h0);
        Some(if t1 > t0 { (at, h1) } else { (h0, at) })
    }
}

/// The course of one place.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Course {
    /// Pieces in order of time.
    pub pieces: Vec<Piece>,
    /// How many readings it rests on.
    pub readings: usize,
    /// Warmest reading, °C.
    pub warmest: Option<f64>,
}

impl Course {
    /// Of the readings that `belong`; readings of one hour keep the order they were given in.
    #[must_use]
    pub fn of(readings: &[Reading], belong: impl Fn(Place) -> bool) -> Self {
        let mut ours: Vec<&Reading> = readings
            .iter()
            .filter(|r| belong(r.place) && r.hour.is_finite() && r.celsius.is_finite())
            .collect();
        ours.sort_by(|a, b| a.hour.total_cmp(&b.hour));
        let pieces = ours
            .windows(2)
            .filter(|w| w[1].hour - w[0].hour <= BRIDGED_H + 1e-9)
            .map(|w| Piece {
                hours: (w[0].hour, w[1].hour),
                celsius: (w[0].celsius, w[1].celsius),
            })
            .collect();
        Self {
            pieces,
            readings: ours.len(),
            warmest: ours.iter().map(|r| r.celsius).max_by(f64::total_cmp),
        }
    }

    /// Hours that are known.
    #[must_use]
    pub fn known(&self) -> f64 {
        self.pieces
            .iter()
            .map(Piece::length)
            .fold(0.0, |a, b| a + b)
    }

    /// Stretches without a break that are at least so warm; `cuts` break them too.
    #[must_use]
    pub fn stretches(&self, least: f64, cuts: &[f64]) -> Vec<(f64, f64)> {
        let mut all: Vec<(f64, f64)> = Vec::new();
        for (mut from, to) in self.pieces.iter().filter_map(|p| p.above(least)) {
            for cut in cuts
                .iter()
                .filter(|c| **c > from && **c < to)
                .copied()
                .collect::<Vec<_>>()
            {
                extend(&mut all, (from, cut), cuts);
                from = cut;
            }
            extend(&mut all, (from, to), cuts);
        }
        all
    }
}

/// Joins a part to the last stretch if they touch and no cut lies between.
fn extend(all: &mut Vec<(f64, f64)>, part: (f64, f64), cuts: &[f64]) {
    match all.last_mut() {
        Some(last) if (part.0 - last.1).abs() < 1e-9 && !cuts.contains(&part.0) => last.1 = part.1,
        _ => all.push(part),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn core(points: &[(f64, f64)]) -> Course {
        let readings: Vec<Reading> = points
            .iter()
            .map(|&(hour, celsius)| Reading {
                hour,
                celsius,
                place: Place::Core,
            })
            .collect();
        Course::of(&readings, |p| p == Place::Core)
    }

    #[test]
    fn a_long_gap_is_unknown_and_a_day_is_not() {
        let course = core(&[(0.0, 50.0), (24.0, 60.0), (49.0, 60.0), (60.0, 60.0)]);
        assert_eq!(course.pieces.len(), 2);
        assert!((course.known() - 35.0).abs() < 1e-9);
        let hot = course.stretches(55.0, &[]);
        assert_eq!(
            hot,
            [(12.0, 24.0), (49.0, 60.0)],
            "half of the rising day, and the end"
        );
    }

    #[test]
    fn a_turning_parts_a_stretch() {
        let course = core(&[(0.0, 60.0), (24.0, 60.0), (48.0, 60.0)]);
        assert_eq!(course.stretches(55.0, &[]), [(0.0, 48.0)]);
        assert_eq!(course.stretches(55.0, &[24.0]), [(0.0, 24.0), (24.0, 48.0)]);
        assert_eq!(course.stretches(55.0, &[30.0]), [(0.0, 30.0), (30.0, 48.0)]);
    }
}
