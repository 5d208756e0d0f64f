//! Several numbers at once: the vector registers of the machine at hand, written as plain arithmetic.
//!
//! A kernel is a struct with `pulp::WithSimd`, started by `pulp::Arch::dispatch`: each instruction set has a copy of its
//! own, chosen at run time. All that a kernel calls must be inlined into that copy, or it falls back to what every
//! machine has; so everything here is `#[inline(always)]`, and kernels
//! neither take a closure nor use `map` on arrays: neither is inlined reliably.

#![allow(clippy::inline_always, reason = "a kernel that is not inlined loses its instruction set")]

use pulp::bytemuck::cast;
use pulp::{Arch, Simd};
use std::ops::{Add, Div, Mul, Neg, Sub};
use std::sync::LazyLock;

/// What the machine at hand can do, asked once.
pub static ARCH: LazyLock<Arch> = LazyLock::new(Arch::new);

/// As many numbers as a register holds.
#[derive(Debug, Clone, Copy)]
pub struct Lanes<S: Simd> {
    simd: S,
    value: S::f64s,
}

/// A yes or no for each lane.
#[derive(Debug, Clone, Copy)]
pub struct Mask<S: Simd> {
    simd: S,
    value: S::m64s,
}

impl<S: Simd> Lanes<S> {
    /// One number in every lane.
    #[inline(always)]
    pub fn splat(simd: S, value: f64) -> Self {
        Self { simd, value: simd.splat_f64s(value) }
    }

    /// One number in every lane of a register like this.
    #[inline(always)]
    pub fn filled(self, value: f64) -> Self {
        Self::splat(self.simd, value)
    }

    /// The register at a place of a column whose length is a whole number of registers.
    #[inline(always)]
    pub fn load(simd: S, column: &[f64], register: usize) -> Self {
        Self { simd, value: S::as_simd_f64s(column).0[register] }
    }

    /// Writes the register to its place in a column.
    #[inline(always)]
    pub fn store(self, column: &mut [f64], register: usize) {
        S::as_mut_simd_f64s(column).0[register] = self.value;
    }

    /// The greatest of all lanes.
    #[inline(always)]
    pub fn greatest(self) -> f64 {
        self.simd.reduce_max_f64s(self.value)
    }

    /// `self * b + c`, rounded once where the machine can.
    #[inline(always)]
    pub fn mul_add(self, b: Self, c: Self) -> Self {
        Self { value: self.simd.mul_add_e_f64s(self.value, b.value, c.value), ..self }
    }

    /// The square root.
    #[inline(always)]
    pub fn sqrt(self) -> Self {
        Self { value: self.simd.sqrt_f64s(self.value), ..self }
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
        let bits = s.and_u64s(cast(self.value), s.splat_u64s(!SIGN));
        Self { value: cast(bits), ..self }
    }

    /// The greater of two; which of them where one is NaN is not said.
    #[inline(always)]
    pub fn max(self, other: Self) -> Self {
        Self { value: self.simd.max_f64s(self.value, other.value), ..self }
    }

    /// The lesser of two; which of them where one is NaN is not said.
    #[inline(always)]
    pub fn min(self, other: Self) -> Self {
        Self { value: self.simd.min_f64s(self.value, other.value), ..self }
    }

    /// Where it is less; not where either is NaN.
    #[inline(always)]
    pub fn lt(self, other: Self) -> Mask<S> {
        Mask { simd: self.simd, value: self.simd.less_than_f64s(self.value, other.value) }
    }

    /// The polynomial with these coefficients, the highest power first.
    #[inline(always)]
    pub fn polynomial<const N: usize>(self, terms: &[f64; N]) -> Self {
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
        let s = self.simd;
        let fill = |value: f64| Self::splat(s, value);
        // Moved up so that a fraction from sqrt 2 on is carried over into the exponent.
        let bits = s.add_u64s(s.transmute_u64s_f64s(self.value), s.splat_u64s(ONE - HALF_ROOT));
        // Halves moved down by 20 bits: the upper holds the exponent, an integer in the fraction of 2^84.
        let halves = s.wrapping_dyn_shr_u32s(cast(bits), s.splat_u32s(20));
        let exponent = s.and_u64s(cast(halves), s.splat_u64s(0x7ff << 32));
        let exponent = s.transmute_f64s_u64s(s.or_u64s(exponent, s.splat_u64s(TWO_84.to_bits())));
        let fraction = s.and_u64s(bits, s.splat_u64s(FRACTION));
        let m = s.transmute_f64s_u64s(s.add_u64s(fraction, s.splat_u64s(HALF_ROOT)));
        let (m, exponent) = (Self { value: m, simd: s }, Self { value: exponent, simd: s });
        let e = (exponent - fill(TWO_84)).mul_add(fill(TWO_64.recip()), fill(-1023.0));
        let z = (m - fill(1.0)) / (m + fill(1.0));
        e.mul_add(fill(std::f64::consts::LN_2), (z * z).polynomial(&ARTANH) * z)
    }

    /// The cosine of angles from nothing to a right one; to 1e-12.
    #[inline(always)]
    pub fn cos(self) -> Self {
        (self * self).polynomial(&COSINE)
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

const SIGN: u64 = 1 << 63;
const ONE: u64 = 0x3ff0_0000_0000_0000;
/// The bits of the square root of 1/2.
const HALF_ROOT: u64 = 0x3fe6_a09e_667f_3bcd;
const FRACTION: u64 = 0x000f_ffff_ffff_ffff;
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

impl<S: Simd> Mask<S> {
    /// `yes` where it holds, else `no`.
    #[inline(always)]
    pub fn select(self, yes: Lanes<S>, no: Lanes<S>) -> Lanes<S> {
        // Of the bits: the library's own choice between numbers is not always inlined.
        let bits = self.simd.select_u64s(self.value, cast(yes.value), cast(no.value));
        Lanes { value: cast(bits), simd: self.simd }
    }

    /// Whether it holds in any lane.
    #[inline(always)]
    pub fn any(self) -> bool {
        let fill = |value: f64| Lanes::splat(self.simd, value);
        self.select(fill(1.0), fill(0.0)).greatest() > 0.0
    }

    /// Where either holds.
    #[inline(always)]
    pub fn or(self, other: Self) -> Self {
        Self { value: self.simd.or_m64s(self.value, other.value), ..self }
    }

    /// Where both hold.
    #[inline(always)]
    pub fn and(self, other: Self) -> Self {
        Self { value: self.simd.and_m64s(self.value, other.value), ..self }
    }
}

macro_rules! operator {
    ($trait:ident, $name:ident, $call:ident) => {
        impl<S: Simd> $trait for Lanes<S> {
            type Output = Self;
            #[inline(always)]
            fn $name(self, other: Self) -> Self {
                Self { value: self.simd.$call(self.value, other.value), ..self }
            }
        }
    };
}
operator!(Add, add, add_f64s);
operator!(Sub, sub, sub_f64s);
operator!(Mul, mul, mul_f64s);
operator!(Div, div, div_f64s);

impl<S: Simd> Neg for Lanes<S> {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        let s = self.simd;
        let bits = s.xor_u64s(cast(self.value), s.splat_u64s(SIGN));
        Self { value: cast(bits), ..self }
    }
}

#[cfg(test)]
mod tests;
