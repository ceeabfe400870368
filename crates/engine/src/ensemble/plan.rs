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
