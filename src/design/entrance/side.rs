//! An entrance from the side: trail, hollow, ramp, crest and deck as straights and arcs.

use crate::feature::EntranceShape;
use crate::math::Vec2;

/// Trail and deck go on for so many metres.
const BEYOND: f64 = 20.0;

/// The curve from the side; stations are metres along it from the entrance's start, places level distance and height.
pub(super) struct Side {
    spans: Vec<Span>,
    length: f64,
}

/// A straight (no curvature) or an arc.
struct Span {
    from: f64,
    length: f64,
    start: Vec2,
    angle: f64,
    curvature: f64,
}

impl Side {
    pub(super) fn of(shape: &EntranceShape) -> Self {
        let [trail, ramp, deck] =
            [shape.trail_grade, shape.ramp_grade, shape.deck_grade].map(f64::atan);
        let curves = shape.sag_radius * (trail.cos() - ramp.cos())
            + shape.crest_radius * (deck.cos() - ramp.cos());
        let straight = ((shape.height - curves) / ramp.sin()).max(0.0);
        let start = Vec2::new(trail.cos(), trail.sin()) * -BEYOND;
        let first = Span { from: -BEYOND, length: BEYOND, start, angle: trail, curvature: 0.0 };
        let mut side = Self { spans: vec![first], length: 0.0 };
        let (sag, crest) = (shape.sag_radius.recip(), -shape.crest_radius.recip());
        side.add(shape.sag_radius * (ramp - trail), sag);
        side.add(straight, 0.0);
        side.add(shape.crest_radius * (ramp - deck), crest);
        side.length = side.end();
        side.add(BEYOND, 0.0);
        side
    }

    /// The length of the entrance itself.
    pub(super) const fn length(&self) -> f64 {
        self.length
    }

    /// The place on the curve and its angle.
    pub(super) fn at(&self, station: f64) -> (Vec2, f64) {
        let behind = self.spans.iter().rev().find(|span| span.from <= station);
        let Some(span) = behind.or_else(|| self.spans.first()) else { return (Vec2::zeros(), 0.0) };
        span.at(station - span.from)
    }

    /// How far a place above the curve is from it; negative below.
    pub(super) fn gap(&self, place: &Vec2) -> f64 {
        self.spans.iter().filter_map(|span| span.gap(place)).fold(f64::INFINITY, f64::min)
    }

    /// The height over a level distance.
    pub(super) fn height(&self, distance: f64) -> f64 {
        let behind = self.spans.iter().rev().find(|span| span.start.x <= distance);
        behind.or_else(|| self.spans.first()).map_or(0.0, |span| span.height(distance))
    }

    fn end(&self) -> f64 {
        self.spans.last().map_or(0.0, |span| span.from + span.length)
    }

    /// Goes on from the end, with the same angle.
    fn add(&mut self, length: f64, curvature: f64) {
        let from = self.end();
        if let Some((start, angle)) = self.spans.last().map(|span| span.at(span.length)) {
            self.spans.push(Span { from, length, start, angle, curvature });
        }
    }
}

impl Span {
    fn at(&self, along: f64) -> (Vec2, f64) {
        let (a, k) = (self.angle, self.curvature);
        let angle = a + k * along;
        let way = if k == 0.0 {
            Vec2::new(a.cos(), a.sin()) * along
        } else {
            Vec2::new(angle.sin() - a.sin(), a.cos() - angle.cos()) / k
        };
        (self.start + way, angle)
    }

    fn height(&self, distance: f64) -> f64 {
        let (a, k, level) = (self.angle, self.curvature, distance - self.start.x);
        let rise = if k == 0.0 {
            level * a.tan()
        } else {
            let sin = (a.sin() + k * level).clamp(-1.0, 1.0);
            (a.cos() - (1.0 - sin * sin).sqrt()) / k
        };
        self.start.y + rise
    }

    /// None where the nearest place of the curve, continued, is not on it.
    fn gap(&self, place: &Vec2) -> Option<f64> {
        let (a, k, away) = (self.angle, self.curvature, place - self.start);
        let normal = Vec2::new(-a.sin(), a.cos());
        if k == 0.0 {
            let along = away.dot(&Vec2::new(a.cos(), a.sin()));
            return (0.0..=self.length).contains(&along).then(|| away.dot(&normal));
        }
        let from_centre = away - normal / k;
        let out = from_centre * -k.signum();
        let turned = (-out.x).atan2(out.y) - a;
        let last = k * self.length;
        let inside = (last.min(0.0)..=last.max(0.0)).contains(&turned);
        inside.then(|| (k.abs().recip() - from_centre.norm()) * k.signum())
    }
}
