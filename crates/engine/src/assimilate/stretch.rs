//! Windows widened by what past batches showed.
//!
//! ln of the days that remain is stretched about its median by a factor f:
//!
//! ```text
//! r' = m (r/m)^f,   s = |ln(y/m)| / |ln(q/m)|,   f = the 90 % point of s over 20 supposed batches and all past ones
//! ```
//! y days that it took, m and q median and 5 or 95 % end of the forecast, on the side of y. With f the 90 % window would
//! have just held nine of ten: split conformal prediction (Vovk, Gammerman & Shafer 2005; Lei et al. 2018, J. Am.
//! Stat. Assoc. 113:1094, recalled). The supposed batches say 1.3, a factor fixed beforehand; `docs/readings.md` shows
//! what it holds. They are soon outweighed. Below five past batches f is 1.3, whatever they say.
//! Floor: a 90 % window is never narrower than 14 d, nor than a quarter of the days that remain (choice).

use super::normal;

/// The factor before anything is known.
pub const START: f64 = 1.3;
/// Past batches before the factor moves.
pub const LEAST: usize = 5;
/// Supposed batches.
const SUPPOSED: usize = 20;
/// Factor's own bounds (choice).
const BOUNDS: (f64, f64) = (0.8, 3.0);
/// A day that remains is at least this long, so that it has a logarithm, d.
const SHORTEST: f64 = 0.5;
/// Narrowest 90 % window: days, and share of the days that remain.
const FLOOR: (f64, f64) = (14.0, 0.25);

/// One past forecast and what came, in days from the day it was made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Past {
    /// 5, 50 and 95 % of the members, before any stretching.
    pub forecast: [f64; 3],
    /// Days that it took.
    pub came: f64,
}

/// A factor on the spread of forecasts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// The factor.
    pub factor: f64,
    /// Past batches it rests on; 0 until there are [`LEAST`].
    pub rests_on: usize,
}

impl Default for Stretch {
    fn default() -> Self {
        Self {
            factor: START,
            rests_on: 0,
        }
    }
}

impl Past {
    /// s. An endless end counts as held; a miss on a side without width, or a batch that never came where the forecast
    /// had an end, counts as the furthest. `None` where nothing was foretold.
    fn score(&self) -> Option<f64> {
        if self.forecast[1].is_infinite() {
            return None;
        }
        let [low, middle, high] = self.forecast.map(|d| d.max(SHORTEST));
        let miss = (self.came.max(SHORTEST) / middle).ln();
        let half = if miss < 0.0 {
            (low / middle).ln()
        } else {
            (high / middle).ln()
        };
        if half.is_infinite() {
            return Some(0.0);
        }
        if half.abs() < 1e-9 {
            return Some(if miss == 0.0 { 0.0 } else { BOUNDS.1 });
        }
        Some((miss / half).abs().min(BOUNDS.1))
    }
}

impl Stretch {
    /// The factor that past forecasts ask for.
    #[must_use]
    pub fn of(past: &[Past]) -> Self {
        let mut scores: Vec<f64> = past.iter().filter_map(Past::score).collect();
        let count = scores.len();
        if count < LEAST {
            return Self::default();
        }
        let end = normal::quantile(0.95);
        scores.extend((0..SUPPOSED).map(|i| {
            let share = (i as f64 + 1.0) / (SUPPOSED as f64 + 1.0);
            START * normal::quantile(0.5 + 0.5 * share) / end
        }));
        scores.sort_by(f64::total_cmp);
        // The k-th smallest of n stands for k/(n + 1); straight line between neighbours.
        let at = 0.9 * (scores.len() as f64 + 1.0) - 1.0;
        let (low, part) = (at.floor() as usize, at.fract());
        let last = scores.len() - 1;
        let point = scores[low.min(last)] * (1.0 - part) + scores[(low + 1).min(last)] * part;
        let factor = point.clamp(BOUNDS.0, BOUNDS.1);
        Self {
            factor,
            rests_on: count,
        }
    }

