//! Does this probe touch the heap, or does it hang in the air?
//!
//! A probe in air follows the air's day: hourly values less their mean of a day rise and fall with the air's, nearly as
//! far, and at once. In a heap the day arrives small and late: 8 cm of compost take 71 % off a day's wave (computed
//! from a damping depth of 6.4 cm at 1.5·10⁻⁷ m²/s, recalled for moist compost). Limits below are choices with
//! a gap between them; in the gap, on few days, or when the air hardly moves, it cannot be told.

/// Where a probe is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whereabouts {
    /// In the heap.
    Heap,
    /// In air, or hardly covered.
    Air,
    /// It cannot be told from this.
    CannotTell,
}

/// Least days of hours.
const DAYS: usize = 3;
/// Least standard deviation of the air's day, K.
const MOVES: f64 = 1.5;
/// In air: slope on the air's day of at least this, and correlation of at least this at a lag of two hours or less.
const IN_AIR: (f64, f64, usize) = (0.7, 0.85, 2);
/// In the heap: slope of at most this.
const IN_HEAP: f64 = 0.45;
/// Most lag looked at, h.
const LAGS: usize = 8;

/// Hours less the mean of the day around each.
fn day_out(hours: &[f64]) -> Vec<f64> {
    let mean = |part: &[f64]| part.iter().sum::<f64>() / part.len() as f64;
    (12..hours.len().saturating_sub(12))
        .map(|i| hours[i] - mean(&hours[i - 12..i + 12]))
        .collect()
}

/// Slope of `y` on `x` and their correlation; `x` leads by `lag`.
fn slope(x: &[f64], y: &[f64], lag: usize) -> (f64, f64) {
    let n = x.len().min(y.len()).saturating_sub(lag);
    let (mut xx, mut yy, mut xy) = (0.0, 0.0, 0.0);
    for i in 0..n {
        xx += x[i] * x[i];
        yy += y[i + lag] * y[i + lag];
        xy += x[i] * y[i + lag];
    }
    (xy / xx.max(1e-12), xy / (xx * yy).max(1e-24).sqrt())
}

/// Says where a probe is, from its hours and the air's of the same time, without gaps.
#[must_use]
pub fn whereabouts(probe: &[f64], air: &[f64]) -> Whereabouts {
    let n = probe.len().min(air.len());
    if n < DAYS * 24 || probe[..n].iter().chain(&air[..n]).any(|v| !v.is_finite()) {
        return Whereabouts::CannotTell;
    }
    let (p, a) = (day_out(&probe[..n]), day_out(&air[..n]));
    let sd = (a.iter().map(|x| x * x).sum::<f64>() / a.len().max(1) as f64).sqrt();
    if sd < MOVES {
        return Whereabouts::CannotTell;
    }
    let best = (0..=LAGS)
        .map(|lag| (lag, slope(&a, &p, lag)))
        .max_by(|a, b| a.1.1.total_cmp(&b.1.1));
    match best {
        Some((lag, (by, close))) if by >= IN_AIR.0 && close >= IN_AIR.1 && lag <= IN_AIR.2 => {
            Whereabouts::Air
        }
        Some((_, (by, _))) if by <= IN_HEAP => Whereabouts::Heap,
        _ => Whereabouts::CannotTell,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(hours: usize, swing: f64, lag: f64, mean: f64) -> Vec<f64> {
        (0..hours)
            .map(|h| {
                let turn = (h as f64 - 14.0 - lag) / 24.0 * std::f64::consts::TAU;
                // A little of what is no day: a slow drift and a step a day.
                mean + swing * turn.cos() + 0.02 * h as f64 + ((h / 24) % 3) as f64
            })
            .collect()
    }

    #[test]
    fn a_probe_is_found_where_it_is() {
        let air = day(120, 5.0, 0.0, 12.0);
        assert_eq!(
            whereabouts(&day(120, 4.6, 0.5, 12.5), &air),
            Whereabouts::Air
        );
        assert_eq!(
            whereabouts(&day(120, 1.0, 5.0, 45.0), &air),
            Whereabouts::Heap
        );
        assert_eq!(
            whereabouts(&day(120, 0.0, 0.0, 45.0), &air),
            Whereabouts::Heap
        );
        // Half covered.
        assert_eq!(
            whereabouts(&day(120, 3.0, 3.0, 20.0), &air),
            Whereabouts::CannotTell
        );
    }

    #[test]
    fn little_says_nothing() {
        let air = day(48, 5.0, 0.0, 12.0);
        assert_eq!(whereabouts(&air, &air), Whereabouts::CannotTell);
        let still = day(240, 0.5, 0.0, 12.0);
        assert_eq!(whereabouts(&still, &still), Whereabouts::CannotTell);
    }
}
