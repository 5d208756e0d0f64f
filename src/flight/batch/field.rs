//! Flights onto a grid: from the touch on a level that the grid lies about to the touch on the grid itself, and whether that
//! is the first.

use super::near::Near;
use crate::force::Forces;
use crate::ground::{Grid, Ground, LEVELS, Plane, Roof};
use crate::math::Vec3;

/// A gap no wider than this is a touch; metres.
const TOUCHING: f64 = 1e-10;
/// Newton steps to a touch at most.
const MOST_STEPS: usize = 12;
/// Stretches of a path that are looked at, at most.
const MOST_LOOKS: usize = 64;
/// A touch sooner than this is left to one flight, which knows whether the rider had left the ground; seconds.
const SOONEST: f64 = 1e-6;
/// The gap must close at least so fast, m/s.
const CLOSING: f64 = 0.05;

/// What all flights of a batch onto one grid share.
#[derive(Debug, Clone)]
pub(super) struct Field {
    ground: Ground,
    grid: std::sync::Arc<Grid>,
    roof: Roof,
    per_metre: [f64; 2],
    /// The plane about which the grid lies.
    pub(super) plane: Plane,
    height: f64,
}

/// Place and velocity of a flight at a time.
#[derive(Debug, Clone, Copy)]
pub(super) struct Moment {
    pub(super) time: f64,
    pub(super) place: Vec3,
    pub(super) velocity: Vec3,
}

/// A touch of the grid.
#[derive(Debug, Clone, Copy)]
pub(super) struct Found {
    pub(super) at: Moment,
    pub(super) normal: Vec3,
    pub(super) residual: f64,
}

impl Field {
    pub(super) fn new(ground: &Ground, grid: &std::sync::Arc<Grid>, height: f64) -> Option<Self> {
        let plane = middle(grid)?;
        let roof = Roof::new(grid, height);
        let per_metre = [grid.spacing().x.recip(), grid.spacing().y.recip()];
        Some(Self { ground: ground.clone(), grid: grid.clone(), roof, per_metre, plane, height })
    }

    /// The first touch of a flight, from its launch and its touch of the plane; none where that is not certain.
    pub(super) fn touch(&self, launch: &Moment, about: &Moment, forces: &Forces) -> Option<Found> {
        let near = Near::new(about.place, about.velocity, forces);
        let found =
            if self.height > 0.0 { self.ball(about, &near)? } else { self.point(about, &near)? };
        // The plane may lie over the launch's ground, or under it: a touch may be found before the launch.
        if found.at.time < SOONEST {
            return None;
        }
        let path = Path::new(launch, about, near, forces, found.at.time);
        (self.covers(&path, &found) && self.is_first(&path, &found)).then_some(found)
    }

    /// A touch of the bare point, by Newton's method on its height over the ground.
    fn point(&self, about: &Moment, near: &Near) -> Option<Found> {
        let mut after = 0.0;
        for _ in 0..MOST_STEPS {
            let (place, velocity) = near.after(after);
            let (gap, slope) = self.over(&place);
            let rate = velocity.z - slope[0] * velocity.x - slope[1] * velocity.y;
            if gap.abs() <= TOUCHING {
                let normal = Vec3::new(-slope[0], -slope[1], 1.0).normalize();
                let at = Moment { time: about.time + after, place, velocity };
                return Some(Found { at, normal, residual: gap * normal.z });
            }
            after -= gap / rate;
            if !(after.abs() < near.span && rate < -CLOSING) {
                return None;
            }
        }
        None
    }

    /// A touch of the ball about the centre of mass, by Newton's method on its distance to the ground.
    fn ball(&self, about: &Moment, near: &Near) -> Option<Found> {
        let mut after = 0.0;
        for _ in 0..MOST_STEPS {
            let (place, velocity) = near.after(after);
            let seen = self.ground.nearest(place, f64::INFINITY)?;
            let gap = seen.distance - self.height;
            let rate = seen.normal.dot(&velocity);
            if gap.abs() <= TOUCHING {
                let at = Moment { time: about.time + after, place, velocity };
                return Some(Found { at, normal: seen.normal, residual: gap });
            }
            after -= gap / rate;
            if !(after.abs() < near.span && rate < -CLOSING && seen.distance > 0.0) {
                return None;
            }
        }
        None
    }

    /// The height over the cell at a place, and the cell's slopes there; the nearest cell's beside the grid.
    fn over(&self, c: &Vec3) -> (f64, [f64; 2]) {
        let grid = &self.grid;
        let (origin, per_metre, columns) = (grid.origin(), &self.per_metre, grid.columns());
        let (x, y) = ((c.x - origin.x) * per_metre[0], (c.y - origin.y) * per_metre[1]);
        let (i, j) = (cell(x, columns), cell(y, grid.rows()));
        let at = j * columns + i;
        let z = &grid.heights()[at..];
        let (u, v) = (x - i as f64, y - j as f64);
        let [low, right, up, far] = [z[0], z[1], z[columns], z[columns + 1]];
        let (rise, climb, twist) = (right - low, up - low, far - up - right + low);
        let height = low + rise * u + climb * v + twist * u * v;
        (c.z - height, [(rise + twist * v) * per_metre[0], (climb + twist * u) * per_metre[1]])
    }

