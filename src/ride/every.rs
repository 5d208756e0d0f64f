//! One line, ridden square to the surface, for all entry speeds at once.

use super::equation::Equation;
use super::error::RideError;
use super::events::{Setting, TIGHTEST};
use super::hold_linear::Bounds;
use super::march::State;
use super::options::TOP_SPEED;
use super::result::Exit;
use super::station::Body;
use crate::air::Air;
use crate::geometry::Line;
use crate::rider::Rider;

/// How much nearer than the tightest hollow a line may come to it.
const EASIER: f64 = 0.98;

/// All rides of a line, square to the surface, without wind, brake and pedals: what they lose is linear in their energy,
/// so the square of the speed at the end is linear in that at the start.
#[derive(Debug, Clone)]
pub(crate) struct EveryRide {
    /// The rider at the end; his speed is that of a ride from rest, and means nothing.
    pub(crate) exit: Exit,
    /// The square of the tyres' speed at the end for one of 0 at the start, and how much more for each more.
    pub(crate) square: [f64; 2],
    /// Squares of entry speeds between which the ride reaches the end and holds for certain; none where that is not known.
    pub(crate) holds: Option<[f64; 2]>,
}

impl Line {
    /// All rides of this line. The air is taken to be calm.
    pub(crate) fn every_ride(&self, rider: &Rider, air: &Air) -> Result<EveryRide, RideError> {
        let bounds = Bounds::of(self, rider, air)?;
        let setting =
            Setting { line: self, body: Body::new(rider), equation: Equation::linear(rider, air) };
        let last = self.sections().last();
        let (piece, parameter) = last.map_or((0, 0.0), |section| (section.piece, section.to));
        let [sum, more] = bounds.end;
        let exit = setting.exit(State { sum, at_rest: false, piece, parameter }, bounds.length);
        let inertia = exit.velocity_per_speed().norm_squared() + setting.body.rotating;
        let energy = 0.5 * bounds.inertia;
        let square = [2.0 * exit.energy / inertia, 2.0 * more * energy / inertia];
        let fits = bounds.tightest < EASIER * TIGHTEST;
        let certain = bounds.certain(rider.grip(), energy * TOP_SPEED * TOP_SPEED);
        let holds = certain.filter(|_| fits).map(|ends| ends.map(|end| end / energy));
        Ok(EveryRide { exit, square, holds })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::feature::{Bank, Wall};
    use crate::geometry::{Plan, Turn};
    use crate::ride::{HoldSpeeds, Lean, RideOptions};
    use approx::assert_relative_eq;

    #[test]
    fn every_ride_is_each_ride() {
        let bank = Bank::linear(20.0_f64.to_radians(), 68.0_f64.to_radians()).unwrap();
        let plan = Plan::arc(7.0, 55.0_f64.to_radians(), Turn::Left).unwrap();
        let wall = Wall::new(plan, bank, 2.4).unwrap().with_grade(-0.04).unwrap();
        let rider = Rider::default().with_grip(0.9).unwrap();
        for leave in [0.3, 1.2, 2.1] {
            let line = wall.line(0.25, leave).unwrap();
            let every = line.every_ride(&rider, &Air::standard()).unwrap();
            let [slowest, fastest] = every.holds.unwrap().map(f64::sqrt);
            let held = line.hold_speeds(&rider, &Air::standard(), Lean::Deck).unwrap();
            let HoldSpeeds::Between { slowest: low, fastest: high } = held else {
                panic!("{held}")
            };
            assert!(low < slowest && slowest < 1.01 * low, "{slowest}, not {low}");
            assert!(0.99 * high < fastest && fastest < high, "{fastest}, not {high}");
            for share in [0.0, 0.3, 0.7, 1.0] {
                let speed = slowest + share * (fastest - slowest);
                let options = RideOptions::new(speed).exit_only();
                let ride = line.ride(&rider, &Air::standard(), &options).unwrap();
                assert!(ride.slip.is_none());
                let exit = ride.reached().unwrap();
                let square = every.square[0] + every.square[1] * speed * speed;
                assert_relative_eq!(square.sqrt(), exit.speed, epsilon = 1e-10);
                assert_relative_eq!(every.exit.up, exit.up, epsilon = 1e-13);
                assert_relative_eq!(every.exit.centre, exit.centre, epsilon = 1e-13);
            }
        }
    }
}
