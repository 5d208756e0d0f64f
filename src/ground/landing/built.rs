//! The landing as built on its ground.

use super::{
    Landing, LandingError, Place,
    deck::Deck,
    facets::Skeleton,
    shape::{Facet, Shape},
    toe::{check_covered, toe},
    union::highest,
};
use crate::{
    ground::{Ground, Mesh, Surface},
    math::{Vec2, Vec3},
};
use std::sync::Arc;

/// How far the facets run on under the lowest ground, metres.
const UNDER: f64 = 0.05;

/// How often the rim is looked for before the ground is said to run away from the batter.
const RIM_TRIALS: usize = 200;

/// How far under the crest a toe is looked for, metres.
const DEEPEST: f64 = 1000.0;

/// A crest that is this much under the ground still is level with it, metres.
const LEVEL: f64 = 1e-9;

/// A half-space `normal · p <= offset`, its normal a unit vector out of the earth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HalfSpace {
    /// The unit normal, out of the earth.
    pub normal: Vec3,
    /// The distance of its plane from the site's origin, along the normal.
    pub offset: f64,
}

/// A landing on its ground: heights settled, surface in facets.
#[derive(Debug, Clone)]
pub struct BuiltLanding {
    landing: Landing,
    ground: Ground,
    crest_height: f64,
    deck: Deck,
    shape: Shape,
    toe: Vec<Vec3>,
    mesh: Arc<Mesh>,
    half_spaces: Option<Vec<HalfSpace>>,
}

impl Landing {
    /// The landing as built on a ground.
    ///
    /// Where the crest's height is not given it is set so that the face, unrounded, meets the
    /// ground at the middle of the foot. Fails where the numbers do not fit each other, where there
    /// is no ground under the middle of crest or foot, where the crest would lie in the ground,
    /// and where the batter meets no ground.
    pub fn resolve(&self, ground: &Ground) -> Result<BuiltLanding, LandingError> {
        let landing = self.checked()?;
        let foot = landing.plan(landing.length(), 0.0);
        let run_out = run_out(ground, &landing, &foot);
        let deck = Deck::new(&landing, run_out)?;
        let crest_height = match landing.crest_height() {
            Some(height) => height,
            None => height(ground, &foot, "foot")? + landing.length() * landing.slope().tan(),
        };
        check_crest(ground, &landing, &deck, crest_height)?;
        check_covered(ground, &landing, &deck)?;
        let shape = run_down(ground, &landing, &deck, crest_height)?;
        let convex = deck.is_convex();
        let mesh = Mesh::new(shape.vertices.clone(), shape.triangles())?;
        let mesh = if convex { mesh.with_convex() } else { mesh };
        let toe = toe(ground, &landing, &deck, &mesh)?;
        let half_spaces = convex.then(|| half_spaces(&shape));
        let (ground, mesh) = (ground.clone(), Arc::new(mesh));
        Ok(BuiltLanding { landing, ground, crest_height, deck, shape, toe, mesh, half_spaces })
    }
}

impl BuiltLanding {
    /// The landing as asked for.
    pub fn landing(&self) -> &Landing {
        &self.landing
    }

    /// The ground it stands on.
    pub fn ground(&self) -> &Ground {
        &self.ground
    }

    /// The height of the crest line, where face and back meet unrounded.
    pub fn crest_height(&self) -> f64 {
        self.crest_height
    }

    /// The height of the highest earth, which rounding leaves under the crest line.
    pub fn crest_top(&self) -> f64 {
        let heights = self.deck.corners.iter().map(|corner| corner.y);
        self.crest_height + heights.fold(f64::NEG_INFINITY, f64::max)
    }

    /// The facets, down to under the lowest ground below them.
    pub fn facets(&self) -> &[Facet] {
        &self.shape.facets
    }

    /// The facets' vertices and what can be asked of them.
    pub fn shape(&self) -> &Shape {
        &self.shape
    }

    /// The facets as triangles, with exact distances.
    pub fn mesh(&self) -> &Mesh {
        &self.mesh
    }

    /// The half-spaces whose common part is the earth; `None` with a rounded foot, where the earth is hollow.
    pub fn half_spaces(&self) -> Option<&[HalfSpace]> {
        self.half_spaces.as_deref()
    }

    /// Where a mark lies on the landing, in plan.
    pub fn place(&self, mark: &Vec2) -> Place {
        self.landing.place(mark)
    }

    /// A point of the deck, `along` the heading from the crest line and `across` to the left.
    ///
    /// `None` past the ends of the deck's roundings; the side is not looked at.
    pub fn deck_point(&self, along: f64, across: f64) -> Option<Vec3> {
        let height = self.crest_height + self.deck.height(along)?;
        Some(self.landing.plan(along, across).push(height))
    }

