//! Straights, arcs and clothoids one after the other in a plane: where each begins, and how it bends.

use super::error::GeometryError;
use super::plan::Piece;
use crate::math::jet::Jet;
use crate::math::quadrature;
use crate::math::range::finite;
use serde::{Deserialize, Serialize};

/// The angle that one quadrature panel may turn through and stay exact to rounding, radians.
const TURN_PER_PANEL: f64 = 1.0;

/// A place on a curve in a plane, with derivatives by the length along it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spot {
    pub(super) x: Jet,
    pub(super) y: Jet,
    /// The angle of the tangent from `x`, towards `y`.
    pub(super) angle: Jet,
    pub(super) cos: Jet,
    pub(super) sin: Jet,
}

/// Where a piece begins, and how it bends.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
struct Start {
    station: f64,
    x: f64,
    y: f64,
    angle: f64,
    /// Curvature and its rate, signed by the side to which the piece bends.
    curvature: f64,
    rate: f64,
}

impl Start {
    fn angle(&self, along: f64) -> f64 {
        self.angle + along * (self.curvature + 0.5 * along * self.rate)
    }

    /// How far the curve has come from this start in `x` and `y`, `along` metres on.
    fn way(&self, along: f64) -> (f64, f64) {
        if self.rate == 0.0 {
            // The chord of a circle, or the straight itself.
            let half = 0.5 * along * self.curvature;
            let chord = if half.abs() < 1e-8 { along } else { along * half.sin() / half };
            let (sin, cos) = (self.angle + half).sin_cos();
            return (chord * cos, chord * sin);
        }
        let bend = self.curvature.abs() + (self.curvature + along * self.rate).abs();
        let parts = bounded_count(0.5 * bend * along.abs() / TURN_PER_PANEL);
        let integral =
            |f: fn(f64) -> f64| quadrature::composite(|s| f(self.angle(s)), 0.0, along, parts);
        (integral(f64::cos), integral(f64::sin))
    }
}

/// A whole number of panels, at least one and not absurd.
fn bounded_count(panels: f64) -> usize {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped to a small positive number before"
    )]
    let count = panels.ceil().clamp(1.0, 1e4) as usize;
    count
}

/// Pieces joined with a continuous angle, from the origin on; curvature may jump between them.
///
/// Positions are exact to about `1e-14` of the length.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bends {
    starts: Vec<Start>,
    length: f64,
}

impl Bends {
    /// The curve that begins at `angle` and is made of pieces, each with the sign of the side to which it bends.
    pub(super) fn new<'a>(
        angle: f64,
        pieces: impl Iterator<Item = (f64, &'a Piece)>,
    ) -> Result<Self, GeometryError> {
        let mut starts = Vec::new();
        let (mut station, mut x, mut y, mut angle) = (0.0, 0.0, 0.0, angle);
        for (index, (sign, piece)) in pieces.enumerate() {
            piece.check().map_err(|source| GeometryError::Piece { index, source })?;
            let (curvature, rate) = piece.curvature();
            let (curvature, rate) = (sign * curvature, sign * rate);
            let start = Start { station, x, y, angle, curvature, rate };
            let (dx, dy) = start.way(piece.length());
            angle = start.angle(piece.length());
            (station, x, y) = (station + piece.length(), x + dx, y + dy);
            starts.push(start);
        }
        if starts.is_empty() {
            return Err(GeometryError::NoPieces);
        }
        finite("length", station)?;
        Ok(Self { starts, length: station })
    }

    /// The length along it, metres.
    pub(super) fn length(&self) -> f64 {
        self.length
    }

    /// The stations where pieces meet, both ends included, metres.
    pub(super) fn joints(&self) -> Vec<f64> {
        self.starts.iter().map(|start| start.station).chain([self.length]).collect()
    }

    /// The piece that holds `station`: the first or last one beyond the ends.
    pub(super) fn piece(&self, station: f64) -> usize {
        self.starts.partition_point(|start| start.station <= station).max(1) - 1
    }

    /// The place at `station` on the given piece, continued as it bends beyond its ends.
    pub(super) fn at(&self, piece: usize, station: f64) -> Spot {
        let start = self.starts[piece.min(self.starts.len() - 1)];
        let along = station - start.station;
        let curvature = start.curvature + along * start.rate;
        let angle = Jet::new(start.angle(along), curvature, start.rate, 0.0);
        let (sin, cos) = angle.sin_cos();
        let (dx, dy) = start.way(along);
        Spot { x: cos.integral(start.x + dx), y: sin.integral(start.y + dy), angle, cos, sin }
    }
}
