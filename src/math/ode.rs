//! Ordinary differential equations: the one adapter over `ode_solvers`.
//!
//! Only its `Dopri5` with sparse output is used: `Dop853` has two wrong nodes, and dense output extrapolates
//! its last sample. What lies between two accepted steps is the caller's interpolant, from `y` and `y'`.

use crate::math::range::{OutOfRange, positive};
use nalgebra::SVector;
use ode_solvers::dop_shared::{IntegrationError, OutputType, System};
use ode_solvers::dopri5::Dopri5;
use std::cell::RefCell;

/// The most steps, rejected ones counted, before an integration is given up.
const MOST_STEPS: u32 = 100_000;
/// Stiffness is looked for every so many steps.
const STIFFNESS_EVERY: u32 = 1000;

/// How finely to integrate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// Error allowed a step, relative to each component.
    pub rtol: f64,
    /// Error allowed a step, in the units of the components.
    pub atol: f64,
    /// The longest step, in the units of `x`: infinite for no limit. Keep it below the shortest feature of the
    /// right-hand side, for a step may jump over what it never sees.
    pub max_step: f64,
    /// The first step tried, or none to have it guessed.
    pub first_step: Option<f64>,
}

impl Options {
    /// Tolerances `rtol` and `atol`, no limit on the step.
    pub fn new(rtol: f64, atol: f64) -> Self {
        Self { rtol, atol, max_step: f64::INFINITY, first_step: None }
    }

    /// The same with steps of at most `max_step`.
    pub fn with_max_step(self, max_step: f64) -> Self {
        Self { max_step, ..self }
    }

    /// The same with `first_step` as the first step tried.
    pub fn with_first_step(self, first_step: f64) -> Self {
        Self { first_step: Some(first_step), ..self }
    }

    fn check(&self) -> Result<(), OutOfRange> {
        positive("rtol", self.rtol)?;
        positive("atol", self.atol)?;
        if let Some(step) = self.first_step {
            positive("first_step", step)?;
        }
        if self.max_step > 0.0 {
            return Ok(());
        }
        Err(OutOfRange::new("max_step", self.max_step, "above 0"))
    }
}

/// The accepted steps of an integration, the start first and the end last.
#[derive(Debug, Clone, PartialEq)]
pub struct Steps<const N: usize> {
    /// The independent variable, strictly monotonic.
    pub x: Vec<f64>,
    /// The solution at each `x`.
    pub y: Vec<SVector<f64, N>>,
    /// Its derivative at each `x`.
    pub dy: Vec<SVector<f64, N>>,
}

impl<const N: usize> Steps<N> {
    /// The solution at the end of the integration.
    pub fn end(&self) -> SVector<f64, N> {
        self.y.last().copied().unwrap_or_else(SVector::zeros)
    }
}

/// Why an integration did not reach its end.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum OdeError<E> {
    /// An option out of its range.
    #[error(transparent)]
    Option(#[from] OutOfRange),
    /// The right-hand side failed: its first error.
    #[error("the right-hand side failed: {0}")]
    RightHandSide(E),
    /// A start, an end or a right-hand side that is not a finite number.
    #[error("not a finite number at x = {x}")]
    NonFinite {
        /// Where it arose.
        x: f64,
    },
    /// Steps became too small to move `x`.
    #[error("the step became too small at x = {x}")]
    StepTooSmall {
        /// Where the last accepted step ended.
        x: f64,
    },
    /// The number of steps ran out.
    #[error("more than {MOST_STEPS} steps at x = {x}")]
    TooManySteps {
        /// Where the last accepted step ended.
        x: f64,
    },
    /// The equation is too stiff for an explicit method.
    #[error("the equation is too stiff at x = {x}")]
    Stiff {
        /// Where it was noticed.
        x: f64,
    },
}

/// What the solver leaves behind while it runs: it owns the system and gives nothing of it back.
struct Log<const N: usize, E> {
    steps: Steps<N>,
    first_error: Option<E>,
    non_finite: Option<f64>,
}

struct Rhs<'a, const N: usize, E, F> {
    f: &'a RefCell<F>,
    log: &'a RefCell<Log<N, E>>,
}

