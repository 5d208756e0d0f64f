//! A curve seen from above: straight, arc and clothoid pieces with continuous heading.

use super::bends::{Bends, Spot};
use super::error::GeometryError;
use crate::math::jet::Jet;
use crate::math::range::{OutOfRange, positive};
use serde::{Deserialize, Serialize};

/// To which side a plan turns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Turn {
    /// Heading grows: counter-clockwise from above.
    Left,
    /// Heading falls: clockwise from above.
    Right,
}

impl Turn {
    /// +1 to the left, -1 to the right.
    pub const fn sign(self) -> f64 {
        match self {
            Self::Left => 1.0,
            Self::Right => -1.0,
        }
    }
}

/// A piece of a curve. Lengths and radii in metres, angles in radians; the pieces of a plan all turn to its side.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
#[non_exhaustive]
pub enum Piece {
    /// Straight on.
    Straight {
        /// Its length.
        length: f64,
    },
    /// Part of a circle.
    Arc {
        /// Its radius.
        radius: f64,
        /// The angle it turns through.
        angle: f64,
    },
    /// Curvature that changes evenly along it.
    Clothoid {
        /// Its length.
        length: f64,
        /// The radius where it begins: infinite for straight.
        radius_start: f64,
        /// The radius where it ends: infinite for straight.
        radius_end: f64,
    },
}

impl Piece {
    pub(super) fn check(&self) -> Result<(), OutOfRange> {
        let radius = |field, value: f64| {
            if value > 0.0 { Ok(()) } else { Err(OutOfRange::new(field, value, "above 0")) }
        };
        match *self {
            Self::Straight { length } => positive("length", length).map(|_| ()),
            Self::Arc { radius, angle } => {
                positive("radius", radius)?;
                positive("angle", angle).map(|_| ())
            }
            Self::Clothoid { length, radius_start, radius_end } => {
                positive("length", length)?;
                radius("radius_start", radius_start)?;
                radius("radius_end", radius_end)
            }
        }
    }

    /// The length along the piece, metres.
    pub fn length(&self) -> f64 {
        match *self {
            Self::Straight { length } | Self::Clothoid { length, .. } => length,
            Self::Arc { radius, angle } => radius * angle,
        }
    }

    /// Curvature where it begins, and how it changes a metre; neither signed by the side to which it bends.
    pub(super) fn curvature(&self) -> (f64, f64) {
        match *self {
            Self::Straight { .. } => (0.0, 0.0),
            Self::Arc { radius, .. } => (radius.recip(), 0.0),
            Self::Clothoid { length, radius_start, radius_end } => {
                let (start, end) = (radius_start.recip(), radius_end.recip());
                (start, (end - start) / length)
            }
        }
    }
}

/// A place on a plan: coordinates and heading with their derivatives by the length along the plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlanPoint {
    /// Along the heading at the start, metres.
    pub x: Jet,
    /// To the left of it, metres.
    pub y: Jet,
    /// Counter-clockwise from the heading at the start, radians.
    pub heading: Jet,
    /// Cosine of the heading.
    pub cos: Jet,
    /// Sine of the heading.
    pub sin: Jet,
}

impl PlanPoint {
    /// The curvature, positive to the left, one over metres.
    pub fn curvature(&self) -> f64 {
        self.heading.d1()
    }
}

/// A curve seen from above, followed from its start at the origin along `+x`.
///
/// Positions are exact to about `1e-14` of the length; heading is continuous, curvature may jump between pieces.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Drawing", into = "Drawing")]
pub struct Plan {
    drawing: Drawing,
    bends: Bends,
}

/// What a plan is given by.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Drawing {
    pieces: Vec<Piece>,
    turn: Turn,
}

impl TryFrom<Drawing> for Plan {
    type Error = GeometryError;
    fn try_from(drawing: Drawing) -> Result<Self, GeometryError> {
        Self::new(drawing.pieces, drawing.turn)
    }
}

impl From<Plan> for Drawing {
    fn from(plan: Plan) -> Self {
        plan.drawing
    }
}

impl Plan {
    /// The plan made of `pieces`, all turning to one side; at least one, lengths, radii and angles above zero.
    pub fn new(pieces: Vec<Piece>, turn: Turn) -> Result<Self, GeometryError> {
        let bends = Bends::new(0.0, pieces.iter().map(|piece| (turn.sign(), piece)))?;
        Ok(Self { drawing: Drawing { pieces, turn }, bends })
    }

    /// A plan of one arc: `radius` in metres, through `angle` radians.
    pub fn arc(radius: f64, angle: f64, turn: Turn) -> Result<Self, GeometryError> {
        Self::new(vec![Piece::Arc { radius, angle }], turn)
    }

    /// The pieces it is made of.
    pub fn pieces(&self) -> &[Piece] {
        &self.drawing.pieces
    }

    /// To which side it turns.
    pub fn turn(&self) -> Turn {
        self.drawing.turn
    }

    /// The length along it, metres.
    pub fn length(&self) -> f64 {
        self.bends.length()
    }

    /// The stations where pieces meet, both ends included, metres.
    pub fn joints(&self) -> Vec<f64> {
        self.bends.joints()
    }

    /// The piece that holds `station`: the first or last one beyond the ends.
    pub fn piece(&self, station: f64) -> usize {
        self.bends.piece(station)
    }

