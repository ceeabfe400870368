//! Numbers in lanes: the same equation for one number or for many members at once.
//!
//! [`Real`] is what an equation may do. `f64` implements it with the library's functions (the reference);
//! [`Lanes`] holds `4 K` members and uses the short series below, on a [`Machine`]: the wide instructions
//! that the processor has. Without them members run one by one, as `f64`.
//!
//! exp: x = k ln 2 + r, |r| ≤ ½ ln 2, Taylor to r⁹ (next term 7·10⁻¹² relative), then the exponent k is set.
//! ln: mantissa around 1, 2 artanh((m−√2)/(m+√2)) + ln √2, to the 11th power (4·10⁻¹¹ absolute).
//! Both are the usual argument reductions (Muller, J.-M. 2016, Elementary Functions, 3rd ed., ch. 11).
//!
//! Wide instructions are called one by one, not left to the compiler's own finding: with whole arrays it
//! took minutes to compile and ran four times slower.

use std::f64::consts::{LN_2, LOG2_E, SQRT_2};
use std::ops::{Add, Div, Mul, Neg, Sub};

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

/// Lanes of one machine vector.
pub const WIDTH: usize = 4;

/// Four numbers at a time, on some processor.
pub trait Machine: Copy + Send + Sync {
    /// Four numbers.
    type V: Copy + Send + Sync;
    /// One number four times.
    fn splat(self, value: f64) -> Self::V;
    /// From memory.
    fn load(self, from: [f64; WIDTH]) -> Self::V;
    /// To memory.
    fn store(self, v: Self::V) -> [f64; WIDTH];
    /// a + b.
    fn add(self, a: Self::V, b: Self::V) -> Self::V;
    /// a − b.
    fn sub(self, a: Self::V, b: Self::V) -> Self::V;
    /// a b.
    fn mul(self, a: Self::V, b: Self::V) -> Self::V;
    /// a / b.
    fn div(self, a: Self::V, b: Self::V) -> Self::V;
    /// a b + c, in one rounding or two.
    fn fma(self, a: Self::V, b: Self::V, c: Self::V) -> Self::V;
    /// √a.
    fn sqrt(self, a: Self::V) -> Self::V;
    /// The larger.
    fn max(self, a: Self::V, b: Self::V) -> Self::V;
    /// The smaller.
    fn min(self, a: Self::V, b: Self::V) -> Self::V;
    /// `then` where a < b, else `other`.
    fn pick(self, a: Self::V, b: Self::V, then: Self::V, other: Self::V) -> Self::V;
    /// 2ᵏ, where `whole` is k + 1.5·2⁵².
    fn two_to(self, whole: Self::V) -> Self::V;
    /// Exponent and mantissa in [1, 2) of a positive number.
    fn split(self, a: Self::V) -> (Self::V, Self::V);
}

/// Bits of the exponent of 2⁵², and 2⁵² + 1023.
const EXPONENT_52: u64 = 0x4330_0000_0000_0000;
const FIFTY_TWO: f64 = 4_503_599_627_370_496.0 + 1023.0;
const MANTISSA: u64 = 0x000f_ffff_ffff_ffff;
const ONE: u64 = 0x3ff0_0000_0000_0000;

#[cfg(target_arch = "x86_64")]
mod wide {
    use super::{EXPONENT_52, FIFTY_TWO, MANTISSA, Machine, ONE, WIDTH};
    use pulp::{f64x4, u64x4, x86::V3};

    #[inline(always)]
    fn bits(a: f64x4) -> u64x4 {
        pulp::cast(a)
    }
    #[inline(always)]
    fn number(a: u64x4) -> f64x4 {
        pulp::cast(a)
    }

