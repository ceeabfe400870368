//! Turn, leave it, or break the balls: from the oxygen and the clumps.
//!
//! Decay halves where oxygen is at its half-saturation, 2 vol-% (Haug 1993, recalled); 5 vol-% is the usual
//! least for a heap (common practice). Turning a drum brings little oxygen itself: the pores of 90 L hold
//! about 10 g, a day's decay takes some 0.3 kg. It breaks clumps and evens out wet and dry.

use serde::Serialize;

/// What the oxygen asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Turning {
    /// Turn it: air is short.
    Turn,
    /// Turn it and break the wet balls by hand.
    BreakBalls,
    /// It has air; turning would only cool it.
    Leave,
}

/// Oxygen below this is short, vol-% (common practice).
const SHORT: f64 = 5.0;
/// Share in clumps above which they are worth breaking (choice).
const CLUMPED: f64 = 0.15;

/// From the middle of the members: least oxygen of the day (vol-%) and share in clumps.
#[must_use]
pub fn turning(oxygen: f64, clumped: f64) -> Turning {
    if clumped >= CLUMPED {
        Turning::BreakBalls
    } else if oxygen < SHORT {
        Turning::Turn
    } else {
        Turning::Leave
    }
}
