//! Numbers in lanes: the same equation for one number or for many members at once.
//!
//! [`Real`] is what an equation may do. `f64` implements it with the library's functions (the reference);
//! [`Lanes`] holds [`LANES`] members and uses the short series below, on a [`Machine`]: the instructions that the
//! processor has.
//!
//! exp: x = k ln 2 + r, |r| ≤ ½ ln 2, Taylor to r⁹ (next term 7·10⁻¹² relative), then the exponent k is set.
//! ln: mantissa around 1, 2 artanh((m−√2)/(m+√2)) + ln √2, to the 11th power (4·10⁻¹¹ absolute).
//! Both are the usual argument reductions (Muller, J.-M. 2016, Elementary Functions, 3rd ed., ch. 11).
//!
use std::f64::consts::{LN_2, LOG2_E, SQRT_2};
use std::ops::{Add, Div, Mul, Neg, Sub};

use super::machine::{LANES, Machine};

/// What an equation needs of a number.
pub trait Real:
    Copy
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
    + Add<f64, Output = Self>
    + Sub<f64, Output = Self>
    + Mul<f64, Output = Self>
    + Div<f64, Output = Self>
{
    /// This value in every lane of a number like `self`.
    fn of(self, value: f64) -> Self;
    /// `self · by + plus`.
    fn fma(self, by: Self, plus: Self) -> Self;
    /// eˣ, argument held within ±700.
    fn exp(self) -> Self;
    /// Natural logarithm of a positive number.
    fn ln(self) -> Self;
    /// Square root.
    fn sqrt(self) -> Self;
    /// The larger.
    fn max(self, other: Self) -> Self;
    /// The smaller.
    fn min(self, other: Self) -> Self;
    /// `then` where `self < limit`, else `other`.
    fn below(self, limit: f64, then: Self, other: Self) -> Self;

    /// Whether any lane is below `limit`.
    fn any_below(self, limit: f64) -> bool;

    /// Held within bounds.
    #[inline(always)]
    fn within(self, low: f64, high: f64) -> Self {
        self.max(self.of(low)).min(self.of(high))
    }
    /// 1 / (1 + e⁻ˣ).
    #[inline(always)]
    fn logistic(self) -> Self {
        self.of(1.0) / ((-self).exp() + 1.0)
    }
}

/// 1/a and 1/b by one division: the divider is the slowest part of a processor, and a step needs dozens. Their
/// product must be an ordinary number.
#[inline(always)]
pub fn per_both<R: Real>(a: R, b: R) -> [R; 2] {
    let per = a.of(1.0) / (a * b);
    [b * per, a * per]
}

impl Real for f64 {
    #[inline(always)]
    fn of(self, value: f64) -> Self {
        value
    }
    #[inline(always)]
    fn fma(self, by: Self, plus: Self) -> Self {
        self * by + plus
    }
    #[inline(always)]
    fn exp(self) -> Self {
        f64::exp(self.clamp(-700.0, 700.0))
    }
    #[inline(always)]
    fn ln(self) -> Self {
        f64::ln(self)
    }
    #[inline(always)]
    fn sqrt(self) -> Self {
        f64::sqrt(self)
    }
    #[inline(always)]
    fn max(self, other: Self) -> Self {
        f64::max(self, other)
    }
    #[inline(always)]
    fn min(self, other: Self) -> Self {
        f64::min(self, other)
    }
    #[inline(always)]
    fn below(self, limit: f64, then: Self, other: Self) -> Self {
        if self < limit { then } else { other }
    }
    #[inline(always)]
    fn any_below(self, limit: f64) -> bool {
        self < limit
    }
}

/// [`LANES`] members side by side.
#[derive(Debug, Clone, Copy)]
pub struct Lanes<M: Machine> {
    machine: M,
    v: M::V,
}

impl<M: Machine> Lanes<M> {
    /// One number in every lane.
    #[inline(always)]
    pub fn splat(machine: M, value: f64) -> Self {
        Self {
            machine,
            v: machine.splat(value),
        }
    }
    /// From one number a lane.
    #[inline(always)]
    pub fn load(machine: M, from: [f64; LANES]) -> Self {
        Self {
            machine,
            v: machine.load(from),
        }
    }
    /// One number a lane.
    #[inline(always)]
    pub fn store(self) -> [f64; LANES] {
        self.machine.store(self.v)
    }
    #[inline(always)]
    fn with(self, v: M::V) -> Self {
        Self { v, ..self }
    }
}

macro_rules! binary {
    ($($trait:ident $method:ident),*) => {$(
        impl<M: Machine> $trait for Lanes<M> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: Self) -> Self {
                self.with(self.machine.$method(self.v, other.v))
            }
        }
    )*};
}
binary!(Add add, Sub sub, Mul mul, Div div);

macro_rules! with_one {
    ($($trait:ident $method:ident $by:ident $of:expr),*) => {$(
        impl<M: Machine> $trait<f64> for Lanes<M> {
            type Output = Self;
            #[inline(always)]
            fn $method(self, other: f64) -> Self {
                self.with(self.machine.$by(self.v, self.machine.splat(($of)(other))))
            }
        }
    )*};
}
// Division by one number is multiplication by its inverse: within a rounding, at a tenth of the time.
with_one!(Add add add |x: f64| x, Sub sub sub |x: f64| x, Mul mul mul |x: f64| x, Div div mul |x: f64| 1.0 / x);

impl<M: Machine> Neg for Lanes<M> {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        self.of(0.0) - self
    }
}

