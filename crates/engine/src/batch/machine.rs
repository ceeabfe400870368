//! What a processor does with several numbers at a time.
//!
//! [`LANES`] members go side by side: one vector of AVX-512, two of AVX2, four of what every processor has
//! ([`Plain`]). Wide instructions are called one by one, not left to the compiler's own finding: with whole
//! arrays it took minutes to compile and ran four times slower.
//!
//! AVX-512 and AVX2 give the same bits, since both fuse products; [`Plain`] differs in the last ones.

use wide::{f64x2, u64x2};

/// Members side by side: enough that one works on while another waits for a division.
pub const LANES: usize = 8;

/// [`LANES`] numbers at a time, on some processor.
pub trait Machine: Copy + Send + Sync {
    /// The numbers.
    type V: Copy + Send + Sync;
    /// One number in every place.
    fn splat(self, value: f64) -> Self::V;
    /// From memory.
    fn load(self, from: [f64; LANES]) -> Self::V;
    /// To memory.
    fn store(self, v: Self::V) -> [f64; LANES];
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
    /// Whether a < b anywhere.
    fn any_below(self, a: Self::V, b: Self::V) -> bool;
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

/// What every processor has: two numbers at a time, four times.
#[derive(Debug, Clone, Copy)]
pub struct Plain;

type Pairs = [f64x2; 4];

#[inline(always)]
fn each(f: impl FnMut(usize) -> f64x2) -> Pairs {
    std::array::from_fn(f)
}
#[inline(always)]
fn bits(a: f64x2) -> u64x2 {
    pulp::cast(a)
}
#[inline(always)]
fn number(a: u64x2) -> f64x2 {
    pulp::cast(a)
}

impl Machine for Plain {
    type V = Pairs;
    #[inline(always)]
    fn splat(self, value: f64) -> Pairs {
        [f64x2::splat(value); 4]
    }
    #[inline(always)]
    fn load(self, from: [f64; LANES]) -> Pairs {
        pulp::cast(from)
    }
    #[inline(always)]
    fn store(self, v: Pairs) -> [f64; LANES] {
        pulp::cast(v)
    }
    #[inline(always)]
    fn add(self, a: Pairs, b: Pairs) -> Pairs {
        each(|i| a[i] + b[i])
    }
    #[inline(always)]
    fn sub(self, a: Pairs, b: Pairs) -> Pairs {
        each(|i| a[i] - b[i])
    }
    #[inline(always)]
    fn mul(self, a: Pairs, b: Pairs) -> Pairs {
        each(|i| a[i] * b[i])
    }
    #[inline(always)]
    fn div(self, a: Pairs, b: Pairs) -> Pairs {
        each(|i| a[i] / b[i])
    }
    #[inline(always)]
    fn fma(self, a: Pairs, b: Pairs, c: Pairs) -> Pairs {
        each(|i| a[i].mul_add(b[i], c[i]))
    }
    #[inline(always)]
    fn sqrt(self, a: Pairs) -> Pairs {
        each(|i| a[i].sqrt())
    }
    #[inline(always)]
    fn max(self, a: Pairs, b: Pairs) -> Pairs {
        each(|i| a[i].fast_max(b[i]))
    }
    #[inline(always)]
    fn min(self, a: Pairs, b: Pairs) -> Pairs {
        each(|i| a[i].fast_min(b[i]))
    }
    #[inline(always)]
    fn pick(self, a: Pairs, b: Pairs, then: Pairs, other: Pairs) -> Pairs {
        each(|i| a[i].simd_lt(b[i]).bitselect(then[i], other[i]))
    }
    #[inline(always)]
    fn any_below(self, a: Pairs, b: Pairs) -> bool {
        (0..4).any(|i| a[i].simd_lt(b[i]).any())
    }
    #[inline(always)]
    fn two_to(self, whole: Pairs) -> Pairs {
        each(|i| number((bits(whole[i]) << 52_u32) + u64x2::splat(ONE)))
    }
    #[inline(always)]
    fn split(self, a: Pairs) -> (Pairs, Pairs) {
        let k = each(|i| {
            number((bits(a[i]) >> 52_u32) | u64x2::splat(EXPONENT_52)) - f64x2::splat(FIFTY_TWO)
        });
        let mantissa = |i: usize| (bits(a[i]) & u64x2::splat(MANTISSA)) | u64x2::splat(ONE);
        (k, each(|i| number(mantissa(i))))
    }
}

#[cfg(target_arch = "x86_64")]
mod x86 {
    use super::{EXPONENT_52, FIFTY_TWO, LANES, MANTISSA, Machine, ONE};
    use pulp::x86::{V3, V4};
    use pulp::{Simd, f64x4, f64x8, u64x4, u64x8};

