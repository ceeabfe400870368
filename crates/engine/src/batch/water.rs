//! Water that leaves as vapour and as drips.
//!
//! ```text
//! E = ṁ max(0, x_o − x_a), at most 12 W a day;  x = 0.622 e/(P − e), P = 101.3 kPa
//! e_o = RH e°(T1), RH = 0.75 + 0.25 g_m;  e° = 0.6108 exp(17.27 T/(T + 237.3)) kPa
//! drip = d max(0, W − ω OM − 0.4 Ash)
//! ```
//! ṁ dry air, kg/d, 1.2 kg/m³; T1 core, °C; ω water held, kg/kg. e°: FAO-56 eq. 11. The share φ of E that
//! the cold shell returns, ω and d are choices (priors); that a closed drum hardly drips is common practice.
//! RH falling to three quarters when dry is a choice. The limit on E keeps a nearly dry batch above nought.

use super::lanes::Real;

/// kg dry air per m³.
pub const AIR_DENSITY: f64 = 1.2;
/// Specific heat of air, MJ/(kg K).
pub const AIR_HEAT: f64 = 1.006e-3;
/// Water that ash holds, kg/kg.
const ASH_HOLDS: f64 = 0.4;
/// Most of the water that can evaporate in a day, in its own mass.
const MOST_A_DAY: f64 = 12.0;
const PRESSURE: f64 = 101.3;

/// Humidity ratio of the air that leaves, and its slope with temperature, kg/kg and 1/K.
#[inline(always)]
pub fn humidity<R: Real>(t: R, relative: R) -> (R, R) {
    let t = t.within(-40.0, 95.0);
    let d = t.of(1.0) / (t + 237.3);
    let e = (t * d * 17.27).exp() * relative * 0.6108;
    let per = t.of(1.0) / (t.of(PRESSURE) - e);
    let x = e * 0.622 * per;
    let slope = x * d * d * (17.27 * 237.3 * PRESSURE) * per;
    (x, slope)
}

/// Vapour that leaves the pores, kg/d, before the shell returns its share; and the factor of the limit.
#[inline(always)]
pub fn vapour<R: Real>(dry_air: R, inside: R, outside: R, water: R) -> (R, R) {
    let free = dry_air * (inside - outside).max(water.of(0.0));
    let share = water / (free * (1.0 / MOST_A_DAY) + water + 1e-12);
    (free * share, share)
}

/// Drips, kg/d.
#[inline(always)]
pub fn drip<R: Real>(water: R, organic: R, ash: R, holds: R, drain: R) -> R {
    drain * (water - holds * organic - ash * ASH_HOLDS).max(water.of(0.0))
}