    impl Machine for V3 {
        type V = f64x4;
        #[inline(always)]
        fn splat(self, value: f64) -> f64x4 {
            self.splat_f64x4(value)
        }
        #[inline(always)]
        fn load(self, from: [f64; WIDTH]) -> f64x4 {
            pulp::cast(from)
        }
        #[inline(always)]
        fn store(self, v: f64x4) -> [f64; WIDTH] {
            pulp::cast(v)
        }
        #[inline(always)]
        fn add(self, a: f64x4, b: f64x4) -> f64x4 {
            self.add_f64x4(a, b)
        }
        #[inline(always)]
        fn sub(self, a: f64x4, b: f64x4) -> f64x4 {
            self.sub_f64x4(a, b)
        }
        #[inline(always)]
        fn mul(self, a: f64x4, b: f64x4) -> f64x4 {
            self.mul_f64x4(a, b)
        }
        #[inline(always)]
        fn div(self, a: f64x4, b: f64x4) -> f64x4 {
            self.div_f64x4(a, b)
        }
        #[inline(always)]
        fn fma(self, a: f64x4, b: f64x4, c: f64x4) -> f64x4 {
            self.mul_add_f64x4(a, b, c)
        }
        #[inline(always)]
        fn sqrt(self, a: f64x4) -> f64x4 {
            self.sqrt_f64x4(a)
        }
        #[inline(always)]
        fn max(self, a: f64x4, b: f64x4) -> f64x4 {
            self.max_f64x4(a, b)
        }
        #[inline(always)]
        fn min(self, a: f64x4, b: f64x4) -> f64x4 {
            self.min_f64x4(a, b)
        }
        #[inline(always)]
        fn pick(self, a: f64x4, b: f64x4, then: f64x4, other: f64x4) -> f64x4 {
            self.select_f64x4(self.cmp_lt_f64x4(a, b), then, other)
        }
        #[inline(always)]
        fn two_to(self, whole: f64x4) -> f64x4 {
            let shifted = self.shl_const_u64x4::<52>(bits(whole));
            number(self.wrapping_add_u64x4(shifted, self.splat_u64x4(ONE)))
        }
        #[inline(always)]
        fn split(self, a: f64x4) -> (f64x4, f64x4) {
            let exponent = self.shr_const_u64x4::<52>(bits(a));
            let k = number(self.or_u64x4(exponent, self.splat_u64x4(EXPONENT_52)));
            let m = self.and_u64x4(bits(a), self.splat_u64x4(MANTISSA));
            (
                self.sub_f64x4(k, self.splat_f64x4(FIFTY_TWO)),
                number(self.or_u64x4(m, self.splat_u64x4(ONE))),
            )
        }
    }
}

/// `N` members side by side; one is side by side with itself.
pub trait Members<const N: usize>: Real {
    /// One number a member.
    fn each(self) -> [f64; N];
}

impl Members<1> for f64 {
    #[inline(always)]
    fn each(self) -> [f64; 1] {
        [self]
    }
}

impl<M: Machine> Members<8> for Lanes<M, 2> {
    #[inline(always)]
    fn each(self) -> [f64; 8] {
        let [a, b] = self.store();
        [a[0], a[1], a[2], a[3], b[0], b[1], b[2], b[3]]
    }
}

/// `4 K` members side by side.
#[derive(Debug, Clone, Copy)]
pub struct Lanes<M: Machine, const K: usize> {
    machine: M,
    v: [M::V; K],
}

impl<M: Machine, const K: usize> Lanes<M, K> {
    /// One number in every lane.
    #[inline(always)]
    pub fn splat(machine: M, value: f64) -> Self {
        Self {
            machine,
            v: [machine.splat(value); K],
        }
    }
    /// From one number a lane.
    #[inline(always)]
    pub fn load(machine: M, from: &[[f64; WIDTH]; K]) -> Self {
        let mut all = Self::splat(machine, 0.0);
        for (v, from) in all.v.iter_mut().zip(from) {
            *v = machine.load(*from);
        }
        all
    }
    /// One number a lane.
    #[inline(always)]
    pub fn store(self) -> [[f64; WIDTH]; K] {
        let mut all = [[0.0; WIDTH]; K];
        for (all, v) in all.iter_mut().zip(self.v) {
            *all = self.machine.store(v);
        }
        all
    }
}

macro_rules! binary {
    ($($trait:ident $method:ident),*) => {$(
        impl<M: Machine, const K: usize> $trait for Lanes<M, K> {
            type Output = Self;
            #[inline(always)]
            fn $method(mut self, other: Self) -> Self {
                for i in 0..K {
                    self.v[i] = self.machine.$method(self.v[i], other.v[i]);
                }
                self
            }
        }
    )*};
}
binary!(Add add, Sub sub, Mul mul, Div div);

