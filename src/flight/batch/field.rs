//! The ground as flights see it: planes that it lies about, and what one near it is to know of it.

use super::blocks::Blocks;
use super::closing::Pair;
use super::near::Vector;
use super::sheet::Sheet;
use crate::ground::{Grid, Ground, Landing, Mesh, Plane, Roof, Surface};
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
    eye: Eye,
    span: [[f64; 2]; 2],
}

/// How the ground is looked at.
#[derive(Debug, Clone)]
enum Eye {
    /// From bare points over a grid.
    Sheet(Sheet),
    /// From bare points over facets.
    Facets,
    /// From the ball about a centre of mass, of such a radius, over a grid.
    Ball(Arc<Grid>, f64),
}

/// How closely to look at the ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Look {
    Glance,
    Close,
}

/// How far flights are above touching the ground, and along which normal, not of length 1, that grows.
pub(super) struct Sight<S: Simd> {
    pub(super) gap: Pair<S>,
    pub(super) normal: Vector<S>,
}

/// The same as single numbers.
#[derive(Debug, Default)]
pub(super) struct Seen {
    gap: Several,
    normal: [Several; 3],
}

impl Seen {
    fn set(&mut self, i: usize, gap: f64, normal: [f64; 3]) {
        self.gap[i] = gap;
        for (column, part) in self.normal.iter_mut().zip(normal) {
            column[i] = part;
        }
    }
}

/// Lanes to what a look-up of single numbers reads.
#[inline(always)]
#[allow(clippy::inline_always, reason = "part of a kernel")]
pub(super) fn unpacked<S: Simd>(lanes: Pair<S>) -> Several {
    let mut all = Several::default();
    lanes.store(&mut all, 0);
    all
}

/// The ground as it is seen from a plane that it lies about.
#[derive(Debug, Clone)]
pub(super) struct Relief {
    /// Flown to first.
    pub(super) plane: Plane,
    /// What heights and slopes of the roof are over.
    pub(super) seen_from: Plane,
    pub(super) blocks: Blocks,
}

impl Relief {
    fn new(plane: Plane, ground: &Ground, height: f64) -> Option<Self> {
        let blocks = Blocks::new(Roof::about(&plane, ground, height)?);
        Some(Self { plane, seen_from: plane, blocks })
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
}

impl Field {
    /// The ground, and the planes that it lies about: the landings' faces, the last first, and that of the rest; then that
    /// raised, for what stands on it. None over other grounds, where one is too steep, and for the ball of a rider over his tyres
    /// over facets: it is looked for by the same tree as one flight's, so nothing is won there.
    pub(super) fn new(ground: &Ground, height: f64) -> Option<(Self, Vec<Relief>)> {
        let is_base = |surface: &&Surface| !matches!(surface, Surface::Landing { .. });
        let mut bases = ground.surfaces().iter().filter(is_base);
        let (Some(base), None) = (bases.next(), bases.next()) else { return None };
        let eye = match ground.surfaces() {
            [Surface::Grid(grid)] if height > 0.0 => Eye::Ball(grid.clone(), height),
            [Surface::Grid(grid)] => Eye::Sheet(Sheet::new(grid.clone())),
            _ if height > 0.0 => return None,
            _ => Eye::Facets,
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
        Some((Self { ground: ground.clone(), eye, span }, reliefs))
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

    /// Looks at the ground from places, where it is wanted; NaN where there is no telling. Says whether that is exact: a glance
    /// may see too wide a gap.
    #[inline(always)]
    #[allow(clippy::inline_always, reason = "part of a kernel")]
    pub(super) fn see<S: Simd>(
        &self,
        look: Look,
        place: &Vector<S>,
        wanted: Pair<S>,
        seen: &mut Seen,
        sight: &mut Sight<S>,
    ) -> bool {
        if let Eye::Sheet(sheet) = &self.eye {
            *sight = sheet.see(place);
            return true;
        }
        let places = [unpacked(place[0]), unpacked(place[1]), unpacked(place[2])];
        self.see_each(look, &places, &unpacked(wanted), Pair::<S>::WIDTH, seen);
        let [x, y, z] = &seen.normal;
        sight.gap = wanted.loaded(&seen.gap, 0);
        sight.normal = [wanted.loaded(x, 0), wanted.loaded(y, 0), wanted.loaded(z, 0)];
        look == Look::Close || matches!(self.eye, Eye::Facets)
    }

    /// The same from the first `width` places, one after another.
    fn see_each(
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
                let (gap, normal) = match &self.eye {
                    Eye::Ball(grid, radius) => ball_over(grid, *radius, look, c),
                    Eye::Sheet(_) | Eye::Facets => self.point_over(&c),
                }
                .unwrap_or((f64::NAN, Vec3::zeros()));
                seen.set(i, gap, normal.into());
            }
        }
    }

    /// How far above the ground a place is, and along which normal that grows.
    fn point_over(&self, c: &Vec3) -> Option<(f64, Vec3)> {
        let (z, n) = (self.ground.height(c.x, c.y)?, self.ground.normal(c.x, c.y)?);
        Some((c.z - z, n / n.z))
    }
}

/// The distance from a grid less the radius of the ball about the centre of mass; under the ground, about what that would be.
fn ball_over(grid: &Grid, radius: f64, look: Look, c: Vec3) -> Option<(f64, Vec3)> {
    let near = if look == Look::Glance { grid.nearest_about(c) } else { None };
    match near.or_else(|| grid.nearest(c, f64::INFINITY)) {
        Some(near) if near.distance > 0.0 => Some((near.distance - radius, near.normal)),
        _ => {
            let (z, n) = (grid.height(c.x, c.y)?, grid.normal(c.x, c.y)?);
            Some(((c.z - z) * n.z - radius, n))
        }
    }
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
