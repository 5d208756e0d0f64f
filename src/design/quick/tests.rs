use super::{Crowd, Quick, foot::Foot, touch::Touches};
use crate::design::flier::{Flier, Path};
use crate::ground::{Landing, Reach, landing::FACET};
use crate::math::{Vec2, Vec3, count::whole, outline::nearest_on, sampling::Sequence};

const NAMES: &[&str] = &["speed", "pitch", "yaw", "ahead", "off", "slope", "rise", "foot"];
/// Moments of the slow walk.
const MOMENTS: usize = 4000;

/// The nearest plane or arc to a point: how far, and its normal.
struct Near {
    distance: f64,
    normal: Vec3,
}

/// The same earth, one point at a time.
impl Quick {
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

    /// The normal of the earth nearest to a point, where that is the crest's rounding of its facets: chords of equal turns.
    fn built_normal(&self, at: &Vec3) -> Vec3 {
        let near = self.near(at).normal;
        let from = Vec2::new(at.x, at.z) - self.centre;
        let on_arc = from.dot(&self.face[1]) < 0.0 && from.dot(&self.back[1]) > 0.0;
        if !on_arc || at.y.abs() >= self.half {
            return near;
        }
        let (slope, batter) = (self.landing.slope(), self.landing.batter());
        let pieces = ((slope + batter) / FACET).ceil();
        let corner = |i: f64| {
            let fall = (slope + batter) * i / pieces - batter;
            self.radius * Vec2::new(fall.sin(), fall.cos())
        };
        let chords = (0..whole(pieces)).map(|i| [corner(i as f64), corner(i as f64 + 1.0)]);
        let off = chords.map(|[a, b]| from - nearest_on(&a, &b, &from));
        let least = off.min_by(|a, b| a.norm().total_cmp(&b.norm())).expect("a chord");
        Vec3::new(least.x, 0.0, least.y).normalize()
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
}

impl Foot {
    /// How far a point of the profile is over the rounding, and the normal there; none before it and past it.
    fn over(&self, at: &Vec2) -> Option<(f64, Vec2)> {
        let from = at - self.centre();
        let within = from.dot(self.ways()[0]) >= 0.0 && from.dot(self.ways()[1]) <= 0.0;
        let norm = from.norm();
        (self.is_rounded() && within && norm > 0.0).then(|| (self.radius() - norm, -from / norm))
    }
}

/// A flight in the landing's local axes, walked slowly: where it first comes within reach, and how fast into the earth.
fn walked(quick: &Quick, path: &Path) -> Option<(f64, Vec2, f64)> {
    let local = |v: &Vec3| Vec3::new(v.xy().dot(&quick.ahead), v.xy().dot(&quick.left), v.z);
    let crest = quick.crest.push(quick.crest_height);
    let position = |t: f64| local(&(path.position(t) - crest));
    let gap = |t: f64| quick.near(&position(t)).distance - path.reach.at(t);
    let moments = (1..=MOMENTS).map(|i| path.end * i as f64 / MOMENTS as f64);
    let mut to = moments.into_iter().find(|t| gap(*t) <= 0.0)?;
    let mut from = to - path.end / MOMENTS as f64;
    for _ in 0..50 {
        let middle = 0.5 * (from + to);
        if gap(middle) <= 0.0 { to = middle } else { from = middle }
    }
    let normal = quick.built_normal(&position(to));
    let mark = (position(to) - path.reach.at(to) * normal).xy();
    Some((to, mark, (-local(&path.velocity(to)).dot(&normal)).max(0.0)))
}

/// Thrown from an edge towards landings nearer and farther, square and askew, with and without a rounded foot.
fn case(sequence: &Sequence, index: u64) -> (Quick, Path) {
    let u = |name, low: f64, high: f64| low + (high - low) * sequence.uniform(index, name);
    let (speed, pitch, yaw) = (u("speed", 3.0, 11.0), u("pitch", -0.3, 0.6), u("yaw", -0.4, 0.4));
    let velocity = speed * Vec3::new(pitch.cos() * yaw.cos(), pitch.cos() * yaw.sin(), pitch.sin());
    let reach = Reach::leaning(0.9, 0.8, 4.0).expect("a reach");
    let path = Path::thrown(Vec3::new(0.0, 0.0, 2.2), velocity, reach);
    let crest = Vec2::new(u("ahead", 1.5, 7.0), u("off", -1.0, 1.0));
    let landing = Landing::new(crest, 0.1, u("slope", 0.1, 0.55), 4.0, 2.5)
        .and_then(|landing| landing.with_foot_radius(u("foot", -5.0, 5.0).max(0.0)))
        .expect("a landing");
    (Quick::new(&landing, u("rise", 0.4, 1.6), 0.0), path)
}

#[test]
fn touches_are_those_of_a_slow_walk() {
    let sequence = Sequence::new(3, NAMES);
    let (mut met, mut parted) = (0, 0);
    for index in 0..1500 {
        let (quick, path) = case(&sequence, index);
        let slow = walked(&quick, &path);
        let flier = Flier { weight: 1.0, scenario: 0, paths: vec![path] };
        let touches = Touches::of(&quick, &Crowd::new(vec![flier]), 1);
        let time = touches.time[0];
        let Some((_, mark, into)) = slow.filter(|_| time.is_finite()) else {
            parted += usize::from(slow.is_some() != time.is_finite());
            continue;
        };
        met += 1;
        let off = (mark - Vec2::new(touches.along[0], touches.across[0])).norm();
        let harder = (touches.square[0].sqrt() - into).abs();
        parted += usize::from(off > 1e-3 || harder > 1e-3);
    }
    assert!(met > 500 && parted <= 3, "{met} {parted}");
}
