//! Truncated Taylor arithmetic: a value and its first three derivatives by one variable, carried together.

use crate::math::Vec3;
use std::ops::{Add, Mul, Neg, Sub};

/// A function of one variable at one place: its Taylor coefficients up to the third.
///
/// Sums, products, quotients and the functions here are exact to rounding in every coefficient.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Jet([f64; 4]);

impl Jet {
    /// A constant.
    pub const fn constant(value: f64) -> Self {
        Self([value, 0.0, 0.0, 0.0])
    }

    /// The variable itself, at `value`.
    pub const fn variable(value: f64) -> Self {
        Self([value, 1.0, 0.0, 0.0])
    }

    /// The jet of a value and its derivatives.
    pub const fn new(value: f64, d1: f64, d2: f64, d3: f64) -> Self {
        Self([value, d1, d2 / 2.0, d3 / 6.0])
    }

    /// The value.
    pub const fn value(&self) -> f64 {
        self.0[0]
    }

    /// The first derivative.
    pub const fn d1(&self) -> f64 {
        self.0[1]
    }

    /// The second derivative.
    pub const fn d2(&self) -> f64 {
        2.0 * self.0[2]
    }

    /// The third derivative.
    pub const fn d3(&self) -> f64 {
        6.0 * self.0[3]
    }

    /// The jet of the derivative. Its own third derivative is unknown and stands as zero.
    pub const fn derivative(&self) -> Self {
        Self([self.0[1], 2.0 * self.0[2], 3.0 * self.0[3], 0.0])
    }

    /// The jet of the integral that has `value` here.
    pub const fn integral(&self, value: f64) -> Self {
        Self([value, self.0[0], self.0[1] / 2.0, self.0[2] / 3.0])
    }

    /// `f(self)`, from the Taylor coefficients of `f` at this value.
    fn compose(&self, f: [f64; 4]) -> Self {
        let [_, a, b, c] = self.0;
        Self([
            f[0],
            f[1] * a,
            f[1] * b + f[2] * a * a,
            f[1] * c + 2.0 * f[2] * a * b + f[3] * a * a * a,
        ])
    }

    /// The outer function, of which this is the jet at the value of `inner`, by `inner`'s own variable.
    pub fn of(&self, inner: &Self) -> Self {
        inner.compose(self.0)
    }

    /// The chord of an arc as long as this, of a given curvature: `2 sin(x k / 2) / k`, `x` itself for a straight.
    pub fn chord(&self, curvature: f64) -> Self {
        let bend = 0.5 * curvature;
        let (sin, cos) = (bend * self.0[0]).sin_cos();
        let half = bend * self.0[0];
        let value = if half.abs() < 1e-8 { self.0[0] } else { self.0[0] * sin / half };
        self.compose([value, cos, -0.5 * bend * sin, -bend * bend * cos / 6.0])
    }

    /// Sine and cosine.
    pub fn sin_cos(&self) -> (Self, Self) {
        let (s, c) = self.0[0].sin_cos();
        (self.compose([s, c, -s / 2.0, -c / 6.0]), self.compose([c, -s, -c / 2.0, s / 6.0]))
    }

    /// One over the jet; not finite where the value is zero.
    pub fn recip(&self) -> Self {
        let r = self.0[0].recip();
        self.compose([r, -r * r, r * r * r, -r * r * r * r])
    }

    /// The square root; not finite where the value is zero or below.
    pub fn sqrt(&self) -> Self {
        let x = self.0[0];
        let r = x.sqrt();
        let d1 = 0.5 / r;
        self.compose([r, d1, -d1 / (4.0 * x), d1 / (8.0 * x * x)])
    }
}

impl Add for Jet {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(std::array::from_fn(|i| self.0[i] + other.0[i]))
    }
}

impl Sub for Jet {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(std::array::from_fn(|i| self.0[i] - other.0[i]))
    }
}

impl Neg for Jet {
    type Output = Self;
    fn neg(self) -> Self {
        self * -1.0
    }
}

impl Mul<f64> for Jet {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self(self.0.map(|c| c * factor))
    }
}

impl Mul for Jet {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        let (a, b) = (self.0, other.0);
        Self([
            a[0] * b[0],
            a[0] * b[1] + a[1] * b[0],
            a[0] * b[2] + a[1] * b[1] + a[2] * b[0],
            a[0] * b[3] + a[1] * b[2] + a[2] * b[1] + a[3] * b[0],
        ])
    }
}

/// A curve in space at one place: the jets of its three coordinates.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Jet3 {
    /// Along `x`.
    pub x: Jet,
    /// Along `y`.
    pub y: Jet,
    /// Along `z`, up.
    pub z: Jet,
}

impl Jet3 {
    /// A vector from its coordinates.
    pub const fn new(x: Jet, y: Jet, z: Jet) -> Self {
        Self { x, y, z }
    }

    /// A vector straight up.
    pub const fn upwards(z: Jet) -> Self {
        Self { x: Jet::constant(0.0), y: Jet::constant(0.0), z }
    }

    /// The value.
    pub fn value(&self) -> Vec3 {
        Vec3::new(self.x.value(), self.y.value(), self.z.value())
    }

