//! Real roots of a polynomial, between the roots of its derivative.

/// The real roots at which the polynomial changes sign from `low` to `high`, in rising order.
///
/// Coefficients from the constant up. Between neighbouring roots of the derivative the polynomial is monotonic, so
/// each change of sign is bracketed and bisected to rounding; roots it only touches may be left out.
pub fn roots_between(coefficients: &[f64], low: f64, high: f64) -> Vec<f64> {
    let degree = coefficients.iter().rposition(|c| *c != 0.0).unwrap_or(0);
    if degree == 0 || low.is_nan() || high.is_nan() || low > high {
        return Vec::new();
    }
    let terms = &coefficients[..=degree];
    let mut borders = vec![low];
    borders.extend(roots_between(&derivative(terms), low, high));
    borders.push(high);
    let mut roots: Vec<f64> =
        borders.windows(2).filter_map(|w| change(terms, w[0], w[1])).collect();
    roots.dedup();
    roots
}

/// The value of the polynomial, by Horner's rule.
pub fn value(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

/// The product of two polynomials.
pub fn product(a: &[f64], b: &[f64]) -> Vec<f64> {
    let mut out = vec![0.0; (a.len() + b.len()).saturating_sub(1)];
    for (i, p) in a.iter().enumerate() {
        for (j, q) in b.iter().enumerate() {
            out[i + j] += p * q;
        }
    }
    out
}

fn derivative(coefficients: &[f64]) -> Vec<f64> {
    coefficients.iter().enumerate().skip(1).map(|(i, c)| c * i as f64).collect()
}

/// The change of sign of a monotonic piece, to the last bit.
fn change(terms: &[f64], low: f64, high: f64) -> Option<f64> {
    let (mut a, mut b) = (low, high);
    let at_a = value(terms, a);
    if at_a == 0.0 {
        return Some(a);
    }
    let apart = value(terms, b) * at_a.signum();
    if apart.is_nan() || apart > 0.0 {
        return None;
    }
    loop {
        let middle = 0.5 * (a + b);
        if middle <= a || middle >= b {
            return Some(b);
        }
        if value(terms, middle) * at_a.signum() > 0.0 {
            a = middle;
        } else {
            b = middle;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn roots_given_are_found(mut roots in prop::collection::vec(-2.0..2.0f64, 1..6)) {
            roots.sort_by(f64::total_cmp);
            prop_assume!(roots.windows(2).all(|w| w[1] - w[0] > 0.05));
            let terms = roots.iter().fold(vec![1.5], |p, r| product(&p, &[-r, 1.0]));
            let found = roots_between(&terms, -3.0, 3.0);
            prop_assert_eq!(found.len(), roots.len());
            for (f, r) in found.iter().zip(&roots) {
                prop_assert!((f - r).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn what_has_no_root_gives_none() {
        assert!(roots_between(&[1.0, 0.0, 1.0], -5.0, 5.0).is_empty());
        assert!(roots_between(&[], 0.0, 1.0).is_empty());
        assert!(roots_between(&[0.0, 0.0], 0.0, 1.0).is_empty());
        assert!(roots_between(&[f64::NAN, 1.0], 0.0, 1.0).is_empty());
    }
}
