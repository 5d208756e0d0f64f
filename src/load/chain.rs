//! Masses on struts and suspensions, one above the other.

use super::impact::{Impact, Softness};
use super::part::{Part, Strut, Suspension};
use super::{LoadError, response};
use crate::math::range::{OutOfRange, positive};
use crate::rider::{Absorber, AirSpring, Rider};
use serde::{Deserialize, Serialize};

/// How much stiffer the suspension's stop is than the linear spring of the same sag: an assumption. It rules the
/// suspension's own peak once that bottoms, and hardly that of the legs above it.
pub(crate) const STOP_STIFFER: f64 = 20.0;
/// How long a record runs at most where nothing ends it, s.
const LONGEST: f64 = 1.0;
/// The share of a body's mass in its two feet (de Leva 1996, Table 4, men).
const FEET: f64 = 2.0 * 0.0137;

/// Which part of rider and bike a member of a chain is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Stage {
    /// Between ground and wheels, or ground and feet.
    Ground,
    /// Between wheels and frame.
    Suspension,
    /// Between frame (or ground) and body.
    Legs,
}

impl Stage {
    /// The stage as one word, as tables have it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Ground => "ground",
            Self::Suspension => "suspension",
            Self::Legs => "legs",
        }
    }
}

/// A member of a chain with the mass that it carries on its upper end.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Link {
    pub(super) stage: Stage,
    pub(super) part: Part,
    pub(super) mass: f64,
}

impl Link {
    /// A member and the mass above it, kg, above 0.
    pub fn new(stage: Stage, part: Part, mass: f64) -> Result<Self, LoadError> {
        Ok(Self { stage, part, mass: positive("mass", mass)? })
    }

    /// Which part of rider and bike it is.
    pub const fn stage(&self) -> Stage {
        self.stage
    }

    /// What it is made of.
    pub const fn part(&self) -> &Part {
        &self.part
    }

    /// The mass above it, kg.
    pub const fn mass(&self) -> f64 {
        self.mass
    }
}

/// A chain of masses along the surface's normal, from the ground up.
///
/// [`Rider::chain`] makes the one of a rider. A chain by hand takes any number of stages: one spring under one mass is
/// the drop of every textbook.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Chain {
    pub(super) links: Vec<Link>,
    /// What counts as a body when forces are told in body weights, kg.
    pub(super) body_mass: f64,
    /// How long it is followed at most, s.
    pub(super) longest: f64,
}

impl Chain {
    /// The chain of these links from the ground up; the lowest is a strut. The topmost mass is the body, and the chain
    /// is followed for 1 s at most.
    pub fn new(links: Vec<Link>) -> Result<Self, LoadError> {
        let body_mass = links.last().ok_or(LoadError::NoStage)?.mass;
        if !matches!(links[0].part, Part::Strut(_)) {
            return Err(LoadError::NotAStrut);
        }
        Ok(Self { links, body_mass, longest: LONGEST })
    }

    /// The same, followed for at most this long, s, above 0.
    pub fn with_longest(self, longest: f64) -> Result<Self, LoadError> {
        Ok(Self { longest: positive("longest", longest)?, ..self })
    }

    /// The links from the ground up.
    pub fn links(&self) -> &[Link] {
        &self.links
    }

    /// What counts as a body when forces are told in body weights, kg.
    pub const fn body_mass(&self) -> f64 {
        self.body_mass
    }

    /// All masses together, kg.
    pub fn mass(&self) -> f64 {
        self.links.iter().map(|link| link.mass).sum()
    }

    /// The same chain with other legs: in place of its topmost strut that yields, which it must have.
    pub(super) fn with_legs(&self, legs: Strut) -> Result<Self, LoadError> {
        let mut chain = self.clone();
        let yields = |link: &&mut Link| link.stage == Stage::Legs;
        let link = chain.links.iter_mut().rfind(yields).ok_or(LoadError::NoLegs)?;
        link.part = Part::Strut(legs);
        Ok(chain)
    }

