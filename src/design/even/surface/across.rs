//! The heights of some lines, and the one polynomial across through them.

use crate::math::dual::{Dual, Number};

/// A place across and its height there, both with their derivatives.
#[derive(Debug, Clone, Copy)]
pub(super) struct Knot<N> {
    pub y: N,
    pub z: N,
}

/// The height at `y` of the polynomial through the knots, by Neville's scheme; at least one knot.
pub(super) fn height<N: Number>(knots: &[Knot<N>], y: N) -> N {
    let mut rows: Vec<N> = knots.iter().map(|knot| knot.z).collect();
    for order in 1..knots.len() {
        for i in 0..knots.len() - order {
            let (low, high) = (knots[i].y, knots[i + order].y);
            rows[i] = ((y - high) * rows[i] + (low - y) * rows[i + 1]) / (low - high);
        }
    }
    rows.first().copied().unwrap_or_else(|| N::constant(f64::NAN))
}

/// The slope across at `y` of the polynomial through the knots.
pub(super) fn slope(knots: &[Knot<f64>], y: f64) -> f64 {
    let fixed =
        |knot: &Knot<f64>| Knot { y: Dual::<1>::constant(knot.y), z: Dual::<1>::constant(knot.z) };
    let knots: Vec<Knot<Dual<1>>> = knots.iter().map(fixed).collect();
    height(&knots, Dual::variable(y, 0)).partials[0]
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn a_cubic_comes_back_with_its_slope() {
        let cubic = |y: f64| 0.3 * y.powi(3) - y + 2.0;
        let knots = [-2.0, -0.5, 1.0, 2.5].map(|y| Knot { y, z: cubic(y) });
        for y in [-2.0, -1.1, 0.0, 2.5, 3.0] {
            assert_relative_eq!(height(&knots, y), cubic(y), epsilon = 1e-13);
            assert_relative_eq!(slope(&knots, y), 0.9 * y * y - 1.0, epsilon = 1e-12);
        }
        assert_relative_eq!(height(&knots[..1], 9.0), cubic(-2.0));
    }
}
