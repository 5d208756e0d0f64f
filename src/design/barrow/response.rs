//! How one touchdown answers to a small change of the ground.

use crate::flight::Flight;
use crate::ground::Ground;
use crate::math::{Vec2, Vec3};
use crate::touchdown::Contact;
use nalgebra::{Matrix2, Matrix3, Matrix3x2};
use serde::{Deserialize, Serialize};

/// The ground's own bend is told from heights this far around the mark, metres.
const AROUND: f64 = 1e-3;
/// A touch whose normal is off the ground's by more than this is on an edge.
const ON_EDGE: f64 = 1e-6;

/// How the equivalent fall height of one touchdown changes with the ground under its mark.
///
/// Where the ground rises by a small `z(x, y)`, it changes by [`Self::by_height`] times `z` at the mark and
/// [`Self::by_slope`] times the gradient of `z` there. Higher ground is met sooner and softer; ground that is tilted to
/// fall away along the path is softer.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Response {
    /// The mark in plan.
    pub mark: Vec2,
    /// The equivalent fall height, metres.
    pub fall_height: f64,
    /// Its change by the height at the mark, metres a metre.
    pub by_height: f64,
    /// Its change by the gradient at the mark, metres.
    pub by_slope: Vec2,
}

impl Flight {
    /// How this flight's touchdown answers to small changes of its ground: exact to first order.
    ///
    /// None where there is no touch, the rider is not yet upright, or he touches an edge or corner, where there is no
    /// tangent plane to tilt.
    pub fn response(&self) -> Option<Response> {
        let contact = self.touchdown().contact.filter(Contact::is_upright)?;
        let (mark, normal) = (contact.mark.xy(), contact.normal);
        let own = self.ground().normal(mark.x, mark.y)?;
        if (own - normal).norm() > ON_EDGE || normal.z <= 0.0 {
            return None;
        }
        Response::of(self, &contact, bend(self.ground(), mark)?)
    }
}

impl Response {
    /// The response of a touch of the ground's inside, where its normal tells the slopes and `bend` the second derivatives
    /// of its height. None where the path only grazes the ground.
    pub(in crate::design) fn of(
        flight: &Flight,
        contact: &Contact,
        bend: Matrix2<f64>,
    ) -> Option<Self> {
        let (normal, height) = (contact.normal, flight.reach().height());
        let slope = normal.xy() / -normal.z;
        let tilting = tilting(&slope, &normal);
        // Along the unknowns: the time, and the mark's place in plan.
        let shifted =
            Matrix3x2::new(1.0, 0.0, 0.0, 1.0, slope.x, slope.y) + tilting * bend * height;
        let velocity = contact.velocity;
        let system = Matrix3::from_columns(&[
            velocity,
            -shifted.column(0).into_owned(),
            -shifted.column(1).into_owned(),
        ]);
        let solver = system.lu();
        let motion = flight.flight_path().motion(contact.time);
        let change = |raised: Vec3, tilted: Vec2| {
            let moved = solver.solve(&raised)?;
            let turned = tilting * (bend * Vec2::new(moved.y, moved.z) + tilted);
            let faster = -motion.acceleration.dot(&normal) * moved.x - velocity.dot(&turned);
            Some(contact.normal_speed * faster / flight.forces().g())
        };
        let tilt = |axis: Vec2| change(tilting * axis * height, axis);
        Some(Self {
            mark: contact.mark.xy(),
            fall_height: contact.fall_height,
            by_height: change(Vec3::z(), Vec2::zeros())?,
            by_slope: Vec2::new(tilt(Vec2::x())?, tilt(Vec2::y())?),
        })
    }
}

/// How the unit normal `(-p, 1) / sqrt(1 + p^2)` turns with the slopes `p`.
fn tilting(slope: &Vec2, normal: &Vec3) -> Matrix3x2<f64> {
    let n = normal.z;
    let column = |axis: Vec3, slope: f64| -axis * n - normal * (slope * n * n);
    Matrix3x2::from_columns(&[column(Vec3::x(), slope.x), column(Vec3::y(), slope.y)])
}