    /// The first derivative.
    pub fn d1(&self) -> Vec3 {
        Vec3::new(self.x.d1(), self.y.d1(), self.z.d1())
    }

    /// The second derivative.
    pub fn d2(&self) -> Vec3 {
        Vec3::new(self.x.d2(), self.y.d2(), self.z.d2())
    }

    /// The jet of the derivative, without its third derivative.
    pub fn derivative(&self) -> Self {
        Self::new(self.x.derivative(), self.y.derivative(), self.z.derivative())
    }

    /// The vector times a scalar jet.
    pub fn scale(&self, factor: Jet) -> Self {
        Self::new(self.x * factor, self.y * factor, self.z * factor)
    }

    /// The outer curve, of which this is the jet at the value of `inner`, by `inner`'s own variable.
    pub fn of(&self, inner: &Jet) -> Self {
        Self::new(self.x.of(inner), self.y.of(inner), self.z.of(inner))
    }

    /// The scalar product.
    pub fn dot(&self, other: &Self) -> Jet {
        self.x * other.x + self.y * other.y + self.z * other.z
    }

    /// The vector product.
    pub fn cross(&self, other: &Self) -> Self {
        Self::new(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )
    }

    /// The length; not finite in its derivatives for a zero vector.
    pub fn norm(&self) -> Jet {
        self.dot(self).sqrt()
    }
}

impl Add for Jet3 {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y, self.z + other.z)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn assert_jet(jet: Jet, expected: [f64; 4]) {
        for (got, want) in [jet.value(), jet.d1(), jet.d2(), jet.d3()].into_iter().zip(expected) {
            assert_relative_eq!(got, want, epsilon = 1e-13, max_relative = 1e-13);
        }
    }

    #[test]
    fn functions_have_the_derivatives_of_the_textbook() {
        let x = 0.7_f64;
        let (s, c) = x.sin_cos();
        let (sin, cos) = Jet::variable(x).sin_cos();
        assert_jet(sin, [s, c, -s, -c]);
        assert_jet(cos, [c, -s, -c, s]);
        assert_jet(
            Jet::variable(x).recip(),
            [1.0 / x, -x.powi(-2), 2.0 * x.powi(-3), -6.0 * x.powi(-4)],
        );
        let root = [x.sqrt(), 0.5 * x.powf(-0.5), -0.25 * x.powf(-1.5), 0.375 * x.powf(-2.5)];
        assert_jet(Jet::variable(x).sqrt(), root);
    }

    #[test]
    fn chains_and_products_follow_leibniz_and_faa_di_bruno() {
        let x = Jet::variable(1.3);
        let (sin, _) = (x * x).sin_cos();
        // sin(x²), differentiated by hand.
        let (s, c) = (1.3_f64 * 1.3).sin_cos();
        let x = 1.3_f64;
        let expected =
            [s, 2.0 * x * c, 2.0 * c - 4.0 * x * x * s, -12.0 * x * s - 8.0 * x * x * x * c];
        assert_jet(sin, expected);
        let one = sin * sin.recip();
        assert_jet(one, [1.0, 0.0, 0.0, 0.0]);
        let root = (sin * sin).sqrt();
        assert_jet(root, expected);
    }

    #[test]
    fn an_outer_function_goes_by_the_inner_variable() {
        let inner = Jet::new(0.4, 1.5, -0.7, 2.0);
        let (sin, _) = Jet::variable(0.4).sin_cos();
        let (direct, _) = inner.sin_cos();
        assert_jet(sin.of(&inner), [direct.value(), direct.d1(), direct.d2(), direct.d3()]);
    }

    #[test]
    fn the_chord_of_an_arc_follows_its_half_angle() {
        let x = Jet::new(0.9, 1.5, -0.7, 2.0);
        for curvature in [2.0, -0.3, 1e-7] {
            let (sin, _) = (x * (0.5 * curvature)).sin_cos();
            let chord = sin * (2.0 / curvature);
            let expected = [chord.value(), chord.d1(), chord.d2(), chord.d3()];
            assert_jet(x.chord(curvature), expected);
        }
        assert_eq!(x.chord(0.0), x);
    }

    #[test]
    fn integral_undoes_derivative() {
        let jet = Jet::new(1.0, -2.0, 3.0, -4.0);
        assert_eq!(jet.derivative().integral(jet.value()), jet);
    }

    #[test]
    fn a_cross_product_stands_square_on_its_factors() {
        let a = Jet3::new(Jet::new(1.0, 2.0, 0.5, 1.0), Jet::variable(0.3), Jet::constant(2.0));
        let b = Jet3::new(Jet::constant(-1.0), Jet::new(0.2, 0.1, 3.0, 0.4), Jet::variable(1.0));
        let cross = a.cross(&b);
        for factor in [a, b] {
            assert_jet(cross.dot(&factor), [0.0; 4]);
        }
        let area = cross.dot(&cross) + a.dot(&b) * a.dot(&b);
        let product = a.dot(&a) * b.dot(&b);
        assert_jet(area, [product.value(), product.d1(), product.d2(), product.d3()]);
    }
}
