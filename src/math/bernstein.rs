//! Roots of a polynomial on an interval, none missed: by the signs of its Bernstein coefficients.

use super::polynomial::value;
use super::roots::{End, between};

/// The highest degree taken; terms above it are not looked at.
pub const MOST_DEGREE: usize = 31;
/// Halvings after which two roots that still cannot be told apart count as a touch, not a crossing.
const MOST_HALVINGS: u32 = 40;

type Terms = [f64; MOST_DEGREE + 1];

/// The places between 0 and `length` at which the polynomial changes sign, in rising order.
///
/// Coefficients from the constant up, at most [`MOST_DEGREE`] of them after the constant. A polynomial has no more
/// roots in an interval than its Bernstein coefficients change sign there (Descartes' rule; Lane and Riesenfeld
/// 1981): pieces with no change are left, pieces with one are polished to rounding, others are halved. Places where
/// it only touches zero are left out, but for rounding, and so is a root at either end.
pub fn crossings(coefficients: &[f64], length: f64) -> Vec<f64> {
    let mut found = Vec::new();
    look(coefficients, length, &mut |root| {
        found.push(root);
        true
    });
    found
}

/// The first place after 0 and before `length` at which the polynomial changes sign, if any.
pub fn first_crossing(coefficients: &[f64], length: f64) -> Option<f64> {
    let mut found = None;
    look(coefficients, length, &mut |root| {
        found = Some(root);
        false
    });
    found
}

/// The highest value from 0 to `length`, and where it is taken first.
pub fn highest(coefficients: &[f64], length: f64) -> (f64, f64) {
    let mut best = (0.0, value(coefficients, 0.0));
    let mut slope = [0.0; MOST_DEGREE];
    let degree = coefficients.len().saturating_sub(1).min(MOST_DEGREE);
    for (k, term) in slope[..degree].iter_mut().enumerate() {
        *term = coefficients[k + 1] * (k + 1) as f64;
    }
    for place in crossings(&slope[..degree], length).into_iter().chain([length]) {
        let there = value(coefficients, place);
        if there > best.1 {
            best = (place, there);
        }
    }
    best
}

/// Hands every crossing to `found` until it answers no.
fn look(coefficients: &[f64], length: f64, found: &mut impl FnMut(f64) -> bool) {
    if coefficients.is_empty() {
        return;
    }
    let degree = (coefficients.len() - 1).min(MOST_DEGREE);
    let mut terms: Terms = [0.0; MOST_DEGREE + 1];
    let mut power = 1.0;
    for (term, coefficient) in terms.iter_mut().zip(&coefficients[..=degree]) {
        *term = coefficient * power;
        power *= length;
    }
    if keeps_its_sign(&terms[..=degree]) || !terms.iter().all(|term| term.is_finite()) {
        return;
    }
    let polynomial = &coefficients[..=degree];
    to_bernstein(&mut terms[..=degree]);
    halve(polynomial, &terms[..=degree], (0.0, length), MOST_HALVINGS, found);
}

/// A quick look: the constant outweighs all that pulls the other way.
fn keeps_its_sign(terms: &[f64]) -> bool {
    let Some((first, rest)) = terms.split_first() else { return true };
    let against: f64 = rest.iter().map(|term| (-term * first.signum()).max(0.0)).sum();
    first.abs() > against
}

/// Power coefficients on `[0, 1]` to Bernstein coefficients, in place.
fn to_bernstein(terms: &mut [f64]) {
    let degree = terms.len() - 1;
    let mut choose = 1.0;
    for (k, term) in terms.iter_mut().enumerate().skip(1) {
        choose *= (degree - k + 1) as f64 / k as f64;
        *term /= choose;
    }
    for i in 1..=degree {
        for j in (i..=degree).rev() {
            terms[j] += terms[j - 1];
        }
    }
}

/// Looks through one piece; answers whether to go on.
fn halve(
    polynomial: &[f64],
    piece: &[f64],
    (low, high): (f64, f64),
    halvings: u32,
    found: &mut impl FnMut(f64) -> bool,
) -> bool {
    let changes = changes_of_sign(piece);
    let (first, last) = (piece[0], piece[piece.len() - 1]);
    if changes == 0 || (halvings == 0 && changes & 1 == 0) {
        return true;
    }
    let middle = 0.5 * (low + high);
    if (changes == 1 && first != 0.0 && last != 0.0) || halvings == 0 {
        let ends = [End { x: low, f: first }, End { x: high, f: last }];
        return found(between(|x| value(polynomial, x), ends, 0.0).unwrap_or(middle));
    }
    let (left, right) = split(piece);
    let n = piece.len();
    halve(polynomial, &left[..n], (low, middle), halvings - 1, found)
        && (right[0] != 0.0 || !crosses(&left[..n], &right[..n]) || found(middle))
        && halve(polynomial, &right[..n], (middle, high), halvings - 1, found)
}

