//! The landing in closed form, for a search over thousands: round arcs and cones, planes moved out
//! by the rider's reach. Good to a centimetre or two; the exact shape has the last word.

mod face;
mod foot;
mod touch;

use crate::{
    ground::{Landing, Place},
    math::{Vec2, Vec3},
};
use face::Face;
use foot::Foot;
pub(super) use touch::land;

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
    /// The same face once more, in the site's frame, where most come down.
    plane: Face,
}

/// The nearest plane or arc to a point: how far, and its normal.
struct Near {
    distance: f64,
    normal: Vec3,
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
        // A rider whose tyres' reach is below the foot's radius touches a hollow where its face is touched first.
        let until = if foot.is_rounded() { foot.span()[0] } else { f64::INFINITY };
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
            plane: Face::new(landing, crest_height, (arc[1], until)),
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

    /// How far a point is outside the earth, by the plane or arc that it is farthest outside of.
    fn near(&self, at: &Vec3) -> Near {
        let mut near = self.near_profile(at.x, at.z);
        let length = self.landing.length();
        let front = Vec2::new(-self.back[0].x, self.back[0].y);
        let past = front.x * (at.x - length) + front.y * (at.z + length * self.grade);
        if past > near.distance {
            near = Near { distance: past, normal: Vec3::new(front.x, 0.0, front.y) };
        }
        let off = at.y.abs() - self.half;
        if let Some(beside) = self.beside(at, off, &near) {
            near = beside;
        }
        // The earth of the foot's rounding lies beside the rest: nearest is what is nearer of the two.
        let rounding = self.foot.over(&Vec2::new(at.x, at.z)).filter(|_| off <= 0.0);
        match rounding {
            Some((distance, normal)) if distance < near.distance => {
                Near { distance, normal: Vec3::new(normal.x, 0.0, normal.y) }
            }
            _ => near,
        }
    }

    /// The edge of the deck or the batter below it, where that is what a point so far off the side is nearest to.
    fn beside(&self, at: &Vec3, off: f64, profile: &Near) -> Option<Near> {
        let norm = self.steepest.hypot(1.0);
        let away = self.across / norm;
        let edge = off.hypot(profile.distance.max(0.0));
        // Up to the batter's own normal the edge is nearest, all along which a rider's reach turns about it.
        if off > 0.0 && profile.distance > 0.0 && off < away * edge {
            let side = Vec3::new(0.0, off.copysign(at.y), 0.0);
            let normal = (profile.distance * profile.normal + side) / edge;
            return Some(Near { distance: edge, normal });
        }
        let beside = (at.z + at.x * self.grade + self.across * off) / norm;
        (beside > profile.distance).then(|| Near {
            distance: beside,
            normal: Vec3::new(self.grade, self.across.copysign(at.y), 1.0) / norm,
        })
    }

    fn near_profile(&self, along: f64, height: f64) -> Near {
        let from = Vec2::new(along, height) - self.centre;
        let flat = |normal: &Vec2, distance: f64| Near {
            distance,
            normal: Vec3::new(normal.x, 0.0, normal.y),
        };
        if from.dot(&self.face[1]) >= 0.0 {
            flat(&self.face[0], self.face[0].dot(&from) - self.radius)
        } else if from.dot(&self.back[1]) <= 0.0 {
            flat(&self.back[0], self.back[0].dot(&from) - self.radius)
        } else {
            let norm = from.norm();
            flat(&(from / norm.max(1e-12)), norm - self.radius)
        }
    }

    fn place(&self, mark: &Vec2) -> Place {
        if mark.x < 0.0 {
            Place::Short
        } else if mark.x > self.landing.length() {
            Place::Long
        } else if mark.y.abs() > self.half - ON_EDGE {
            Place::Wide
        } else {
            Place::Caught
        }
    }
}

/// As `hypot`, without its care for numbers that no ground has, and much faster.
fn length_of(a: f64, b: f64) -> f64 {
    (a * a + b * b).sqrt()
}
