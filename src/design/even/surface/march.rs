//! All lines together from the far end inwards: what lies across one of them goes into the slope of the others.

use super::across::{Knot, slope};
use super::lines::{EvenSurfaceDesign, MOST};
use crate::design::even::family::Family;
use crate::design::even::far;
use crate::design::even::station::Rule;
use crate::design::even::stop::StoppedBy;
use crate::force::Forces;
use crate::math::ode::{OdeError, Options, integrate};
use crate::math::{Vec2, Vec3};
use nalgebra::SVector;
use serde::{Deserialize, Serialize};

/// Stations are at most this far apart along, metres, and this share of the whole: what lies between is a cubic.
const SPACING: f64 = 0.05;
const SHARE: f64 = 1.0 / 128.0;
/// How good a step from station to station is: seconds, m/s.
const TOLERANCE: f64 = 1e-11;
/// Where it stops is found to this, metres.
const SHORTEST: f64 = 1e-5;
/// Lines nearer to one another than this, metres, cross.
const APART: f64 = 1e-3;

/// Launch speed and time of flight of each line, one after the other.
type State = SVector<f64, { 2 * MOST }>;

/// How launch speed and time of one line grow along, m/s and s a metre.
type Rates = (f64, f64);

/// Where the flight of one line comes down, in the landing's axes, on the surface that the centre of mass lands on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub(super) struct Node {
    /// Across, and how that grows along.
    pub y: [f64; 2],
    /// Up, and how that grows along the line.
    pub z: [f64; 2],
    /// The surface's gradient.
    pub gradient: Vec2,
    /// The launch speed of the flight.
    pub speed: f64,
    /// Its time.
    pub time: f64,
}

/// All lines at one distance out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Station {
    pub x: f64,
    pub nodes: Vec<Node>,
}

/// The lines, and the rule of every touch.
pub(super) struct March<'a> {
    design: &'a EvenSurfaceDesign,
    lines: Vec<(Vec3, Family)>,
    rule: Rule,
}

impl Node {
    /// How steep the surface is, radians.
    pub(super) fn steepness(&self) -> f64 {
        self.gradient.norm().atan()
    }

    /// How far along its touched earth lies from its centre of mass.
    fn ahead(&self, height: f64) -> f64 {
        height * self.gradient.x / self.gradient.norm().hypot(1.0)
    }
}

impl<'a> March<'a> {
    pub(super) fn new(design: &'a EvenSurfaceDesign, forces: Forces, height: f64) -> Self {
        let first = design.lines()[0].position();
        let line = |line: &super::EvenLine| {
            let place = design.turned(&(line.position() - first));
            let direction = design.turned(&line.direction());
            (place, Family::thrown(direction, forces, design.cross_slope()))
        };
        let into = (2.0 * forces.g() * design.fall_height()).sqrt();
        let lines = design.lines().iter().map(line).collect();
        Self { design, lines, rule: Rule { into, height } }
    }

    /// The stations from the far end inwards, and why there are no more.
    pub(super) fn run(&self) -> Result<(Vec<Station>, StoppedBy), StoppedBy> {
        let (mut state, mut last) = self.far()?;
        let (mut stations, near) = (vec![last.clone()], self.design.near());
        let spacing = SPACING.min(SHARE * (self.design.far().x - near));
        let mut stride = spacing;
        loop {
            let gap = self.last_earth(&last) - near;
            if gap <= 0.0 {
                return Ok((stations, StoppedBy::NearEnd));
            }
            match self.next(&last, &state, stride) {
                Ok((next_state, next)) => {
                    (state, last) = (next_state, next);
                    stations.push(last.clone());
                }
                Err(reason) if stride <= SHORTEST => return Ok((stations, reason)),
                Err(_) => stride *= 0.5,
            }
        }
    }

    /// How far out the farthest of the lines' earth lies.
    pub(super) fn last_earth(&self, station: &Station) -> f64 {
        let earth = |node: &Node| station.x + node.ahead(self.rule.height);
        station.nodes.iter().map(earth).fold(f64::NEG_INFINITY, f64::max)
    }

    /// How far out the nearest of the lines' earth lies.
    pub(super) fn first_earth(&self, station: &Station) -> f64 {
        let earth = |node: &Node| station.x + node.ahead(self.rule.height);
        station.nodes.iter().map(earth).fold(f64::INFINITY, f64::min)
    }