/// Whether the sign differs before and after a zero at the border of two pieces.
fn crosses(left: &[f64], right: &[f64]) -> bool {
    let before = left.iter().rev().find(|term| **term != 0.0);
    let after = right.iter().find(|term| **term != 0.0);
    before.zip(after).is_some_and(|(a, b)| a.signum() != b.signum())
}

fn changes_of_sign(terms: &[f64]) -> usize {
    let mut last = 0.0;
    let mut changes = 0;
    for term in terms.iter().filter(|term| **term != 0.0) {
        changes += usize::from(last * term.signum() < 0.0);
        last = term.signum();
    }
    changes
}

/// The two halves of a piece, by de Casteljau's scheme.
fn split(piece: &[f64]) -> (Terms, Terms) {
    let mut left: Terms = [0.0; MOST_DEGREE + 1];
    let mut right: Terms = [0.0; MOST_DEGREE + 1];
    let n = piece.len();
    right[..n].copy_from_slice(piece);
    for (i, first) in left[..n].iter_mut().enumerate() {
        *first = right[0];
        for j in 0..n - 1 - i {
            right[j] = 0.5 * (right[j] + right[j + 1]);
        }
    }
    (left, right)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::math::polynomial::product;
    use proptest::prelude::*;

    fn with_roots(roots: &[f64]) -> Vec<f64> {
        roots.iter().fold(vec![1.5], |p, r| product(&p, &[-r, 1.0]))
    }

    proptest! {
        #[test]
        fn roots_given_are_found(mut roots in prop::collection::vec(0.01..2.0f64, 1..7)) {
            roots.sort_by(f64::total_cmp);
            prop_assume!(roots.windows(2).all(|w| w[1] - w[0] > 0.03));
            let found = crossings(&with_roots(&roots), 2.0);
            prop_assert_eq!(found.len(), roots.len());
            for (f, r) in found.iter().zip(&roots) {
                prop_assert!((f - r).abs() < 1e-8);
            }
            prop_assert_eq!(first_crossing(&with_roots(&roots), 2.0), found.first().copied());
        }

        #[test]
        fn the_highest_value_is_above_every_other(
            terms in prop::collection::vec(-1.0..1.0f64, 1..12),
            place in 0.0..1.5f64,
        ) {
            let (at, top) = highest(&terms, 1.5);
            prop_assert!((0.0..=1.5).contains(&at));
            prop_assert!(top >= value(&terms, place) - 1e-12);
        }
    }

    #[test]
    fn roots_close_together_and_in_the_middle_are_told_apart() {
        let found = crossings(&with_roots(&[0.5, 0.500_001, 1.0]), 1.5);
        assert_eq!(found.len(), 3, "{found:?}");
        assert_eq!(crossings(&[-0.5, 1.0], 1.0), [0.5]);
        assert_eq!(crossings(&[-0.125, 0.75, -1.5, 1.0], 1.0).len(), 1);
    }

    #[test]
    fn what_only_touches_or_never_comes_down_has_none() {
        // Rounding may part a touch into two crossings next to each other, never into one.
        let touch = crossings(&with_roots(&[0.4, 0.4]), 1.0);
        assert!(touch.len() & 1 == 0 && touch.iter().all(|at| (at - 0.4).abs() < 1e-7));
        assert!(crossings(&[1.0, 0.0, 1.0], 5.0).is_empty());
        assert!(crossings(&[], 1.0).is_empty());
        assert!(crossings(&[0.0, 1.0], 1.0).is_empty());
        assert!(crossings(&[f64::NAN, 1.0], 1.0).is_empty());
    }

    #[test]
    fn a_dip_too_short_for_samples_is_seen() {
        // Below zero only within 2e-5 of 0.3, on an interval of 1.
        let terms = [0.09 - 4e-10, -0.6, 1.0];
        let found = crossings(&terms, 1.0);
        assert_eq!(found.len(), 2);
        assert!((found[1] - found[0] - 4e-5).abs() < 1e-9);
    }
}
