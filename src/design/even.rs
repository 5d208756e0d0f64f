//! The even landing: earth on which every flight of a family, slow or fast, lands with the same fall height.

mod design;
mod family;
mod far;
mod form;
mod march;
mod profile;
mod station;
mod stop;
mod surface;

pub use design::EvenDesign;
pub use form::EvenForm;
pub use stop::{EvenError, EvenWarning, StoppedBy};
pub use surface::{EvenLine, EvenSurface, EvenSurfaceDesign};

use crate::air::Air;
use crate::earth::Soil;
use crate::explain::Explanation;
use crate::force::Forces;
use crate::math::Vec2;
use crate::math::range::{OutOfRange, within};
use crate::rider::Rider;
use family::Family;
use form::Solver;
use profile::Span;
use serde::{Deserialize, Serialize};
use station::{Rule, Station};

/// Rounding in a distance that was asked of the profile is not an error, metres.
const ROUNDING: f64 = 1e-9;

/// Earth on which every flight of a family lands with the same fall height, from its far end to where it stops.
///
/// Distances are level, metres from the centre of mass at the launch along the landing's heading; heights count from
/// there too. With a cross slope the profile is the cut by the vertical plane through the launch along the heading, and
/// the earth goes on straight to both sides, rising to the left.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct EvenLanding {
    design: EvenDesign,
    forces: Forces,
    com_height: f64,
    form: EvenForm,
    /// From the near end to the far one.
    stations: Vec<Station>,
    stopped_by: StoppedBy,
}

/// One place of the profile, and the flight that lands on it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct EvenPoint {
    /// The earth's distance out, metres.
    pub distance: f64,
    /// Its height, metres.
    pub height: f64,
    /// Its slope along the heading, positive downhill, radians.
    pub slope: f64,
    /// Its curvature, one over metres: positive where it bends down, as over a crest.
    pub curvature: f64,
    /// The distance out of the centre of mass that touches here, metres.
    pub com_distance: f64,
    /// Its height, metres; with a cross slope, as it is seen along the surface's lines across.
    pub com_height: f64,
    /// The launch speed of the flight that lands here, m/s.
    pub launch_speed: f64,
    /// Its time of flight, seconds.
    pub time: f64,
}

impl EvenDesign {
    /// The even landing for this rider in this air, in the form [`EvenForm::Distance`].
    ///
    /// The rider comes upright, with his own [`Rider::com_height_landing`] over the tyres. The wind's `x` blows along the
    /// landing's heading, its `y` to the left. Heights are good to about 1e-10 m, slopes to 1e-9. Errors: nothing to
    /// begin with at the far end, and why.
    ///
    /// The equation is of first order, so there is one such landing for every far end; it is followed from there inwards,
    /// as that way errors shrink (M. Hubbard, J. ASTM Int. 6(1), 2009, JAI101630).
    pub fn landing(&self, rider: &Rider, air: &Air) -> Result<EvenLanding, EvenError> {
        self.landing_in(rider, air, EvenForm::default())
    }

    /// As [`Self::landing`], in another form of the equation.
    pub fn landing_in(
        &self,
        rider: &Rider,
        air: &Air,
        form: EvenForm,
    ) -> Result<EvenLanding, EvenError> {
        let (forces, com_height) = (Forces::new(rider, air), rider.com_height_landing());
        let into = (2.0 * forces.g() * self.fall_height()).sqrt();
        if form == EvenForm::LaunchSpeed && into <= 0.0 {
            return Err(EvenError::OneFlight);
        }
        let family = Family::new(self, forces);
        let solver = Solver { form, family: &family, rule: Rule { into, height: com_height } };
        let (x, z) = (self.far().x, self.far().y);
        let seen = Vec2::new(x, z * self.cross_slope().cos());
        let far = far::station(&family, &solver.rule, seen)
            .and_then(|station| march::standing(self, station))
            .map_err(|reason| EvenError::FarEnd { x, z, reason })?;
        let (mut stations, stopped_by) = march::march(&solver, self, far);
        stations.reverse();
        if stations.len() < 2 {
            return Err(EvenError::FarEnd { x, z, reason: stopped_by });
        }
        Ok(EvenLanding { design: *self, forces, com_height, form, stations, stopped_by })
    }
}

impl EvenLanding {
    /// What it was asked to be.
    pub const fn design(&self) -> &EvenDesign {
        &self.design
    }

    /// The form in which its equation was solved.
    pub const fn form(&self) -> EvenForm {
        self.form
    }

    /// What ended it on its way inwards.
    pub const fn stopped_by(&self) -> StoppedBy {
        self.stopped_by
    }

    /// From where to where it reaches, near end first, metres out.
    pub fn reach(&self) -> (f64, f64) {
        let stop = self.stations.first().map_or(f64::NAN, |station| station.earth.x);
        // The asked ends are met but for rounding.
        let met = self.stopped_by == StoppedBy::NearEnd;
        (if met { self.design.near() } else { stop }, self.design.far().x)
    }

    /// The earth's height a distance out, metres; an error beyond its reach.
    pub fn height(&self, distance: f64) -> Result<f64, OutOfRange> {
        Ok(self.at(distance)?.height(distance).height / self.design.cross_slope().cos())
    }

    /// The earth's slope along the heading a distance out, positive downhill, radians; an error beyond its reach.
    pub fn slope(&self, distance: f64) -> Result<f64, OutOfRange> {
        let rise = self.at(distance)?.height(distance).slope / self.design.cross_slope().cos();
        Ok(-rise.atan())
    }

