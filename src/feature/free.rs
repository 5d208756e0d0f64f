//! The free line: what a rider does on a wall who just lets it run.
//!
//! Nothing is carried across the line: `S = 0` at every station, drag counted, standing square to the surface. With
//! `n` the surface's normal, `t` the tyres' direction, `V` their speed, `c` the centre of mass `h` off the tyres along
//! `n`, and `'` by metres of the tyres' line, the contact gives `f = N n + F t` per mass. The energy equation of a
//! ride, `E' = -g c_z' + D . c' - Crr N` with `E = (|c'|^2 + lambda) V^2 / 2`, says `f . c' = -Crr N - lambda dV/dt`;
//! and since `c'` lies in the tangent plane, `F = -(Crr N + lambda dV/dt) / (t . c')`. So
//!
//! `a_c = G + D + N n - (Crr N + lambda dV/dt) t / (t . c')`
//!
//! with `G` gravity, `D` the drag per mass, `lambda` the share of the mass that the wheels' spin counts for. Without
//! wheels' inertia the centre of mass is a particle on the parallel surface that only rolling and drag hold back.
//! Along the two tangents of the panel this is linear in the second derivatives of station and height by time, which
//! are integrated by Gauss collocation of order 24.
//!
//! Where the plan's curvature jumps while the bank changes, a panel has a crease along its ruling: the tyres go over
//! it at the angle to the ruling at which they come, as a taut thread does, and `E + g c_z` carries over, as in a ride.

mod end;
mod entry;
mod equation;
mod error;
mod events;
mod march;
mod panel;
mod parts;
mod speed;
mod track;

pub use end::{FreeEnd, FreeOutcome};
pub use entry::FreeEntry;
pub use error::FreeError;
pub use speed::FreeAim;

use super::wall::Wall;
use crate::air::Air;
use crate::explain::Explanation;
use crate::geometry::{Line, Turn, Uphill};
use crate::rider::Rider;
use equation::Equation;
use march::March;
use track::FreeTrack;

/// A free line up to where it ends, as a line like any other, and how it ends.
#[derive(Debug, Clone)]
pub struct FreeLine {
    line: Line,
    end: FreeEnd,
    entry: FreeEntry,
}

impl Wall {
    /// The line of a rider who lets it run from `entry`, up to where it ends.
    ///
    /// Ridden again as a given line at the entry's speed, square to the surface and without brake or pedalling, its
    /// side load is below `1e-8` m/s² everywhere. Errors: numbers out of range, a line that ends where it starts, and
    /// a hollow tighter than twice the height of the centre of mass. See the [module](crate::feature::free) for the
    /// equation.
    pub fn free_line(
        &self,
        rider: &Rider,
        air: &Air,
        entry: &FreeEntry,
    ) -> Result<FreeLine, FreeError> {
        entry.check(self)?;
        let run = March::new(Equation::new(self, rider, air), entry)?.run()?;
        // Where a line turns back, the side on which the panel rises changes on the way.
        let uphill = if run.turns_back { Uphill::Nowhere } else { Uphill::To(self.outside()) };
        let (end, track) = (run.end, FreeTrack::new(run));
        Ok(FreeLine { line: Line::along(track, uphill), end, entry: *entry })
    }

    /// The side to which the panel rises.
    fn outside(&self) -> Turn {
        match self.plan().turn() {
            Turn::Left => Turn::Right,
            Turn::Right => Turn::Left,
        }
    }
}

impl FreeLine {
    /// The line, up to where it ends.
    pub fn line(&self) -> &Line {
        &self.line
    }

    /// How and where it ends.
    pub fn end(&self) -> &FreeEnd {
        &self.end
    }

    /// How it was entered.
    pub fn entry(&self) -> &FreeEntry {
        &self.entry
    }

    /// The same where it reaches the end edge; else the error that says how it ends before.
    pub fn at_edge(self) -> Result<Self, FreeError> {
        match self.end.outcome {
            FreeOutcome::Edge => Ok(self),
            _ => Err(FreeError::NotAtEdge { end: self.end }),
        }
    }

    /// The model, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "The centre of mass is a particle on the surface parallel to the wall at its height: gravity, \
             drag, the load along the normal, rolling resistance and the wheels' inertia along the tyres' direction, \
             nothing across it.";
        let limits = "Nobody rides without steering: it says where a wall leads, not where a rider goes. Square to \
             the surface, one rigid body, one normal for both wheels, no steering dynamics, no pumping, smooth wall; \
             a line that falls below 0.1 m/s counts as stalled.";
        Explanation::new(model, limits)
            .with_input("enter", self.entry.height, "m")
            .with_input("speed", self.entry.speed, "m/s")
            .with_input("heading", self.entry.heading.to_degrees(), "degrees")
            .with_source("Newton's second law with one constraint; derived in the documentation of feature::free")
    }
}
