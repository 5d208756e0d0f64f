//! Forward-mode derivatives: a value with its partial derivatives by a few variables, carried together.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// What a formula needs of its numbers, so that one text gives values ([`f64`]) and derivatives ([`Dual`]).
pub trait Number:
    Copy
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
    + Add<f64, Output = Self>
    + Sub<f64, Output = Self>
    + Mul<f64, Output = Self>
{
    /// A constant.
    fn constant(value: f64) -> Self;
    /// The value alone.
    fn value(&self) -> f64;
    /// Sine and cosine.
    fn sin_cos(self) -> (Self, Self);
    /// The square root; its derivative is infinite at zero.
    fn sqrt(self) -> Self;
    /// The angle of the point (`x`, `self`), from -pi to pi.
    fn atan2(self, x: Self) -> Self;
}

impl Number for f64 {
    fn constant(value: f64) -> Self {
        value
    }
    fn value(&self) -> f64 {
        *self
    }
    fn sin_cos(self) -> (Self, Self) {
        Self::sin_cos(self)
    }
    fn sqrt(self) -> Self {
        Self::sqrt(self)
    }
    fn atan2(self, x: Self) -> Self {
        Self::atan2(self, x)
    }
}

/// A value and its partial derivatives by `N` variables. Every operation here is exact to rounding in both.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dual<const N: usize> {
    /// The value.
    pub value: f64,
    /// Its partial derivatives.
    pub partials: [f64; N],
}

impl<const N: usize> Dual<N> {
    /// Variable number `index` (from 0) at `value`.
    pub fn variable(value: f64, index: usize) -> Self {
        Self { value, partials: std::array::from_fn(|i| if i == index { 1.0 } else { 0.0 }) }
    }

    /// `f(self)`, from the value and the derivative of `f` here.
    fn chain(self, value: f64, derivative: f64) -> Self {
        Self { value, partials: self.partials.map(|p| derivative * p) }
    }

    /// `a self + b other` in the partials.
    fn with(self, other: Self, value: f64, a: f64, b: f64) -> Self {
        let partial = |i: usize| a * self.partials[i] + b * other.partials[i];
        Self { value, partials: std::array::from_fn(partial) }
    }
}

impl<const N: usize> Number for Dual<N> {
    fn constant(value: f64) -> Self {
        Self { value, partials: [0.0; N] }
    }
    fn value(&self) -> f64 {
        self.value
    }
    fn sin_cos(self) -> (Self, Self) {
        let (sin, cos) = self.value.sin_cos();
        (self.chain(sin, cos), self.chain(cos, -sin))
    }
    fn sqrt(self) -> Self {
        let root = self.value.sqrt();
        self.chain(root, 0.5 / root)
    }
    fn atan2(self, x: Self) -> Self {
        let square = self.value * self.value + x.value * x.value;
        self.with(x, self.value.atan2(x.value), x.value / square, -self.value / square)
    }
}

impl<const N: usize> Add for Dual<N> {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        self.with(other, self.value + other.value, 1.0, 1.0)
    }
}

impl<const N: usize> Sub for Dual<N> {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self.with(other, self.value - other.value, 1.0, -1.0)
    }
}

impl<const N: usize> Mul for Dual<N> {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        self.with(other, self.value * other.value, other.value, self.value)
    }
}

impl<const N: usize> Div for Dual<N> {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let per = other.value.recip();
        let value = self.value * per;
        self.with(other, value, per, -value * per)
    }
}

impl<const N: usize> Neg for Dual<N> {
    type Output = Self;
    fn neg(self) -> Self {
        self * -1.0
    }
}

impl<const N: usize> Add<f64> for Dual<N> {
    type Output = Self;
    fn add(self, other: f64) -> Self {
        Self { value: self.value + other, ..self }
    }
}

impl<const N: usize> Sub<f64> for Dual<N> {
    type Output = Self;
    fn sub(self, other: f64) -> Self {
        Self { value: self.value - other, ..self }
    }
}

impl<const N: usize> Mul<f64> for Dual<N> {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        self.chain(self.value * factor, factor)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn formula<T: Number>(x: T, y: T) -> T {
        let (sin, cos) = (x * y).sin_cos();
        (sin / (cos + 2.0) - x * 3.0).atan2((x * x + y * y + 0.5).sqrt()) - y * -sin
    }

    #[test]
    fn partials_are_the_limits_of_differences() {
        let (x, y, e) = (0.7, -0.4, 1e-6);
        let found = formula(Dual::<2>::variable(x, 0), Dual::variable(y, 1));
        assert_relative_eq!(found.value, formula(x, y), epsilon = 1e-15);
        let by_x = (formula(x + e, y) - formula(x - e, y)) / (2.0 * e);
        let by_y = (formula(x, y + e) - formula(x, y - e)) / (2.0 * e);
        assert_relative_eq!(found.partials[0], by_x, epsilon = 1e-9);
        assert_relative_eq!(found.partials[1], by_y, epsilon = 1e-9);
        assert!(Dual::<2>::constant(3.0).partials.iter().all(|p| p.abs() < f64::EPSILON));
    }
}
