//! What ash tells of the way come: it stays while organic matter goes.
//!
//! Loss of organic matter = 1 − X1(1−X2) / (X2(1−X1)); dry matter left = X1/X2. X1, X2 ash share of dry matter at the
//! start and now (formula recalled). Ignores soil and grit that came in, which make the loss look larger.

use super::fault::{Fault, within};

/// Shares lost and left.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loss {
    /// Of organic matter, lost.
    pub organic: f64,
    /// Of dry matter, left.
    pub left: f64,
}

/// From two ash shares, %.
///
/// # Errors
/// A share that cannot be; ash that fell.
pub fn loss(start_pct: f64, now_pct: f64) -> Result<Loss, Fault> {
    within("ash at the start", start_pct, (0.5, 90.0), "%")?;
    within("ash now", now_pct, (start_pct, 95.0), "%")?;
    let (x1, x2) = (start_pct / 100.0, now_pct / 100.0);
    Ok(Loss {
        organic: 1.0 - x1 * (1.0 - x2) / (x2 * (1.0 - x1)),
        left: x1 / x2,
    })
}
