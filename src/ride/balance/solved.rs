//! A panel of a leaning ride with the polynomials that solve it.

use super::footing::Footing;
use super::motion::{Model, State};
use super::panel::{Bed, Ends, Panel};
use crate::geometry::Line;
use crate::math::{legendre, roots};
use crate::ride::equation::Loads;
use crate::ride::events::Ending;
use crate::ride::panel::{
    BASIS, ENERGY_TOLERANCE, LENGTH_TOLERANCE, LOAD_TOLERANCE, NODES, Pace, Span, TIME_TOLERANCE,
};
use crate::ride::resolved::{Acting, Moment, Resolved};

/// What the highest coefficients of the lean's rate may come to, radians a panel, and of the roll rate's, in rates of
/// falling over. What leans miss between nodes is a tenth of it.
const LEAN_TOLERANCE: f64 = 1e-8;
/// Of speed, relative to the panel's highest.
const SPEED_TOLERANCE: f64 = 1e-9;

/// How much further along the line's parameter the square of the speed and the load on the surface would fall to zero;
/// infinite where they do not fall.
#[derive(Debug, Clone, Copy)]
pub(super) struct Margins {
    stall: f64,
    lift: f64,
}

/// A solved panel.
#[derive(Debug, Clone)]
pub(super) struct Solved<'a> {
    line: &'a Line,
    model: &'a Model,
    pub(super) panel: &'a Panel,
    /// Legendre coefficients of the rates of lean, roll rate and energy sum a unit of `x`.
    rates: [[f64; NODES]; 3],
    loads: [Loads; NODES],
}

impl<'a> Solved<'a> {
    pub(super) fn new(line: &'a Line, model: &'a Model, panel: &'a Panel) -> Self {
        let terms = panel.terms(model);
        let metres = &panel.bed.metres;
        let rates = [
            BASIS.coefficients(&std::array::from_fn(|i| terms[i].lean * metres[i])),
            BASIS.coefficients(&std::array::from_fn(|i| terms[i].roll * metres[i])),
            BASIS.coefficients(&std::array::from_fn(|i| terms[i].gain * metres[i])),
        ];
        let loads = std::array::from_fn(|i| terms[i].loads.loads(panel.states[i].lean));
        Self { line, model, panel, rates, loads }
    }

    /// Lean, roll rate and energy sum at `x`.
    pub(super) fn ends(&self, x: f64) -> Ends {
        let along = |k: usize| self.panel.start[k] + legendre::integral(&self.rates[k], x);
        Ends::new(along(0), along(1), along(2))
    }

    /// The square of the tyres' speed at the panel's end; a little below zero where the ride ends at rest.
    pub(super) fn end_square(&self) -> f64 {
        let end = self.ends(1.0);
        self.model.square(&self.panel.bed.last, end[0], end[1], end[2])
    }

    /// The footing and the state at `x`, from the line itself.
    pub(super) fn state(&self, x: f64) -> (Footing, State<f64>) {
        let span = self.panel.bed.span;
        let (footing, _) = Footing::at(self.line, span.piece, span.parameter(x));
        let [lean, roll, sum] = self.ends(x).into();
        let square = self.model.square(&footing, lean, roll, sum);
        (footing, State { lean, roll, speed: square.max(0.0).sqrt() })
    }

    /// How much too rough the solution is for this panel: at most one where it is resolved.
    pub(super) fn roughness(&self, timed: bool) -> f64 {
        let bed = &self.panel.bed;
        let falling = (self.model.equation.g() / self.model.com_height).sqrt();
        let speeds = self.panel.states.map(|state| state.speed);
        let fastest = speeds.iter().fold(0.0, |most: f64, v| most.max(*v));
        let energy = self.panel.states.iter().zip(&bed.footings).fold(1e-3, |most: f64, (s, f)| {
            most.max(self.model.sum(f, s) - self.model.potential(f, s.lean))
        });
        let load =
            |of: fn(&Loads) -> f64| BASIS.tail(&self.loads.each_ref().map(of)) / LOAD_TOLERANCE;
        let mut parts = vec![
            BASIS.tail(&bed.metres) / (LENGTH_TOLERANCE * bed.length),
            legendre::tail(&self.rates[0]) / LEAN_TOLERANCE,
            legendre::tail(&self.rates[1]) / (LEAN_TOLERANCE * falling),
            legendre::tail(&self.rates[2]) / (ENERGY_TOLERANCE * energy),
            BASIS.tail(&speeds) / (SPEED_TOLERANCE * fastest),
            load(|l| l.normal),
            load(|l| l.side),
        ];
        if timed {
            let seconds = self.seconds();
            parts.push(legendre::tail(&seconds) / (TIME_TOLERANCE * seconds[0].abs()));
        }
        parts.into_iter().fold(0.0, f64::max)
    }

