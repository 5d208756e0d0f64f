//! Several numbers at once: the vector registers of the machine at hand, written as plain arithmetic.
//!
//! A kernel is a struct with `pulp::WithSimd`, started by `pulp::Arch::dispatch`: each instruction set has a copy of its
//! own, chosen at run time. All that a kernel calls must be inlined into that copy, or it falls back to what every
//! machine has; so everything here is `#[inline(always)]`, and kernels
//! neither take a closure nor use `map` on arrays: neither is inlined reliably.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]
#![allow(clippy::needless_range_loop, reason = "registers of several numbers at the same place")]

use pulp::bytemuck::{cast, cast_slice};
use pulp::{Arch, Simd};
use std::ops::{Add, Div, Mul, Neg, Not, Sub};
use std::slice::from_ref;
use std::sync::LazyLock;

/// What the machine at hand can do, asked once.
pub static ARCH: LazyLock<Arch> = LazyLock::new(Arch::new);

/// As many numbers as `N` registers hold: with more than one a machine works on one while it waits for another.
#[derive(Debug, Clone, Copy)]
pub struct Lanes<S: Simd, const N: usize = 1> {
    simd: S,
    value: [S::f64s; N],
}

/// A yes or no for each lane.
#[derive(Debug, Clone, Copy)]
pub struct Mask<S: Simd, const N: usize = 1> {
    simd: S,
    value: [S::m64s; N],
}

/// The same for each register: a loop, for closures are not inlined reliably.
macro_rules! each {
    ($from:ident, |$i:ident| $value:expr) => {{
        let mut value = $from.value;
        for $i in 0..N {
            value[$i] = $value;
        }
        Self { value, ..$from }
    }};
}

impl<S: Simd, const N: usize> Lanes<S, N> {
    /// How many numbers.
    pub const WIDTH: usize = N * S::F64_LANES;

    /// One number in every lane.
    #[inline(always)]
    pub fn splat(simd: S, value: f64) -> Self {
        Self { simd, value: [simd.splat_f64s(value); N] }
    }

    /// One number in every lane of registers like these.
    #[inline(always)]
    pub fn filled(self, value: f64) -> Self {
        Self::splat(self.simd, value)
    }

    /// The lanes at a place of a column whose length is a whole number of such.
    #[inline(always)]
    pub fn load(simd: S, column: &[f64], place: usize) -> Self {
        let column = S::as_simd_f64s(column).0;
        let mut value = [simd.splat_f64s(0.0); N];
        for i in 0..N {
            value[i] = column[N * place + i];
        }
        Self { simd, value }
    }

    /// As [`Self::load`], on registers like these.
    #[inline(always)]
    pub fn loaded(self, column: &[f64], place: usize) -> Self {
        Self::load(self.simd, column, place)
    }

    /// Writes the lanes to their place in a column.
    #[inline(always)]
    pub fn store(self, column: &mut [f64], place: usize) {
        let column = S::as_mut_simd_f64s(column).0;
        for i in 0..N {
            column[N * place + i] = self.value[i];
        }
    }

    /// Writes the lanes one after another to as many numbers, wherever those begin.
    #[inline(always)]
    pub(crate) fn write(self, to: &mut [f64]) {
        for i in 0..N {
            let lanes = cast_slice::<_, f64>(from_ref(&self.value[i]));
            to[i * S::F64_LANES..(i + 1) * S::F64_LANES].copy_from_slice(lanes);
        }
    }

    /// The number in the first lane.
    #[inline(always)]
    pub fn first(self) -> f64 {
        cast_slice::<_, f64>(from_ref(&self.value[0]))[0]
    }

    /// The sum of all lanes, in every lane of one register.
    #[inline(always)]
    pub fn sum(self) -> Lanes<S> {
        let mut sum = self.value[0];
        for i in 1..N {
            sum = self.simd.add_f64s(sum, self.value[i]);
        }
        Lanes::splat(self.simd, self.simd.reduce_sum_f64s(sum))
    }

    /// The greatest of all lanes.
    #[inline(always)]
    pub fn greatest(self) -> f64 {
        let mut most = self.value[0];
        for i in 1..N {
            most = self.simd.max_f64s(most, self.value[i]);
        }
        self.simd.reduce_max_f64s(most)
    }

    /// `self * b + c`, rounded once where the machine can.
    #[inline(always)]
    pub fn mul_add(self, b: Self, c: Self) -> Self {
        each!(self, |i| self.simd.mul_add_e_f64s(self.value[i], b.value[i], c.value[i]))
    }

    /// The square root.
    #[inline(always)]
    pub fn sqrt(self) -> Self {
        each!(self, |i| self.simd.sqrt_f64s(self.value[i]))
    }

    /// One over it.
    #[inline(always)]
    pub fn recip(self) -> Self {
        Self::splat(self.simd, 1.0) / self
    }

    /// The size.
    #[inline(always)]
    pub fn abs(self) -> Self {
        let s = self.simd;
        each!(self, |i| cast(s.and_u64s(cast(self.value[i]), s.splat_u64s(!SIGN))))
    }

