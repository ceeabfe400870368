//! What all members of a run share: the vessel, what is done and when, for how long.

use crate::batch::air::{Course, STEPS};
use crate::batch::events::Deed;
use crate::batch::vessel::Vessel;

/// One thing done at a moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct At {
    /// Days since the start; rounded to the hour.
    pub day: f64,
    /// What.
    pub deed: Deed,
}

/// A run.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// Vessel.
    pub vessel: Vessel,
    /// What is done, in order of time.
    pub deeds: Vec<At>,
    /// Days to run.
    pub days: usize,
    /// Courses of the days.
    pub courses: Vec<Course>,
    /// Factors on the limits of the rungs, for the study of what the date rests on: uptake, C:N, pieces.
    pub stricter: [f64; 3],
    /// Days whose quantities are kept, rising; `None` keeps every day. Outcomes always see all days.
    pub kept: Option<Vec<usize>>,
}

impl Plan {
    /// A run; deeds are sorted by time.
    #[must_use]
    pub fn new(vessel: Vessel, mut deeds: Vec<At>, days: usize, courses: Vec<Course>) -> Self {
        deeds.sort_by(|a, b| a.day.total_cmp(&b.day));
        Self {
            vessel,
            deeds,
            days,
            courses,
            stricter: [1.0; 3],
            kept: None,
        }
    }

    /// The same run, of which the quantities of some days only are kept: a thousand members through a year are
    /// 25 MB otherwise.
    #[must_use]
    pub fn keeping(self, days: impl IntoIterator<Item = usize>) -> Self {
        let mut kept: Vec<usize> = days.into_iter().filter(|d| *d < self.days).collect();
        kept.sort_unstable();
        kept.dedup();
        Self {
            kept: Some(kept),
            ..self
        }
    }

    /// How many days are kept.
    #[must_use]
    pub fn keeps(&self) -> usize {
        self.kept.as_ref().map_or(self.days, Vec::len)
    }

    /// Where a day lies among those kept.
    #[must_use]
    pub fn place(&self, day: usize) -> Option<usize> {
        match &self.kept {
            None => (day < self.days).then_some(day),
            Some(kept) => kept.binary_search(&day).ok(),
        }
    }

    /// The hour at which a deed is done.
    #[must_use]
    pub fn hour(day: f64) -> usize {
        (day.max(0.0) * STEPS as f64).round() as usize
    }

    /// Day of the last feed.
    #[must_use]
    pub fn last_feed(&self) -> f64 {
        self.deeds
            .iter()
            .filter(|a| matches!(a.deed, Deed::Feed(_)))
            .map(|a| Self::hour(a.day) as f64 / STEPS as f64)
            .fold(0.0, f64::max)
    }
}
