use super::*;
use crate::math::quadrature::Rule as Gauss;
use nalgebra::Complex;

/// Places around an ellipse, and ellipses tried.
const AROUND: u32 = 60;
const ELLIPSES: u32 = 60;

type Number = Complex<f64>;

fn f(s: Number) -> Number {
    s.sinh() * s.cosh() + s
}

/// The error bound of a rule, over `|u|^2 / g`, for one flight: its turn, the drag at its fastest, where it begins.
fn bound(nodes: i32, turn: f64, strength: f64, first: f64) -> f64 {
    let last = first - 2.0 * turn;
    let fallen = (f(first.into()) - f(last.into())).re;
    // Drag at the launch such that the fastest moment, launch or end, has the drag asked for.
    let of_end = strength / (last.cosh().powi(2) - strength * fallen);
    let launch = strength / first.cosh().powi(2);
    let drag = if of_end > 0.0 { launch.min(of_end) } else { launch };
    let fastest = first.cosh().powi(2).max(last.cosh().powi(2) / (1.0 + drag * fallen));
    let mut least = f64::INFINITY;
    for i in 1..=ELLIPSES {
        let rho = (0.2 + 3.8 * f64::from(i) / f64::from(ELLIPSES)).exp();
        let Some(most) = most_on_ellipse(rho, turn, drag, first) else { break };
        let error = 64.0 / 15.0 * most * rho.powi(-2 * nodes) / (1.0 - rho.powi(-2));
        least = least.min(error);
    }
    turn * least / fastest
}

/// The most that any of the integrands is on an ellipse; none where it encloses a place at which `1/u_h^2` vanishes.
fn most_on_ellipse(rho: f64, turn: f64, drag: f64, first: f64) -> Option<f64> {
    let (mut most, mut wound, mut before) = (0f64, 0.0, 0.0);
    for j in 0..=AROUND {
        let around =
            Number::from_polar(rho, std::f64::consts::TAU * f64::from(j) / f64::from(AROUND));
        let s = (around + around.inv()) * (0.5 * turn) + (first - turn);
        let q = (f(first.into()) - f(s)) * drag + 1.0;
        let angle = q.arg();
        if j > 0 {
            let step: f64 = angle - before;
            wound += step - std::f64::consts::TAU * (step / std::f64::consts::TAU).round();
        }
        before = angle;
        most = most.max((s.cosh() / q).norm() * s.sinh().norm().max(1.0));
    }
    (wound.abs() < 1.0).then_some(most)
}

fn worst<const H: usize, const T: usize>(rule: &Rule<H, T>) -> f64 {
    let nodes = 2 * i32::try_from(H).unwrap();
    let mut worst = 0f64;
    for strength in [0.001, 0.01, 0.03, 0.06, 0.1, 0.15, 0.2, STRONGEST] {
        let turn = rule.limit / (1.0 + rule.growth * strength);
        for i in 0..=24 {
            let first = -1.5 + (2.0 * turn + 3.0) * f64::from(i) / 24.0;
            worst = worst.max(bound(nodes, turn, strength, first));
        }
    }
    worst
}

#[test]
fn bounds_hold_up_to_the_limits() {
    let all = [worst(&SHORT), worst(&LONG), worst(&STEEP)];
    assert!(all.iter().all(|bound| *bound < 2e-10), "{all:?}");
    let fine = worst(&FINE);
    assert!(fine < 2e-13, "{fine}");
}

fn nodes_are_gausses<const H: usize, const T: usize, const N: usize>(rule: &Rule<H, T>) {
    let gauss = Gauss::<N>::gauss();
    for (i, [node, weight]) in rule.nodes.iter().enumerate() {
        assert!((2.0 * gauss.nodes[H + i] - 1.0 - node).abs() < 1e-14);
        assert!((2.0 * gauss.weights[H + i] - weight).abs() < 1e-14);
    }
}

#[test]
fn nodes_and_weights_are_those_of_the_library() {
    nodes_are_gausses::<5, 9, 10>(&SHORT);
    nodes_are_gausses::<8, 13, 16>(&LONG);
    nodes_are_gausses::<12, 19, 24>(&STEEP);
}

fn hyperbolic_error<const T: usize>(most: f64) -> f64 {
    let sum = |terms: &[f64; T]| terms.iter().fold(0.0, |sum, term| sum * most * most + term);
    let cosh = sum(&hyperbolic::<T>(0)) / most.cosh() - 1.0;
    let sinh = most * sum(&hyperbolic::<T>(1)) / most.sinh() - 1.0;
    cosh.abs().max(sinh.abs())
}

#[test]
fn hyperbolic_functions_are_good_to_rounding_up_to_the_limits() {
    let all = [
        hyperbolic_error::<9>(SHORT.limit),
        hyperbolic_error::<13>(LONG.limit),
        hyperbolic_error::<19>(STEEP.limit),
    ];
    assert!(all.iter().all(|error| *error < 3e-14), "{all:?}");
}
