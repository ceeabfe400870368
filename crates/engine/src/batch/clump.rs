//! Clumps that go without air when wet, and the acids that are made there.
//!
//! ```text
//! dA/dt = k_A ψ (1−A) − 0.05 (1−ψ) A,  ψ = 1/(1 + e^(−(w−0.80)/0.04));  a turning takes A to 0.85 A
//! dY/dt = 0.25 k_r S_r g_T g_m (1 − g_O2 (1−A)) − 0.5 Y g_T g_m g_O2 (1−A)
//! pH    = 8.3 − 3.6 y/(y + 0.006),  y = Y/D
//! ```
//! w water share of the pores, Y acids kg, D dry matter kg. All choices: the shape follows what is seen
//! (balls in a wet drum, sour smell, pH 5–6 early and 8–8.5 late: Sundberg 2005, Acta Univ. Agric. Sueciae
//! 2005:103, abstract). Acids hold no decay back here: tried, and it moved no date by more than a day.

use super::lanes::Real;

/// What is left of the clumps after a turning.
pub const TURNED: f64 = 0.85;
/// Acids in fresh quick matter, kg/kg.
pub const ACID_IN: f64 = 0.03;

/// dA/dt.
#[inline(always)]
pub fn rate<R: Real>(clumped: R, pores_filled: R, forming: R) -> R {
    let soggy = ((pores_filled - 0.80) * 25.0).logistic();
    let one = clumped.of(1.0);
    forming * soggy * (one - clumped) - (one - soggy) * clumped * 0.05
}

/// dY/dt from the quick matter that could decay (k_r S_r g_T g_m), and the share of it that has air.
#[inline(always)]
pub fn acids<R: Real>(acids: R, quick_pace: R, g_t_g_m: R, aired: R) -> R {
    quick_pace * (aired.of(1.0) - aired) * 0.25 - acids * g_t_g_m * aired * 0.5
}

/// pH from acids and dry matter, kg.
#[inline(always)]
pub fn ph<R: Real>(acids: R, dry: R) -> R {
    acids.of(8.3) - acids * 3.6 / (acids + (dry + 1e-9) * 0.006)
}
