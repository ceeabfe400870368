//! What moved a date: the difference between two forecasts, in days, cause by cause.
//!
//! The forecast is run again after each cause in turn, in the order things happened; a cause's part is the step of the
//! median that it made. Parts add up to the whole by construction. Two causes that work together are shared by
//! their order: the later one gets what they do jointly.

use serde::{Deserialize, Serialize};

/// What may move a date.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Cause {
    /// Weather became known.
    Weather,
    /// A reading.
    Reading,
    /// Something was put in, taken out or wetted.
    Addition,
    /// A turning.
    Turning,
    /// The model or its settings changed.
    Model,
}

/// One cause and its part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    /// What.
    pub cause: Cause,
    /// Days later; negative is sooner. Infinite from a date to "not by the horizon".
    pub days: f64,
}

/// A move.
#[derive(Debug, Clone, PartialEq)]
pub struct Moved {
    /// The median before, in days since the first feed.
    pub before: f64,
    /// The median after.
    pub after: f64,
    /// Parts, in the order of the re-runs; a cause named twice is one part.
    pub parts: Vec<Part>,
}

impl Moved {
    /// Days later in all.
    #[must_use]
    pub fn days(&self) -> f64 {
        step(self.before, self.after)
    }
}

/// From one median to the next; two that are both beyond the horizon are the same.
fn step(from: f64, to: f64) -> f64 {
    if from == to { 0.0 } else { to - from }
}

/// Attributes a move: `before`, then the median after each cause.
#[must_use]
pub fn moved(before: f64, steps: &[(Cause, f64)]) -> Moved {
    let mut parts: Vec<Part> = Vec::new();
    let mut at = before;
    for &(cause, to) in steps {
        let days = step(at, to);
        match parts.iter_mut().find(|p| p.cause == cause) {
            Some(part) => part.days += days,
            None => parts.push(Part { cause, days }),
        }
        at = to;
    }
    Moved {
        before,
        after: at,
        parts,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_add_up() {
        let m = moved(
            100.0,
            &[
                (Cause::Weather, 104.5),
                (Cause::Reading, 90.0),
                (Cause::Weather, 91.0),
                (Cause::Addition, 120.0),
            ],
        );
        assert_eq!(m.parts.len(), 3);
        assert_eq!(
            m.parts[0],
            Part {
                cause: Cause::Weather,
                days: 5.5
            }
        );
        assert_eq!(m.parts[1].days, -14.5);
        let sum: f64 = m.parts.iter().map(|p| p.days).sum();
        assert!((sum - m.days()).abs() < 1e-12);
        assert_eq!(m.days(), 20.0);
    }

    #[test]
    fn beyond_the_horizon_is_said_so() {
        let never = f64::INFINITY;
        let m = moved(never, &[(Cause::Weather, never), (Cause::Reading, 200.0)]);
        assert_eq!(m.parts[0].days, 0.0);
        assert_eq!(m.parts[1].days, f64::NEG_INFINITY);
        assert_eq!(moved(50.0, &[]).days(), 0.0);
    }
}
