//! Roots of a function of one variable, kept between two places where its sign differs.

/// The most evaluations before a search is given up: bisection needs about 60 for any bracket.
const MOST_EVALUATIONS: usize = 200;

/// Why no root was found.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum RootError {
    /// The ends of the bracket have the same sign.
    #[error("no change of sign between {a} (value {fa}) and {b} (value {fb})")]
    NoSignChange {
        /// One end.
        a: f64,
        /// The value there.
        fa: f64,
        /// The other end.
        b: f64,
        /// The value there.
        fb: f64,
    },
    /// An end or a value that is not a finite number.
    #[error("the function is {value} at {x}: not a finite number")]
    NonFinite {
        /// Where.
        x: f64,
        /// What came out.
        value: f64,
    },
    /// The evaluations ran out.
    #[error("no root to the tolerance after {evaluations} evaluations: {residual} left at {x}")]
    NotConverged {
        /// How many evaluations were made.
        evaluations: usize,
        /// The last place.
        x: f64,
        /// The value there.
        residual: f64,
    },
}

/// One end of a bracket: a place and the function's value there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct End {
    /// The place.
    pub x: f64,
    /// The value there.
    pub f: f64,
}

/// A root of `f` between `a` and `b`, to within `tolerance` in `x` (or rounding, where that is coarser).
///
/// The ITP method (Oliveira and Takahashi 2020): never more evaluations than bisection but one, and
/// superlinear on smooth functions. A value of zero, of either sign, at an end is a root. `f` must differ in sign at
/// the two ends.
pub fn bracketed(
    mut f: impl FnMut(f64) -> f64,
    a: f64,
    b: f64,
    tolerance: f64,
) -> Result<f64, RootError> {
    let ends = [End { x: a, f: f(a) }, End { x: b, f: f(b) }];
    between(f, ends, tolerance)
}

/// As [`bracketed`], where the values at the ends are known already.
pub fn between(
    mut f: impl FnMut(f64) -> f64,
    ends: [End; 2],
    tolerance: f64,
) -> Result<f64, RootError> {
    let mut bracket = Bracket::new(ends)?;
    for end in [bracket.a, bracket.b] {
        if end.f == 0.0 {
            return Ok(end.x);
        }
    }
    let tolerance = bracket.attainable(tolerance);
    let halvings = (0.5 * bracket.width() / tolerance).log2().ceil().max(0.0);
    for evaluation in 0..MOST_EVALUATIONS {
        if bracket.width() <= 2.0 * tolerance {
            return Ok(bracket.middle());
        }
        // How far bisection may still be ahead: one evaluation of slack.
        let reach = tolerance * (halvings + 1.0 - evaluation as f64).exp2();
        let x = bracket.guess(tolerance, reach);
        let value = f(x);
        if value == 0.0 {
            return Ok(x);
        }
        bracket.narrow(End { x, f: value })?;
    }
    let x = bracket.middle();
    Err(RootError::NotConverged { evaluations: MOST_EVALUATIONS, x, residual: f(x) })
}

/// The place near `x` in `[0, 1]` where `f` comes down through zero, polished to rounding; `x` itself where it does not
/// (a function that only touches zero, or starts below).
pub fn near(x: f64, mut f: impl FnMut(f64) -> f64) -> f64 {
    for reach in [1e-9, 1e-7, 1e-5, 1e-3] {
        let (low, high) = ((x - reach).max(0.0), (x + reach).min(1.0));
        let ends = [End { x: low, f: f(low) }, End { x: high, f: f(high) }];
        if ends[0].f > 0.0 && ends[1].f <= 0.0 {
            return between(&mut f, ends, 1e-14).unwrap_or(x);
        }
    }
    x
}

/// `a` left of `b`, with values of different sign.
struct Bracket {
    a: End,
    b: End,
    /// The factor of the truncation, from the first width.
    kappa: f64,
}

impl Bracket {
    fn new([a, b]: [End; 2]) -> Result<Self, RootError> {
        for end in [a, b] {
            if !(end.x.is_finite() && end.f.is_finite()) {
                return Err(RootError::NonFinite { x: end.x, value: end.f });
            }
        }
        if a.f * b.f > 0.0 && a.f.signum() == b.f.signum() {
            return Err(RootError::NoSignChange { a: a.x, fa: a.f, b: b.x, fb: b.f });
        }
        let (a, b) = if a.x <= b.x { (a, b) } else { (b, a) };
        let kappa = 0.2 / (b.x - a.x).max(f64::MIN_POSITIVE);
        Ok(Self { a, b, kappa })
    }

