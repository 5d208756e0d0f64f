//! The loads of a landing.

use super::chain::{Chain, Stage};
use super::impact::Impact;
use super::ledger::Ledger;
use super::march::{RecordEnd, Until, march};
use super::record::{Highest, Record, Track};
use super::response::{ResponseIndex, response_index};
use super::warning::LoadWarning;
use super::{LoadError, simple};
use crate::explain::Explanation;
use serde::{Deserialize, Serialize};

/// What one member of the chain takes: force and compression at the times of the record, and their peaks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct StageLoads {
    /// Which part of rider and bike it is.
    pub stage: Stage,
    /// The force in it, N, at each time; what presses it together counts positive.
    pub force: Vec<f64>,
    /// How far it is pressed together, m, at each time.
    pub compression: Vec<f64>,
    /// The highest force, N, between samples too.
    pub peak: Highest,
    /// How far it was pressed together at most, m.
    pub used: Highest,
    /// How far it goes before its stop, m, where it has one.
    pub travel: Option<f64>,
    /// The force summed over the record, N s.
    pub impulse: f64,
}

impl StageLoads {
    /// Whether it came to its stop.
    pub fn bottomed(&self) -> bool {
        self.travel.is_some_and(|travel| self.used.value > travel)
    }
}

/// What bike and body take in a landing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Loads {
    /// How it came down.
    pub impact: Impact,
    /// The chain that took it.
    pub chain: Chain,
    /// Seconds since the touch, evenly spaced.
    pub time: Vec<f64>,
    /// The members from the ground up.
    pub stages: Vec<StageLoads>,
    /// How far the body came down after the touch, m, and when it was lowest.
    pub lowest: Highest,
    /// How long the record runs, s.
    pub duration: f64,
    /// Why it ends.
    pub end: RecordEnd,
    /// Where energy and momentum went.
    pub ledger: Ledger,
    /// What is not wrong but unwise, or past what the model is good for.
    pub warnings: Vec<LoadWarning>,
}

impl Chain {
    /// What the chain takes when it comes down so.
    pub fn loads(&self, impact: &Impact) -> Result<Loads, LoadError> {
        let (mut record, mut ledger) = (Record::new(self), Ledger::default());
        let (state, duration, end) = march(self, impact, Until::End, |stretch| {
            record.add(stretch);
            ledger.add(self, stretch);
        })?;
        let ledger = ledger.close(self, impact, &state, duration);
        let stage = |(link, track): (&super::Link, Track)| StageLoads {
            stage: link.stage,
            force: track.force,
            compression: track.compression,
            peak: track.highest_force,
            used: track.deepest,
            travel: link.part.travel(),
            impulse: track.impulse,
        };
        let stages: Vec<StageLoads> = self.links.iter().zip(record.tracks).map(stage).collect();
        let mut warnings = LoadWarning::about(impact, &stages);
        if record.lowest.time >= duration {
            warnings.push(LoadWarning::NotStopped { duration });
        }
        Ok(Loads {
            impact: *impact,
            chain: self.clone(),
            time: record.time,
            stages,
            lowest: record.lowest,
            duration,
            end,
            ledger,
            warnings,
        })
    }
}

impl Loads {
    /// What a member takes, where the chain has it.
    pub fn stage(&self, stage: Stage) -> Option<&StageLoads> {
        self.stages.iter().find(|loads| loads.stage == stage)
    }

    /// The force on the body, N, at each time: that of the topmost member.
    pub fn force(&self) -> &[f64] {
        self.stages.last().map_or(&[], |loads| &loads.force)
    }

    /// The highest force on the body, N, and when.
    pub fn peak(&self) -> Highest {
        self.stages.last().map(|loads| loads.peak).unwrap_or_default()
    }

    /// A force in body weights.
    pub fn in_bodyweights(&self, force: f64) -> f64 {
        force / (self.chain.body_mass() * self.impact.gravity())
    }

    /// The highest force on the body in body weights.
    pub fn peak_bodyweights(&self) -> f64 {
        self.in_bodyweights(self.peak().value)
    }

    /// The force that would have stopped the topmost mass over the same way had it been constant, in its weights:
    /// `c + h_eq / d`, exact. No peak is below it. Not a number where it still goes down when the record ends.
    pub fn mean_bodyweights(&self) -> f64 {
        if self.lowest.time >= self.duration {
            return f64::NAN;
        }
        simple::constant_force(&self.impact, self.lowest.value)
    }

    /// The impulse that the ground gave, N s.
    pub fn impulse(&self) -> f64 {
        self.ledger.ground_impulse
    }

    /// The published dynamic response index of what the body feels. See [`response_index`] for what it was made for.
    pub fn response_index(&self) -> Result<ResponseIndex, LoadError> {
        let mass = self.chain.links().last().map_or(1.0, super::Link::mass);
        let pull = self.impact.gravity() * self.impact.slope_cos();
        let upwards: Vec<f64> = self.force().iter().map(|force| force / mass - pull).collect();
        response_index(&self.time, &upwards)
    }

    /// The model behind the numbers, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "A chain of masses along the surface's normal: tyres (and ground), which only push; unsprung mass; \
            an air spring by sag and progression, F = A ((1 - x/L)^-1.4 - 1), with separate damping in and out, between \
            stops; frame; legs and arms, a spring and a damper that yield together at a given force, up to a stop; \
            body. At the touch all of it is unloaded and moves into the surface at one speed; gravity pulls with the \
            slope's cosine. No stop gives back more than 0.5 m/s.";
        let limits = "Both wheels touch at once and count as one, the body is one mass, and legs hold back with the \
            same force whatever the rider does. Bike-specific data are few: the legs' stroke rules the result, so \
            look at the band for 0.2 to 0.5 m of stroke beside it. Past a stop the force is that of the stop, an \
            assumption. Injury is not predicted.";
        let said = Explanation::new(model, limits)
            .with_input("normal_speed", self.impact.normal_speed(), "m/s")
            .with_input("fall_height", self.impact.fall_height(), "m")
            .with_input("slope_cos", self.impact.slope_cos(), "")
            .with_input("body_mass", self.chain.body_mass(), "kg")
            .with_input("mass", self.chain.mass(), "kg");
        SOURCES.iter().fold(said, |said, source| said.with_source(*source))
    }
}

const SOURCES: [&str; 4] = [
    "D. L. Puddle, P. S. Maulder, J. Sports Sci. Med. 12 (2013) 122-129 (3.2 body weights in a practised soft landing \
     from 0.75 m: force and stroke of the legs)",
    "D. P. Ferris, C. T. Farley, J. Appl. Physiol. 82 (1997) 15-22, abstract (stiffness of legs)",
    "the gas law of one chamber, any textbook (air spring)",
    "the published dynamic response index, 52.9 rad/s (stiffness of the trunk behind the legs' stop)",
];
