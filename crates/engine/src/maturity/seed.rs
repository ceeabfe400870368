//! Cress or radish in a pot of compost mix against as many in plain mix, counted after a week.
//!
//! Share = up / sown; ratio = share / control share. At least three of four must come up and grow (UF/IFAS, radish,
//! seen); by CCQC 2001 a ratio above 90 % is very mature, 80–90 % mature (recalled). Void where fewer than 80 % of
//! the control came up: the seed is to blame. A few seeds cannot tell: hence the intervals.

use super::Passes;
use super::fault::Fault;
use super::interval::{Interval, at_least, exact, ratio, wilson};

/// Share of the control that must come up.
pub const CONTROL: f64 = 0.80;
/// Ratio asked for beds and pots, and for seed trays.
const POTS: f64 = 0.75;
const TRAYS: f64 = 0.90;
/// Most seeds that may be told (judged).
pub const MOST_SEEDS: u32 = 1000;

/// What was counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Seeds {
    /// Came up and sown, in compost.
    pub pots: (u32, u32),
    /// Came up and sown, in plain mix.
    pub control: Option<(u32, u32)>,
}

/// What it comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Result {
    /// Share that came up.
    pub share: f64,
    /// Wilson's 95 % interval of it.
    pub likely: Interval,
    /// Clopper and Pearson's, which is exact and wider.
    pub exact: Interval,
    /// Share against the control, with Koopman's 95 % interval.
    pub ratio: Option<(f64, Interval)>,
}

impl Seeds {
    /// Checks the counts.
    ///
    /// # Errors
    /// Nothing sown, more up than sown, a control that failed, or more seeds than a hand sows.
    pub fn checked(self) -> std::result::Result<Self, Fault> {
        let pots = [("seeds", Some(self.pots)), ("control", self.control)];
        for (what, (up, sown)) in pots.into_iter().filter_map(|(w, p)| Some((w, p?))) {
            if sown == 0 {
                return Err(Fault::NoSeeds { what });
            }
            if sown > MOST_SEEDS {
                return Err(Fault::Outside {
                    what,
                    value: f64::from(sown),
                    least: 1.0,
                    most: f64::from(MOST_SEEDS),
                    unit: "seeds",
                });
            }
            if up > sown {
                return Err(Fault::MoreThanSown { what, up, sown });
            }
        }
        match self.control {
            Some((up, sown)) if f64::from(up) < CONTROL * f64::from(sown) => {
                Err(Fault::WeakControl { up, sown })
            }
            _ => Ok(self),
        }
    }

    /// Shares, ratio and how far they can be trusted.
    #[must_use]
    pub fn result(self) -> Result {
        let (up, sown) = self.pots;
        let share = f64::from(up) / f64::from(sown);
        Result {
            share,
            likely: wilson(up, sown),
            exact: exact(up, sown),
            ratio: self.control.map(|(cu, cs)| {
                let control = f64::from(cu) / f64::from(cs);
                (share / control, ratio(self.pots, (cu, cs)))
            }),
        }
    }

    /// What it says of each rung: how sure it is that the true share or ratio reaches the limit.
    #[must_use]
    pub fn passes(self) -> Passes {
        let sure = |least| Some(at_least(least, self.pots, self.control));
        let pots = sure(POTS);
        [None, None, pots, pots, sure(TRAYS)]
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "tests")]
    use super::*;

    fn seeds(pots: (u32, u32), control: (u32, u32)) -> Seeds {
        Seeds {
            pots,
            control: Some(control),
        }
    }

    #[test]
    fn counts_that_cannot_be_are_named() {
        assert_eq!(
            seeds((0, 0), (19, 20)).checked(),
            Err(Fault::NoSeeds { what: "seeds" })
        );
        assert_eq!(
            seeds((30, 20), (19, 20)).checked(),
            Err(Fault::MoreThanSown {
                what: "seeds",
                up: 30,
                sown: 20
            })
        );
        assert_eq!(
            seeds((17, 20), (15, 20)).checked(),
            Err(Fault::WeakControl { up: 15, sown: 20 })
        );
        assert!(seeds((17, 20), (16, 20)).checked().is_ok());
    }

    #[test]
    fn the_last_seed_test_of_the_demo() {
        let r = seeds((17, 20), (19, 20)).checked().unwrap().result();
        let (ratio, likely) = r.ratio.unwrap();
        assert!((ratio - 0.8947).abs() < 1e-4);
        assert!(likely.low < 0.75 && likely.high > 1.0, "{likely:?}");
        let [.., pots, trays] = seeds((17, 20), (19, 20))
            .passes()
            .map(|p| p.unwrap_or(-1.0));
        assert!(pots > 0.85 && trays < 0.6 && trays > 0.3, "{pots} {trays}");
    }
}
