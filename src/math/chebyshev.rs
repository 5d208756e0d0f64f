//! Polynomials through the values at Chebyshev's nodes.

use std::f64::consts::PI;

/// Chebyshev's nodes on `[-1, 1]`: with them a polynomial follows a smooth function everywhere about as well as any could.
pub fn nodes<const N: usize>() -> [f64; N] {
    std::array::from_fn(|i| -angle::<N>(i).cos())
}

/// The polynomial through the values at the nodes, by powers, the highest first.
///
/// Powers lose about a factor `2^N` of the highest terms to rounding; of a function that is followed well these are small.
pub fn powers<const N: usize>(values: &[f64; N]) -> [f64; N] {
    let mut sum = [0.0; N];
    // The polynomials T_k, by powers, lowest first.
    let (mut before, mut now) = ([0.0; N], [0.0; N]);
    now[0] = 1.0;
    for k in 0..N {
        let terms = values.iter().enumerate().map(|(i, value)| {
            // At the node itself: cos(k (pi - angle)).
            value * (k as f64 * (PI - angle::<N>(i))).cos()
        });
        let coefficient = terms.sum::<f64>() * if k == 0 { 1.0 } else { 2.0 } / N as f64;
        for (sum, term) in sum.iter_mut().zip(&now) {
            *sum += coefficient * term;
        }
        let factor = if k == 0 { 1.0 } else { 2.0 };
        let mut next = [0.0; N];
        for power in 0..N {
            let shifted = if power == 0 { 0.0 } else { now[power - 1] };
            next[power] = factor * shifted - if k == 0 { 0.0 } else { before[power] };
        }
        (before, now) = (now, next);
    }
    sum.reverse();
    sum
}

fn angle<const N: usize>(i: usize) -> f64 {
    PI * (i as f64 + 0.5) / N as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn value<const N: usize>(powers: &[f64; N], x: f64) -> f64 {
        powers.iter().fold(0.0, |sum, power| sum * x + power)
    }

    #[test]
    fn a_smooth_function_is_followed_everywhere() {
        let cosine = powers(&nodes::<12>().map(f64::cos));
        let cubic = powers(&nodes::<4>().map(|x| 2.0 - x + 3.0 * x * x * x));
        for x in [-1.0, -0.77, 0.0, 0.3, 0.99, 1.0_f64] {
            // At most 1 / (2^11 12!) = 1.02e-12 is missed, and rounding.
            assert_relative_eq!(value(&cosine, x), x.cos(), epsilon = 1.1e-12);
            assert_relative_eq!(value(&cubic, x), 2.0 - x + 3.0 * x.powi(3), epsilon = 1e-14);
        }
        assert_relative_eq!(cubic[0], 3.0, epsilon = 1e-14);
        assert_relative_eq!(cubic[3], 2.0, epsilon = 1e-14);
    }
}
