//! The touch on the face alone: where most of the riders come down whom a landing is meant for.

use super::touch::Touch;
use crate::{
    design::{flier::Path, score::Landed},
    ground::Landing,
    math::{Vec2, Vec3},
};

/// How closely the gap is closed, metres.
const CLOSE: f64 = 1e-6;
/// The tangent rule comes to it from one side and doubles its digits: more steps than this it never needs.
const STEPS: usize = 12;

/// The planes of face and back in the site's frame, and the face's borders.
#[derive(Debug, Clone)]
pub(super) struct Face {
    /// The middle of the crest line.
    crest: Vec3,
    normal: Vec3,
    back: Vec3,
    /// The batter past the foot, and a point of the foot.
    front: Vec3,
    foot: Vec3,
    ahead: Vec2,
    left: Vec2,
    /// From where to where along the heading the touch is the face's own: below the crest's rounding; down to the foot's,
    /// or on over the batter past a sharp foot.
    begin: f64,
    until: f64,
    half: f64,
    /// Rise over run of the face, and of the side batters across it.
    grade: f64,
    steep: f64,
}

/// How a flight passes the face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Passing {
    /// It comes down first on it or past its foot.
    Touch(Touch),
    /// It comes to the bare ground first.
    Clear,
    /// Something else may be touched: crest, back or side.
    Unsure,
}

impl Face {
    pub(super) fn new(landing: &Landing, crest_height: f64, (begin, until): (f64, f64)) -> Self {
        let (sin, cos) = landing.heading().sin_cos();
        let (ahead, left) = (Vec2::new(cos, sin), Vec2::new(-sin, cos));
        let tilted = |fall: f64| (fall.sin() * ahead).push(fall.cos());
        let length = landing.length();
        let fall = -length * landing.slope().tan();
        Self {
            front: tilted(landing.batter()),
            foot: landing.crest().push(crest_height) + (length * ahead).push(fall),
            crest: landing.crest().push(crest_height),
            normal: tilted(landing.slope()),
            back: tilted(-landing.batter()),
            ahead,
            left,
            begin,
            until,
            grade: landing.slope().tan(),
            steep: (landing.batter().tan().powi(2) - landing.slope().tan().powi(2)).max(0.0).sqrt(),
            half: 0.5 * landing.width(),
        }
    }

    /// How a flight passes the face.
    ///
    /// Under gravity the distance from a plane is concave in time: above the face's plane lies one stretch of the flight,
    /// and the tangent rule finds its ends from outside, without a bracket.
    pub(super) fn passing(&self, path: &Path) -> Passing {
        if path.bare.fixed == Some(Landed::RolledOff) {
            return Passing::Unsure;
        }
        let (gap, back) =
            (Gap::new(path, &self.normal, &self.crest), Gap::new(path, &self.back, &self.crest));
        if back.at(0.0).0 > 0.0 && back.at(path.end).0 > 0.0 {
            return Passing::Clear;
        }
        if !clears_the_back(&gap, &back) {
            return Passing::Unsure;
        }
        if gap.at(path.end).0 > 0.0 {
            return self.past();
        }
        let Some(time) = gap.root_from(path.end) else { return Passing::Unsure };
        if self.passes_beside(path, time) {
            return self.past();
        }
        let front = Gap::new(path, &self.front, &self.foot);
        if front.at(time).0 <= 0.0 {
            return self.touch(path, time, &self.normal);
        }
        if front.at(path.end).0 > 0.0 {
            return self.past();
        }
        let past = front.root_from(path.end);
        past.map_or(Passing::Unsure, |time| self.touch(path, time, &self.front))
    }

    /// Whether a flight is beside the landing when it comes down to the face's plane, and stays beside to its end.
    fn passes_beside(&self, path: &Path, time: f64) -> bool {
        let across = (path.position(time) - self.crest).xy().dot(&self.left);
        if across.abs() <= self.half {
            return false;
        }
        let (side, on) = (
            across.signum() * self.left,
            self.crest.xy() + across.signum() * self.half * self.left,
        );
        let normal = (self.grade * self.ahead + self.steep * side).push(1.0).normalize();
        let gap = Gap::new(path, &normal, &on.push(self.crest.z));
        gap.at(time).0 > 0.0 && gap.at(path.end).0 > 0.0
    }

    /// When a flight last comes down to the face's plane, if it does before its end.
    pub(super) fn time_down(&self, path: &Path) -> Option<f64> {
        Gap::new(path, &self.normal, &self.crest).root_from(path.end)
    }

    /// A flight over face and foot: past a foot that is rounded there is more earth than the planes'.
    const fn past(&self) -> Passing {
        if self.until.is_finite() { Passing::Unsure } else { Passing::Clear }
    }

    /// The touch of a plane at a time, where crest, sides and the foot's rounding are far enough.
    fn touch(&self, path: &Path, time: f64, normal: &Vec3) -> Passing {
        let at = path.position(time);
        let mark = (at - path.reach.at(time) * normal).xy();
        let from = mark - self.crest.xy();
        let (along, across) = (from.dot(&self.ahead), from.dot(&self.left).abs());
        if along < self.begin || along > self.until || across > self.half {
            return Passing::Unsure;
        }
        Passing::Touch(Touch::new(path, time, normal, mark))
    }
}

/// Whether a flight that begins below the face's plane, uphill of the crest, stays off the back until above it.
fn clears_the_back(gap: &Gap, back: &Gap) -> bool {
    if gap.at(0.0).0 > 0.0 {
        return true;
    }
    let above = gap.root_from(0.0);
    above.is_some_and(|above| back.at(0.0).0 > 0.0 && back.at(above).0 > 0.0)
}

/// How far the tyres are from a plane, in time.
struct Gap<'a> {
    terms: [f64; 6],
    path: &'a Path,
}

impl<'a> Gap<'a> {
    fn new(path: &'a Path, normal: &Vec3, on: &Vec3) -> Self {
        let mut terms = path.terms.map(|term| normal.dot(&term));
        terms[0] -= normal.dot(on);
        Self { terms, path }
    }

    /// The gap and how fast it grows.
    fn at(&self, t: f64) -> (f64, f64) {
        let [c0, c1, c2, c3, c4, c5] = self.terms;
        let value = c0 + (c1 + (c2 + (c3 + (c4 + c5 * t) * t) * t) * t) * t;
        let slope = c1 + (2.0 * c2 + (3.0 * c3 + (4.0 * c4 + 5.0 * c5 * t) * t) * t) * t;
        (value - self.path.reach.at(t), slope - self.path.reach.growth(t))
    }

    /// The nearest root from one of the flight's ends, where the gap is below nothing.
    fn root_from(&self, end: f64) -> Option<f64> {
        let mut t = end;
        for _ in 0..STEPS {
            let (gap, growth) = self.at(t);
            if gap.abs() < CLOSE {
                return Some(t);
            }
            t -= gap / growth;
            if !(0.0..=self.path.end).contains(&t) {
                return None;
            }
        }
        None
    }
}