    impl Machine for V3 {
        type V = [f64x4; 2];
        #[inline(always)]
        fn splat(self, value: f64) -> Self::V {
            [self.splat_f64x4(value); 2]
        }
        #[inline(always)]
        fn load(self, from: [f64; LANES]) -> Self::V {
            pulp::cast(from)
        }
        #[inline(always)]
        fn store(self, v: Self::V) -> [f64; LANES] {
            pulp::cast(v)
        }
        #[inline(always)]
        fn add(self, a: Self::V, b: Self::V) -> Self::V {
            [self.add_f64x4(a[0], b[0]), self.add_f64x4(a[1], b[1])]
        }
        #[inline(always)]
        fn sub(self, a: Self::V, b: Self::V) -> Self::V {
            [self.sub_f64x4(a[0], b[0]), self.sub_f64x4(a[1], b[1])]
        }
        #[inline(always)]
        fn mul(self, a: Self::V, b: Self::V) -> Self::V {
            [self.mul_f64x4(a[0], b[0]), self.mul_f64x4(a[1], b[1])]
        }
        #[inline(always)]
        fn div(self, a: Self::V, b: Self::V) -> Self::V {
            [self.div_f64x4(a[0], b[0]), self.div_f64x4(a[1], b[1])]
        }
        #[inline(always)]
        fn fma(self, a: Self::V, b: Self::V, c: Self::V) -> Self::V {
            [
                self.mul_add_f64x4(a[0], b[0], c[0]),
                self.mul_add_f64x4(a[1], b[1], c[1]),
            ]
        }
        #[inline(always)]
        fn sqrt(self, a: Self::V) -> Self::V {
            [self.sqrt_f64x4(a[0]), self.sqrt_f64x4(a[1])]
        }
        #[inline(always)]
        fn max(self, a: Self::V, b: Self::V) -> Self::V {
            [self.max_f64x4(a[0], b[0]), self.max_f64x4(a[1], b[1])]
        }
        #[inline(always)]
        fn min(self, a: Self::V, b: Self::V) -> Self::V {
            [self.min_f64x4(a[0], b[0]), self.min_f64x4(a[1], b[1])]
        }
        #[inline(always)]
        fn pick(self, a: Self::V, b: Self::V, then: Self::V, other: Self::V) -> Self::V {
            let half =
                |i: usize| self.select_f64x4(self.cmp_lt_f64x4(a[i], b[i]), then[i], other[i]);
            [half(0), half(1)]
        }
        #[inline(always)]
        fn any_below(self, a: Self::V, b: Self::V) -> bool {
            let (a, b) = (self.store(a), self.store(b));
            a.iter().zip(b).any(|(a, b)| *a < b)
        }
        #[inline(always)]
        fn two_to(self, whole: Self::V) -> Self::V {
            let one = self.splat_u64x4(ONE);
            let [a, b]: [u64x4; 2] = pulp::cast(whole);
            pulp::cast([
                self.wrapping_add_u64x4(self.shl_const_u64x4::<52>(a), one),
                self.wrapping_add_u64x4(self.shl_const_u64x4::<52>(b), one),
            ])
        }
        #[inline(always)]
        fn split(self, a: Self::V) -> (Self::V, Self::V) {
            let [a, b]: [u64x4; 2] = pulp::cast(a);
            let (high, one) = (self.splat_u64x4(EXPONENT_52), self.splat_u64x4(ONE));
            let low = self.splat_u64x4(MANTISSA);
            let k = pulp::cast([
                self.or_u64x4(self.shr_const_u64x4::<52>(a), high),
                self.or_u64x4(self.shr_const_u64x4::<52>(b), high),
            ]);
            let m = pulp::cast([
                self.or_u64x4(self.and_u64x4(a, low), one),
                self.or_u64x4(self.and_u64x4(b, low), one),
            ]);
            (self.sub(k, self.splat(FIFTY_TWO)), m)
        }
    }

    impl Machine for V4 {
        type V = f64x8;
        #[inline(always)]
        fn splat(self, value: f64) -> f64x8 {
            self.splat_f64x8(value)
        }
        #[inline(always)]
        fn load(self, from: [f64; LANES]) -> f64x8 {
            pulp::cast(from)
        }
        #[inline(always)]
        fn store(self, v: f64x8) -> [f64; LANES] {
            pulp::cast(v)
        }
        #[inline(always)]
        fn add(self, a: f64x8, b: f64x8) -> f64x8 {
            self.add_f64s(a, b)
        }
        #[inline(always)]
        fn sub(self, a: f64x8, b: f64x8) -> f64x8 {
            self.sub_f64s(a, b)
        }
        #[inline(always)]
        fn mul(self, a: f64x8, b: f64x8) -> f64x8 {
            self.mul_f64s(a, b)
        }
        #[inline(always)]
        fn div(self, a: f64x8, b: f64x8) -> f64x8 {
            self.div_f64s(a, b)
        }
        #[inline(always)]
        fn fma(self, a: f64x8, b: f64x8, c: f64x8) -> f64x8 {
            self.mul_add_f64x8(a, b, c)
        }
        #[inline(always)]
        fn sqrt(self, a: f64x8) -> f64x8 {
            self.sqrt_f64x8(a)
        }
        #[inline(always)]
        fn max(self, a: f64x8, b: f64x8) -> f64x8 {
            self.max_f64s(a, b)
        }
        #[inline(always)]
        fn min(self, a: f64x8, b: f64x8) -> f64x8 {
            self.min_f64s(a, b)
        }
        #[inline(always)]
        fn pick(self, a: f64x8, b: f64x8, then: f64x8, other: f64x8) -> f64x8 {
            self.select_f64x8(self.cmp_lt_f64x8(a, b), then, other)
        }
        #[inline(always)]
        fn any_below(self, a: f64x8, b: f64x8) -> bool {
            self.cmp_lt_f64x8(a, b).0 != 0
        }
        #[inline(always)]
        fn two_to(self, whole: f64x8) -> f64x8 {
            let shifted = self.shl_const_u64x8::<52>(pulp::cast(whole));
            pulp::cast(self.add_u64s(shifted, self.splat_u64x8(ONE)))
        }
        #[inline(always)]
        fn split(self, a: f64x8) -> (f64x8, f64x8) {
            let a: u64x8 = pulp::cast(a);
            let k = self.or_u64s(self.shr_const_u64x8::<52>(a), self.splat_u64x8(EXPONENT_52));
            let m = self.and_u64s(a, self.splat_u64x8(MANTISSA));
            (
                self.sub_f64s(pulp::cast(k), self.splat_f64x8(FIFTY_TWO)),
                pulp::cast(self.or_u64s(m, self.splat_u64x8(ONE))),
            )
        }
    }
}