    /// The launch speed of the flight that lands a distance out, m/s; an error beyond its reach.
    pub fn launch_speed(&self, distance: f64) -> Result<f64, OutOfRange> {
        Ok(self.at(distance)?.speed(distance))
    }

    /// The launch speeds of the flights that land on it, slowest first, m/s.
    pub fn launch_speeds(&self) -> (f64, f64) {
        let ends = [self.stations.first(), self.stations.last()];
        let [near, far] = ends.map(|station| station.map_or(f64::NAN, |s| s.speed));
        (near, far)
    }

    /// Its places, near end first, at most 0.1 m apart along the centre of mass's own surface.
    pub fn profile(&self) -> Vec<EvenPoint> {
        self.stations.iter().map(|station| self.point(station)).collect()
    }

    /// The paths of `count` flights that land on it, spread evenly from the near end to the far one: `points` places of
    /// the centre of mass each, evenly spaced in time, out and up as [`EvenPoint::com_height`] is.
    pub fn paths(&self, count: usize, points: usize) -> Vec<Vec<Vec2>> {
        let family = Family::new(&self.design, self.forces);
        let across = self.design.cross_slope().cos();
        let last = self.stations.len() - 1;
        let path = |i: usize| {
            let station = self.stations[i * last / count.saturating_sub(1).max(1)];
            let times = (0..points).map(|j| j as f64 / points.saturating_sub(1).max(1) as f64);
            let place = |share: f64| {
                let moment = family.moment(station.speed, share * station.time);
                moment.map_or(station.com, |moment| moment.at)
            };
            times.map(place).map(|at| Vec2::new(at.x, at.y / across)).collect()
        };
        (0..count).map(path).collect()
    }

    /// What is not wrong but unwise about it.
    pub fn warnings(&self) -> Vec<EvenWarning> {
        let stands = Soil::loam().stand_up().value();
        let across = self.design.cross_slope().cos();
        let steepness = self.stations.iter().map(|s| (s.angle.cos() * across).acos());
        let angle = steepness.fold(0.0, f64::max);
        let steep = (angle > stands).then_some(EvenWarning::Steep { angle, stands });
        let (at, reason) = (self.reach().0, self.stopped_by);
        let early = (reason != StoppedBy::NearEnd).then_some(EvenWarning::EndsEarly { at, reason });
        let fall = EvenWarning::about_fall(self.design.fall_height());
        [fall, steep, early].into_iter().flatten().collect()
    }

    fn at(&self, distance: f64) -> Result<Span<'_>, OutOfRange> {
        let (near, far) = self.reach();
        let inside = distance.clamp(near, far);
        let asked = if (distance - inside).abs() <= ROUNDING { inside } else { distance };
        within("x", asked, near, far)?;
        Span::around(&self.stations, asked).ok_or_else(|| OutOfRange::new("x", asked, "none"))
    }

    fn point(&self, station: &Station) -> EvenPoint {
        let across = self.design.cross_slope().cos();
        let slope = (station.angle.tan() / across).atan();
        EvenPoint {
            distance: station.earth.x,
            height: station.earth.y / across,
            slope,
            curvature: station.bend * station.angle.cos() / station.scale,
            com_distance: station.com.x,
            com_height: station.com.y / across,
            launch_speed: station.speed,
            time: station.time,
        }
    }

    /// The model behind the profile, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "Flights leave from one place at one angle and differ in speed. Where one comes down at speed v and \
            path angle phi below the level, the surface lies at alpha below the level with \
            v sin(phi - alpha) = sqrt(2 g h), h the wanted equivalent fall height. That gives a first-order equation \
            for the surface of the centre of mass, followed from the far end inwards; the earth is its parallel \
            surface, the rider's height over his tyres below. Flights are points under gravity and quadratic drag; \
            the rider comes upright.";
        let limits = "It is even only for this launch: who pops, brakes late, leans or leaves elsewhere lands harder or \
            softer, the more the steeper the path. Not modelled: gusts, soft ground, the transition at its ends.";
        let design = &self.design;
        Explanation::new(model, limits)
            .with_input("launch_angle", design.launch_angle(), "rad")
            .with_input("fall_height", design.fall_height(), "m")
            .with_input("far_x", design.far().x, "m")
            .with_input("far_z", design.far().y, "m")
            .with_input("near", design.near(), "m")
            .with_input("sideways", design.sideways(), "rad")
            .with_input("cross_slope", design.cross_slope(), "rad")
            .with_input("steepest", design.steepest(), "rad")
            .with_input("com_height_landing", self.com_height, "m")
            .with_input("k", self.forces.k(), "1/m")
            .with_source(
                "M. Hubbard, Safer ski jump landing surface design limits normal impact velocity, \
                 J. ASTM Int. 6(1), 2009, JAI101630 (equivalent fall height, the equation of first order)",
            )
            .with_source(
                "D. Levy, M. Hubbard, J. A. McNeil, A. Swedberg, A design rationale for safer terrain park jumps that \
                 limit equivalent fall height, Sports Eng. 18, 2015, 227-239",
            )
            .with_source("steepest: J. Newman, Earthwork Slips and Subsidences, 1890 (hard, clean earth, 1 to 1)")
    }
}

#[cfg(test)]
mod tests;
