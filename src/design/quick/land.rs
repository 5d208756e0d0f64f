//! How riders come down on the landings of a search.

use super::{ON_EDGE, Quick, crowd::Crowd, touch::Touches};
use crate::{
    design::score::{Landed, Member},
    ground::Place,
    math::Vec2,
};

/// How a crowd comes down on faces side by side.
pub(in crate::design) struct Landings<'a> {
    faces: &'a [Quick],
    crowd: &'a Crowd,
    /// Of each face.
    touches: Vec<Touches>,
}

impl<'a> Landings<'a> {
    /// How the first so many fliers of a crowd come down.
    pub(in crate::design) fn of(faces: &'a [Quick], crowd: &'a Crowd, fliers: usize) -> Self {
        let paths = crowd.paths_of_first(fliers);
        let touches = faces.iter().map(|face| Touches::of(face, crowd, paths)).collect();
        Self { faces, crowd, touches }
    }

    /// How each of a flier's ways comes down, and how far its mark is inside the borders of the nearest face (negative:
    /// outside).
    pub(in crate::design) fn members(&self, flier: usize) -> impl Iterator<Item = (Member, f64)> {
        let weight = self.crowd.fliers[flier].weight;
        self.crowd.paths(flier).map(move |row| self.member(row, weight))
    }

    /// How the hardest of a flier's ways comes down.
    pub(in crate::design) fn hardest(&self, flier: usize) -> Option<Member> {
        let (weight, mut rows) = (self.crowd.fliers[flier].weight, self.crowd.paths(flier));
        let mut hardest = self.member(rows.next()?, weight).0;
        for row in rows {
            hardest = hardest.harder(self.member(row, weight).0);
        }
        Some(hardest)
    }

    #[inline]
    fn member(&self, row: usize, weight: f64) -> (Member, f64) {
        let (bare, share) = &self.crowd.bare[row];
        let Some((face, touches)) = self.first(row) else {
            let (place, inside) = self.placed(&bare.mark);
            let landed = bare.fixed.unwrap_or(place);
            return (Member { weight, landed, fall_height: bare.fall_height }, inside);
        };
        let local = Vec2::new(touches.along[row], touches.across[row]);
        let (landed, inside) = if self.faces.len() == 1 {
            (face.place(&local).into(), face.inside(&local))
        } else {
            self.placed(&face.plan(&local))
        };
        (Member { weight, landed, fall_height: touches.square[row] * share }, inside)
    }

    /// The face that a path touches first, if any.
    #[inline]
    fn first(&self, row: usize) -> Option<(&Quick, &Touches)> {
        let sooner = |a: &(&Quick, &Touches), b: &(&Quick, &Touches)| {
            a.1.time[row].total_cmp(&b.1.time[row])
        };
        let found = self.faces.iter().zip(&self.touches).min_by(sooner)?;
        found.1.time[row].is_finite().then_some(found)
    }

    /// Where a mark lies among the faces, and how far inside the borders of the nearest.
    #[inline]
    fn placed(&self, mark: &Vec2) -> (Landed, f64) {
        let (mut place, mut nearest) = (Place::Wide, f64::NEG_INFINITY);
        for face in self.faces {
            let at = face.local(mark);
            let inside = face.inside(&at);
            if inside > nearest {
                (place, nearest) = (face.place(&at), inside);
            }
        }
        (place.into(), nearest)
    }
}

impl Quick {
    /// How far a mark is inside the borders of the face.
    fn inside(&self, at: &Vec2) -> f64 {
        at.x.min(self.landing.length() - at.x).min(self.half - at.y.abs())
    }

    /// The place in plan of one along and across.
    fn plan(&self, at: &Vec2) -> Vec2 {
        self.crest + at.x * self.ahead + at.y * self.left
    }

    #[inline]
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
