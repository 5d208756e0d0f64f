//! The even landing across lines of flights that leave in different places and directions.

mod across;
mod lines;
mod march;

pub use lines::{EvenLine, EvenSurfaceDesign};

use super::stop::{EvenError, EvenWarning, StoppedBy};
use crate::air::Air;
use crate::earth::Soil;
use crate::explain::Explanation;
use crate::force::Forces;
use crate::ground::Ground;
use crate::math::dual::{Dual, Number};
use crate::math::range::{OutOfRange, finite, non_negative, positive, within};
use crate::math::{Vec2, Vec3, count::whole};
use crate::rider::Rider;
use across::Knot;
use march::{March, Node, Station};
use serde::{Deserialize, Serialize};

/// The earth under a centre of mass is found to this, metres.
const FOUND: f64 = 1e-11;
const MOST_STEPS: usize = 200;
/// The most points of a survey of it.
const MOST_POINTS: f64 = 200_000.0;

/// Earth on which the flights of several lines, slow or fast, all land with the same fall height; between and beside the
/// lines it goes on smoothly.
///
/// Places are metres along the landing's heading (`x`), to its left (`y`) and up, from the centre of mass at the first
/// line's launch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct EvenSurface {
    design: EvenSurfaceDesign,
    com_height: f64,
    /// From the near end to the far one.
    stations: Vec<Station>,
    reach: (f64, f64),
    stopped_by: StoppedBy,
}

/// A place of the surface that the centre of mass lands on: its height and gradient.
#[derive(Debug, Clone, Copy)]
struct Place {
    height: f64,
    gradient: Vec2,
}

impl EvenSurfaceDesign {
    /// The even surface for this rider in this air.
    ///
    /// Along each line the landing obeys the equation of the even landing with the cross slope that the others give it
    /// there: at each distance out one polynomial across goes through all lines, and all are followed together from the far
    /// end inwards, where errors shrink. So the flights of the lines land as evenly as was asked (to about 1e-7 m of fall
    /// height); those between the lines nearly so, the better the more lines. The rider comes upright, his own
    /// [`Rider::com_height_landing`] over the tyres; the wind is the site's. Errors: nothing to begin with at the far end,
    /// and why.
    pub fn surface(&self, rider: &Rider, air: &Air) -> Result<EvenSurface, EvenError> {
        let turned = air.with_wind(self.turned(&air.wind()));
        let forces = Forces::new(rider, &turned.unwrap_or(*air));
        let march = March::new(self, forces, rider.com_height_landing());
        let begun = |reason| EvenError::FarEnd { x: self.far().x, z: self.far().y, reason };
        let (mut stations, stopped_by) = march.run().map_err(begun)?;
        let [Some(first), Some(last)] = [stations.first(), stations.last()] else {
            return Err(begun(StoppedBy::NoFlight));
        };
        if stations.len() < 2 {
            return Err(begun(stopped_by));
        }
        let met = stopped_by == StoppedBy::NearEnd;
        let near = if met { self.near() } else { march.last_earth(last) };
        let reach = (near, march.first_earth(first));
        stations.reverse();
        let (design, com_height) = (self.clone(), rider.com_height_landing());
        Ok(EvenSurface { design, com_height, stations, reach, stopped_by })
    }
}

impl EvenSurface {
    /// What it was asked to be.
    pub const fn design(&self) -> &EvenSurfaceDesign {
        &self.design
    }

    /// What ended it on its way inwards.
    pub const fn stopped_by(&self) -> StoppedBy {
        self.stopped_by
    }

    /// From where to where all lines' earth reaches, near end first, metres out.
    pub const fn reach(&self) -> (f64, f64) {
        self.reach
    }

    /// The launch speeds of the flights of each line that land on it, slowest and fastest, m/s.
    pub fn launch_speeds(&self) -> Vec<(f64, f64)> {
        let ends = self.stations.first().zip(self.stations.last());
        let pairs = ends.into_iter().flat_map(|(near, far)| near.nodes.iter().zip(&far.nodes));
        pairs.map(|(near, far)| (near.speed, far.speed)).collect()
    }