    /// The greater of two; which of them where one is NaN is not said.
    #[inline(always)]
    pub fn max(self, other: Self) -> Self {
        each!(self, |i| self.simd.max_f64s(self.value[i], other.value[i]))
    }

    /// The lesser of two; which of them where one is NaN is not said.
    #[inline(always)]
    pub fn min(self, other: Self) -> Self {
        each!(self, |i| self.simd.min_f64s(self.value[i], other.value[i]))
    }

    /// Whole numbers no greater, of numbers from nothing to 2^51.
    #[inline(always)]
    pub(crate) fn floor(self) -> Self {
        let high = Self::splat(self.simd, TWO_52);
        let near = (self + high) - high;
        let less = near - Self::splat(self.simd, 1.0);
        self.lt(near).select(less, near)
    }

    /// Writes whole numbers from nothing to 2^32 so that [`index`] reads them.
    #[inline(always)]
    pub(crate) fn store_indices(self, column: &mut [f64]) {
        (self + Self::splat(self.simd, TWO_52)).store(column, 0);
    }

    /// Where it is less; not where either is NaN.
    #[inline(always)]
    pub fn lt(self, other: Self) -> Mask<S, N> {
        let s = self.simd;
        let mut value = [s.less_than_f64s(self.value[0], other.value[0]); N];
        for i in 1..N {
            value[i] = s.less_than_f64s(self.value[i], other.value[i]);
        }
        Mask { simd: s, value }
    }

    /// The polynomial with these coefficients, the highest power first.
    #[inline(always)]
    pub fn polynomial<const T: usize>(self, terms: &[f64; T]) -> Self {
        let mut sum = Self::splat(self.simd, terms[0]);
        for term in &terms[1..] {
            sum = sum.mul_add(self, Self::splat(self.simd, *term));
        }
        sum
    }

    /// The natural logarithm of normal numbers above zero, to 3e-16 of 1 or of itself, whichever is more.
    ///
    /// `x = 2^e m` with `m` within a factor of `sqrt 2` of 1, and `ln m = 2 artanh((m - 1) / (m + 1))`.
    #[inline(always)]
    pub fn ln(self) -> Self {
        let fill = |value: f64| Self::splat(self.simd, value);
        let [mut m, mut exponent] = [self; 2];
        for i in 0..N {
            [m.value[i], exponent.value[i]] = parted(self.simd, self.value[i]);
        }
        let e = (exponent - fill(TWO_84)).mul_add(fill(TWO_64.recip()), fill(-1023.0));
        let z = (m - fill(1.0)) / (m + fill(1.0));
        e.mul_add(fill(std::f64::consts::LN_2), (z * z).polynomial(&ARTANH) * z)
    }

    /// The cosine of angles from nothing to a right one; to 1e-12.
    #[inline(always)]
    pub fn cos(self) -> Self {
        (self * self).polynomial(&COSINE)
    }

    /// The sine of angles from nothing to a right one; to 1e-13.
    #[inline(always)]
    pub fn sin(self) -> Self {
        (self * self).polynomial(&SINE) * self
    }

    /// The angle whose tangent it is, for tangents from 0 to 1; to 4e-15.
    ///
    /// Halved once: `tan(a / 2) = tan a / (1 + sqrt(1 + tan^2 a))`; then a polynomial.
    #[inline(always)]
    pub fn atan(self) -> Self {
        let one = Self::splat(self.simd, 1.0);
        let half = self / (one + self.mul_add(self, one).sqrt());
        (half * half).polynomial(&ARCTAN) * (half + half)
    }
}

/// A whole number that [`Lanes::store_indices`] wrote: without a conversion, which takes longer.
#[inline(always)]
pub(crate) fn index(stored: f64) -> usize {
    (stored.to_bits() & 0xffff_ffff) as usize
}

/// Numbers as `2^e m`: `m`, and the exponent as an integer in the fraction of 2^84.
#[inline(always)]
fn parted<S: Simd>(s: S, value: S::f64s) -> [S::f64s; 2] {
    // Moved up so that a fraction from sqrt 2 on is carried over into the exponent.
    let bits = s.add_u64s(s.transmute_u64s_f64s(value), s.splat_u64s(ONE - HALF_ROOT));
    // Halves moved down by 20 bits: the upper holds the exponent.
    let halves = s.wrapping_dyn_shr_u32s(cast(bits), s.splat_u32s(20));
    let exponent = s.and_u64s(cast(halves), s.splat_u64s(0x7ff << 32));
    let exponent = s.transmute_f64s_u64s(s.or_u64s(exponent, s.splat_u64s(TWO_84.to_bits())));
    let fraction = s.and_u64s(bits, s.splat_u64s(FRACTION));
    let m = s.transmute_f64s_u64s(s.add_u64s(fraction, s.splat_u64s(HALF_ROOT)));
    [m, exponent]
}

