//! What would be seen of a ride by a rider whose values are given: for planning measurements, and for checks.

use super::course::Course;
use super::error::FlagsError;
use super::flag::Flag;
use super::miss::Miss;
use super::sight::{CAUSES, Look};
use super::unknown::Values;
use crate::math::Vec3;
use crate::ride::Lean;
use crate::site::Site;

/// What would be seen of a flag's ride.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Seen {
    /// The numbers in order: the mark's x and y where it has one, then its timings, then its speeds; m, s, m/s.
    pub numbers: Vec<f64>,
    /// How each answers to each unknown (in the order of [`super::Unknown::ALL`]), and last to the start mark.
    pub answers: Vec<[f64; CAUSES]>,
    /// The mark under the centre of mass, m.
    pub mark: Vec3,
    /// The equivalent fall height, m.
    pub fall_height: f64,
    /// The tyres' speed at the edge, m/s.
    pub exit_speed: f64,
}

impl Flag {
    /// What the model has this flag see of its ride by a rider with these values under a lean, whatever was measured.
    ///
    /// Derivatives are those of the equations, made linear along the ride and the flight, and by the theorem of implicit functions
    /// for leaning rides and at the touch: good to about 1e-9 of themselves. How far the bike has turned at the edge, some degrees
    /// by which a rider is not upright when he leaves, is taken from launches close by, good to about 1e-7. Where a mark passes from one facet of the ground to the next they jump. Errors: as for a fit.
    pub fn seen(&self, site: &Site, values: &Values, lean: Lean) -> Result<Seen, FlagsError> {
        self.ride.check(site)?;
        let ground = self.ground.clone().map_or_else(|| site.ground(), Ok)?;
        let course = Course::new(site, self.ride.who(), ground)?;
        let look = Look::of(self);
        let coming = look.come(&course, values, lean).map_err(Miss::error)?;
        let answers = look.answers(&course, values, lean, &coming).map_err(Miss::error)?;
        let row = |i: usize| std::array::from_fn(|j| answers[(i, j)]);
        Ok(Seen {
            numbers: coming.seen.iter().copied().collect(),
            answers: (0..answers.nrows()).map(row).collect(),
            mark: coming.contact.mark,
            fall_height: coming.contact.fall_height,
            exit_speed: coming.exit_speed,
        })
    }
}