    /// The place at `station` on the given piece, continued as it bends beyond its ends.
    pub fn at(&self, piece: usize, station: f64) -> PlanPoint {
        let Spot { x, y, angle, cos, sin } = self.bends.at(piece, station);
        PlanPoint { x, y, heading: angle, cos, sin }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use std::f64::consts::{FRAC_PI_2, PI};

    fn end(plan: &Plan) -> PlanPoint {
        plan.at(plan.pieces().len() - 1, plan.length())
    }

    #[test]
    fn a_quarter_circle_ends_a_radius_out_and_a_radius_over() {
        for turn in [Turn::Left, Turn::Right] {
            let at = end(&Plan::arc(7.0, FRAC_PI_2, turn).unwrap());
            assert_relative_eq!(at.x.value(), 7.0, epsilon = 1e-13);
            assert_relative_eq!(at.y.value(), turn.sign() * 7.0, epsilon = 1e-13);
            assert_relative_eq!(at.heading.value(), turn.sign() * FRAC_PI_2);
            assert_relative_eq!(at.curvature(), turn.sign() / 7.0);
        }
    }

    /// Fresnel integrals from Abramowitz and Stegun (1964), Table 7.7: a clothoid whose curvature is pi times its
    /// length has its points at (C, S).
    #[test]
    fn clothoids_end_at_the_tabulated_fresnel_integrals() {
        let table = [
            (0.5, 0.4923442259, 0.0647324329, 1e-9),
            (1.0, 0.7798934004, 0.4382591474, 1e-9),
            (1.5, 0.4452611760, 0.6975049602, 1e-9),
            (2.0, 0.4882534061, 0.3434156784, 1e-9),
            (2.5, 0.4574130096, 0.6191817537, 5e-9),
            (3.0, 0.6057207893, 0.4963129989, 1e-9),
            (5.0, 0.5636311887, 0.4991913819, 1e-9),
        ];
        for (length, c, s, tolerance) in table {
            let at = end(&clothoid(length, f64::INFINITY, (PI * length).recip()));
            assert_relative_eq!(at.x.value(), c, epsilon = tolerance);
            assert_relative_eq!(at.y.value(), s, epsilon = tolerance);
        }
    }

    /// Fresnel integrals at 0.5 as in `SciPy`'s own tests (`special/tests/test_basic.py`, `TestFresnel`).
    #[test]
    fn a_short_clothoid_to_fifteen_digits() {
        let at = end(&clothoid(0.5, f64::INFINITY, (0.5 * PI).recip()));
        assert_relative_eq!(at.x.value(), 0.49234422587144644, epsilon = 1e-15);
        assert_relative_eq!(at.y.value(), 0.06473243285999929, epsilon = 1e-15);
    }

    /// Length and end angle as printed in the `GeoGebra` activity "Euler spiral (Clothoid)", tasks 1 and 2.
    #[test]
    fn a_clothoid_of_parameter_12_ends_at_radius_9_after_16_metres() {
        let at = end(&clothoid(12.0 * 12.0 / 9.0, f64::INFINITY, 9.0));
        assert_relative_eq!(at.heading.value().to_degrees(), 50.92, epsilon = 0.011);
        assert_relative_eq!(at.heading.value(), 8.0 / 9.0, epsilon = 1e-12);
    }

    fn clothoid(length: f64, radius_start: f64, radius_end: f64) -> Plan {
        Plan::new(vec![Piece::Clothoid { length, radius_start, radius_end }], Turn::Left).unwrap()
    }

    #[test]
    fn position_and_heading_do_not_jump_where_pieces_meet() {
        let pieces = vec![
            Piece::Straight { length: 2.0 },
            Piece::Clothoid { length: 3.0, radius_start: f64::INFINITY, radius_end: 6.0 },
            Piece::Arc { radius: 6.0, angle: 0.5 },
            Piece::Arc { radius: 9.0, angle: 0.3 },
            Piece::Clothoid { length: 1.0, radius_start: 9.0, radius_end: 40.0 },
        ];
        let plan = Plan::new(pieces, Turn::Right).unwrap();
        for (i, station) in plan.joints().into_iter().enumerate().skip(1).take(4) {
            let (a, b) = (plan.at(i - 1, station), plan.at(i, station));
            assert_eq!(plan.piece(station), i);
            assert_relative_eq!(a.x.value(), b.x.value(), epsilon = 1e-12);
            assert_relative_eq!(a.y.value(), b.y.value(), epsilon = 1e-12);
            assert_relative_eq!(a.heading.value(), b.heading.value(), epsilon = 1e-12);
        }
        let json = serde_json::to_string(&Plan::arc(7.0, 1.0, Turn::Left).unwrap()).unwrap();
        let back: Plan = serde_json::from_str(&json).unwrap();
        assert_relative_eq!(back.length(), 7.0);
    }

    #[test]
    fn bad_pieces_are_named() {
        assert_eq!(Plan::new(vec![], Turn::Left), Err(GeometryError::NoPieces));
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            let pieces =
                vec![Piece::Straight { length: 1.0 }, Piece::Arc { radius: bad, angle: 1.0 }];
            let error = Plan::new(pieces, Turn::Left).unwrap_err();
            assert!(
                matches!(error, GeometryError::Piece { index: 1, source } if source.field == "radius")
            );
        }
        let half = Piece::Clothoid { length: 1.0, radius_start: f64::NAN, radius_end: 1.0 };
        assert!(Plan::new(vec![half], Turn::Left).is_err());
    }
}
