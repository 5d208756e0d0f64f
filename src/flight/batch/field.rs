//! The ground as flights see it: planes that it lies about, and what one near it is to know of it.

use crate::ground::{Grid, Ground, LEVELS, Landing, Mesh, Plane, Roof, Surface};
use crate::math::lanes::Lanes;
use crate::math::{Vec2, Vec3};
use nalgebra::Matrix2;
use pulp::Simd;
use std::sync::Arc;

/// Landings whose faces are planes to fly to: each takes its own look at the ground.
const MOST_FACES: usize = 2;

/// How far above one another planes are flown to where something stands on the ground, so that the way from one to a touch is
/// short, and how many; metres.
const STEP: f64 = 0.7;
const MOST_STEPS: u32 = 5;

/// One number of as many flights as are flown on at once: two of the widest registers.
pub(super) type Several = [f64; 16];

/// What all flights of a batch onto one ground share: a grid or a survey, and the landings on it.
#[derive(Debug, Clone)]
pub(super) struct Field {
    ground: Ground,
    /// The grid, where that is all there is.
    grid: Option<Arc<Grid>>,
    /// One over the grid's spacing.
    per_metre: [f64; 2],
    span: [[f64; 2]; 2],
    height: f64,
}

/// How closely to look at the ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Look {
    Glance,
    Close,
}

/// How far flights are above touching the grid, and along which normal, not of length 1, that grows.
#[derive(Debug, Default)]
pub(super) struct Seen {
    pub(super) gap: Several,
    normal: [Several; 3],
}

/// The bounds of the blocks of ground under flights.
#[derive(Debug, Default)]
pub(super) struct Blocks {
    pub(super) top: Several,
    /// The least and the greatest slopes along `x` and `y`.
    pub(super) least: [Several; 2],
    pub(super) most: [Several; 2],
}

impl Seen {
    #[inline(always)]
    #[allow(clippy::inline_always, reason = "part of a kernel")]
    pub(super) fn normal_of<S: Simd>(&self, like: Lanes<S, 2>) -> [Lanes<S, 2>; 3] {
        let [x, y, z] = &self.normal;
        [like.loaded(x, 0), like.loaded(y, 0), like.loaded(z, 0)]
    }

    fn set(&mut self, i: usize, gap: f64, normal: [f64; 3]) {
        self.gap[i] = gap;
        for (column, part) in self.normal.iter_mut().zip(normal) {
            column[i] = part;
        }
    }
}

/// The ground as it is seen from a plane that it lies about.
#[derive(Debug, Clone)]
pub(super) struct Relief {
    /// Flown to first.
    pub(super) plane: Plane,
    /// What heights and slopes of the roof are over.
    pub(super) seen_from: Plane,
    roof: Arc<Roof>,
}

impl Relief {
    fn new(plane: Plane, ground: &Ground, height: f64) -> Option<Self> {
        let roof = Arc::new(Roof::about(&plane, ground, height)?);
        Some(Self { plane, seen_from: plane, roof })
    }

    /// Nothing, and how far the plane is to be raised for what stands on the ground.
    fn steps(&self, ground: &Ground) -> impl Iterator<Item = f64> + use<> {
        let over = |c: &Vec3| c.z - self.plane.height(c.x, c.y);
        let landings = ground.surfaces().iter().filter_map(|surface| match surface {
            Surface::Landing { mesh, .. } => Some(mesh.vertices()),
            _ => None,
        });
        let most = landings.flatten().map(over).fold(0.0, f64::max);
        (0..MOST_STEPS).map(|i| STEP * f64::from(i)).take_while(move |rise| *rise <= most)
    }

    /// The same, flown to at another height.
    fn raised(&self, rise: f64) -> Self {
        let point = self.plane.point() + Vec3::new(0.0, 0.0, rise);
        let raised = Plane::new(point, self.plane.slope(), self.plane.heading());
        Self { plane: raised.unwrap_or(self.plane), ..self.clone() }
    }

    /// How wide the blocks of each level are, metres.
    pub(super) fn widths(&self) -> [f64; LEVELS] {
        self.roof.widths()
    }

    /// Looks up the blocks of some levels at the first `width` places.
    pub(super) fn blocks(
        &self,
        levels: &Several,
        [x, y]: &[Several; 2],
        width: usize,
        blocks: &mut Blocks,
    ) {
        for i in 0..width {
            let level = if levels[i] < 0.5 { 0 } else { 1 + usize::from(levels[i] > 1.5) };
            let block = self.roof.block(level, x[i], y[i]);
            blocks.top[i] = block.top();
            [blocks.least[0][i], blocks.most[0][i]] = block.along_x();
            [blocks.least[1][i], blocks.most[1][i]] = block.along_y();
        }
    }
}

impl Field {
    /// The ground, and the planes that it lies about: the landings' faces, the last first, and that of the rest; then that
    /// raised, for what stands on it. None over other grounds, and where one is too steep.
    pub(super) fn new(ground: &Ground, height: f64) -> Option<(Self, Vec<Relief>)> {
        let is_base = |surface: &&Surface| !matches!(surface, Surface::Landing { .. });
        let mut bases = ground.surfaces().iter().filter(is_base);
        let (Some(base), None) = (bases.next(), bases.next()) else { return None };
        let grid = match ground.surfaces() {
            [Surface::Grid(grid)] => Some(grid.clone()),
            _ => None,
        };
        let faces = ground.surfaces().iter().rev().filter_map(|surface| match surface {
            Surface::Landing { landing, mesh } => face(landing, mesh),
            _ => None,
        });
        let relief = |plane| Relief::new(plane, ground, height);
        let mut reliefs = Vec::new();
        for plane in faces.take(MOST_FACES) {
            reliefs.push(relief(plane)?);
        }
        let rest = relief(middle(base)?)?;
        let steps = rest.steps(ground);
        reliefs.extend(steps.map(|rise| rest.raised(rise)));
        let (low, high) = base.plan_bounds();
        let span = [[low.x, high.x], [low.y, high.y]];
        let per_metre = grid.as_ref().map_or([0.0; 2], |grid| {
            let spacing = grid.spacing();
            [spacing.x.recip(), spacing.y.recip()]
        });
        let ground = ground.clone();
        Some((Self { ground, grid, per_metre, span, height }, reliefs))
    }