    /// The first place where the ride ends, if it does on this panel.
    pub(super) fn ending(&self) -> Option<(Ending, f64)> {
        let pace = self.panel.bed.span.pace;
        let speeds: [f64; NODES] = std::array::from_fn(|i| {
            self.panel.states[i].speed / pace.vanishing(BASIS.rule.nodes[i]).sqrt()
        });
        let stall = BASIS.first_not_positive(&speeds).map(|x| (Ending::Stall, x));
        let normal = |loads: &Loads| loads.normal;
        let mut lift = BASIS
            .first_not_positive(&self.loads.each_ref().map(normal))
            .map(|x| (Ending::Lift, roots::near(x, |x| self.moment(x).loads.normal)));
        // Upside down, with the surface above.
        let upright = self.panel.states.map(|state| state.lean.cos());
        if let Some(x) = BASIS.first_not_positive(&upright)
            && lift.is_none_or(|(_, first)| x < first)
        {
            lift = Some((Ending::Lift, x));
        }
        match (stall, lift) {
            (Some(a), Some(b)) => Some(if a.1 <= b.1 { a } else { b }),
            (a, b) => a.or(b),
        }
    }

    /// The same panel up to a parameter within it, which begins and goes as it does.
    pub(super) fn until(&self, parameter: f64) -> Panel {
        let Panel { bed, start, .. } = self.panel;
        let span = bed.span;
        let pace = if span.pace == Pace::ToRest { Pace::Even } else { span.pace };
        let span = Span { width: (parameter - span.from).min(span.width), pace, ..span };
        let bed = Bed::new(self.line, span, bed.asked);
        let place = |x: f64| self.panel.bed.span.place(span.parameter(x));
        let states = BASIS.rule.nodes.map(|x| self.state(place(x)).1);
        Panel { bed, start: *start, states }
    }

    /// The state at `x` for another mesh: the speed from the nodes, where it is never zero.
    pub(super) fn guess(&self, x: f64) -> State<f64> {
        let [lean, roll, _] = self.ends(x).into();
        let speeds = BASIS.coefficients(&self.panel.states.map(|state| state.speed));
        let slowest = self.panel.states.iter().fold(f64::INFINITY, |v: f64, s| v.min(s.speed));
        State { lean, roll, speed: legendre::value(&speeds, x).max(0.3 * slowest) }
    }

    /// How near the panel's end is to the end of the ride.
    pub(super) fn margins(&self) -> Margins {
        let span = self.panel.bed.span;
        let x = BASIS.rule.nodes[NODES - 1];
        let way = span.parameter(1.0) - span.parameter(x);
        let end = self.moment(1.0);
        let left = |before: f64, end: f64| {
            let falls = (before - end) / way;
            if falls > 0.0 { end / falls } else { f64::INFINITY }
        };
        let speed = self.panel.states[NODES - 1].speed;
        Margins {
            stall: left(speed * speed, self.end_square()),
            lift: left(self.loads[NODES - 1].normal, end.loads.normal),
        }
    }
}

impl Margins {
    /// Far from any end.
    pub(super) const ENDLESS: Self = Self { stall: f64::INFINITY, lift: f64::INFINITY };

    /// What seems to end the ride first, and how much further along.
    pub(super) fn nearest(&self) -> (Ending, f64) {
        if self.stall < self.lift { (Ending::Stall, self.stall) } else { (Ending::Lift, self.lift) }
    }
}

impl Resolved for Solved<'_> {
    fn metres(&self) -> &[f64; NODES] {
        &self.panel.bed.metres
    }

    fn loads(&self) -> &[Loads; NODES] {
        &self.loads
    }

    fn speeds(&self) -> [f64; NODES] {
        self.panel.states.map(|state| state.speed)
    }

    fn acting(&self, node: usize) -> Acting {
        let (footing, state) = (&self.panel.bed.footings[node], &self.panel.states[node]);
        let lead = self.model.lead(footing, state.lean);
        Acting {
            tangent: footing.tangent,
            normal: footing.normal,
            left: footing.left,
            lead,
            // The contact force passes through the centre of mass and gives nothing across a leaning bike.
            swing: 0.0,
            drag: self.model.equation.forces.drag(self.model.velocity(footing, state)),
        }
    }

    fn moment(&self, x: f64) -> Moment {
        let (footing, state) = self.state(x);
        let terms = self.model.terms(&footing, &state, self.panel.bed.asked);
        Moment {
            tyres: footing.tyres,
            centre: state.centre(&footing, self.model.com_height),
            speed: state.speed,
            lean: state.lean,
            velocity: self.model.velocity(&footing, &state),
            energy: self.model.sum(&footing, &state) - self.model.potential(&footing, state.lean),
            loads: terms.loads.loads(state.lean),
        }
    }
}
