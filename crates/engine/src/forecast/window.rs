//! The window of a date: a centre, the span of 16 in 20 members, and twenty dots.
//!
//! Dots are the quantiles at 1/40, 3/40 … 39/40: each stands for one run in twenty (quantile dot plot, Kay et
//! al. 2016, CHI). Members that never arrive count as beyond every date.

/// A date as the members see it, in days since the first feed. Infinite is "not by the horizon".
#[derive(Debug, Clone, PartialEq)]
pub struct Window {
    /// 10 % of members are earlier.
    pub early: f64,
    /// Half of them.
    pub middle: f64,
    /// 90 % are earlier.
    pub late: f64,
    /// One for each twentieth of the members.
    pub dots: [f64; 20],
    /// Share that does not arrive by the horizon.
    pub never: f64,
}

/// The value below which a share of sorted values lies; straight line between neighbours.
#[must_use]
pub fn quantile(sorted: &[f64], share: f64) -> f64 {
    let Some(last) = sorted.len().checked_sub(1) else {
        return f64::NAN;
    };
    let at = share.clamp(0.0, 1.0) * last as f64;
    let (low, high) = (sorted[at.floor() as usize], sorted[at.ceil() as usize]);
    let part = at - at.floor();
    if !high.is_finite() {
        // No line leads to "never": the member that stands there speaks for itself.
        sorted[((sorted.len() as f64 * share) as usize).min(last)]
    } else if part == 0.0 || low == high {
        low
    } else {
        low + (high - low) * part
    }
}

impl Window {
    /// Of days, one a member.
    #[must_use]
    pub fn of(days: impl Iterator<Item = f64>) -> Self {
        let mut all: Vec<f64> = days.collect();
        all.sort_by(f64::total_cmp);
        let never = all.iter().filter(|d| d.is_infinite()).count() as f64 / all.len().max(1) as f64;
        Self {
            early: quantile(&all, 0.1),
            middle: quantile(&all, 0.5),
            late: quantile(&all, 0.9),
            dots: std::array::from_fn(|i| quantile(&all, (2 * i + 1) as f64 / 40.0)),
            never,
        }
    }

    /// Of the twenty, how many have arrived by a day.
    #[must_use]
    pub fn by(&self, day: f64) -> usize {
        self.dots.iter().filter(|d| **d <= day).count()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twenty_dots_share_the_members_evenly() {
        let w = Window::of((0..1000).map(f64::from));
        assert!((w.middle - 499.5).abs() < 1e-9);
        assert!((w.dots[0] - 24.975).abs() < 1e-9);
        assert_eq!(w.by(499.0), 10);
    }

    #[test]
    fn those_who_never_arrive_are_late() {
        let w = Window::of([10.0, 20.0, 30.0, f64::INFINITY].into_iter());
        assert_eq!(w.never, 0.25);
        assert!(w.late.is_infinite());
        assert_eq!(w.by(1e9), 15);
    }
}