    /// The far end: the first line's earth lies there, and all lines' centres of mass come down on one straight line across.
    fn far(&self) -> Result<(State, Station), StoppedBy> {
        let (far, level) = (self.design.far(), self.design.cross_slope().cos());
        let (_, family) = &self.lines[0];
        let first = far::station(family, &self.rule, Vec2::new(far.x, far.y * level))?;
        let point = Rule { height: 0.0, ..self.rule };
        let mut state = State::zeros();
        for (i, (place, family)) in self.lines.iter().enumerate() {
            let there = far::station(family, &point, first.com - family.seen(place))?;
            (state[2 * i], state[2 * i + 1]) = (there.speed, there.time);
        }
        let station = self.station(first.com.x, &state)?;
        Ok((state, station))
    }

    /// The station that lies `stride` metres nearer, along.
    fn next(
        &self,
        last: &Station,
        state: &State,
        stride: f64,
    ) -> Result<(State, Station), StoppedBy> {
        let rhs = |x: f64, state: &State| {
            let mut rates = State::zeros();
            for (i, (_, rate)) in self.nodes(x, state)?.into_iter().enumerate() {
                (rates[2 * i], rates[2 * i + 1]) = rate;
            }
            Ok(rates)
        };
        let options = Options::new(TOLERANCE, TOLERANCE).with_first_step(stride);
        let end = match integrate(rhs, last.x, *state, last.x - stride, &options) {
            Ok(steps) => steps.end(),
            Err(OdeError::RightHandSide(reason)) => return Err(reason),
            Err(_) => return Err(StoppedBy::FlightsCross),
        };
        let next = self.station(last.x - stride, &end)?;
        let height = self.rule.height;
        let tight = |(a, b): (&Node, &Node)| a.ahead(height) - b.ahead(height) >= stride;
        if next.nodes.iter().zip(&last.nodes).any(tight) {
            return Err(StoppedBy::TooTight);
        }
        Ok((end, next))
    }

    fn station(&self, x: f64, state: &State) -> Result<Station, StoppedBy> {
        let nodes: Vec<Node> = self.nodes(x, state)?.into_iter().map(|(node, _)| node).collect();
        if nodes.iter().any(|node| node.steepness() > self.design.steepest()) {
            return Err(StoppedBy::TooSteep);
        }
        Ok(Station { x, nodes })
    }

    /// Where each line's flight is, and how its launch speed and time grow along.
    fn nodes(&self, x: f64, state: &State) -> Result<Vec<(Node, Rates)>, StoppedBy> {
        let flown: Vec<[Vec3; 4]> = (0..self.lines.len())
            .map(|i| self.lines[i].1.space(state[2 * i], state[2 * i + 1]))
            .collect::<Result<_, _>>()?;
        let places: Vec<Vec3> =
            self.lines.iter().zip(&flown).map(|((place, _), flown)| place + flown[0]).collect();
        let knots: Vec<Knot<f64>> = places.iter().map(|p| Knot { y: p.y, z: p.z }).collect();
        let order = (knots[1].y - knots[0].y).signum();
        if !knots.windows(2).all(|pair| order * (pair[1].y - pair[0].y) > APART) || x.is_nan() {
            return Err(StoppedBy::FlightsCross);
        }
        let node = |(i, flown): (usize, &[Vec3; 4])| {
            let across = slope(&knots, knots[i].y);
            let (family, [_, velocity, by_speed, _]) = (&self.lines[i].1, flown);
            let moment = family.seen_across(flown, across);
            let facing = self.rule.facing(moment.velocity)?;
            let (faster, later) = self.rule.rates(&moment, &facing)?;
            let along = -facing.angle.tan() * across.hypot(1.0);
            let sideways = by_speed.y * faster + velocity.y * later;
            let node = Node {
                y: [knots[i].y, sideways],
                z: [knots[i].z, along + across * sideways],
                gradient: Vec2::new(along, across),
                speed: state[2 * i],
                time: state[2 * i + 1],
            };
            Ok((node, (faster, later)))
        };
        flown.iter().enumerate().map(node).collect()
    }
}