impl<const N: usize, E, F> System<f64, SVector<f64, N>> for Rhs<'_, N, E, F>
where
    F: FnMut(f64, &SVector<f64, N>) -> Result<SVector<f64, N>, E>,
{
    fn system(&self, x: f64, y: &SVector<f64, N>, dy: &mut SVector<f64, N>) {
        let mut log = self.log.borrow_mut();
        // After an error the solver only has to run out of steps, at no cost.
        dy.fill(f64::NAN);
        if log.first_error.is_some() {
            return;
        }
        match (self.f.borrow_mut())(x, y) {
            Ok(rate) => *dy = rate,
            Err(error) => log.first_error = Some(error),
        }
        if !dy.iter().all(|d| d.is_finite()) {
            log.non_finite.get_or_insert(x);
        }
    }

    fn solout(&mut self, x: f64, y: &SVector<f64, N>, dy: &SVector<f64, N>) -> bool {
        let mut log = self.log.borrow_mut();
        log.steps.x.push(x);
        log.steps.y.push(*y);
        log.steps.dy.push(*dy);
        log.non_finite = None;
        false
    }
}

/// The accepted steps of `y' = rhs(x, y)` from `y(x0) = y0` to `x1`, which may lie on either side of `x0`.
///
/// Explicit Runge-Kutta of order 5(4) (Dormand and Prince 1980). Restart at every joint where the right-hand side
/// or its derivatives jump. The first error of `rhs` ends the integration and comes back unchanged; a trial
/// step into a place where `rhs` is not finite is only shortened, unless it cannot be passed.
pub fn integrate<const N: usize, E>(
    mut rhs: impl FnMut(f64, &SVector<f64, N>) -> Result<SVector<f64, N>, E>,
    x0: f64,
    y0: SVector<f64, N>,
    x1: f64,
    options: &Options,
) -> Result<Steps<N>, OdeError<E>> {
    options.check()?;
    if !(x0.is_finite() && x1.is_finite() && y0.iter().all(|y| y.is_finite())) {
        return Err(OdeError::NonFinite { x: x0 });
    }
    let dy0 = rhs(x0, &y0).map_err(OdeError::RightHandSide)?;
    if !dy0.iter().all(|dy| dy.is_finite()) {
        return Err(OdeError::NonFinite { x: x0 });
    }
    let steps = Steps { x: vec![x0], y: vec![y0], dy: vec![dy0] };
    if (x1 - x0).abs() == 0.0 {
        return Ok(steps);
    }
    let log = RefCell::new(Log { steps, first_error: None, non_finite: None });
    let outcome = run(&RefCell::new(rhs), &log, (x0, x1), y0, options);
    settle(log.into_inner(), outcome.as_ref(), x1)
}

fn run<const N: usize, E>(
    f: &RefCell<impl FnMut(f64, &SVector<f64, N>) -> Result<SVector<f64, N>, E>>,
    log: &RefCell<Log<N, E>>,
    (x0, x1): (f64, f64),
    y0: SVector<f64, N>,
    options: &Options,
) -> Option<IntegrationError> {
    let (safety, beta, shrink, grow) = (0.9, 0.04, 0.2, 10.0);
    let max_step = options.max_step.min((x1 - x0).abs());
    let first = options.first_step.map_or(0.0, |step| step.min(max_step).copysign(x1 - x0));
    Dopri5::from_param(
        Rhs { f, log },
        x0,
        x1,
        x1 - x0,
        y0,
        options.rtol,
        options.atol,
        safety,
        beta,
        shrink,
        grow,
        max_step,
        first,
        MOST_STEPS,
        STIFFNESS_EVERY,
        OutputType::Sparse,
    )
    .integrate()
    .err()
}

