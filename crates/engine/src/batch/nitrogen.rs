//! Nitrogen set free, bound again, lost to the air and drained.
//!
//! ```text
//! free   = N_org c/C                                      c carbon lost, kg/d
//! bound  = 0.30/9 c_aerobic N_min/(N_min + 10⁻⁴ OM)       yield 0.30, microbes at C:N 9
//! r      = kN [0.9 f Q/5 2·10^(0.02 (T−40)) + 0.04 g_T + 0.1 A g_T];  lost = N_min r/(1 + r/6)
//! f      = 1/(1 + 10^(pKa−pH)),  pKa = 0.09018 + 2729.92/T_K
//! drained = 0.7 drip N_min/W
//! ```
//! pKa: Emerson et al. 1975, J. Fish. Res. Board Can. 32:2379 (recalled). More ammonia at 67 °C than at 40 or
//! 55 °C: Sundberg 2005 (abstract). The terms of r are choices; r/(1 + r/6) keeps a step from overdrawing.
//! Losses of 16–49 % of initial N were measured in manure heaps (Paillat et al. 2005, abstract); no
//! composting model has matched ammonia day by day (Petric & Selimbašić 2008, abstract): trust totals only.

use super::lanes::Real;

const LN_10: f64 = std::f64::consts::LN_10;

/// Ammonia's share of ammoniacal nitrogen.
#[inline(always)]
pub fn ammonia_share<R: Real>(t: R, ph: R) -> R {
    let pka = t.of(2729.92) / (t + 273.15) + 0.090_18;
    ((ph - pka) * LN_10).logistic()
}

/// Rate of loss to the air, 1/d.
#[inline(always)]
pub fn loss<R: Real>(t: R, ph: R, air_change: R, clumped: R, g_t: R, factor: R) -> R {
    let warm = ((t - 40.0) * (0.02 * LN_10)).exp() * 2.0;
    let r = factor
        * (ammonia_share(t, ph) * air_change * warm * (0.9 / 5.0) + g_t * (clumped * 0.1 + 0.04));
    r / (r * (1.0 / 6.0) + 1.0)
}

/// Nitrogen bound by growing microbes, kg/d: of the carbon lost, the share of pace `in_air` of `both`.
#[inline(always)]
pub fn bound<R: Real>(carbon_lost: R, (in_air, both): (R, R), mineral: R, organic: R) -> R {
    let free = organic.fma(mineral.of(1e-4), mineral) + 1e-12;
    carbon_lost * in_air * mineral * (0.30 / 9.0) / (free * (both + 1e-12))
}
