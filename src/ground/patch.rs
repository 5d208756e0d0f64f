//! One bilinear cell of a grid: its nearest point, and how far it may come to meet a moving ball.

use super::bounds::Bounds;
use crate::math::polynomial::{product, roots_between};
use crate::math::{Vec2, Vec3};

/// More Newton steps than a monotonic slope ever takes.
const MOST_STEPS: usize = 60;

/// A cell `z = z0 + p x + q y + e x y` over a rectangle, `x` and `y` from its low corner.
#[derive(Debug, Clone, Copy)]
pub(super) struct Patch {
    corner: Vec3,
    size: Vec2,
    slope: Vec2,
    twist: f64,
}

/// The point of a patch nearest to another point.
#[derive(Debug, Clone, Copy)]
pub(super) struct Foot {
    /// Plan position from the patch's low corner.
    at: Vec2,
    pub(super) point: Vec3,
}

impl Patch {
    /// The patch with these heights: low corner, along `x`, along `y`, and across.
    pub(super) fn new(corner: Vec2, size: Vec2, [z00, z10, z01, z11]: [f64; 4]) -> Self {
        Self {
            corner: Vec3::new(corner.x, corner.y, z00),
            size,
            slope: Vec2::new((z10 - z00) / size.x, (z01 - z00) / size.y),
            twist: (z11 - z10 - z01 + z00) / (size.x * size.y),
        }
    }

