//! What can be done about an overflow, each act by itself, cheapest first.
//!
//! Effects are litres kept off the ground against doing as now, mean of the members. Minutes are judged: an
//! adult who knows the place. Sizes of a freezer drawer (10 L), a sack of leaves (60 L) and a spare tub (60 L)
//! are choices; a household's own differ.

use super::problem::Course;

/// Something to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Act {
    /// Change over by the plan.
    ChangeOver,
    /// Freeze scraps until there is room.
    Freeze,
    /// Bag scraps with leaves.
    BagWithLeaves,
    /// Bury them a spade deep.
    Trench,
    /// Empty the finishing chamber as mulch, or on to a heap to cure.
    EmptyEarly,
    /// A third container.
    ThirdContainer,
}

impl Act {
    /// All, least work first.
    pub const ALL: [Self; 6] = [
        Self::Freeze,
        Self::ChangeOver,
        Self::BagWithLeaves,
        Self::EmptyEarly,
        Self::Trench,
        Self::ThirdContainer,
    ];

    /// As in JSON.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::ChangeOver => "change_over",
            Self::Freeze => "freeze",
            Self::BagWithLeaves => "bag_with_leaves",
            Self::Trench => "trench",
            Self::EmptyEarly => "empty_early",
            Self::ThirdContainer => "third_container",
        }
    }

    /// Work, minutes (judged).
    #[must_use]
    pub const fn minutes(self) -> u32 {
        match self {
            Self::Freeze => 10,
            Self::ChangeOver => 15,
            Self::BagWithLeaves => 25,
            Self::EmptyEarly => 45,
            Self::Trench => 60,
            Self::ThirdContainer => 120,
        }
    }

    /// Litres it can hold; `None` is no limit.
    #[must_use]
    pub const fn holds(self) -> Option<f64> {
        match self {
            Self::Freeze => Some(10.0),
            Self::BagWithLeaves | Self::ThirdContainer => Some(60.0),
            _ => None,
        }
    }
}

/// An act with what it does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ranked {
    /// What.
    pub act: Act,
    /// Litres kept off the ground, mean.
    pub effect: f64,
}

/// Ranks the sinks; `frozen` says for each week whether the ground is.
#[must_use]
pub fn ranked(now: &[Course], frozen: &[bool]) -> Vec<Ranked> {
    let n = now.len().max(1) as f64;
    [
        Act::Freeze,
        Act::BagWithLeaves,
        Act::Trench,
        Act::ThirdContainer,
    ]
    .into_iter()
    .map(|act| {
        let kept = |course: &Course| {
            let open = |t: usize| act != Act::Trench || !frozen.get(t).copied().unwrap_or(false);
            let all: f64 = course
                .overflow
                .iter()
                .enumerate()
                .filter(|(t, _)| open(*t))
                .map(|(_, litres)| litres)
                .sum();
            act.holds().map_or(all, |most| all.min(most))
        };
        Ranked {
            act,
            effect: now.iter().map(kept).sum::<f64>() / n,
        }
    })
    .collect()
}
