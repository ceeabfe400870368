//! Air through the pores and the oxygen in them.
//!
//! ```text
//! Q = V0 [0.4 + 0.6 √(√(ΔT² + 0.25)/20)] [clip((f−0.05)/0.35, 0.03, 1.3)]^1.5 (V/0.09)^⅔        m³/d
//! a (20.9 − x) = R x/(x + K),  a = Q 1.33/100 kg O2 per d and vol-%
//! K = 2 [1 + (w/0.55)⁴] vol-%;  g_O2 = x/(x + K)
//! ```
//! ΔT core over air, K, ≥ 0; f free air space; V volume, m³; R oxygen wanted at full supply, kg/d; w water
//! share of the pores. Quasi-steady: the pores hold 10 g against 1–2 kg a day, minutes against hours.
//!
//! Sources: half-saturation of 2 vol-% Haug 1993 (recalled); the factor on K stands for diffusion in wet
//! pieces (choice). V0 and the form of Q are choices: no measurement of a tumbler's air change was found.

use super::lanes::Real;

/// Oxygen of fresh air, vol-%.
pub const FRESH: f64 = 20.9;
/// kg O2 per m³ and vol-%.
const PER_PERCENT: f64 = 1.33 / 100.0;

/// Q, m³/d, from volume^⅔ in units of 0.09 m³.
#[inline(always)]
pub fn air_change<R: Real>(vent: R, rise: R, air_space: R, scale: R) -> R {
    let rise = rise.max(rise.of(0.0));
    let draught = (rise.fma(rise, rise.of(0.25)).sqrt() / 20.0).sqrt() * 0.6 + 0.4;
    let open = ((air_space - 0.05) / 0.35).within(0.03, 1.3);
    vent * draught * open * open.sqrt() * scale
}

/// K, vol-%, from the water share of the pores.
#[inline(always)]
pub fn half_saturation<R: Real>(pores_filled: R) -> R {
    let q = pores_filled * (1.0 / 0.55);
    let q2 = q * q;
    q2.fma(q2, q.of(1.0)) * 2.0
}

/// x, vol-%: the positive root of a x² + (R + a K − 20.9 a) x − 20.9 a K = 0.
#[inline(always)]
pub fn level<R: Real>(air_change: R, wanted: R, half: R) -> R {
    // Per unit of a; the root is written so that no two like numbers are subtracted when b > 0.
    let b = wanted / (air_change * PER_PERCENT) + half - FRESH;
    let c = half * FRESH;
    let root = b.fma(b, c * 4.0).sqrt();
    let plain = (root - b) * 0.5;
    let safe = c * 2.0 / (root + b);
    b.below(0.0, plain, safe)
}