    pub(super) fn bounds(&self) -> Bounds {
        let corners = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)]
            .map(|(u, v)| self.point(Vec2::new(u * self.size.x, v * self.size.y)));
        Bounds::of(&corners)
    }

    /// The four quarters of the patch: the same surface in pieces.
    pub(super) fn quarters(&self) -> [Self; 4] {
        let size = 0.5 * self.size;
        [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)].map(|(u, v)| {
            let at = Vec2::new(u * size.x, v * size.y);
            Self { corner: self.point(at), size, slope: self.gradient(at), twist: self.twist }
        })
    }

    /// The point at a plan position from the low corner.
    pub(super) fn point(&self, at: Vec2) -> Vec3 {
        self.corner + Vec3::new(at.x, at.y, self.slope.dot(&at) + self.twist * at.x * at.y)
    }

    /// The unit normal at a plan position from the low corner.
    pub(super) fn normal(&self, at: Vec2) -> Vec3 {
        let g = self.gradient(at);
        Vec3::new(-g.x, -g.y, 1.0).normalize()
    }

    /// A plane that no point of the patch rises above: a point of it and its normal.
    pub(super) fn lid(&self) -> (Vec3, Vec3) {
        let middle = 0.5 * self.size;
        let rise = 0.25 * self.twist.abs() * self.size.x * self.size.y;
        (self.point(middle) + Vec3::new(0.0, 0.0, rise), self.normal(middle))
    }

    /// The nearest point to `c`: exact, whatever the twist.
    pub(super) fn nearest(&self, c: &Vec3) -> Foot {
        let from = c - self.corner;
        let at = if self.is_bowl(&from) { self.descend(&from) } else { self.try_all(&from) };
        Foot { at, point: self.point(at) }
    }

    /// How strongly the patch may bend up towards a ball that touches it at `foot`, seen along `normal`; per metre.
    ///
    /// All points `q` of the patch obey `normal . (q - foot) <= bend |q - foot|^2 / 2`. For `q - foot` is a tangent
    /// part, along which the nearest point leaves nothing to gain, and the twist's part `e dx dy`, and
    /// `|dx dy| <= |q - foot|^2 / 2`; on an edge or corner the slope away from it counts against the twist.
    pub(super) fn bend(&self, foot: &Foot, normal: &Vec3) -> f64 {
        let twist = normal.z * self.twist;
        let g = self.gradient(foot.at);
        let (into_x, into_y) = (inward(foot.at.x, self.size.x), inward(foot.at.y, self.size.y));
        let away_x = (-into_x * (normal.x + normal.z * g.x)).max(0.0);
        let away_y = (-into_y * (normal.y + normal.z * g.y)).max(0.0);
        let room = |at: f64, size: f64, sign: f64| if sign > 0.0 { size - at } else { at };
        match (into_x != 0.0, into_y != 0.0) {
            (false, false) => twist.abs(),
            (true, false) => {
                less(twist.abs(), away_x, room(foot.at.y, self.size.y, twist * into_x))
            }
            (false, true) => {
                less(twist.abs(), away_y, room(foot.at.x, self.size.x, twist * into_y))
            }
            (true, true) => {
                let twist = twist * into_x * into_y;
                (twist - away_x / self.size.y - away_y / self.size.x).max(0.0)
            }
        }
    }

    /// The normal at a foot.
    pub(super) fn normal_at(&self, foot: &Foot) -> Vec3 {
        self.normal(foot.at)
    }

    /// Whether a foot lies off all edges.
    pub(super) fn is_inside(&self, foot: &Foot) -> bool {
        let off = |at: f64, size: f64| at > 0.0 && at < size;
        off(foot.at.x, self.size.x) && off(foot.at.y, self.size.y)
    }

    fn gradient(&self, at: Vec2) -> Vec2 {
        self.slope + self.twist * Vec2::new(at.y, at.x)
    }

    /// Whether the squared distance is convex over the patch, so that it has one least point.
    fn is_bowl(&self, from: &Vec3) -> bool {
        let run = self.slope.abs().dot(&self.size) + self.twist.abs() * self.size.x * self.size.y;
        (from.z.abs() + run) * self.twist.abs() < 1.0
    }

    /// The best `x` on the patch's straight line at `y`.
    fn best_x(&self, from: &Vec3, y: f64) -> f64 {
        let m = self.slope.x + self.twist * y;
        ((from.x + (from.z - self.slope.y * y) * m) / (1.0 + m * m)).clamp(0.0, self.size.x)
    }

    /// Half the slope of the squared distance along `y`, the best `x` taken at each, and its own slope.
    fn pull(&self, from: &Vec3, y: f64) -> (f64, f64) {
        let x = self.best_x(from, y);
        let g = self.gradient(Vec2::new(x, y));
        let rise = self.slope.x * x + g.y * y - from.z;
        let mixed = if x > 0.0 && x < self.size.x { g.x * g.y + rise * self.twist } else { 0.0 };
        (y - from.y + rise * g.y, 1.0 + g.y * g.y - mixed * mixed / (1.0 + g.x * g.x))
    }

    /// The least point of a bowl, by Newton steps kept between brackets.
    fn descend(&self, from: &Vec3) -> Vec2 {
        let at = |y: f64| Vec2::new(self.best_x(from, y), y);
        let (mut low, mut high) = (0.0, self.size.y);
        let ends = [self.pull(from, low).0, self.pull(from, high).0];
        if ends[0] >= 0.0 {
            return at(low);
        }
        if ends[1] <= 0.0 {
            return at(high);
        }
        let mut y = high * ends[0] / (ends[0] - ends[1]);
        for _ in 0..MOST_STEPS {
            let (pull, steep) = self.pull(from, y);
            if pull > 0.0 {
                high = y;
            } else {
                low = y;
            }
            let newton = y - pull / steep;
            let next = if newton > low && newton < high { newton } else { 0.5 * (low + high) };
            if (next - y).abs() <= 4.0 * f64::EPSILON * self.size.y {
                return at(next);
            }
            y = next;
        }
        at(y)
    }

    /// The least point where there may be several: all edges, and all places where the distance is stationary.
    fn try_all(&self, from: &Vec3) -> Vec2 {
        let size = self.size;
        let edges_y = [0.0, size.y].map(|y| Vec2::new(self.best_x(from, y), y));
        let edges_x = [0.0, size.x].map(|x| Vec2::new(x, self.turned().best_x(&swap(from), x)));
        let inside = roots_between(&self.stationary(from), 0.0, size.y)
            .into_iter()
            .map(|y| Vec2::new(self.best_x(from, y), y));
        let square = |at: &Vec2| (self.point(*at) - self.corner - from).norm_squared();
        edges_y
            .into_iter()
            .chain(edges_x)
            .chain(inside)
            .min_by(|a, b| square(a).total_cmp(&square(b)))
            .unwrap_or_else(Vec2::zeros)
    }

    /// The same patch with `x` and `y` exchanged.
    fn turned(&self) -> Self {
        let flip = |v: Vec2| Vec2::new(v.y, v.x);
        Self { size: flip(self.size), slope: flip(self.slope), corner: swap(&self.corner), ..*self }
    }

    /// The quintic in `y` that vanishes where the patch, carried on past its edges in `x`, is stationary.
    ///
    /// At each `y` the patch is a line of slope `m = p + e y`; the squared distance to it is
    /// `(y - cy)^2 + (a + b y)^2 / (1 + m^2)`.
    fn stationary(&self, from: &Vec3) -> Vec<f64> {
        let e = self.twist;
        let m = [self.slope.x, e];
        let offset = [from.z - m[0] * from.x, -self.slope.y - e * from.x];
        let one = [1.0 + m[0] * m[0], 2.0 * m[0] * e, e * e];
        let square = product(&one, &one);
        let first = product(&[-from.y, 1.0], &square);
        let inner: Vec<f64> =
            product(&offset, &m).iter().zip(&one).map(|(om, o)| offset[1] * o - om * e).collect();
        let mut all = first;
        for (sum, term) in all.iter_mut().zip(product(&offset, &inner)) {
            *sum += term;
        }
        all
    }
}