/// The second derivatives of the ground's height; none where it is not known around.
fn bend(ground: &Ground, at: Vec2) -> Option<Matrix2<f64>> {
    let height = |x: f64, y: f64| ground.height(at.x + x * AROUND, at.y + y * AROUND);
    let square = AROUND * AROUND;
    let middle = height(0.0, 0.0)?;
    let along = (height(1.0, 0.0)? - 2.0 * middle + height(-1.0, 0.0)?) / square;
    let across = (height(0.0, 1.0)? - 2.0 * middle + height(0.0, -1.0)?) / square;
    let twist = (height(1.0, 1.0)? - height(1.0, -1.0)? - height(-1.0, 1.0)? + height(-1.0, -1.0)?)
        / (4.0 * square);
    Some(Matrix2::new(along, twist, twist, across))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::air::Air;
    use crate::launch::Launch;
    use crate::rider::Rider;
    use approx::assert_relative_eq;

    const SPACING: f64 = 0.8;
    const COLUMNS: usize = 16;

    fn ground(heights: &[f64]) -> Ground {
        let (origin, spacing) = (Vec2::new(-1.0, -4.0), Vec2::repeat(SPACING));
        Ground::grid(origin, spacing, COLUMNS, 10, heights.to_vec()).unwrap()
    }

    /// Gentle bumps on a slope, invented.
    fn heights() -> Vec<f64> {
        let node = |i: usize| ((i % COLUMNS) as f64, (i / COLUMNS) as f64);
        let height = |(i, j): (f64, f64)| 0.06 * (1.3 * i).sin() * (0.9 * j).cos() - 0.15 * i;
        (0..10 * COLUMNS).map(|i| height(node(i))).collect()
    }

    fn flown(ground: &Ground, velocity: Vec3) -> Flight {
        let rider = Rider::default().with_com_height_landing(Some(0.7)).unwrap();
        let launch = Launch::by_hand(Vec3::new(0.0, 0.0, 2.2), velocity).unwrap();
        launch.flight(ground, &rider, &Air::standard()).unwrap()
    }

    /// On the level a rise of the ground saves its own height, and a tilt turns the speed over the ground into it.
    #[test]
    fn on_the_level_it_is_by_the_book() {
        let flat = Ground::plane(Vec3::zeros(), 0.0, 0.0).unwrap();
        let rider = Rider::default().with_cda(0.0).unwrap();
        let launch = Launch::by_hand(Vec3::new(0.0, 0.0, 2.5), Vec3::new(6.0, 1.0, 0.0)).unwrap();
        let flight = launch.flight(&flat, &rider, &Air::standard()).unwrap();
        let response = flight.response().unwrap();
        assert_relative_eq!(response.fall_height, 1.5, epsilon = 1e-12);
        assert_relative_eq!(response.by_height, -1.0, epsilon = 1e-12);
        let time = flight.time();
        // The mark moves back by the rider's height as the ground under it tilts: that too shifts the touch.
        assert_relative_eq!(response.by_slope, Vec2::new(6.0, 1.0) * time, epsilon = 1e-6);
    }

    #[test]
    fn it_is_the_change_of_whole_flights() {
        let heights = heights();
        let mut asked = 0;
        for i in 0..12 {
            let velocity = Vec3::new(4.0 + 0.3 * f64::from(i), 0.17 * f64::from(i) - 0.8, 1.0);
            let bumpy = ground(&heights);
            let Some(response) = flown(&bumpy, velocity).response() else { continue };
            let cell = (response.mark - Vec2::new(-1.0, -4.0)) / SPACING;
            let inside = cell.map(|x| x - x.floor());
            if inside.min() < 0.02 || inside.max() > 0.98 {
                continue;
            }
            asked += 1;
            for (right, up) in [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)] {
                let share = |corner: f64, x: f64| if corner > 0.0 { x } else { 1.0 - x };
                let rate = |corner: f64| if corner > 0.0 { 1.0 / SPACING } else { -1.0 / SPACING };
                let (u, v) = (share(right, inside.x), share(up, inside.y));
                let told = response.by_height * u * v
                    + response.by_slope.dot(&Vec2::new(rate(right) * v, u * rate(up)));
                let node = (cell.x.floor() + right, cell.y.floor() + up);
                let fall = |by: f64| {
                    let index = |(i, j): (usize, usize)| j * COLUMNS + i;
                    let at = (0..COLUMNS).flat_map(|i| (0..10).map(move |j| (i, j)));
                    let near = |&(i, j): &(usize, usize)| {
                        (i as f64 - node.0).abs() < 0.5 && (j as f64 - node.1).abs() < 0.5
                    };
                    let mut moved = heights.clone();
                    moved[index(at.clone().find(near).unwrap())] += by;
                    flown(&ground(&moved), velocity).touchdown().contact.unwrap().fall_height
                };
                let found = (fall(1e-4) - fall(-1e-4)) / 2e-4;
                assert_relative_eq!(told, found, max_relative = 1e-6, epsilon = 1e-7);
            }
        }
        assert!(asked >= 6, "{asked}");
    }
}