    /// Whether the whole path lies over the grid: its ends do, by more than it bends in plan.
    fn covers(&self, path: &Path, found: &Found) -> bool {
        let (origin, spacing) = (self.grid.origin(), self.grid.spacing());
        let last = [self.grid.columns() - 1, self.grid.rows() - 1];
        [&path.launch.place, &found.at.place].into_iter().all(|c| {
            (0..2).all(|i| {
                let from = c[i] - origin[i];
                from > path.bend && last[i] as f64 * spacing[i] - from > path.bend
            })
        })
    }

    /// Whether there is no touch before the one found: looked at backwards from it, stretch by stretch.
    ///
    /// A stretch is clear if it passes above all ground near it, or if the gap only closes over it, whatever the slope near
    /// it is, so that it is open before where it is open, or just touching, after.
    fn is_first(&self, path: &Path, found: &Found) -> bool {
        let (mut level, mut after) = (0, found.at);
        for _ in 0..MOST_LOOKS {
            let time = self.roof.width(level) / path.speed;
            let before = path.at((after.time - time).max(0.0));
            let middle = 0.5 * (before.place + after.place);
            let block = self.roof.block(level, middle.x, middle.y);
            let low = before.place.z.min(after.place.z) - path.slack;
            if low > block.top() || closes(block, &before, &after) {
                if before.time <= 0.0 {
                    return true;
                }
                after = before;
                level = (level + 1).min(LEVELS - 1);
            } else if level == 0 {
                return false;
            } else {
                level -= 1;
            }
        }
        false
    }
}

/// Whether the gap to ground with such slopes closes all the way between two moments.
fn closes(block: &crate::ground::Block, before: &Moment, after: &Moment) -> bool {
    let most = |slopes: [f64; 2], i: usize| {
        let [v, w] = [before.velocity[i], after.velocity[i]];
        let least = |slope: f64| (slope * v).min(slope * w);
        least(slopes[0]).min(least(slopes[1]))
    };
    before.velocity.z - most(block.along_x(), 0) - most(block.along_y(), 1) < -CLOSING
}

/// The whole path, roughly: a cubic from launch to the plane's touch, the series near that after it.
#[derive(Debug)]
struct Path {
    launch: Moment,
    about: Moment,
    near: Near,
    /// The cubic's square and cubic terms.
    bent: [Vec3; 2],
    /// How far the cubic may be off, metres.
    slack: f64,
    /// How far the path may be off its chord in plan, metres.
    bend: f64,
    /// A level speed that it does not exceed, m/s.
    speed: f64,
}

impl Path {
    fn new(launch: &Moment, about: &Moment, near: Near, forces: &Forces, end: f64) -> Self {
        let (h, way) = (about.time, about.place - launch.place);
        let (v, w) = (launch.velocity, about.velocity);
        let bent = [(way * 3.0 / h - v * 2.0 - w) / h, (v + w - way * 2.0 / h) / (h * h)];
        let later = near.after((end - about.time).max(0.0)).1;
        let air = |v: Vec3| (v - forces.wind()).norm_squared();
        let (square, k) = (air(v).max(air(w)).max(air(later)), forces.k());
        // Of `-k |u| u`, with `a` the most that the acceleration is: its second derivative.
        let a = forces.g() + k * square;
        let snap = k * a * (3.0 * a + 4.0 * k * square);
        let long = h.max(end);
        let level = |v: Vec3| v.xy().norm();
        Self {
            launch: *launch,
            about: *about,
            near,
            bent,
            slack: snap * h.powi(4) / 384.0 + 1e-6,
            bend: k * square * long * long / 8.0 + 1e-6,
            speed: level(v).max(level(w)).max(level(later)).max(0.1),
        }
    }

    fn at(&self, time: f64) -> Moment {
        if time > self.about.time {
            let (place, velocity) = self.near.after(time - self.about.time);
            return Moment { time, place, velocity };
        }
        let ([square, cube], launch) = (&self.bent, &self.launch);
        let place = launch.place + (launch.velocity + (square + cube * time) * time) * time;
        let velocity = launch.velocity + (square * 2.0 + cube * (3.0 * time)) * time;
        Moment { time, place, velocity }
    }
}

fn cell(at: f64, corners: usize) -> usize {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a cast saturates, and the cells there are bound it"
    )]
    let whole = at as usize;
    whole.min(corners - 2)
}

/// The plane of least squares through a grid's heights; none where that is too steep.
fn middle(grid: &Grid) -> Option<Plane> {
    let (columns, rows) = (grid.columns(), grid.rows());
    let centre = [(columns - 1) as f64 / 2.0, (rows - 1) as f64 / 2.0];
    let (mut mean, mut tilt, mut weight) = (0.0, [0.0; 2], [0.0; 2]);
    for (at, z) in grid.heights().iter().enumerate() {
        let from = [(at % columns) as f64 - centre[0], (at / columns) as f64 - centre[1]];
        mean += z;
        for i in 0..2 {
            tilt[i] += from[i] * z;
            weight[i] += from[i] * from[i];
        }
    }
    let (origin, spacing) = (grid.origin(), grid.spacing());
    let slope = [0, 1].map(|i| tilt[i] / weight[i] / spacing[i]);
    let point = Vec3::new(
        origin.x + centre[0] * spacing.x,
        origin.y + centre[1] * spacing.y,
        mean / grid.heights().len() as f64,
    );
    let fall = slope[0].hypot(slope[1]).atan();
    Plane::new(point, fall, (-slope[1]).atan2(-slope[0])).ok()
}