    /// The legs, where there are some.
    pub(super) fn legs(&self) -> Option<&Strut> {
        let link = self.links.iter().rfind(|link| link.stage == Stage::Legs)?;
        match &link.part {
            Part::Strut(strut) => Some(strut),
            Part::Suspension(_) => None,
        }
    }
}

impl Rider {
    /// The chain of this rider on the bike: tyres on the ground, unsprung mass, suspension, frame, legs and arms, body.
    ///
    /// The body is the rider's mass less the bike's. Sag is that of frame and body at rest on level ground. Legs have a
    /// stop as stiff as the spine in the published model of the dynamic response index ([`response::OMEGA`]): where legs
    /// have no more to give, the trunk is what is left. The suspension's stop is 20 times as stiff as the linear spring
    /// of the same sag (an assumption).
    pub fn chain(&self, impact: &Impact) -> Result<Chain, LoadError> {
        let absorber = self.absorber();
        let body = self.body_mass()?;
        let tyres = on_ground(absorber.tyre_stiffness, impact.ground())?;
        let legs = legs(absorber, body, impact.gravity())?;
        let mut links = Vec::with_capacity(3);
        let ground = |mass| Link::new(Stage::Ground, Part::Strut(tyres), mass);
        if let Some(travel) = absorber.travel {
            let sprung = absorber.frame_mass + body;
            let part = suspension(absorber, travel, sprung * impact.gravity())?;
            links.push(ground(absorber.unsprung_mass)?);
            let part = Part::Suspension(part);
            links.push(Link::new(Stage::Suspension, part, absorber.frame_mass)?);
        } else {
            links.push(ground(absorber.bike_mass())?);
        }
        links.push(Link::new(Stage::Legs, Part::Strut(legs), body)?);
        Chain::new(links)
    }

    /// The chain of this rider's body without the bike, on foot: the legs alone on rigid ground; on softer ground the
    /// feet (2.7 % of the body: de Leva 1996) stand on it.
    pub fn chain_on_foot(&self, impact: &Impact) -> Result<Chain, LoadError> {
        let body = self.body_mass()?;
        let legs = Part::Strut(legs(self.absorber(), body, impact.gravity())?);
        let Some(stiffness) = impact.ground().stiffness() else {
            return Chain::new(vec![Link::new(Stage::Legs, legs, body)?]);
        };
        let mut ground = Strut::spring(stiffness)?;
        ground.yields_at = impact.ground().crush_force();
        let feet = Link::new(Stage::Ground, Part::Strut(ground), FEET * body)?;
        let chain = Chain::new(vec![feet, Link::new(Stage::Legs, legs, (1.0 - FEET) * body)?])?;
        Ok(Chain { body_mass: body, ..chain })
    }

    /// The rider's mass less the bike's, kg.
    fn body_mass(&self) -> Result<f64, LoadError> {
        let (mass, bike) = (self.mass(), self.absorber().bike_mass());
        if mass > bike {
            return Ok(mass - bike);
        }
        let allowed = format!("above {bike}, the absorber's unsprung and frame mass");
        Err(OutOfRange::new("mass", mass, allowed).into())
    }
}

/// The tyres, in series with the ground.
fn on_ground(tyres: f64, ground: Softness) -> Result<Strut, LoadError> {
    let stiffness = ground.stiffness().map_or(tyres, |soft| 1.0 / (1.0 / tyres + 1.0 / soft));
    let mut strut = Strut::spring(stiffness)?;
    strut.yields_at = ground.crush_force();
    Ok(strut)
}

fn suspension(absorber: &Absorber, travel: f64, load: f64) -> Result<Suspension, LoadError> {
    let spring = AirSpring::from_sag(load, travel, absorber.sag, absorber.progression)?;
    Suspension::new(spring, travel, STOP_STIFFER * load / (absorber.sag * travel))?
        .with_damping(absorber.compression, absorber.rebound)
}

fn legs(absorber: &Absorber, body: f64, gravity: f64) -> Result<Strut, LoadError> {
    Strut::spring(absorber.leg_stiffness)?
        .with_damping(absorber.leg_damping)?
        .yielding_at(absorber.leg_force * body * gravity)?
        .stopped_at(absorber.leg_stroke, body * response::OMEGA * response::OMEGA)
}
