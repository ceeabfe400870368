//! A number with its doubt: the 5, 50 and 95 % points.

use serde::{Deserialize, Serialize};

/// Low, middle and high (5, 50, 95 %).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// 5 % point.
    pub low: f64,
    /// Middle: the value at typical figures.
    pub mid: f64,
    /// 95 % point.
    pub high: f64,
}

impl Spread {
    /// A number without doubt.
    #[must_use]
    pub fn exact(value: f64) -> Self {
        Self {
            low: value,
            mid: value,
            high: value,
        }
    }

    /// Three points; the ends are widened where rounding or skew would leave the middle outside.
    #[must_use]
    pub fn new(low: f64, mid: f64, high: f64) -> Self {
        Self {
            low: low.min(mid),
            mid,
            high: high.max(mid),
        }
    }

    /// Every point times a positive factor.
    #[must_use]
    pub fn scale(self, factor: f64) -> Self {
        Self {
            low: self.low * factor,
            mid: self.mid * factor,
            high: self.high * factor,
        }
    }

    /// Whether all three points are finite.
    #[must_use]
    pub fn is_finite(self) -> bool {
        self.low.is_finite() && self.mid.is_finite() && self.high.is_finite()
    }
}

/// Rounds `value` so that its last digit is no finer than a quarter of the half-width of `spread`.
///
/// A C:N of 24.7 with 18 to 33 becomes 25; with 24.5 to 24.9 it stays 24.7.
#[must_use]
pub fn round_to_doubt(value: f64, spread: Spread) -> f64 {
    let half = (spread.high - spread.low) / 2.0;
    if half <= 0.0 || !half.is_finite() || !value.is_finite() {
        return value;
    }
    let step = 10f64.powf((half / 4.0).log10().floor());
    let step = if step * 5.0 <= half / 2.0 {
        step * 5.0
    } else {
        step
    };
    (value / step).round() * step
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digits_follow_the_doubt() {
        assert_eq!(round_to_doubt(24.7, Spread::new(18.0, 24.7, 33.0)), 25.0);
        assert!((round_to_doubt(24.73, Spread::new(24.5, 24.73, 24.9)) - 24.75).abs() < 1e-9);
        assert_eq!(
            round_to_doubt(1234.0, Spread::new(900.0, 1234.0, 1600.0)),
            1250.0
        );
        assert_eq!(round_to_doubt(3.0, Spread::exact(3.0)), 3.0);
    }

    #[test]
    fn the_middle_lies_inside() {
        let s = Spread::new(5.0, 4.0, 3.0);
        assert!(s.low <= s.mid && s.mid <= s.high);
    }
}
