//! Integrals over an interval by Gauss and Legendre's rule.

use gauss_quad::GaussLegendre;
use std::sync::LazyLock;

/// The number of nodes of the rule that [`integrate`] applies: exact up to degree 31.
const NODES: usize = 16;

/// A rule on `[0, 1]`: nodes in rising order and their weights, which add up to one.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule<const N: usize> {
    /// Where the integrand is taken.
    pub nodes: [f64; N],
    /// How much each counts.
    pub weights: [f64; N],
}

impl<const N: usize> Rule<N> {
    /// The Gauss-Legendre rule with `N` nodes, exact up to degree `2 N - 1`; one node is the middle.
    pub fn gauss() -> Self {
        let mut pairs = vec![(0.0, 2.0)];
        if let Ok(rule) = GaussLegendre::new(N) {
            pairs = rule.into_node_weight_pairs();
            pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
        }
        let pair = |i: usize| pairs.get(i).copied().unwrap_or_default();
        Self {
            nodes: std::array::from_fn(|i| 0.5 * (1.0 + pair(i).0)),
            weights: std::array::from_fn(|i| 0.5 * pair(i).1),
        }
    }

    /// The integral of `f` from `a` to `b`.
    pub fn integrate(&self, mut f: impl FnMut(f64) -> f64, a: f64, b: f64) -> f64 {
        let sum: f64 =
            self.nodes.iter().zip(&self.weights).map(|(x, w)| w * f(a + (b - a) * x)).sum();
        (b - a) * sum
    }
}

static RULE: LazyLock<Rule<NODES>> = LazyLock::new(Rule::gauss);

/// The integral of `f` from `a` to `b` by one Gauss-Legendre rule of 16 nodes.
///
/// Exact to rounding for a function that a polynomial of degree 31 follows; cut the interval where it does not.
pub fn integrate(f: impl FnMut(f64) -> f64, a: f64, b: f64) -> f64 {
    RULE.integrate(f, a, b)
}

/// The integral of `f` from `a` to `b`, by the same rule on each of `parts` equal parts (at least one).
pub fn composite(mut f: impl FnMut(f64) -> f64, a: f64, b: f64, parts: usize) -> f64 {
    let parts = parts.max(1);
    let edge = |i: usize| a + (b - a) * i as f64 / parts as f64;
    (0..parts).map(|i| RULE.integrate(&mut f, edge(i), edge(i + 1))).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn a_rule_is_exact_up_to_its_degree() {
        let rule = Rule::<8>::gauss();
        assert!(rule.nodes.windows(2).all(|w| w[0] < w[1]));
        for degree in 0..16 {
            let got = rule.integrate(|x| x.powi(degree), 0.0, 2.0);
            let want = 2f64.powi(degree + 1) / f64::from(degree + 1);
            assert_relative_eq!(got, want, max_relative = 1e-14);
        }
        let beyond = rule.integrate(|x| x.powi(16), 0.0, 1.0);
        assert!((beyond - 1.0 / 17.0).abs() > 1e-12);
    }

    #[test]
    fn a_smooth_function_to_rounding_and_a_sharp_one_in_parts() {
        assert_relative_eq!(integrate(f64::sin, 0.0, 3.0), 1.0 - 3f64.cos(), epsilon = 1e-15);
        assert_relative_eq!(integrate(f64::sin, 3.0, 0.0), 3f64.cos() - 1.0, epsilon = 1e-15);
        let sharp = |x: f64| 1.0 / (x * x + 1e-4);
        let want = 2.0 * 100.0 * 100f64.atan();
        assert_relative_eq!(composite(sharp, -1.0, 1.0, 200), want, max_relative = 1e-13);
    }
}