    fn width(&self) -> f64 {
        self.b.x - self.a.x
    }

    fn middle(&self) -> f64 {
        0.5 * (self.a.x + self.b.x)
    }

    /// No finer than the spacing of numbers allows.
    fn attainable(&self, tolerance: f64) -> f64 {
        let spacing = 2.0 * f64::EPSILON * self.a.x.abs().max(self.b.x.abs());
        tolerance.max(spacing).max(f64::MIN_POSITIVE)
    }

    /// Interpolate, truncate towards the middle, project to within `reach` of bisection.
    fn guess(&self, tolerance: f64, reach: f64) -> f64 {
        let (a, b) = (self.a, self.b);
        let chord = (a.x * b.f - b.x * a.f) / (b.f - a.f);
        let gap = self.middle() - chord;
        let pull = (self.kappa * self.width().powi(2)).max(tolerance);
        let pulled = if pull <= gap.abs() { chord + pull * gap.signum() } else { self.middle() };
        let radius = (reach - 0.5 * self.width()).max(0.0);
        pulled.clamp(self.middle() - radius, self.middle() + radius)
    }

    fn narrow(&mut self, at: End) -> Result<(), RootError> {
        if !at.f.is_finite() {
            return Err(RootError::NonFinite { x: at.x, value: at.f });
        }
        if at.f.signum() == self.a.f.signum() {
            self.a = at;
        } else {
            self.b = at;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_of_hard_functions_to_every_tolerance() {
        type Case = (fn(f64) -> f64, f64, f64, f64);
        let cases: [Case; 4] = [
            (|x| x.exp() - 2.0, 0.0, 5.0, 2.0_f64.ln()),
            (|x| (x - 0.3).powi(9), 0.0, 1.0, 0.3),
            (|x| (x - 1.0 / 3.0).signum(), 0.0, 1.0, 1.0 / 3.0),
            (|x| 1.0 / (x - 4.0) + 1e-3, -2000.0, 3.9, -996.0),
        ];
        for (f, a, b, root) in cases {
            for digits in 1..13 {
                let tolerance = 10f64.powi(-digits);
                for (a, b) in [(a, b), (b, a)] {
                    let found = bracketed(f, a, b, tolerance).unwrap();
                    assert!((found - root).abs() <= 1.01 * tolerance + 1e-12, "{found} {root}");
                }
            }
        }
    }

    #[test]
    fn never_slower_than_bisection_but_one() {
        let mut count = 0;
        let step = |x: f64| {
            count += 1;
            if x < 0.123 { -1e-3 } else { 1e9 }
        };
        bracketed(step, 0.0, 1.0, 1e-9).unwrap();
        assert!(count <= 2 + 31, "{count}");
    }

    #[test]
    fn zero_at_an_end_is_a_root_whatever_its_sign() {
        assert_eq!(bracketed(|x| x, 0.0, 1.0, 1e-9), Ok(0.0));
        assert_eq!(bracketed(|x| -x, -1.0, 0.0, 1e-9), Ok(0.0));
        assert_eq!(bracketed(|x| x * -0.0, -1.0, 2.0, 1e-9), Ok(-1.0));
    }

    #[test]
    fn a_root_near_a_guess_is_polished_where_there_is_one() {
        for off in [0.0, 1e-12, -1e-8, 1e-4] {
            let x = near(0.3 + off, |x| 0.3 - x);
            assert!((x - 0.3).abs() < 1e-14, "{x}");
        }
        for (x, f) in [(0.3, (|x| x + 1.0) as fn(f64) -> f64), (0.0, |x: f64| -x)] {
            assert!((near(x, f) - x).abs() < f64::MIN_POSITIVE);
        }
    }

    #[test]
    fn errors_carry_the_numbers() {
        let none = bracketed(|x| x * x + 1.0, -1.0, 2.0, 1e-9);
        assert_eq!(none, Err(RootError::NoSignChange { a: -1.0, fa: 2.0, b: 2.0, fb: 5.0 }));
        let nan =
            bracketed(|x| if x > 0.4 && x < 0.6 { f64::NAN } else { x - 0.5 }, 0.0, 1.0, 1e-9);
        assert!(matches!(nan, Err(RootError::NonFinite { x, .. }) if (x - 0.5).abs() < 0.1));
        let end = bracketed(|x| x, f64::NAN, 1.0, 1e-9);
        assert!(matches!(end, Err(RootError::NonFinite { .. })));
    }
}