const SIGN: u64 = 1 << 63;
const ONE: u64 = 0x3ff0_0000_0000_0000;
/// The bits of the square root of 1/2.
const HALF_ROOT: u64 = 0x3fe6_a09e_667f_3bcd;
const FRACTION: u64 = 0x000f_ffff_ffff_ffff;
const TWO_52: f64 = 4503599627370496.0;
const TWO_64: f64 = 18446744073709551616.0;
const TWO_84: f64 = 19342813113834066795298816.0;

/// `2 / (2 j + 1)`, the highest first: what is cut off is below 1e-17 for `|z| < 0.1716`.
const ARTANH: [f64; 11] = [
    2.0 / 21.0,
    2.0 / 19.0,
    2.0 / 17.0,
    2.0 / 15.0,
    2.0 / 13.0,
    2.0 / 11.0,
    2.0 / 9.0,
    2.0 / 7.0,
    2.0 / 5.0,
    2.0 / 3.0,
    2.0,
];

/// Taylor's series in `x^2`, the highest first: what is cut off is below 6e-13.
const COSINE: [f64; 9] = [
    1.0 / 20_922_789_888_000.0,
    -1.0 / 87_178_291_200.0,
    1.0 / 479_001_600.0,
    -1.0 / 3_628_800.0,
    1.0 / 40_320.0,
    -1.0 / 720.0,
    1.0 / 24.0,
    -0.5,
    1.0,
];

/// The same of `sin(x) / x`: what is cut off is below 5e-14.
const SINE: [f64; 9] = [
    1.0 / 355_687_428_096_000.0,
    -1.0 / 1_307_674_368_000.0,
    1.0 / 6_227_020_800.0,
    -1.0 / 39_916_800.0,
    1.0 / 362_880.0,
    -1.0 / 5_040.0,
    1.0 / 120.0,
    -1.0 / 6.0,
    1.0,
];

/// `atan(x) / x` in `x^2`, the highest first: interpolated at 11 Chebyshev nodes for `x` from 0 to `sqrt 2 - 1`.
const ARCTAN: [f64; 11] = [
    0.020330883506366297,
    -0.042844837668590645,
    0.05667125451606036,
    -0.0663634392698289,
    0.07689528347291359,
    -0.09090744982366852,
    0.11111105103675822,
    -0.1428571416015409,
    0.19999999998748896,
    -0.333333333333299,
    0.9999999999999997,
];

impl<S: Simd, const N: usize> Mask<S, N> {
    /// `yes` where it holds, else `no`.
    #[inline(always)]
    pub fn select(self, yes: Lanes<S, N>, no: Lanes<S, N>) -> Lanes<S, N> {
        // Of the bits: the library's own choice between numbers is not always inlined.
        let mut value = yes.value;
        for i in 0..N {
            let bits = self.simd.select_u64s(self.value[i], cast(yes.value[i]), cast(no.value[i]));
            value[i] = cast(bits);
        }
        Lanes { value, simd: self.simd }
    }

    /// Whether it holds in any lane.
    #[inline(always)]
    pub fn any(self) -> bool {
        let s = self.simd;
        let mut any = 0;
        for mask in self.value {
            // Where a mask is bits of one byte, the machine tells at once.
            if size_of::<S::m64s>() == 1 {
                any |= u64::from(s.first_true_m64s(mask) < S::F64_LANES);
                continue;
            }
            let bits = s.select_u64s(mask, s.splat_u64s(1), s.splat_u64s(0));
            for bit in cast_slice::<_, u64>(from_ref(&bits)) {
                any |= bit;
            }
        }
        any != 0
    }

    /// Where either holds.
    #[inline(always)]
    pub fn or(self, other: Self) -> Self {
        each!(self, |i| self.simd.or_m64s(self.value[i], other.value[i]))
    }

    /// Where both hold.
    #[inline(always)]
    pub fn and(self, other: Self) -> Self {
        each!(self, |i| self.simd.and_m64s(self.value[i], other.value[i]))
    }
}

impl<S: Simd, const N: usize> Not for Mask<S, N> {
    type Output = Self;
    #[inline(always)]
    fn not(self) -> Self {
        each!(self, |i| self.simd.not_m64s(self.value[i]))
    }
}

macro_rules! operator {
    ($trait:ident, $name:ident, $call:ident) => {
        impl<S: Simd, const N: usize> $trait for Lanes<S, N> {
            type Output = Self;
            #[inline(always)]
            fn $name(self, other: Self) -> Self {
                each!(self, |i| self.simd.$call(self.value[i], other.value[i]))
            }
        }
    };
}
operator!(Add, add, add_f64s);
operator!(Sub, sub, sub_f64s);
operator!(Mul, mul, mul_f64s);
operator!(Div, div, div_f64s);

impl<S: Simd, const N: usize> Neg for Lanes<S, N> {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        let s = self.simd;
        each!(self, |i| cast(s.xor_u64s(cast(self.value[i]), s.splat_u64s(SIGN))))
    }
}

#[cfg(test)]
mod tests;
