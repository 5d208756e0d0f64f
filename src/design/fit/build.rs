//! From a candidate of the search to a landing as built, within budget and bounds.

use crate::{
    design::plot::Plot,
    ground::{BuiltLanding, Ground, Landing, LandingError},
    math::Vec2,
    site::Site,
};

/// So far ahead a landing is moved where as built it comes too near the edge or an obstacle, metres.
const NUDGES: [f64; 5] = [0.0, 0.02, 0.04, 0.08, 0.12];
/// The exact volume is trimmed to at most the budget and at least this share of what was asked.
const TRIMMED: f64 = 0.998;
/// So often a landing is made smaller.
const TRIMS: usize = 20;

/// What landings are built on, and within what.
pub(super) struct Builder<'a> {
    pub ground: &'a Ground,
    pub plot: &'a Plot<'a>,
    pub site: &'a Site,
    /// The budget, cubic metres.
    pub most: f64,
}

/// Faces as built.
pub(super) struct Built {
    /// Their crests' heights settled.
    pub landings: Vec<Landing>,
    /// The ground with all of them.
    pub ground: Ground,
    /// The exact volume of all, cubic metres.
    pub volume: f64,
    parts: Vec<BuiltLanding>,
}

impl Builder<'_> {
    /// The faces trimmed to the budget; none where as built they break a bound.
    pub(super) fn build(&self, faces: &[Landing]) -> Option<Built> {
        NUDGES.iter().find_map(|by| {
            let moved: Vec<Landing> =
                faces.iter().map(|face| moved(face, *by)).collect::<Option<_>>()?;
            let built = self.trimmed(&moved)?;
            built.parts.iter().all(|part| self.plot.keeps(part)).then_some(built)
        })
    }

    /// The faces as much shorter, then narrower, then gentler, as their exact volume asks for; none where none can be built.
    fn trimmed(&self, faces: &[Landing]) -> Option<Built> {
        let mut faces = faces.to_vec();
        for _ in 0..TRIMS {
            let built = self.stand(&faces).ok()?;
            if built.volume <= self.most {
                return Some(built);
            }
            let share = (self.most / built.volume).clamp(0.8, TRIMMED);
            let smaller = |face: &Landing| self.smaller(face, share);
            // Where one is as small as it may be, the others have to give.
            let less: Vec<Option<Landing>> = faces.iter().map(smaller).collect();
            if less.iter().all(Option::is_none) {
                return None;
            }
            faces = faces.iter().zip(less).map(|(face, less)| less.unwrap_or(*face)).collect();
        }
        None
    }

    /// A face that takes about this share of its earth; none where it is as small as it may be.
    fn smaller(&self, face: &Landing, share: f64) -> Option<Landing> {
        let bounds = &self.site.landing;
        let (length, width, slope) = (face.length(), face.width(), face.slope());
        let (slope, size) = if length > bounds.length.low {
            // Earth grows faster than in proportion to the length.
            (slope, ((length * share.sqrt()).max(bounds.length.low), width))
        } else if width > bounds.width.low {
            (slope, (length, (width * share).max(bounds.width.low)))
        } else if slope > bounds.slope.low {
            ((slope * share).max(bounds.slope.low), (length, width))
        } else {
            return None;
        };
        reshaped(face, face.crest(), slope, size).ok()
    }

    /// The faces as built one after another, each with its foot on the bare ground.
    fn stand(&self, faces: &[Landing]) -> Result<Built, Unbuilt> {
        let mut built =
            Built { landings: vec![], ground: self.ground.clone(), volume: 0.0, parts: vec![] };
        for face in faces {
            let alone = face.resolve(self.ground)?;
            let landing = face.with_crest_height(Some(alone.crest_height()))?;
            let first = built.parts.is_empty();
            let part = if first { alone } else { landing.resolve(&built.ground)? };
            built.volume += part.volume().map_err(|_| Unbuilt)?.fill;
            built.ground = built.ground.with_built(&part);
            built.landings.push(landing);
            built.parts.push(part);
        }
        Ok(built)
    }
}

/// A landing that does not stand there: the next candidate is looked at.
struct Unbuilt;

impl From<LandingError> for Unbuilt {
    fn from(_: LandingError) -> Self {
        Self
    }
}

/// The same landing so far ahead.
fn moved(landing: &Landing, by: f64) -> Option<Landing> {
    let (sin, cos) = landing.heading().sin_cos();
    let crest = landing.crest() + by * Vec2::new(cos, sin);
    reshaped(landing, crest, landing.slope(), (landing.length(), landing.width())).ok()
}

/// The same landing with another face, its foot on the ground.
fn reshaped(
    landing: &Landing,
    crest: Vec2,
    slope: f64,
    (length, width): (f64, f64),
) -> Result<Landing, LandingError> {
    Landing::new(crest, landing.heading(), slope, length, width)?
        .with_batter(landing.batter())?
        .with_foot_radius(landing.foot_radius())
}