    /// The earth's height at a place, metres; an error beyond its reach. Beside the outer lines it goes on straight.
    pub fn height(&self, x: f64, y: f64) -> Result<f64, OutOfRange> {
        let (place, normal) = self.under(x, y)?;
        Ok(place.height - self.com_height * normal.z)
    }

    /// The earth's gradient at a place: its rise along and to the left; an error beyond its reach.
    pub fn gradient(&self, x: f64, y: f64) -> Result<Vec2, OutOfRange> {
        Ok(self.under(x, y)?.0.gradient)
    }

    /// From where to where the lines lie across a distance out, right end first, metres; an error beyond its reach.
    pub fn width(&self, x: f64) -> Result<(f64, f64), OutOfRange> {
        Ok(ends(&self.knots(self.asked(x)?)))
    }

    /// Points of the earth in the site's frame, `spacing` metres apart at most, from its near end to the far one and
    /// `beside` metres past the outer lines on both sides: a survey to set out and build.
    ///
    /// Between points the ground is flat: its angle is off by about half the spacing times its curvature.
    pub fn points(&self, spacing: f64, beside: f64) -> Result<Vec<Vec3>, OutOfRange> {
        positive("spacing", spacing)?;
        non_negative("beside", beside)?;
        let (near, far) = self.reach;
        let (low, high) = [near, far]
            .map(|x| self.width(x))
            .into_iter()
            .collect::<Result<Vec<_>, _>>()?
            .into_iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |all, one| {
                (all.0.min(one.0), all.1.max(one.1))
            });
        let steps = |length: f64| (length / spacing).ceil().max(1.0);
        let (along, across) = (steps(far - near), steps(high - low + 2.0 * beside));
        if along * across > MOST_POINTS {
            let allowed = format!("so wide that at most {MOST_POINTS} points are needed");
            return Err(OutOfRange::new("spacing", spacing, allowed));
        }
        let point = |index: usize| {
            let (i, j) = (index / (whole(across) + 1), index % (whole(across) + 1));
            let x = near + (far - near) * i as f64 / along;
            let (right, left) = self.width(x)?;
            let y = right - beside + (left - right + 2.0 * beside) * j as f64 / across;
            Ok(self.design.in_site(&Vec3::new(x, y, self.height(x, y)?)))
        };
        (0..(whole(along) + 1) * (whole(across) + 1)).map(point).collect()
    }

    /// The earth as ground, triangulated between [`Self::points`].
    pub fn ground(&self, spacing: f64, beside: f64) -> Result<Ground, EvenError> {
        Ok(Ground::survey(&self.points(spacing, beside)?)?)
    }

    /// What is not wrong but unwise about it.
    pub fn warnings(&self) -> Vec<EvenWarning> {
        let stands = Soil::loam().stand_up().value();
        let nodes = self.stations.iter().flat_map(|station| &station.nodes);
        let angle = nodes.map(Node::steepness).fold(0.0, f64::max);
        let steep = (angle > stands).then_some(EvenWarning::Steep { angle, stands });
        let (at, reason) = (self.reach.0, self.stopped_by);
        let early = (reason != StoppedBy::NearEnd).then_some(EvenWarning::EndsEarly { at, reason });
        let fall = EvenWarning::about_fall(self.design.fall_height());
        [fall, steep, early].into_iter().flatten().collect()
    }

    /// The model behind the surface, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "Flights of each line leave from one place in one direction and differ in speed. The surface Z of the \
            centre of mass obeys (v_z - Z_x v_x - Z_y v_y)^2 = 2 g h (1 + Z_x^2 + Z_y^2) on every line, h the wanted \
            equivalent fall height; across, it is the polynomial through all lines. That leaves its far end to choose: \
            straight, at the cross slope asked for. From there it is followed inwards, all lines together; the earth is \
            the parallel surface, the rider's height over his tyres below.";
        let limits = "It is even only for these lines: between them nearly so, beside them, and for who pops, brakes late \
            or leaves otherwise, harder or softer. Not modelled: gusts, soft ground, the transition at its ends.";
        let design = &self.design;
        Explanation::new(model, limits)
            .with_input("lines", design.lines().len() as f64, "")
            .with_input("heading", design.heading(), "rad")
            .with_input("fall_height", design.fall_height(), "m")
            .with_input("far_x", design.far().x, "m")
            .with_input("far_z", design.far().y, "m")
            .with_input("near", design.near(), "m")
            .with_input("cross_slope", design.cross_slope(), "rad")
            .with_input("steepest", design.steepest(), "rad")
            .with_input("com_height_landing", self.com_height, "m")
            .with_source(
                "M. Hubbard, Safer ski jump landing surface design limits normal impact velocity, \
                 J. ASTM Int. 6(1), 2009, JAI101630 (equivalent fall height, the equation in the plane)",
            )
            .with_source("the same condition for a surface in space, and its solution by lines: derived here")
    }

    fn asked(&self, x: f64) -> Result<f64, OutOfRange> {
        let (near, far) = self.reach;
        let inside = x.clamp(near, far);
        let asked = if (x - inside).abs() <= super::ROUNDING { inside } else { x };
        within("x", asked, near, far)
    }

    /// The place of the centre of mass that touches the earth at a place, and the normal there: `c - h n` is the earth.
    fn under(&self, x: f64, y: f64) -> Result<(Place, Vec3), OutOfRange> {
        let asked = Vec2::new(self.asked(x)?, finite("y", y)?);
        let mut com = asked;
        for _ in 0..MOST_STEPS {
            let place = self.place(&com);
            let normal = Vec3::new(-place.gradient.x, -place.gradient.y, 1.0).normalize();
            let next = asked + self.com_height * normal.xy();
            if (next - com).norm() <= FOUND {
                return Ok((place, normal));
            }
            com = next;
        }
        Err(OutOfRange::new(
            "x",
            x,
            "where the earth bends less tightly than the rider's height over his tyres",
        ))
    }

    /// The surface of the centre of mass: the polynomial through the lines, straight on beside them.
    fn place(&self, com: &Vec2) -> Place {
        let knots = self.knots(com.x);
        let (right, left) = ends(&knots);
        let inside = com.y.clamp(right, left);
        let found = across::height(&knots, Dual::variable(inside, 1));
        if com.y <= left && com.y >= right {
            return Place { height: found.value, gradient: found.partials.into() };
        }
        let is_left = com.y > left;
        let outer = |x: f64| {
            let knots = self.knots(x);
            let (right, left) = ends(&knots);
            let edge = if is_left { left } else { right };
            let found = across::height(&knots, Dual::variable(edge, 1));
            found.value + found.partials[1] * (com.y - edge)
        };
        // A ruled strip: its growth along is that of a smooth curve, to 1e-9 by this difference.
        let by = 1e-4;
        let along = (outer(com.x + by) - outer(com.x - by)) / (2.0 * by);
        Place { height: outer(com.x), gradient: Vec2::new(along, found.partials[1]) }
    }

    /// The lines a distance out, with their growth along.
    fn knots(&self, x: f64) -> Vec<Knot<Dual<2>>> {
        let last = self.stations.len() - 1;
        let after = self.stations.partition_point(|station| station.x <= x).clamp(1, last);
        let (a, b) = (&self.stations[after - 1], &self.stations[after]);
        let share = (Dual::variable(x, 0) - Dual::constant(a.x)) * (b.x - a.x).recip();
        let between = |a: &[f64; 2], b: &[f64; 2], run: f64| {
            let rise = b[0] - a[0];
            let (from, to) = (run * a[1] - rise, rise - run * b[1]);
            let rest = Dual::constant(1.0) - share;
            share * rise + share * rest * (rest * from + share * to) + a[0]
        };
        let run = b.x - a.x;
        let knot = |(p, q): (&Node, &Node)| Knot {
            y: between(&p.y, &q.y, run),
            z: between(&p.z, &q.z, run),
        };
        a.nodes.iter().zip(&b.nodes).map(knot).collect()
    }
}

/// The outer lines' places across, right and left.
fn ends(knots: &[Knot<Dual<2>>]) -> (f64, f64) {
    let far = (f64::INFINITY, f64::NEG_INFINITY);
    let y = knots.iter().map(|knot| knot.y.value());
    y.fold(far, |ends, y| (ends.0.min(y), ends.1.max(y)))
}

#[cfg(test)]
mod tests;