    /// From where to where the ground reaches along an axis.
    pub(super) const fn span(&self, axis: usize) -> [f64; 2] {
        self.span[axis]
    }

    /// How far inside the known ground the first `width` places are, where that is no rectangle.
    pub(super) fn depths(&self, [x, y]: &[Several; 2], width: usize) -> Option<Several> {
        let is_survey = |surface: &Surface| matches!(surface, Surface::Survey(_));
        if !self.ground.surfaces().iter().any(is_survey) {
            return None;
        }
        let mut depths = Several::default();
        for i in 0..width {
            depths[i] = self.ground.depth(x[i], y[i]);
        }
        Some(depths)
    }

    /// Looks at the ground from the first `width` places, where it is wanted; NaN where there is no telling. A glance may
    /// say too wide a gap.
    pub(super) fn see(
        &self,
        look: Look,
        places: &[Several; 3],
        wanted: &Several,
        width: usize,
        seen: &mut Seen,
    ) {
        for i in 0..width {
            if wanted[i] > 0.0 {
                let c = Vec3::new(places[0][i], places[1][i], places[2][i]);
                if self.height > 0.0 {
                    self.see_ball(look, i, c, seen);
                } else {
                    self.see_point(i, &c, seen);
                }
            }
        }
    }

    /// The distance from the ground less the radius of the ball about the centre of mass; under the ground, about what that
    /// would be.
    fn see_ball(&self, look: Look, i: usize, c: Vec3, seen: &mut Seen) {
        let near = match (look, &self.grid) {
            (Look::Glance, Some(grid)) => grid.nearest_about(c),
            _ => None,
        };
        match near.or_else(|| self.ground.nearest(c, f64::INFINITY)) {
            Some(near) if near.distance > 0.0 => {
                seen.set(i, near.distance - self.height, near.normal.into());
            }
            _ => match (self.ground.height(c.x, c.y), self.ground.normal(c.x, c.y)) {
                (Some(z), Some(n)) => seen.set(i, (c.z - z) * n.z - self.height, n.into()),
                _ => seen.set(i, f64::NAN, [0.0; 3]),
            },
        }
    }

    /// How far above the ground a place is, along which normal that grows.
    fn see_point(&self, i: usize, c: &Vec3, seen: &mut Seen) {
        if let Some(grid) = &self.grid {
            see_grid(grid, &self.per_metre, i, c, seen);
        } else if let (Some(z), Some(n)) =
            (self.ground.height(c.x, c.y), self.ground.normal(c.x, c.y))
        {
            seen.set(i, c.z - z, [n.x / n.z, n.y / n.z, 1.0]);
        } else {
            seen.set(i, f64::NAN, [0.0; 3]);
        }
    }
}

/// The height over the cell at a place, and that cell's slopes; the nearest cell's beside the grid.
fn see_grid(grid: &Grid, per_metre: &[f64; 2], i: usize, c: &Vec3, seen: &mut Seen) {
    let (origin, columns) = (grid.origin(), grid.columns());
    let (x, y) = ((c.x - origin.x) * per_metre[0], (c.y - origin.y) * per_metre[1]);
    let (column, row) = (cell(x, columns), cell(y, grid.rows()));
    let at = row * columns + column;
    let z = &grid.heights()[at..];
    let (u, v) = (x - column as f64, y - row as f64);
    let [low, right, up, far] = [z[0], z[1], z[columns], z[columns + 1]];
    let (rise, climb, twist) = (right - low, up - low, far - up - right + low);
    let height = low + rise * u + climb * v + twist * u * v;
    let slope = [(rise + twist * v) * per_metre[0], (climb + twist * u) * per_metre[1]];
    seen.set(i, c.z - height, [-slope[0], -slope[1], 1.0]);
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

/// The plane of a landing's face.
fn face(landing: &Landing, mesh: &Mesh) -> Option<Plane> {
    let middle = landing.plan(0.5 * landing.length(), 0.0);
    let point = Vec3::new(middle.x, middle.y, mesh.height(middle.x, middle.y)?);
    Plane::new(point, landing.slope(), landing.heading()).ok()
}

/// The plane of least squares through a surface's points; none where that is too steep.
fn middle(surface: &Surface) -> Option<Plane> {
    match surface {
        Surface::Grid(grid) => through(
            (0..grid.heights().len())
                .filter_map(|at| grid.corner(at % grid.columns(), at / grid.columns())),
        ),
        Surface::Survey(survey) => through(survey.points().iter().copied()),
        _ => None,
    }
}

fn through(points: impl Iterator<Item = Vec3> + Clone) -> Option<Plane> {
    let count = points.clone().count() as f64;
    let mean = points.clone().sum::<Vec3>() / count;
    let mut square = Matrix2::zeros();
    let mut rise = Vec2::zeros();
    for point in points {
        let from = point - mean;
        square += from.xy() * from.xy().transpose();
        rise += from.xy() * from.z;
    }
    let slope = square.try_inverse()? * rise;
    Plane::new(mean, slope.norm().atan(), (-slope.y).atan2(-slope.x)).ok()
}