    /// Days of members, stretched about the median of those days that remain after `today`; "never" stays never, and
    /// days gone by stay where they are. Where half never arrive nothing is stretched: there is no median.
    #[must_use]
    pub fn stretched(&self, days: &[f64], today: f64) -> Vec<f64> {
        let mut ahead: Vec<f64> = days.iter().copied().filter(|d| *d > today).collect();
        ahead.sort_by(f64::total_cmp);
        let middle = crate::forecast::window::quantile(&ahead, 0.5) - today;
        if ahead.is_empty() || !middle.is_finite() {
            return days.to_vec();
        }
        let middle = middle.max(SHORTEST);
        days.iter()
            .map(|&day| {
                if day <= today || !day.is_finite() {
                    return day;
                }
                let ratio = (day - today).max(SHORTEST) / middle;
                today + middle * ratio.powf(self.factor)
            })
            .collect()
    }
}

/// The ends of a 90 % window, moved apart to the floor: about the window's own middle, never before today.
#[must_use]
pub fn floored((early, late): (f64, f64), middle: f64, today: f64) -> (f64, f64) {
    if !late.is_finite() || !middle.is_finite() || middle <= today {
        return (early, late);
    }
    let least = FLOOR.0.max(FLOOR.1 * (middle - today));
    let short = least - (late - early);
    if short <= 0.0 {
        return (early, late);
    }
    let first = (early - 0.5 * short).max(today.min(early));
    (first, first + least)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn past(came: f64) -> Past {
        Past {
            forecast: [60.0, 100.0, 160.0],
            came,
        }
    }

    #[test]
    fn four_batches_change_nothing() {
        assert_eq!(Stretch::of(&[past(400.0); 4]), Stretch::default());
        assert_ne!(Stretch::of(&[past(400.0); 5]).factor, START);
    }

    #[test]
    fn the_worst_misses_count() {
        // Never came, though all members said when.
        let never = Stretch::of(&[past(f64::INFINITY); 40]);
        assert_eq!(never.factor, BOUNDS.1);
        let no_width = Past {
            forecast: [100.0; 3],
            came: 150.0,
        };
        assert_eq!(Stretch::of(&[no_width; 40]).factor, BOUNDS.1);
        let endless = Past {
            forecast: [60.0, 100.0, f64::INFINITY],
            came: f64::INFINITY,
        };
        assert_eq!(endless.score(), Some(0.0));
    }

    #[test]
    fn supposed_batches_give_the_start() {
        // Five batches in the very middle hardly narrow it.
        let near = Stretch::of(&[past(100.0); 5]);
        assert!((0.95..=START + 0.05).contains(&near.factor), "{near:?}");
        // Many in the middle do; many outside widen it.
        assert!(Stretch::of(&[past(101.0); 200]).factor < 1.0);
        assert!(Stretch::of(&[past(300.0); 40]).factor > 2.0);
    }

    #[test]
    fn a_right_forecast_learns_one() {
        // Lognormal forecasts that are right: what comes runs through the quantiles.
        let sd = 0.3;
        let at = |z: f64| 100.0 * (sd * z).exp();
        let end = normal::quantile(0.95);
        let all: Vec<Past> = (0..500)
            .map(|i| Past {
                forecast: [at(-end), 100.0, at(end)],
                came: at(normal::quantile((f64::from(i) + 0.5) / 500.0)),
            })
            .collect();
        assert!((Stretch::of(&all).factor - 1.0).abs() < 0.03);
    }

    #[test]
    fn the_median_stays_and_never_stays_never() {
        let days = [60.0, 80.0, 100.0, 140.0, f64::INFINITY, 10.0];
        let wide = Stretch {
            factor: 2.0,
            rests_on: 0,
        }
        .stretched(&days, 50.0);
        // Ahead: 10, 30, 50, 90, never; the median 50 stays, 10 becomes 50 (10/50)² = 2.
        assert_eq!(wide[2], 100.0);
        assert!((wide[0] - 52.0).abs() < 1e-9);
        assert!((wide[3] - 212.0).abs() < 1e-9);
        assert!(wide[4].is_infinite());
        assert_eq!(wide[5], 10.0);
    }

    #[test]
    fn a_window_keeps_its_floor() {
        assert_eq!(floored((58.0, 62.0), 60.0, 50.0), (53.0, 67.0));
        let far = floored((240.0, 260.0), 250.0, 50.0);
        assert!((far.1 - far.0 - 50.0).abs() < 1e-9);
        assert_eq!(floored((52.0, 54.0), 53.0, 51.0), (51.0, 65.0));
        assert_eq!(floored((100.0, 300.0), 200.0, 50.0), (100.0, 300.0));
    }
}