/// The direction from an edge into the patch: 0 off the edges.
fn inward(at: f64, size: f64) -> f64 {
    f64::from(i8::from(at <= 0.0) - i8::from(at >= size))
}

/// What is left of a twist on an edge that falls away by `away`, within `room` along the edge.
fn less(twist: f64, away: f64, room: f64) -> f64 {
    if room > 0.0 { (twist - away / room).max(0.0) } else { 0.0 }
}

fn swap(v: &Vec3) -> Vec3 {
    Vec3::new(v.y, v.x, v.z)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn patch() -> impl Strategy<Value = Patch> {
        (0.1..2.0f64, 0.1..2.0f64, prop::array::uniform4(-1.0..1.0f64))
            .prop_map(|(dx, dy, z)| Patch::new(Vec2::new(0.3, -0.2), Vec2::new(dx, dy), z))
    }

    fn samples(patch: &Patch) -> impl Iterator<Item = Vec3> + '_ {
        (0..=1600).map(|i| {
            let (u, v) = (f64::from(i % 41) / 40.0, f64::from(i / 41) / 40.0);
            patch.point(Vec2::new(u * patch.size.x, v * patch.size.y))
        })
    }

    proptest! {
        #[test]
        fn nearest_is_nearest_and_bend_bounds_the_patch(
            patch in patch(),
            c in prop::array::uniform3(-3.0..3.0f64).prop_map(Vec3::from),
        ) {
            let foot = patch.nearest(&c);
            let away = c - foot.point;
            let distance = away.norm();
            prop_assume!(distance > 1e-6);
            let normal = away / distance;
            let bend = patch.bend(&foot, &normal);
            for q in samples(&patch) {
                prop_assert!((q - c).norm() >= distance - 1e-12);
                let w = q - foot.point;
                prop_assert!(normal.dot(&w) <= 0.5 * bend * w.norm_squared() + 1e-9);
            }
        }

        #[test]
        fn the_two_ways_agree_on_a_bowl(
            patch in patch(),
            c in prop::array::uniform3(-1.0..1.0f64).prop_map(Vec3::from),
        ) {
            let from = c - patch.corner;
            prop_assume!(patch.is_bowl(&from));
            let all = patch.point(patch.try_all(&from));
            prop_assert!(((all - c).norm() - (patch.nearest(&c).point - c).norm()).abs() < 1e-12);
        }
    }

    #[test]
    fn quarters_are_the_patch() {
        let patch = Patch::new(Vec2::zeros(), Vec2::new(0.5, 0.7), [0.1, 0.4, -0.2, 0.9]);
        for quarter in patch.quarters() {
            for q in samples(&quarter) {
                assert!((patch.point(Vec2::new(q.x, q.y)) - q).norm() < 1e-14);
            }
        }
    }

    #[test]
    fn the_lid_covers_the_patch() {
        let patch = Patch::new(Vec2::zeros(), Vec2::new(0.5, 0.7), [0.1, 0.4, -0.2, 0.9]);
        let (point, normal) = patch.lid();
        assert!(samples(&patch).all(|q| normal.dot(&(q - point)) <= 1e-12));
    }
}