fn settle<const N: usize, E>(
    log: Log<N, E>,
    outcome: Option<&IntegrationError>,
    x1: f64,
) -> Result<Steps<N>, OdeError<E>> {
    if let Some(error) = log.first_error {
        return Err(OdeError::RightHandSide(error));
    }
    if let Some(x) = log.non_finite {
        return Err(OdeError::NonFinite { x });
    }
    let mut steps = log.steps;
    match outcome {
        None => {
            // The last step adds up to the end but for rounding.
            if let Some(last) = steps.x.last_mut() {
                *last = x1;
            }
            Ok(steps)
        }
        Some(IntegrationError::StepSizeUnderflow { x }) => Err(OdeError::StepTooSmall { x: *x }),
        Some(IntegrationError::MaxNumStepReached { x, .. }) => {
            Err(OdeError::TooManySteps { x: *x })
        }
        Some(IntegrationError::StiffnessDetected { x }) => Err(OdeError::Stiff { x: *x }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{Vector1, Vector2};
    use std::convert::Infallible;

    fn fine() -> Options {
        Options::new(1e-12, 1e-12)
    }

    #[test]
    fn a_rate_that_depends_on_x_comes_out_right() {
        let rhs = |x: f64, y: &Vector1<f64>| Ok::<_, Infallible>(Vector1::new(x.cos() * y[0]));
        for end in [-3.0, 0.5, 10.0] {
            let steps = integrate(rhs, 0.0, Vector1::new(1.0), end, &fine()).unwrap();
            approx::assert_relative_eq!(steps.end()[0], end.sin().exp(), epsilon = 1e-10);
            assert_eq!(steps.x.last(), Some(&end));
            assert_eq!(steps.x.len(), steps.dy.len());
        }
    }

    #[test]
    fn an_oscillator_keeps_its_derivative_and_its_step_limit() {
        let rhs = |_: f64, y: &Vector2<f64>| Ok::<_, Infallible>(Vector2::new(y[1], -y[0]));
        let options = fine().with_max_step(0.01).with_first_step(1e-3);
        let steps = integrate(rhs, 0.0, Vector2::new(0.0, 1.0), 2.0, &options).unwrap();
        for (i, x) in steps.x.iter().enumerate() {
            approx::assert_relative_eq!(steps.y[i][0], x.sin(), epsilon = 1e-11);
            approx::assert_relative_eq!(steps.dy[i][1], -x.sin(), epsilon = 1e-11);
        }
        assert!(steps.x.windows(2).all(|w| w[1] - w[0] <= 0.0101));
    }

    #[test]
    fn the_first_error_of_the_right_hand_side_comes_back() {
        let rhs = |x: f64, _: &Vector1<f64>| {
            if x > 1.0 { Err(format!("beyond at {x}")) } else { Ok(Vector1::new(1.0)) }
        };
        let error = integrate(rhs, 0.0, Vector1::new(0.0), 2.0, &fine()).unwrap_err();
        assert!(matches!(error, OdeError::RightHandSide(text) if text.starts_with("beyond")));
    }

    #[test]
    fn a_pole_is_not_finite_or_too_small_a_step_and_never_an_answer() {
        let blows_up = |_: f64, y: &Vector1<f64>| Ok::<_, Infallible>(Vector1::new(y[0] * y[0]));
        assert!(integrate(blows_up, 0.0, Vector1::new(1.0), 2.0, &fine()).is_err());
        let root = |x: f64, _: &Vector1<f64>| Ok::<_, Infallible>(Vector1::new((1.0 - x).sqrt()));
        let error = integrate(root, 0.0, Vector1::new(0.0), 2.0, &fine()).unwrap_err();
        assert!(matches!(error, OdeError::NonFinite { x } if (x - 1.0).abs() < 1e-6));
    }

    #[test]
    fn bad_options_and_starts_are_named() {
        let rhs = |_: f64, y: &Vector1<f64>| Ok::<_, Infallible>(*y);
        let one = Vector1::new(1.0);
        for bad in [Options::new(0.0, 1.0), Options::new(1.0, f64::NAN), fine().with_max_step(0.0)]
        {
            assert!(matches!(integrate(rhs, 0.0, one, 1.0, &bad), Err(OdeError::Option(_))));
        }
        let start = integrate(rhs, 0.0, Vector1::new(f64::NAN), 1.0, &fine());
        assert!(matches!(start, Err(OdeError::NonFinite { .. })));
        assert_eq!(integrate(rhs, 1.0, one, 1.0, &fine()).unwrap().x, [1.0]);
    }
}