/// 1.5·2⁵²: adding it leaves the nearest whole number in the low bits.
const ROUND: f64 = 6_755_399_441_055_744.0;
/// ln 2 in two parts, so that k ln 2 is exact.
const LN_2_HIGH: f64 = 6.931_471_803_691_238e-1;
const LN_2_LOW: f64 = 1.908_214_929_270_587_7e-10;
/// 1/n! from 8 down to 0.
const TAYLOR: [f64; 9] = [
    1.0 / 40_320.0,
    1.0 / 5_040.0,
    1.0 / 720.0,
    1.0 / 120.0,
    1.0 / 24.0,
    1.0 / 6.0,
    0.5,
    1.0,
    1.0,
];

#[inline(always)]
fn exp<M: Machine>(m: M, x: M::V) -> M::V {
    let x = m.min(m.max(x, m.splat(-700.0)), m.splat(700.0));
    let whole = m.fma(x, m.splat(LOG2_E), m.splat(ROUND));
    let k = m.sub(whole, m.splat(ROUND));
    let r = m.fma(k, m.splat(-LN_2_HIGH), x);
    let r = m.fma(k, m.splat(-LN_2_LOW), r);
    let mut p = m.splat(1.0 / 362_880.0);
    for c in TAYLOR {
        p = m.fma(p, r, m.splat(c));
    }
    m.mul(p, m.two_to(whole))
}

#[inline(always)]
fn ln<M: Machine>(m: M, x: M::V) -> M::V {
    let (k, mantissa) = m.split(x);
    let root = m.splat(SQRT_2);
    let z = m.div(m.sub(mantissa, root), m.add(mantissa, root));
    let s = m.mul(z, z);
    let mut p = m.splat(1.0 / 11.0);
    for c in [1.0 / 9.0, 1.0 / 7.0, 1.0 / 5.0, 1.0 / 3.0, 1.0] {
        p = m.fma(p, s, m.splat(c));
    }
    let p = m.mul(m.mul(z, p), m.splat(2.0));
    m.fma(m.add(k, m.splat(0.5)), m.splat(LN_2), p)
}

impl<M: Machine> Real for Lanes<M> {
    #[inline(always)]
    fn of(self, value: f64) -> Self {
        Self::splat(self.machine, value)
    }
    #[inline(always)]
    fn fma(self, by: Self, plus: Self) -> Self {
        self.with(self.machine.fma(self.v, by.v, plus.v))
    }
    #[inline(always)]
    fn exp(self) -> Self {
        self.with(exp(self.machine, self.v))
    }
    #[inline(always)]
    fn ln(self) -> Self {
        self.with(ln(self.machine, self.v))
    }
    #[inline(always)]
    fn sqrt(self) -> Self {
        self.with(self.machine.sqrt(self.v))
    }
    #[inline(always)]
    fn max(self, other: Self) -> Self {
        self.with(self.machine.max(self.v, other.v))
    }
    #[inline(always)]
    fn min(self, other: Self) -> Self {
        self.with(self.machine.min(self.v, other.v))
    }
    #[inline(always)]
    fn below(self, limit: f64, then: Self, other: Self) -> Self {
        let limit = self.machine.splat(limit);
        self.with(self.machine.pick(self.v, limit, then.v, other.v))
    }
    #[inline(always)]
    fn any_below(self, limit: f64) -> bool {
        self.machine.any_below(self.v, self.machine.splat(limit))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::machine::Plain;

    fn exp_and_ln<M: Machine>(machine: M, x: [f64; LANES]) -> [[f64; LANES]; 2] {
        let e = Real::exp(Lanes::load(machine, x));
        [e.store(), Real::ln(e).store()]
    }

    fn close<M: Machine>(machine: M) {
        for i in -6_900..6_900 {
            let x = f64::from(i) * 0.1;
            let [e, l] = exp_and_ln(machine, [x; LANES]);
            let off = e[0] / x.exp() - 1.0;
            assert!(off.abs() < 1e-11, "exp({x}) is off by {off:e}");
            let off = l[0] - x;
            assert!(
                off.abs() < 1e-10 + 1e-13 * x.abs(),
                "ln(e^{x}) is off by {off:e}"
            );
        }
    }

    fn apart<M: Machine>(machine: M) {
        let there: [f64; LANES] = std::array::from_fn(|i| [0.3, -2.0, 7.0, 1e-9][i % 4] * i as f64);
        let back = std::array::from_fn(|i| there[LANES - 1 - i]);
        let (a, b) = (exp_and_ln(machine, there), exp_and_ln(machine, back));
        for (a, b) in a.into_iter().zip(b) {
            for i in 0..LANES {
                assert_eq!(a[i].to_bits(), b[LANES - 1 - i].to_bits());
            }
        }
    }

    fn chooses<M: Machine>(machine: M) {
        let x = Lanes::load(machine, std::array::from_fn(|i| i as f64));
        let one = x.of(1.0);
        let picked = x.below(1.0, one, x * 2.0).store();
        for (i, value) in picked.into_iter().enumerate() {
            assert_eq!(value, if i == 0 { 1.0 } else { 2.0 * i as f64 });
        }
        assert!(x.any_below(0.5) && !x.any_below(0.0));
        // Nothing is below, or above, what is not a number.
        assert!(!x.of(f64::NAN).any_below(f64::INFINITY));
    }

    fn all<M: Machine>(machine: M) {
        close(machine);
        apart(machine);
        chooses(machine);
    }

    #[test]
    fn the_plain_machine_keeps_its_word() {
        all(Plain);
    }

    // A machine that this processor is not cannot be tried on it; the others are.
    #[cfg(target_arch = "x86_64")]
    #[test]
    fn the_wide_machines_keep_their_word() {
        use pulp::x86::{V3, V4};
        let tried = [V3::try_new().map(all), V4::try_new().map(all)];
        assert!(
            tried[0].is_some() || !std::arch::is_x86_feature_detected!("avx2"),
            "a processor with AVX2 was not known as one"
        );
    }
}
