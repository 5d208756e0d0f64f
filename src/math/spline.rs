//! The smooth curve through points: a cubic spline with continuous curvature.

use crate::math::jet::Jet;
use serde::{Deserialize, Serialize};

/// What is wrong with a list of points.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[non_exhaustive]
pub enum PointsError {
    /// Fewer than two points.
    #[error("{count} point(s) given: at least 2 are needed")]
    TooFew {
        /// How many there were.
        count: usize,
    },
    /// As many abscissae as values are needed.
    #[error("{abscissae} abscissae but {values} values")]
    Lengths {
        /// The number of abscissae.
        abscissae: usize,
        /// The number of values.
        values: usize,
    },
    /// A coordinate that is not a finite number.
    #[error("point {index} = ({abscissa}, {value}) is not finite")]
    NotFinite {
        /// Which point, from 0.
        index: usize,
        /// Its abscissa.
        abscissa: f64,
        /// Its value.
        value: f64,
    },
    /// A point that lies behind the one before.
    #[error("point {index} goes back: {abscissa} after {before}")]
    GoesBack {
        /// Which point, from 0.
        index: usize,
        /// Its abscissa.
        abscissa: f64,
        /// The abscissa of the point before.
        before: f64,
    },
    /// A point at the same place as the one before.
    #[error("points {first} and {index} both stand at {abscissa}")]
    Duplicate {
        /// The point before, from 0.
        first: usize,
        /// Which point.
        index: usize,
        /// Where both stand.
        abscissa: f64,
    },
}

/// Checks that points are finite, at least two, and strictly advance; says which does not.
pub fn check_points(abscissae: &[f64], values: &[f64]) -> Result<(), PointsError> {
    if abscissae.len() != values.len() {
        let (abscissae, values) = (abscissae.len(), values.len());
        return Err(PointsError::Lengths { abscissae, values });
    }
    if abscissae.len() < 2 {
        return Err(PointsError::TooFew { count: abscissae.len() });
    }
    for (index, (&abscissa, &value)) in abscissae.iter().zip(values).enumerate() {
        if !(abscissa.is_finite() && value.is_finite()) {
            return Err(PointsError::NotFinite { index, abscissa, value });
        }
    }
    for (first, pair) in abscissae.windows(2).enumerate() {
        let (before, abscissa, index) = (pair[0], pair[1], first + 1);
        if abscissa < before {
            return Err(PointsError::GoesBack { index, abscissa, before });
        }
        if abscissa <= before {
            return Err(PointsError::Duplicate { first, index, abscissa });
        }
    }
    Ok(())
}

/// A function through points: cubic between them, with continuous first and second derivatives.
///
/// The third derivative is continuous at the second and the last but one point ("not a knot", de Boor 1978), so
/// that a cubic comes back exactly; three points give a parabola, two a straight line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Spline {
    knots: Vec<f64>,
    values: Vec<f64>,
    slopes: Vec<f64>,
}

impl Spline {
    /// The spline through the points (`knots[i]`, `values[i]`), knots rising.
    pub fn through(knots: &[f64], values: &[f64]) -> Result<Self, PointsError> {
        check_points(knots, values)?;
        let slopes = slopes(knots, values);
        Ok(Self { knots: knots.to_vec(), values: values.to_vec(), slopes })
    }

    /// Where the pieces meet, both ends included.
    pub fn knots(&self) -> &[f64] {
        &self.knots
    }

    /// The values at the knots.
    pub fn values(&self) -> &[f64] {
        &self.values
    }

    /// The piece that holds `x`: the first or last one beyond the ends.
    pub fn piece(&self, x: f64) -> usize {
        self.knots.partition_point(|k| *k <= x).clamp(1, self.knots.len() - 1) - 1
    }

    /// The value and derivatives at `x` of the cubic that makes the given piece, also beyond its ends.
    pub fn at(&self, piece: usize, x: f64) -> Jet {
        let i = piece.min(self.knots.len() - 2);
        let width = self.knots[i + 1] - self.knots[i];
        let rise = (self.values[i + 1] - self.values[i]) / width;
        let (m0, m1) = (self.slopes[i], self.slopes[i + 1]);
        let c3 = (m0 + m1 - 2.0 * rise) / (width * width);
        let c2 = (rise - m0) / width - c3 * width;
        let x = x - self.knots[i];
        Jet::new(
            self.values[i] + x * (m0 + x * (c2 + x * c3)),
            m0 + x * (2.0 * c2 + x * 3.0 * c3),
            2.0 * c2 + 6.0 * c3 * x,
            6.0 * c3,
        )
    }
}

