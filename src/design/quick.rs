//! The landing in closed form, for a search over thousands: round arcs and cones, planes moved out
//! by the rider's reach; the crest's normals are those of its facets. Good to a centimetre or two; the exact shape has the last word.

mod crowd;
mod entry;
mod facets;
mod foot;
mod glance;
mod land;
mod planes;
mod reach;
mod site;
mod solid;
#[cfg(test)]
mod tests;
mod touch;
mod walk;
mod wide;

use crate::{ground::Landing, math::Vec2};
pub(super) use crowd::Crowd;
use foot::Foot;
pub(super) use land::Landings;

/// A mark so near the edge of a side is on it, and so off the face: a touch is found as closely as that, metres.
const ON_EDGE: f64 = 1e-3;

/// A landing's numbers, ready to be asked. Local axes: along the heading from the crest line,
/// across to the left, up from the crest line's height.
#[derive(Debug, Clone)]
pub(super) struct Quick {
    pub landing: Landing,
    pub crest_height: f64,
    crest: Vec2,
    ahead: Vec2,
    left: Vec2,
    half: f64,
    /// Rise over run of face and batter, and what is left of the batter across the face.
    grade: f64,
    steepest: f64,
    across: f64,
    radius: f64,
    centre: Vec2,
    arc: [f64; 2],
    /// Unit normals and directions of travel, in the profile: face and back.
    face: [Vec2; 2],
    back: [Vec2; 2],
    foot: Foot,
}

impl Quick {
    /// The landing with its crest line so high, over ground that falls by `run_out`, an angle, at its foot.
    pub(super) fn new(landing: &Landing, crest_height: f64, run_out: f64) -> Self {
        let (slope, batter) = (landing.slope(), landing.batter());
        let frame =
            |fall: f64| [Vec2::new(fall.sin(), fall.cos()), Vec2::new(fall.cos(), -fall.sin())];
        let (face, back) = (frame(slope), frame(-batter));
        let radius = landing.crest_radius();
        let tangent = radius * (0.5 * (slope + batter)).tan();
        let (grade, steepest) = (slope.tan(), batter.tan());
        let arc = [-tangent * back[1].x, tangent * face[1].x];
        let foot = Foot::new(landing, run_out);
        Self {
            landing: *landing,
            crest_height,
            crest: landing.crest(),
            ahead: Vec2::new(landing.heading().cos(), landing.heading().sin()),
            left: Vec2::new(-landing.heading().sin(), landing.heading().cos()),
            half: 0.5 * landing.width(),
            grade,
            steepest,
            across: (steepest * steepest - grade * grade).max(0.0).sqrt(),
            radius,
            centre: tangent * face[1] - radius * face[0],
            arc,
            face,
            back,
            foot,
        }
    }

    /// The landing with its crest's height settled.
    pub(super) fn settled(&self) -> Landing {
        self.landing.with_crest_height(Some(self.crest_height)).unwrap_or(self.landing)
    }

    /// The height of the deck's highest line, over the crest line.
    pub(super) fn top(&self) -> f64 {
        self.centre.y + self.radius
    }

    /// The height of the earth over the crest line's height, at a place along and across.
    pub(super) fn height(&self, along: f64, across: f64) -> f64 {
        let off = across.abs() - self.half;
        if off <= 0.0 {
            return self.profile(along);
        }
        // The face's batter leaves its edge straight down its own slope.
        let from = along - off * self.grade / self.across.max(1e-9);
        if from > self.foot.span()[0] {
            return self.beside_foot(along, off);
        }
        if from >= self.arc[1] {
            return -along * self.grade - self.across * off;
        }
        let cone = |share: f64| {
            let at = self.arc[0] + share * (self.arc[1] - self.arc[0]);
            self.profile(at) - self.steepest * length_of(along - at, off)
        };
        [0.0, 0.35, 0.7, 1.0].into_iter().map(cone).fold(f64::NEG_INFINITY, f64::max)
    }

    /// A height over the crest line's above which there is no earth at a place along and across: quick to say. No batter is
    /// flatter across than the face's.
    pub(super) fn ceiling(&self, at: &Vec2) -> f64 {
        let beyond = (self.arc[0] - at.x).max(at.x - self.foot.end().x).max(at.y.abs() - self.half);
        self.top() - self.across * beyond.max(0.0)
    }

    /// How far a place in plan lies along the heading from the crest line, and across to the left.
    pub(super) fn local(&self, at: &Vec2) -> Vec2 {
        let from = at - self.crest;
        Vec2::new(from.dot(&self.ahead), from.dot(&self.left))
    }

    /// The height of the earth at a place in plan.
    pub(super) fn height_at(&self, at: &Vec2) -> f64 {
        let local = self.local(at);
        self.crest_height + self.height(local.x, local.y)
    }

    /// Whether some of the face is left between the roundings of crest and foot.
    pub(super) fn has_face(&self) -> bool {
        self.foot.span()[0] > self.arc[1]
    }

    /// The height so far beside the deck, from the foot's rounding on.
    fn beside_foot(&self, along: f64, off: f64) -> f64 {
        let end = self.foot.end();
        match self.foot.height(along.max(self.foot.span()[0])) {
            Some((height, grade)) => {
                let across = (self.steepest * self.steepest - grade * grade).max(0.0).sqrt();
                height - across * off
            }
            None => end.y - self.steepest * length_of(along - end.x, off),
        }
    }

    /// Whether a place along and across lies on the deck.
    pub(super) fn on_deck(&self, at: &Vec2) -> bool {
        at.y.abs() <= self.half && (self.arc[0]..=self.foot.end().x).contains(&at.x)
    }

    /// The corners of the deck in plan, its rounding included.
    pub(super) fn deck_corners(&self) -> [Vec2; 4] {
        let (back, front) = (self.arc[0], self.foot.end().x);
        [(back, -self.half), (front, -self.half), (front, self.half), (back, self.half)]
            .map(|(along, across)| self.landing.plan(along, across))
    }

    /// How far in plan a batter runs down a height, metres.
    pub(super) fn run(&self, depth: f64) -> f64 {
        depth.max(0.0) / self.steepest
    }

    /// The corners in plan of a rectangle that reaches so far beyond the deck.
    pub(super) fn plan_box(&self, run: f64) -> [Vec2; 4] {
        let (back, front) = (self.arc[0] - run, self.foot.end().x + run);
        let side = self.half + run;
        [(back, -side), (front, -side), (front, side), (back, side)]
            .map(|(along, across)| self.landing.plan(along, across))
    }

    fn profile(&self, along: f64) -> f64 {
        let [foot_from, foot_to] = self.foot.span();
        if along > foot_to {
            self.foot.end().y - self.steepest * (along - foot_to)
        } else if along > foot_from {
            self.foot.height(along).map_or(-along * self.grade, |(height, _)| height)
        } else if along >= self.arc[1] {
            -along * self.grade
        } else if along <= self.arc[0] {
            along * self.steepest
        } else {
            let run = along - self.centre.x;
            self.centre.y + (self.radius * self.radius - run * run).max(0.0).sqrt()
        }
    }
}

/// As `hypot`, without its care for numbers that no ground has, and much faster.
fn length_of(a: f64, b: f64) -> f64 {
    (a * a + b * b).sqrt()
}