macro_rules! with_one {
    ($($trait:ident $method:ident $by:ident $of:expr),*) => {$(
        impl<M: Machine, const K: usize> $trait<f64> for Lanes<M, K> {
            type Output = Self;
            #[inline(always)]
            fn $method(mut self, other: f64) -> Self {
                let other = self.machine.splat(($of)(other));
                for i in 0..K {
                    self.v[i] = self.machine.$by(self.v[i], other);
                }
                self
            }
        }
    )*};
}
// Division by one number is multiplication by its inverse: within a rounding, at a tenth of the time.
with_one!(Add add add |x: f64| x, Sub sub sub |x: f64| x, Mul mul mul |x: f64| x, Div div mul |x: f64| 1.0 / x);

impl<M: Machine, const K: usize> Neg for Lanes<M, K> {
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

impl<M: Machine, const K: usize> Real for Lanes<M, K> {
    #[inline(always)]
    fn of(self, value: f64) -> Self {
        Self::splat(self.machine, value)
    }
    #[inline(always)]
    fn fma(mut self, by: Self, plus: Self) -> Self {
        for i in 0..K {
            self.v[i] = self.machine.fma(self.v[i], by.v[i], plus.v[i]);
        }
        self
    }
    #[inline(always)]
    fn exp(mut self) -> Self {
        for i in 0..K {
            self.v[i] = exp(self.machine, self.v[i]);
        }
        self
    }
    #[inline(always)]
    fn ln(mut self) -> Self {
        for i in 0..K {
            self.v[i] = ln(self.machine, self.v[i]);
        }
        self
    }
    #[inline(always)]
    fn sqrt(mut self) -> Self {
        for i in 0..K {
            self.v[i] = self.machine.sqrt(self.v[i]);
        }
        self
    }
    #[inline(always)]
    fn max(mut self, other: Self) -> Self {
        for i in 0..K {
            self.v[i] = self.machine.max(self.v[i], other.v[i]);
        }
        self
    }
    #[inline(always)]
    fn min(mut self, other: Self) -> Self {
        for i in 0..K {
            self.v[i] = self.machine.min(self.v[i], other.v[i]);
        }
        self
    }
    #[inline(always)]
    fn below(self, limit: f64, then: Self, other: Self) -> Self {
        let limit = self.machine.splat(limit);
        let mut out = other;
        for i in 0..K {
            out.v[i] = self.machine.pick(self.v[i], limit, then.v[i], other.v[i]);
        }
        out
    }
    #[inline(always)]
    fn any_below(self, limit: f64) -> bool {
        self.store().iter().flatten().any(|x| *x < limit)
    }
}

#[cfg(all(test, target_arch = "x86_64"))]
#[allow(clippy::unwrap_used, reason = "a test")]
mod tests {
    use super::*;
    use pulp::x86::V3;

    // Wide instructions are on every processor these tests run on; without them there is nothing to test.
    fn wide() -> V3 {
        V3::try_new().unwrap()
    }

    fn exp_and_ln(x: [f64; 4]) -> ([f64; 4], [f64; 4]) {
        let lanes = Lanes::<V3, 1>::load(wide(), &[x]);
        let e = Real::exp(lanes);
        (e.store()[0], Real::ln(e).store()[0])
    }

    #[test]
    fn the_series_are_as_close_as_they_say() {
        for i in -6_900..6_900 {
            let x = f64::from(i) * 0.1;
            let (e, l) = exp_and_ln([x; 4]);
            let off = e[0] / x.exp() - 1.0;
            assert!(off.abs() < 1e-11, "exp({x}) is off by {off:e}");
            let off = l[0] - x;
            assert!(
                off.abs() < 1e-10 + 1e-13 * x.abs(),
                "ln(e^{x}) is off by {off:e}"
            );
        }
    }

    #[test]
    fn a_lane_knows_nothing_of_its_neighbours() {
        let (a, _) = exp_and_ln([0.3, -2.0, 7.0, 1e-9]);
        let (b, _) = exp_and_ln([1e-9, 7.0, -2.0, 0.3]);
        for i in 0..4 {
            assert_eq!(a[i].to_bits(), b[3 - i].to_bits());
        }
    }
}
