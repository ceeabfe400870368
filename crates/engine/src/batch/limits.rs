//! How fast decay goes against its best: temperature, water, air space, nitrogen.
//!
//! ```text
//! γ(T)  = (T−Tx)(T−Tn)² / {(To−Tn)[(To−Tn)(T−To) − (To−Tx)(To+Tn−2T)]}, 0 outside (Tn, Tx), Tx = To + 14
//! g_H   = 1.066^(T−20) − 1.21^(T−60)
//! g_T   = γ(T)/γ(20) from 20 °C up; a g_H + (1−a) γ(T)/γ(20) below
//! g_m   = 1/(1 + e^(7.0622 − 17.684 m))
//! g_FAS = 1/(1 + e^(3.4945 − 23.675 f))
//! g_N   = min(1, CN_c / CN)
//! ```
//! T °C; Tn, To, Tx least, best, most; m water share of wet mass; f free air space, share of volume.
//!
//! Sources: γ Rosso, Lobry & Flandrois 1993, J. Theor. Biol. 162:447–463; g_H, g_m, g_FAS Haug 1993,
//! *The Practical Handbook of Compost Engineering*, ch. 9–13, and Higgins & Walker 2001, Bioresour.
//! Technol. 77:265 (both recalled). Above 20 °C only γ: CO₂ output peaks at 56–60 °C (Suler & Finstein 1977,
//! Appl. Environ. Microbiol. 33:345, abstract), while g_H would rise to 71.6 °C. The blend below 20 °C and
//! Tx − To are choices. Where it stops being true: no drying of single pieces, no frozen core with a wet rim.

use super::lanes::Real;
use super::params::Params;

/// Tx − To, K (choice; the published fit has 13).
pub const SPAN_ABOVE_BEST: f64 = 14.0;
/// ln 1.066 and ln 1.21.
const STEEP: (f64, f64) = (0.063_913_325_743_652_4, 0.190_620_359_608_65);

/// γ(T) times 1/γ(20), and its slope, 1/K.
#[inline(always)]
pub fn cardinal<R: Real>(t: R, p: &Params<R>) -> (R, R) {
    let (least, best) = (p.t_least, p.t_best);
    let most = best + SPAN_ABOVE_BEST;
    let t = t.max(least).min(most);
    let d1 = best - least;
    let (short, long) = (t - most, t - least);
    let up = short * long * long;
    let down = d1 * (d1 * (t - best) + (best + least - t * 2.0) * SPAN_ABOVE_BEST);
    let per_down = t.of(1.0) / down;
    let per = p.per_gamma20 * per_down;
    let value = up * per;
    let slope =
        (short * 2.0 + long) * long * per - value * d1 * (d1 - 2.0 * SPAN_ABOVE_BEST) * per_down;
    (value, slope)
}

/// Haug's curve and its slope, 1/K.
#[inline(always)]
pub fn steep<R: Real>(t: R) -> (R, R) {
    let rising = ((t - 20.0) * STEEP.0).exp();
    let falling = ((t - 60.0) * STEEP.1).exp();
    (rising - falling, rising * STEEP.0 - falling * STEEP.1)
}

/// g_T: 1 at 20 °C.
#[inline(always)]
pub fn temperature<R: Real>(t: R, p: &Params<R>) -> R {
    paced(t, p).0
}

/// g_T and its slope, 1/K.
#[inline(always)]
pub fn paced<R: Real>(t: R, p: &Params<R>) -> (R, R) {
    let warm = cardinal(t, p);
    let steep = steep(t.min(t.of(20.0)));
    let cold = p.cold_share.fma(steep.0 - warm.0, warm.0);
    let slope = p.cold_share.fma(steep.1 - warm.1, warm.1);
    (
        t.below(20.0, cold.max(t.of(0.0)), warm.0),
        t.below(20.0, slope, warm.1),
    )
}

/// g_m of the water share.
#[inline(always)]
pub fn moisture<R: Real>(share: R) -> R {
    (share * 17.684 - 7.0622).logistic()
}

/// g_FAS of the free air space.
#[inline(always)]
pub fn air_space<R: Real>(share: R) -> R {
    (share * 23.675 - 3.4945).logistic()
}

/// g_N of nitrogen, kg, and of one over carbon, 1/kg.
#[inline(always)]
pub fn nitrogen<R: Real>(per_carbon: R, nitrogen: R, critical: R) -> R {
    (critical * nitrogen * per_carbon).min(nitrogen.of(1.0))
}
