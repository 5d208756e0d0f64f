//! How the end of a flight answers to its launch: the equation of motion made linear along the path, and the touch by the
//! theorem of implicit functions.
//!
//! With `M = d(c)/d(launch)`, `V = d(v)/d(launch)`: `M' = V`, `V' = A V + b`, `A` the drag's derivative by the velocity
//! and `b` its derivative by the drag constant. At the touch `n . c - rho = 0` moves by `dt = -(n . dc - d rho)/(n . v - rho')`.

use crate::flight::Flight;
use crate::ground::{End, Ground, Touch};
use crate::math::Vec3;
use nalgebra::SMatrix;

/// What a flight's end answers to: place and velocity of the launch, the drag constant, the lean at the launch.
pub(super) const CAUSES: usize = 8;
const DRAG: usize = 6;
const LEAN: usize = 7;
/// Steps of integration, each well under a hundredth of the flight's way against drag.
const STEPS: usize = 48;
/// How far the touched place is probed for the ground's bend, metres.
const PROBE: f64 = 1e-5;

/// A row of derivatives.
pub(super) type Row = SMatrix<f64, 1, CAUSES>;
/// Derivatives of a vector.
type Block = SMatrix<f64, 3, CAUSES>;

/// The derivatives of a touch by what made it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Flown {
    /// Of the mark under the centre of mass.
    pub(super) mark: Block,
    /// Of the unit vector over the ground, forward.
    pub(super) ahead: Block,
    /// Of the time of flight.
    pub(super) time: Row,
    /// Of the equivalent fall height.
    pub(super) fall_height: Row,
}

impl Flown {
    /// None for a flight that ends without a touch.
    pub(super) fn of(flight: &Flight) -> Option<Self> {
        let End::Touch(touch) = flight.end() else { return None };
        let (place, speed) = carried(flight, touch.time);
        Some(at_touch(flight, touch, &place, &speed))
    }
}

/// Derivatives of place and velocity at a time, by the classic method of order 4.
fn carried(flight: &Flight, time: f64) -> (Block, Block) {
    let (path, forces) = (flight.flight_path(), flight.forces());
    let rate = |t: f64, speed: &Block| {
        let velocity = path.velocity(t);
        let air = velocity - forces.wind();
        let mut rate = forces.drag_by_velocity(velocity) * speed;
        let by_drag = rate.column(DRAG) - air * air.norm();
        rate.set_column(DRAG, &by_drag);
        rate
    };
    let (mut place, mut speed) = (Block::zeros(), Block::zeros());
    place.fixed_view_mut::<3, 3>(0, 0).fill_with_identity();
    speed.fixed_view_mut::<3, 3>(0, 3).fill_with_identity();
    let h = time / STEPS as f64;
    for step in 0..STEPS {
        let t = h * step as f64;
        let k1 = rate(t, &speed);
        let k2 = rate(t + 0.5 * h, &(speed + k1 * (0.5 * h)));
        let k3 = rate(t + 0.5 * h, &(speed + k2 * (0.5 * h)));
        let k4 = rate(t + h, &(speed + k3 * h));
        place += (speed + (k1 + k2 + k3) * (h / 6.0)) * h;
        speed += (k1 + (k2 + k3) * 2.0 + k4) * (h / 6.0);
    }
    (place, speed)
}

fn at_touch(flight: &Flight, touch: &Touch, place: &Block, speed: &Block) -> Flown {
    let (n, motion) = (touch.normal, flight.flight_path().motion(touch.time));
    let (reach, v) = (flight.reach(), motion.velocity);
    let mut gap = n.transpose() * place;
    if touch.lean_owed > 0.0 {
        gap[LEAN] += reach.height() * touch.lean_owed.sin();
    }
    let time = gap / -(n.dot(&v) - reach.growth(touch.time));
    let centre = place + v * time;
    let velocity = speed + motion.acceleration * time;
    let normal = turned(flight.ground(), &touch.position, &centre);
    let along = v.dot(&n);
    let over = v - n * along;
    let d_along = n.transpose() * velocity + v.transpose() * normal;
    let d_over = velocity - n * d_along - normal * along;
    let fast = over.norm().max(f64::MIN_POSITIVE);
    let ahead = over / fast;
    let g = flight.forces().g();
    Flown {
        mark: centre - normal * reach.height(),
        ahead: (d_over - ahead * (ahead.transpose() * d_over)) / fast,
        time,
        fall_height: d_along * (along.min(0.0) / g),
    }
}

/// How the unit vector from the ground to a point turns as the point moves: nothing over a plane; over edges and bent
/// ground by its closed form at two places close by.
fn turned(ground: &Ground, at: &Vec3, moves: &Block) -> Block {
    let mut turned = Block::zeros();
    for (column, step) in moves.column_iter().enumerate() {
        let size = step.norm();
        if size > 0.0 {
            let probe = step * (PROBE / size);
            let normal = |point: Vec3| ground.nearest(point, f64::INFINITY).map(|near| near.normal);
            if let (Some(a), Some(b)) = (normal(at - probe), normal(at + probe)) {
                turned.set_column(column, &((b - a) * (size / (2.0 * PROBE))));
            }
        }
    }
    turned
}

/// How the lean at a launch changes: `lean = angle(u, n)`, `n` of the nearest ground.
pub(super) fn launch_lean<const N: usize>(
    flight: &Flight,
    u: &Vec3,
    du: &SMatrix<f64, 3, N>,
    dc: &SMatrix<f64, 3, N>,
) -> SMatrix<f64, 1, N> {
    let still = SMatrix::<f64, 1, N>::zeros();
    let at = flight.launch().position;
    let Some(near) = flight.ground().nearest(at, f64::INFINITY) else { return still };
    let (cos, sin) = (u.dot(&near.normal), u.cross(&near.normal).norm());
    if sin < 1e-9 || cos <= 0.0 {
        return still;
    }
    let mut dn = SMatrix::<f64, 3, N>::zeros();
    for column in 0..N {
        let step: Vec3 = dc.column(column).into();
        let size = step.norm();
        if size > 0.0 {
            let probe = step * (PROBE / size);
            let normal = |point| flight.ground().nearest(point, f64::INFINITY).map(|a| a.normal);
            if let (Some(a), Some(b)) = (normal(at - probe), normal(at + probe)) {
                dn.set_column(column, &((b - a) * (size / (2.0 * PROBE))));
            }
        }
    }
    (near.normal.transpose() * du + u.transpose() * dn) / -sin
}