    /// The stations along the heading between which the deck lies, roundings included.
    pub fn deck_span(&self) -> (f64, f64) {
        self.deck.span()
    }

    /// The outline of the deck, counter-clockwise from its back right corner.
    pub fn deck_outline(&self) -> [Vec3; 4] {
        let half = 0.5 * self.landing.width();
        let (from, to) = self.deck_span();
        [(from, -half), (to, -half), (to, half), (from, half)]
            .map(|(along, across)| self.deck_or_crest(along, across))
    }

    /// The ends of the crest line, left and right, on the earth as built.
    pub fn crest_line(&self) -> [Vec3; 2] {
        let half = 0.5 * self.landing.width();
        [half, -half].map(|across| self.deck_or_crest(0.0, across))
    }

    /// The ends of the foot line, left and right, on the earth as built.
    pub fn foot_line(&self) -> [Vec3; 2] {
        let half = 0.5 * self.landing.width();
        [half, -half].map(|across| self.deck_or_crest(self.landing.length(), across))
    }

    /// The toe line in space, counter-clockwise from behind the right end of the crest.
    ///
    /// Where the edge of the deck itself lies in the ground, the edge stands for it.
    pub fn toe(&self) -> &[Vec3] {
        &self.toe
    }

    fn deck_or_crest(&self, along: f64, across: f64) -> Vec3 {
        let point = self.deck_point(along, across);
        point.unwrap_or_else(|| self.landing.plan(along, across).push(self.crest_height))
    }
}

impl Ground {
    /// The higher of this ground and a landing built on it.
    pub fn with_landing(&self, landing: &Landing) -> Result<Self, LandingError> {
        Ok(self.with_built(&landing.resolve(self)?))
    }

    /// The higher of this ground and a landing that is built already.
    pub fn with_built(&self, built: &BuiltLanding) -> Self {
        let landing = Landing { crest_height: Some(built.crest_height), ..built.landing };
        let mesh = Arc::clone(&built.mesh);
        self.higher(&Self::of(vec![Surface::Landing { landing, mesh }]))
    }
}

/// The angle by which the ground under a point falls along the landing's heading; level where there is none.
fn run_out(ground: &Ground, landing: &Landing, at: &Vec2) -> f64 {
    ground
        .normal(at.x, at.y)
        .map_or(0.0, |normal| (normal.xy().dot(&landing.ahead()) / normal.z).atan())
}

fn height(ground: &Ground, at: &Vec2, what: &'static str) -> Result<f64, LandingError> {
    ground.height(at.x, at.y).ok_or(LandingError::NoGround { what: what.into(), x: at.x, y: at.y })
}

fn check_crest(
    ground: &Ground,
    landing: &Landing,
    deck: &Deck,
    crest_height: f64,
) -> Result<(), LandingError> {
    let under = height(ground, &landing.crest(), "crest")?;
    let crest_height = crest_height + deck.height(0.0).unwrap_or(0.0);
    if crest_height >= under - LEVEL {
        return Ok(());
    }
    Err(LandingError::CrestBelowGround { crest_height, ground: under })
}

/// The shape, run down until its rim lies under all the ground below it.
fn run_down(
    ground: &Ground,
    landing: &Landing,
    deck: &Deck,
    crest_height: f64,
) -> Result<Shape, LandingError> {
    let parts: Vec<Skeleton> =
        deck.parts().map(|part| Skeleton::new(landing, part, crest_height)).collect();
    let lowest = parts.iter().map(Skeleton::lowest).fold(f64::INFINITY, f64::min);
    let mut bottom = lowest - UNDER;
    for _ in 0..RIM_TRIALS {
        let rim: Vec<Vec2> = parts.iter().flat_map(|part| part.rim(bottom)).collect();
        let lowest = ground.lowest_under(&rim).unwrap_or(bottom + UNDER);
        if lowest >= bottom + 0.5 * UNDER {
            let shapes: Vec<Shape> = parts.iter().map(|part| part.shape(bottom)).collect();
            return Ok(highest(&shapes));
        }
        bottom = lowest - UNDER;
        if crest_height - bottom > DEEPEST {
            break;
        }
    }
    let batter_deg = landing.batter().to_degrees();
    Err(LandingError::NoToe { batter_deg, depth: crest_height - bottom })
}

fn half_spaces(shape: &Shape) -> Vec<HalfSpace> {
    let half_space = |facet: &Facet| {
        let normal = shape.normal(facet);
        let on = shape.corners(facet).next()?;
        Some(HalfSpace { normal, offset: normal.dot(&on) })
    };
    shape.facets.iter().filter_map(half_space).collect()
}
