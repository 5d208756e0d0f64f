//! Functions on `[0, 1]` known at Gauss nodes: their integrals, Legendre coefficients and first change of sign.

use crate::math::quadrature::Rule;
use nalgebra::SMatrix;

/// A square table that turns the values at the nodes into something linear in them, one column a node: sums then
/// run over many results at once.
type Table<const N: usize> = [[f64; N]; N];

/// What can be said of a polynomial of degree `N - 1` from its values at the `N` Gauss nodes.
#[derive(Debug, Clone, PartialEq)]
pub struct Basis<const N: usize> {
    /// The nodes and weights on `[0, 1]`.
    pub rule: Rule<N>,
    coefficients: Table<N>,
    integrals: Table<N>,
    bernstein: Table<N>,
}

impl<const N: usize> Basis<N> {
    /// The basis for `N` nodes, `N` at least two.
    pub fn new() -> Self {
        let rule = Rule::<N>::gauss();
        // Discrete orthogonality: exact, for the rule integrates the product of two such polynomials.
        let coefficients: Table<N> = std::array::from_fn(|j| {
            let at = legendre::<N>(rule.nodes[j]);
            std::array::from_fn(|k| (2 * k + 1) as f64 * rule.weights[j] * at[k])
        });
        let ways = rule.nodes.map(legendre_integrals::<N>);
        let integrals =
            std::array::from_fn(|j| std::array::from_fn(|i| dot(&ways[i], &coefficients[j])));
        let bernstein = bernstein_table(&rule.nodes);
        Self { rule, coefficients, integrals, bernstein }
    }

    /// The Legendre coefficients, lowest degree first.
    pub fn coefficients(&self, values: &[f64; N]) -> [f64; N] {
        apply(&self.coefficients, values)
    }

    /// How large the two highest coefficients are, as [`tail`] of all of them.
    pub fn tail(&self, values: &[f64; N]) -> f64 {
        let highest = |k: usize| {
            let terms = self.coefficients.iter().zip(values).map(|(column, v)| column[k] * v);
            terms.sum::<f64>().abs()
        };
        highest(N - 1).max(highest(N - 2))
    }

    /// The integrals from 0 to each node.
    pub fn integrals(&self, values: &[f64; N]) -> [f64; N] {
        apply(&self.integrals, values)
    }

    /// How much the value at node `node` counts in the integrals from 0 to each node.
    pub fn integrals_by(&self, node: usize) -> &[f64; N] {
        &self.integrals[node]
    }

    /// The integral from 0 to 1: exact for a function of degree `2 N - 1`.
    pub fn whole(&self, values: &[f64; N]) -> f64 {
        dot(&self.rule.weights, values)
    }

    /// The first place in `[0, 1]` where the polynomial through the values is not above zero, to within `1e-12`.
    pub fn first_not_positive(&self, values: &[f64; N]) -> Option<f64> {
        if !values.iter().all(|value| value.is_finite()) {
            return None;
        }
        let control = apply(&self.bernstein, values);
        let nothing = ROUNDING * control.iter().fold(0.0, |most: f64, c| most.max(c.abs()));
        descend(&control, 0.0, 1.0, nothing)
    }
}

impl<const N: usize> Default for Basis<N> {
    fn default() -> Self {
        Self::new()
    }
}

/// The value at `x` in `[0, 1]` of a polynomial with these Legendre coefficients.
pub fn value<const N: usize>(coefficients: &[f64; N], x: f64) -> f64 {
    dot(coefficients, &legendre(x))
}

/// The derivative at `x` of a polynomial with these Legendre coefficients.
pub fn slope<const N: usize>(coefficients: &[f64; N], x: f64) -> f64 {
    dot(coefficients, &legendre_slopes(x))
}

/// The integral from 0 to `x` of a polynomial with these Legendre coefficients.
pub fn integral<const N: usize>(coefficients: &[f64; N], x: f64) -> f64 {
    dot(coefficients, &legendre_integrals(x))
}

/// How large the two highest coefficients are: about what a polynomial of this degree misses of the function.
pub fn tail<const N: usize>(coefficients: &[f64; N]) -> f64 {
    coefficients[N - 1].abs().max(coefficients[N - 2].abs())
}

