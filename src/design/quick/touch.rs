//! When and how a flight touches the landing of a search: on its face in most cases, else by walking along it.

use super::{Quick, face::Passing};
use crate::{
    design::{
        flier::{Flier, Path},
        score::{Landed, Member},
    },
    ground::Place,
    math::{Vec2, Vec3},
};

/// How closely a moment of touch is found, seconds.
const CLOSE: f64 = 1e-5;
/// So long after a moment it is past, seconds.
const HAIR: f64 = 1e-4;

/// A touch of the earth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Touch {
    pub time: f64,
    pub mark: Vec2,
    pub fall_height: f64,
}

impl Touch {
    pub(super) fn new(path: &Path, time: f64, normal: &Vec3, mark: Vec2) -> Self {
        let into = (-path.velocity(time).dot(normal)).max(0.0);
        Self { time, mark, fall_height: into * into / (2.0 * path.gravity) }
    }
}

/// How each of a rider's ways comes down on faces side by side, and how far its mark is inside the borders of the nearest
/// (negative: outside).
pub(in crate::design) fn land<'a>(
    faces: &'a [Quick],
    flier: &'a Flier,
) -> impl Iterator<Item = (Member, f64)> {
    flier.paths.iter().map(|path| land_path(faces, path, flier.weight))
}

fn land_path(faces: &[Quick], path: &Path, weight: f64) -> (Member, f64) {
    let touches = faces.iter().filter_map(|face| face.touch(path));
    let first = touches.reduce(|a, b| if b.time < a.time { b } else { a });
    let bare = (path.bare.mark, path.bare.fall_height);
    let (mark, fall_height) = first.map_or(bare, |touch| (touch.mark, touch.fall_height));
    let (place, inside) = placed(faces, &mark);
    let fixed = if first.is_some() { None } else { path.bare.fixed };
    (Member { weight, landed: fixed.unwrap_or(place), fall_height }, inside)
}

/// Where a mark lies among the faces, and how far inside the borders of the nearest.
fn placed(faces: &[Quick], mark: &Vec2) -> (Landed, f64) {
    let (mut place, mut nearest) = (Place::Wide, f64::NEG_INFINITY);
    for face in faces {
        let at = face.local(mark);
        let inside = at.x.min(face.landing.length() - at.x).min(face.half - at.y.abs());
        if inside > nearest {
            (place, nearest) = (face.place(&at), inside);
        }
    }
    (place.into(), nearest)
}

impl Quick {
    /// Where a flight touches the earth of this face, if it does before it comes to the bare ground.
    fn touch(&self, path: &Path) -> Option<Touch> {
        match self.plane.passing(path) {
            Passing::Touch(touch) => Some(touch),
            Passing::Clear => None,
            Passing::Unsure => {
                let local = Local::new(self, path);
                local.touch_time().map(|time| local.touched(time))
            }
        }
    }
}

/// A flight in the landing's local axes.
struct Local<'a> {
    quick: &'a Quick,
    path: &'a Path,
    terms: [Vec3; 6],
}

impl<'a> Local<'a> {
    fn new(quick: &'a Quick, path: &'a Path) -> Self {
        let turned = |term: &Vec3| {
            Vec3::new(term.xy().dot(&quick.ahead), term.xy().dot(&quick.left), term.z)
        };
        let mut terms = path.terms.map(|term| turned(&term));
        let crest = quick.landing.crest();
        terms[0] -= Vec3::new(crest.dot(&quick.ahead), crest.dot(&quick.left), quick.crest_height);
        Self { quick, path, terms }
    }

    fn position(&self, t: f64) -> Vec3 {
        let [p, v, a, j, k, l] = &self.terms;
        p + (v + (a + (j + (k + l * t) * t) * t) * t) * t
    }

    fn velocity(&self, t: f64) -> Vec3 {
        let [_, v, a, j, k, l] = &self.terms;
        v + (2.0 * a + (3.0 * j + (4.0 * k + 5.0 * l * t) * t) * t) * t
    }

    fn gap(&self, t: f64) -> f64 {
        self.quick.near(&self.position(t)).distance - self.path.reach.at(t)
    }

