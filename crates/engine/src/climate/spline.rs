//! Daily means from monthly means, each month's mean preserved.
//!
//! One parabola a month, equal in value and slope at the month ends, around the year; its integral over the
//! month is the month's mean times its length. With v the values at the month ends, h the lengths and m the
//! means, slope continuity gives a cyclic system with a dominant diagonal:
//!   v_i/h_i + 2 (1/h_i + 1/h_(i+1)) v_(i+1) + v_(i+2)/h_(i+1) = 3 (m_i/h_i + m_(i+1)/h_(i+1))
//! and within the month, s from 0 to 1: q = v_0 (1 − 4s + 3s²) + v_1 (3s² − 2s) + 6 m (s − s²).
//! A day's mean is the integral of q over that day, so that months add up exactly, leap years too.
//!
//! Source: the integral-preserving quadratic spline, Delhez, E. J. M., 2003, A spline interpolation technique
//! that preserves mass budgets, Applied Mathematics Letters 16:17–26 (recalled; derived afresh here). Between
//! months that jump by turns it overshoots, by up to about half the jump.

use super::calendar::month_length;

/// Mean of each day of a year; 365 or 366 values.
pub(super) fn daily_means(months: &[f64; 12], leap: bool) -> Vec<f64> {
    // Any leap and any common year have the same months.
    let year = if leap { 2000 } else { 2001 };
    let length: [u32; 12] = std::array::from_fn(|i| month_length(year, i as u32 + 1));
    let ends = month_ends(months, &length.map(f64::from));
    let mut days = Vec::with_capacity(366);
    for (i, &n) in length.iter().enumerate() {
        let h = f64::from(n);
        let (v0, v1, m) = (ends[i], ends[(i + 1) % 12], months[i]);
        let total = |s: f64| {
            v0 * (s - 2.0 * s * s + s * s * s)
                + v1 * (s * s * s - s * s)
                + m * (3.0 * s * s - 2.0 * s * s * s)
        };
        days.extend((0..n).map(|d| {
            let from = f64::from(d) / h;
            h * (total(from + 1.0 / h) - total(from))
        }));
    }
    days
}

/// Values at the start of each month.
fn month_ends(m: &[f64; 12], h: &[f64; 12]) -> [f64; 12] {
    let mut rows = [[0.0; 13]; 12];
    for i in 0..12 {
        let (j, k) = ((i + 1) % 12, (i + 2) % 12);
        rows[i][i] += 1.0 / h[i];
        rows[i][j] += 2.0 * (1.0 / h[i] + 1.0 / h[j]);
        rows[i][k] += 1.0 / h[j];
        rows[i][12] = 3.0 * (m[i] / h[i] + m[j] / h[j]);
    }
    // Row i is the one dominant in unknown i + 1: put it there, then no pivot is needed.
    rows.rotate_right(1);
    for p in 0..12 {
        let pivot = rows[p];
        for row in rows.iter_mut().skip(p + 1) {
            let factor = row[p] / pivot[p];
            for c in p..13 {
                row[c] -= factor * pivot[c];
            }
        }
    }
    let mut v = [0.0; 12];
    for p in (0..12).rev() {
        let known: f64 = (p + 1..12).map(|c| rows[p][c] * v[c]).sum();
        v[p] = (rows[p][12] - known) / rows[p][p];
    }
    v
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_constant_year_stays_constant_and_a_cosine_is_followed() {
        assert!(
            daily_means(&[7.0; 12], true)
                .iter()
                .all(|d| (d - 7.0).abs() < 1e-9)
        );
        // Equal-month cosine of amplitude 10 K, warmest mid-July: the daily curve must follow it.
        let months: [f64; 12] = std::array::from_fn(|i| {
            let angle = std::f64::consts::TAU * (i as f64 - 6.0) / 12.0;
            10.0 * angle.cos()
        });
        let days = daily_means(&months, false);
        let warmest = days.iter().copied().fold(f64::MIN, f64::max);
        assert_eq!(days.len(), 365);
        // Averaging over a month shrinks the amplitude by sin(π/12)/(π/12) = 0.9886.
        assert!((warmest - 10.0 / 0.9886).abs() < 0.05, "{warmest}");
    }
}