fn dot<const N: usize>(a: &[f64; N], b: &[f64; N]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn apply<const N: usize>(table: &Table<N>, values: &[f64; N]) -> [f64; N] {
    let mut sums = [0.0; N];
    for (column, value) in table.iter().zip(values) {
        for (sum, factor) in sums.iter_mut().zip(column) {
            *sum += factor * value;
        }
    }
    sums
}

/// Legendre polynomials shifted to `[0, 1]`.
fn legendre<const N: usize>(x: f64) -> [f64; N] {
    let y = 2.0 * x - 1.0;
    let mut p = [1.0; N];
    p[1] = y;
    for k in 2..N {
        let k_ = k as f64;
        p[k] = ((2.0 * k_ - 1.0) * y * p[k - 1] - (k_ - 1.0) * p[k - 2]) / k_;
    }
    p
}

/// Their integrals from 0.
fn legendre_integrals<const N: usize>(x: f64) -> [f64; N] {
    let p = legendre::<N>(x);
    let y = 2.0 * x - 1.0;
    std::array::from_fn(|k| {
        if k == 0 {
            return x;
        }
        // (1 - y²) P_k' = k (P_{k-1} - y P_k), and the integral is -(1 - y²) P_k' / (k (k + 1)), halved.
        0.5 * (y * p[k] - p[k - 1]) / (k + 1) as f64
    })
}

/// Their derivatives: `P_k' = P_{k-2}' + (2 k - 1) P_{k-1}` on `[-1, 1]`, twice that on `[0, 1]`.
fn legendre_slopes<const N: usize>(x: f64) -> [f64; N] {
    let p = legendre::<N>(x);
    let mut slopes = [0.0; N];
    slopes[1] = 2.0;
    for k in 2..N {
        slopes[k] = slopes[k - 2] + 2.0 * (2 * k - 1) as f64 * p[k - 1];
    }
    slopes
}

fn bernstein_table<const N: usize>(nodes: &[f64; N]) -> Table<N> {
    let values = SMatrix::<f64, N, N>::from_fn(|i, k| bernstein::<N>(nodes[i], k));
    let inverse = values.try_inverse().unwrap_or_else(SMatrix::zeros);
    std::array::from_fn(|j| std::array::from_fn(|i| inverse[(i, j)]))
}

fn bernstein<const N: usize>(x: f64, k: usize) -> f64 {
    let degree = N - 1;
    let binomial: f64 = (0..k).map(|i| (degree - i) as f64 / (i + 1) as f64).product();
    (0..degree).fold(binomial, |b, i| b * if i < k { x } else { 1.0 - x })
}

/// What rounding leaves of a polynomial, as a share of its largest control value.
const ROUNDING: f64 = 1e-15;

/// Halves the control polygon until it is above zero (it then bounds the curve from below), tiny, or no more than nothing.
fn descend<const N: usize>(control: &[f64; N], from: f64, width: f64, nothing: f64) -> Option<f64> {
    if control[0] <= 0.0 {
        return Some(from);
    }
    if control.iter().all(|c| *c > 0.0) {
        return None;
    }
    if width < 1e-12 {
        return (control[N - 1] <= 0.0).then_some(from + width);
    }
    // Below rounding each half would look as if it held a zero: there are 1e12 of them.
    if control.iter().all(|c| c.abs() <= nothing) {
        return Some(from);
    }
    let (left, right) = halves(control);
    let half = 0.5 * width;
    descend(&left, from, half, nothing).or_else(|| descend(&right, from + half, half, nothing))
}

/// De Casteljau's cut in the middle.
fn halves<const N: usize>(control: &[f64; N]) -> ([f64; N], [f64; N]) {
    let mut right = *control;
    let mut left = *control;
    for (level, first) in left.iter_mut().enumerate().skip(1) {
        for i in 0..N - level {
            right[i] = 0.5 * (right[i] + right[i + 1]);
        }
        *first = right[0];
    }
    (left, right)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn sampled(f: impl Fn(f64) -> f64) -> (Basis<8>, [f64; 8]) {
        let basis = Basis::<8>::new();
        let values = basis.rule.nodes.map(f);
        (basis, values)
    }

    #[test]
    fn a_polynomial_is_known_everywhere_from_its_nodes() {
        let (basis, values) = sampled(|x| 1.0 - 3.0 * x + x.powi(7));
        let c = basis.coefficients(&values);
        for x in [0.0_f64, 0.1, 0.5, 0.77, 1.0] {
            assert_relative_eq!(value(&c, x), 1.0 - 3.0 * x + x.powi(7), epsilon = 1e-14);
            let area = x - 1.5 * x * x + x.powi(8) / 8.0;
            assert_relative_eq!(integral(&c, x), area, epsilon = 1e-14);
            assert_relative_eq!(slope(&c, x), 7.0 * x.powi(6) - 3.0, epsilon = 1e-12);
        }
        for (x, area) in basis.rule.nodes.iter().zip(basis.integrals(&values)) {
            assert_relative_eq!(area, x - 1.5 * x * x + x.powi(8) / 8.0, epsilon = 1e-14);
        }
        assert_relative_eq!(basis.whole(&values), -0.375, epsilon = 1e-14);
    }

    #[test]
    fn the_tail_tells_a_resolved_function_from_one_that_is_not() {
        let (basis, smooth) = sampled(|x| (0.5 * x).sin());
        assert!(tail(&basis.coefficients(&smooth)) < 1e-7);
        let (basis, kink) = sampled(|x| (x - 0.3).abs());
        assert!(tail(&basis.coefficients(&kink)) > 1e-3);
        assert_relative_eq!(basis.tail(&kink), tail(&basis.coefficients(&kink)));
    }

    #[test]
    fn the_first_crossing_is_found_even_where_both_ends_are_positive() {
        let (basis, dip) = sampled(|x| (x - 0.30) * (x - 0.31) * (2.0 - x));
        assert_relative_eq!(basis.first_not_positive(&dip).unwrap(), 0.30, epsilon = 1e-10);
        let (basis, touch) = sampled(|x| (x - 0.5).powi(2) + 1e-6);
        assert_eq!(basis.first_not_positive(&touch), None);
        let (basis, falls) = sampled(|x| 0.9999 - x);
        assert_relative_eq!(basis.first_not_positive(&falls).unwrap(), 0.9999, epsilon = 1e-10);
        let (basis, below) = sampled(|x| x - 0.5);
        assert_eq!(basis.first_not_positive(&below), Some(0.0));
    }
}