    /// The first moment within reach of the earth, or `None` where the ground comes first.
    ///
    /// Over the face the gap is concave in time, so a few moments bracket what there is: over the
    /// back, at the crest, where the face begins, and at the foot.
    fn touch_time(&self) -> Option<f64> {
        if self.path.bare.fixed == Some(Landed::RolledOff) {
            return None;
        }
        let end = self.path.end;
        let length = self.quick.landing.length();
        let back = -self.quick.landing.length() * self.quick.grade / self.quick.steepest;
        let [foot_from, foot_to] = self.quick.foot.span();
        let stations = [
            back,
            0.5 * (back + self.quick.arc[0]),
            self.quick.arc[0],
            0.0,
            self.quick.arc[1],
            foot_from,
            length,
            foot_to,
        ];
        // A hair after he comes down to the face's plane: near the foot he may be clear again soon after.
        let down = self.quick.plane.time_down(self.path).map_or(end, |time| time + HAIR);
        let moments = stations.iter().map(|along| self.time_at(*along)).chain([down, end]);
        let mut moments: Vec<f64> = moments.collect();
        moments.sort_by(f64::total_cmp);
        let (mut before, mut gap_before) = (0.0, f64::INFINITY);
        for moment in moments {
            let moment = moment.min(end);
            if moment <= before && moment < end {
                continue;
            }
            let gap = self.gap(moment);
            if gap <= 0.0 {
                return Some(self.close_in(before, gap_before, moment, gap));
            }
            (before, gap_before) = (moment, gap);
        }
        None
    }

    /// About when the flight is so far along the heading; the end where it never gets there.
    fn time_at(&self, along: f64) -> f64 {
        let mut time = 0.0;
        for _ in 0..3 {
            let speed = self.velocity(time).x;
            if speed < 0.1 {
                return self.path.end;
            }
            time += (along - self.position(time).x) / speed;
        }
        if time.is_finite() { time } else { self.path.end }
    }

    /// Regula falsi, the Illinois way, on a bracket.
    fn close_in(&self, mut from: f64, mut above: f64, mut to: f64, mut below: f64) -> f64 {
        if !above.is_finite() {
            above = self.gap(from).max(1e-9);
        }
        // Which end the last step moved: the other end counts half from the second such step on.
        let mut moved = 0;
        for _ in 0..30 {
            let middle = (from * below - to * above) / (below - above);
            if to - from < CLOSE || !middle.is_finite() {
                break;
            }
            let gap = self.gap(middle);
            if gap.abs() < 1e-6 {
                return middle;
            }
            if gap > 0.0 {
                below *= if moved > 0 { 0.5 } else { 1.0 };
                (from, above, moved) = (middle, gap, 1);
            } else {
                above *= if moved < 0 { 0.5 } else { 1.0 };
                (to, below, moved) = (middle, gap, -1);
            }
        }
        to
    }

    fn touched(&self, time: f64) -> Touch {
        let near = self.quick.near(&self.position(time)).normal;
        let (ahead, left) = (self.quick.ahead, self.quick.left);
        let normal = (near.x * ahead + near.y * left).push(near.z);
        let mark = (self.path.position(time) - self.path.reach.at(time) * normal).xy();
        Touch::new(self.path, time, &normal, mark)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Landing, Reach};
    use crate::math::{Vec2, sampling::Sequence};

    const NAMES: &[&str] = &["speed", "pitch", "yaw", "ahead", "off", "slope", "rise"];

    /// The quick way and the walk agree: on the face, at its borders, over the crest and beside it.
    #[test]
    fn quick_touch_is_that_of_the_walk() {
        let sequence = Sequence::new(3, NAMES);
        let mut quickly = [0; 3];
        for index in 0..4000 {
            let u = |name, low: f64, high: f64| low + (high - low) * sequence.uniform(index, name);
            let (speed, pitch, yaw) =
                (u("speed", 3.0, 11.0), u("pitch", -0.3, 0.6), u("yaw", -0.4, 0.4));
            let velocity =
                speed * Vec3::new(pitch.cos() * yaw.cos(), pitch.cos() * yaw.sin(), pitch.sin());
            let path = Path::thrown(
                Vec3::new(0.0, 0.0, 2.2),
                velocity,
                Reach::leaning(0.9, 0.8, 4.0).expect("a reach"),
            );
            let crest = Vec2::new(u("ahead", 1.5, 7.0), u("off", -1.0, 1.0));
            let landing =
                Landing::new(crest, 0.1, u("slope", 0.1, 0.55), 4.0, 2.5).expect("a landing");
            let quick = Quick::new(&landing, u("rise", 0.4, 1.6), 0.0);
            let local = Local::new(&quick, &path);
            let walked = local.touch_time().map(|time| local.touched(time));
            match quick.plane.passing(&path) {
                Passing::Touch(touch) => {
                    let slow = walked.unwrap_or_else(|| panic!("{index}: {touch:?}"));
                    let off = (slow.mark - touch.mark).norm();
                    let fall = slow.fall_height - touch.fall_height;
                    assert!(fall.abs() < 1e-3 && off < 1e-3, "{index}: {touch:?} {fall} {off}");
                    quickly[0] += 1;
                }
                Passing::Clear => {
                    assert!(walked.is_none(), "{index}");
                    quickly[1] += 1;
                }
                Passing::Unsure => quickly[2] += 1,
            }
        }
        assert!(quickly.iter().all(|count| *count > 200), "{quickly:?}");
    }
}
