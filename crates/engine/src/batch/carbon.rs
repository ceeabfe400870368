//! Decay of organic matter, the growth of microbes, and what decay makes and takes.
//!
//! ```text
//! dS_i/dt = −k_i S_i Φ;  dH/dt = h Σ k_i S_i Φ_i − k_H H
//! Φ       = g_m g_N X g_T [g_FAS g_O2 (1−A) + 0.2 A]      lignin only by the first part
//! dX/dt   = 1.39 X (1−X) clip(g_T, 0.05, 3)/lag
//! dC/dt   = −C/K [Σ κ_i k_i S_i Φ_i − κ_H h Σ k_i S_i Φ_i + κ_H k_H H],  K = Σ κ_i S_i + κ_H H
//! O2      = (1−h) Σ o_i k_i S_i Φ_aerobic
//! ```
//! S kg, k 1/d at 20 °C, X microbes, A share in clumps, κ carbon share of a pool. First-order decay with
//! factors: Haug 1993; Higgins & Walker 2001; Mason 2006, Waste Manag. 26:3–21 (best of those compared,
//! abstract). Lag by a logistic rise stands in for Monod biomass (choice). κ: cellulose by formula; quick
//! matter, lignin and humus typical values, recalled; the carbon put in is what the catalogue says, so κ only
//! shares it out. Oxygen per kg: C6H10O5 1.18; quick mix 1.35; lignin-like 1.6; heat 14 MJ per kg O2 (Haug,
//! recalled). Clumps decay at a fifth, without oxygen or heat (choice). Ignores worms and fungi on card.

use super::lanes::Real;

/// Carbon shares of quick matter, cellulose, lignin, humus.
pub const CARBON_SHARE: [f64; 4] = [0.46, 0.444, 0.60, 0.55];
/// Oxygen per kg of quick matter, cellulose, lignin.
pub const OXYGEN: [f64; 3] = [1.35, 1.18, 1.6];
/// Water made per kg lost by decay with oxygen (0.556 cellulose, 0.50 food; by formula).
pub const WATER_MADE: f64 = 0.55;
/// Decay of humus, 1/d (choice).
pub const HUMUS_DECAY: f64 = 0.000_12;
/// Pace in clumps against pace in air (choice).
pub const CLUMP_PACE: f64 = 0.2;
/// Growth of the microbes, per lag (ln 4: from a fifth to a half in one lag).
const GROWTH: f64 = 1.39;

/// dX/dt.
#[inline(always)]
pub fn growth<R: Real>(microbes: R, g_t: R, lag: R) -> R {
    microbes * (microbes.of(1.0) - microbes) * g_t.within(0.05, 3.0) * GROWTH / lag
}