fn slopes(x: &[f64], y: &[f64]) -> Vec<f64> {
    let n = x.len();
    let dx: Vec<f64> = x.windows(2).map(|w| w[1] - w[0]).collect();
    let rise: Vec<f64> = y.windows(2).zip(&dx).map(|(w, dx)| (w[1] - w[0]) / dx).collect();
    if n == 2 {
        return vec![rise[0]; 2];
    }
    if n == 3 {
        let bend = (rise[1] - rise[0]) / (dx[0] + dx[1]);
        return vec![rise[0] - bend * dx[0], rise[0] + bend * dx[0], rise[1] + bend * dx[1]];
    }
    let mut rows = Vec::with_capacity(n);
    rows.push(end_row(dx[0], dx[1], rise[0], rise[1]));
    for i in 1..n - 1 {
        let right = 3.0 * (dx[i] * rise[i - 1] + dx[i - 1] * rise[i]);
        rows.push(Row { below: dx[i], on: 2.0 * (dx[i - 1] + dx[i]), above: dx[i - 1], right });
    }
    let last = end_row(dx[n - 2], dx[n - 3], rise[n - 2], rise[n - 3]);
    rows.push(Row { below: last.above, above: 0.0, ..last });
    solve(rows)
}

/// One row of a tridiagonal system.
struct Row {
    below: f64,
    on: f64,
    above: f64,
    right: f64,
}

/// The row that keeps the third derivative continuous past the first inner point, seen from an end.
fn end_row(outer: f64, inner: f64, outer_rise: f64, inner_rise: f64) -> Row {
    let both = outer + inner;
    let right = ((outer + 2.0 * both) * inner * outer_rise + outer * outer * inner_rise) / both;
    Row { below: 0.0, on: inner, above: both, right }
}

fn solve(mut rows: Vec<Row>) -> Vec<f64> {
    for i in 1..rows.len() {
        let factor = rows[i].below / rows[i - 1].on;
        rows[i].on -= factor * rows[i - 1].above;
        rows[i].right -= factor * rows[i - 1].right;
    }
    let mut solution = vec![0.0; rows.len()];
    let mut after = 0.0;
    for (i, row) in rows.iter().enumerate().rev() {
        after = (row.right - row.above * after) / row.on;
        solution[i] = after;
    }
    solution
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn polynomials_up_to_the_third_degree_come_back() {
        let knots = [-1.0, 0.2, 0.5, 2.0, 2.1, 4.0];
        for n in 2..=knots.len() {
            let degree = (n - 1).min(3);
            let f = |x: f64| (0..=degree).map(|k| x.powi(i32::try_from(k).unwrap())).sum::<f64>();
            let values: Vec<f64> = knots[..n].iter().map(|x| f(*x)).collect();
            let spline = Spline::through(&knots[..n], &values).unwrap();
            for x in [-1.0, 0.0, 0.3, 1.9, 2.05, 3.3] {
                let at = spline.at(spline.piece(x), x);
                assert_relative_eq!(at.value(), f(x), epsilon = 1e-12, max_relative = 1e-12);
            }
        }
    }

    #[test]
    fn value_slope_and_curvature_do_not_jump() {
        let knots = [0.0, 1.0, 1.5, 4.0, 5.0, 7.0];
        let spline = Spline::through(&knots, &[1.0, -2.0, 0.5, 3.0, 3.0, -1.0]).unwrap();
        for (i, &knot) in knots.iter().enumerate().skip(1).take(4) {
            let (a, b) = (spline.at(i - 1, knot), spline.at(i, knot));
            assert_relative_eq!(a.value(), b.value(), epsilon = 1e-12);
            assert_relative_eq!(a.d1(), b.d1(), epsilon = 1e-12);
            assert_relative_eq!(a.d2(), b.d2(), epsilon = 1e-11);
        }
        // Not a knot: the first two and the last two pieces are one cubic.
        assert_relative_eq!(spline.at(0, 0.0).d3(), spline.at(1, 0.0).d3(), max_relative = 1e-10);
        assert_relative_eq!(spline.at(3, 0.0).d3(), spline.at(4, 0.0).d3(), max_relative = 1e-10);
    }

    #[test]
    fn bad_points_are_named() {
        let through = Spline::through;
        assert_eq!(through(&[1.0], &[1.0]), Err(PointsError::TooFew { count: 1 }));
        let back = PointsError::GoesBack { index: 2, abscissa: 0.5, before: 1.0 };
        assert_eq!(through(&[0.0, 1.0, 0.5], &[0.0; 3]), Err(back));
        let twice = PointsError::Duplicate { first: 0, index: 1, abscissa: 0.0 };
        assert_eq!(through(&[0.0, 0.0], &[0.0, 1.0]), Err(twice));
        let lengths = PointsError::Lengths { abscissae: 2, values: 3 };
        assert_eq!(through(&[0.0, 1.0], &[0.0; 3]), Err(lengths));
        let nan = through(&[0.0, 1.0], &[0.0, f64::NAN]);
        assert!(matches!(nan, Err(PointsError::NotFinite { index: 1, .. })));
    }
}
