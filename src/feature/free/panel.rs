//! One panel of a free line: the equation of motion over a short time, by collocation at Gauss nodes.

use super::equation::{Equation, Moment, State};
use super::parts::Pieces;
use crate::math::legendre::{self, Basis};
use std::sync::LazyLock;

pub(super) const NODES: usize = 12;
pub(super) static BASIS: LazyLock<Basis<NODES>> = LazyLock::new(Basis::new);

/// What the highest coefficients of the second derivatives may come to, relative to their largest value. What is missed
/// between the nodes is a fraction of it; third derivatives lose three digits of it.
const TOLERANCE: f64 = 1e-11;
/// And no more than this, m/s²: at tens of g a side load of nothing is still nothing.
const MOST_MISSED: f64 = 1e-9;
/// The same of the load on the surface, where its end is looked for, m/s².
const LOAD_TOLERANCE: f64 = 1e-6;
/// Fixed-point sweeps: each gains about two digits on half a metre.
const MOST_SWEEPS: usize = 30;

/// The motion over one panel, as polynomials in the share `x` of its time.
#[derive(Debug, Clone)]
pub(super) struct Panel {
    pub(super) pieces: Pieces,
    /// Seconds from the line's start.
    pub(super) from: f64,
    pub(super) width: f64,
    start: [f64; 4],
    /// Legendre coefficients of what each number of the state gains a unit of `x`.
    gains: [[f64; NODES]; 4],
}

/// A panel with what was found at its nodes.
pub(super) struct Solved {
    pub(super) panel: Panel,
    pub(super) states: [State; NODES],
    pub(super) moments: [Moment; NODES],
}

impl Panel {
    /// The panel of `width` seconds from `start`; none where it does not converge.
    pub(super) fn solve(
        equation: &Equation,
        pieces: Pieces,
        start: &State,
        from: f64,
        width: f64,
    ) -> Option<Solved> {
        let first = equation.moment(pieces, start);
        let mut rates = [[0.0; NODES]; 4];
        let mut states = BASIS.rule.nodes.map(|x| {
            let t = x * width;
            State {
                s: start.s + t * (start.ds + 0.5 * t * first.dds),
                q: start.q + t * (start.dq + 0.5 * t * first.ddq),
                ds: start.ds + t * first.dds,
                dq: start.dq + t * first.ddq,
            }
        });
        let mut moments = [first; NODES];
        let scale = start.ds.abs().max(start.dq.abs());
        let mut change = f64::INFINITY;
        for _ in 0..MOST_SWEEPS {
            moments = states.map(|state| equation.moment(pieces, &state));
            if change <= 1e-14 * scale {
                break;
            }
            change = sweep(start, width, &moments, &mut rates, &mut states);
        }
        let panel = Self {
            pieces,
            from,
            width,
            start: start.to_array(),
            gains: rates.map(|r| BASIS.coefficients(&r)),
        };
        // Not a number is not converged either.
        (change <= 1e-12 * scale).then_some(Solved { panel, states, moments })
    }

    /// The state at a share of the panel's time.
    pub(super) fn state(&self, x: f64) -> State {
        State::from_array(std::array::from_fn(|i| {
            self.start[i] + legendre::integral(&self.gains[i], x)
        }))
    }

    /// Third derivatives of station and height by time: those of the polynomials.
    pub(super) fn third(&self, x: f64) -> [f64; 2] {
        let per = (self.width * self.width).recip();
        [2, 3].map(|i: usize| legendre::slope(&self.gains[i], x) * per)
    }

    /// The share of the panel's time at a time.
    pub(super) fn share(&self, time: f64) -> f64 {
        (time - self.from) / self.width
    }
}

/// One sweep of the fixed point; gives by how much rates changed, in metres a second.
fn sweep(
    start: &State,
    width: f64,
    moments: &[Moment; NODES],
    rates: &mut [[f64; NODES]; 4],
    states: &mut [State; NODES],
) -> f64 {
    let mut change: f64 = 0.0;
    rates[2] = moments.each_ref().map(|moment| moment.dds * width);
    rates[3] = moments.each_ref().map(|moment| moment.ddq * width);
    let (ds, dq) = (BASIS.integrals(&rates[2]), BASIS.integrals(&rates[3]));
    for (i, state) in states.iter_mut().enumerate() {
        let (ds, dq) = (start.ds + ds[i], start.dq + dq[i]);
        let step = (ds - state.ds).abs() + (dq - state.dq).abs();
        // Kept where it is not a number, which `max` would drop.
        change = if step > change || step.is_nan() { step } else { change };
        (state.ds, state.dq) = (ds, dq);
    }
    rates[0] = states.each_ref().map(|state| state.ds * width);
    rates[1] = states.each_ref().map(|state| state.dq * width);
    let (s, q) = (BASIS.integrals(&rates[0]), BASIS.integrals(&rates[1]));
    for (i, state) in states.iter_mut().enumerate() {
        (state.s, state.q) = (start.s + s[i], start.q + q[i]);
    }
    change
}

impl Solved {
    /// How much too rough the motion is for this panel: at most one where it is resolved.
    pub(super) fn roughness(&self) -> f64 {
        let of = |f: fn(&Moment) -> f64| self.moments.each_ref().map(f);
        let (dds, ddq) = (of(|m| m.dds), of(|m| m.ddq));
        let most = dds.iter().chain(&ddq).fold(1.0, |most: f64, a| most.max(a.abs()));
        let motion = BASIS.tail(&dds).max(BASIS.tail(&ddq)) / (TOLERANCE * most).min(MOST_MISSED);
        motion.max(BASIS.tail(&of(|m| m.normal)) / LOAD_TOLERANCE)
    }
}
