//! Cured, as CCME 2005, *Guidelines for Compost Quality*, has it: 21 days of curing or more, and one of: oxygen
//! uptake at most 400 mg/kg OM·h, CO2 at most 4 mg C/g OM·d, a rise below 8 K (recalled).
//!
//! Curing is counted from the last feed (choice: a drum has no second heap).

/// Fewest days.
pub const DAYS: f64 = 21.0;
/// Most breath, mg CO2-C/g OM·d.
const BREATH: f64 = 4.0;
/// Rise must be below, K.
const RISE: f64 = 8.0;

/// Whether it is cured: `None` where neither was measured.
#[must_use]
pub fn cured(days: f64, rise_k: Option<f64>, breath: Option<f64>) -> Option<bool> {
    if days < DAYS {
        return Some(false);
    }
    let by_rise = rise_k.map(|r| r < RISE);
    let by_breath = breath.map(|b| b <= BREATH);
    match (by_rise, by_breath) {
        (None, None) => None,
        (a, b) => Some(a == Some(true) || b == Some(true)),
    }
}
