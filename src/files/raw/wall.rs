//! The wall as a site file writes it.

use super::{Piece, piece};
use crate::feature::{self, WallError};
use crate::files::angle::degrees;
use crate::files::fault::Fault;
use crate::files::quantity::{Bank, Grade, Heading, Length, Metres, Reach, Skew, Sweep};
use crate::geometry::{self, GeometryError, Plan};
use crate::math::Vec3;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A wall: a panel swept along a curve in plan, leaning outwards by its bank.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(in crate::files) struct Wall {
    /// To which side it turns, seen by the rider.
    turn: Turn,
    /// The radius of the foot line in plan, with `sweep_deg`; or give `pieces`.
    #[serde(skip_serializing_if = "Option::is_none")]
    radius: Option<Length>,
    /// How far the foot line turns, with `radius`.
    #[serde(skip_serializing_if = "Option::is_none")]
    sweep_deg: Option<Sweep>,
    /// The foot line in plan, piece by piece, instead of one radius and sweep.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pieces: Vec<Piece>,
    /// The bank at the start and at the end, even between; or rows of a station along the foot line and the bank there.
    bank_deg: BankAngles,
    /// The width of the panel from its foot up.
    width: Length,
    /// The radius by which the panel bends up across, so that it stands steeper the higher up; flat where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    hollow_radius: Option<Length>,
    /// The grade of the foot line; 0 where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    grade: Option<Grade>,
    /// Where the foot line starts: x, y, z.
    position: [Metres; 3],
    /// The heading of the foot line at its start.
    heading_deg: Heading,
    /// How far the end edge leans back from square, seen on the panel; 0 where it is not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    end_skew_deg: Option<Skew>,
}

/// The side to which a wall turns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub(in crate::files) enum Turn {
    Left,
    Right,
}

/// The bank along a wall.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub(in crate::files) enum BankAngles {
    /// At the start and at the end.
    Ends([Bank; 2]),
    /// Stations along the foot line and the bank at each.
    Rows(#[schemars(length(min = 2))] Vec<(Reach, Bank)>),
}

impl Wall {
    /// The keys for a wall.
    pub(in crate::files) fn of(wall: &feature::Wall) -> Self {
        let (radius, sweep_deg, pieces) = match wall.plan().pieces() {
            [geometry::Piece::Arc { radius, angle }] => {
                (Some(Length(*radius)), Some(Sweep(degrees(*angle))), Vec::new())
            }
            pieces => (None, None, pieces.iter().map(Piece::of).collect()),
        };
        Self {
            turn: match wall.plan().turn() {
                geometry::Turn::Left => Turn::Left,
                geometry::Turn::Right => Turn::Right,
            },
            radius,
            sweep_deg,
            pieces,
            bank_deg: BankAngles::of(wall.bank()),
            width: Length(wall.width()),
            hollow_radius: wall.hollow_radius().map(Length),
            grade: (wall.grade() != 0.0).then_some(Grade(wall.grade())),
            position: <[f64; 3]>::from(wall.position()).map(Metres),
            heading_deg: Heading(degrees(wall.heading())),
            end_skew_deg: (wall.end_skew() != 0.0).then_some(Skew(degrees(wall.end_skew()))),
        }
    }

    /// The wall.
    pub(in crate::files) fn wall(&self) -> Result<feature::Wall, Fault> {
        let plan = self.plan()?;
        let position = Vec3::from(self.position.map(f64::from));
        let heading = self.heading_deg.0.to_radians();
        let bank = self.bank_deg.bank().map_err(fault)?;
        feature::Wall::new(plan, bank, self.width.0)
            .and_then(|wall| wall.with_grade(self.grade.map_or(0.0, f64::from)))
            .and_then(|wall| {
                wall.with_end_skew(self.end_skew_deg.map_or(0.0, f64::from).to_radians())
            })
            .and_then(|wall| wall.placed(position, heading))
            .and_then(|wall| wall.with_hollow(self.hollow_radius.map_or(f64::INFINITY, f64::from)))
            .map_err(fault)
    }

    fn plan(&self) -> Result<Plan, Fault> {
        let turn = match self.turn {
            Turn::Left => geometry::Turn::Left,
            Turn::Right => geometry::Turn::Right,
        };
        let plan = match (self.radius, self.sweep_deg, self.pieces.as_slice()) {
            (Some(radius), Some(sweep), []) => Plan::arc(radius.0, sweep.0.to_radians(), turn),
            (None, None, [_, ..]) => Plan::new(piece::each(&self.pieces, Piece::piece)?, turn),
            _ => return Err(Fault::unfit("", "expected radius and sweep_deg, or pieces")),
        };
        plan.map_err(|error| fault(error.into()))
    }
}

impl BankAngles {
    fn of(bank: &feature::Bank) -> Self {
        let row = |(station, angle)| (Reach(station), Bank(degrees(angle)));
        match bank.ends() {
            Some((start, end)) => Self::Ends([start, end].map(|angle| Bank(degrees(angle)))),
            None => Self::Rows(bank.rows().into_iter().map(row).collect()),
        }
    }

    fn bank(&self) -> Result<feature::Bank, WallError> {
        match self {
            Self::Ends([start, end]) => {
                feature::Bank::linear(start.0.to_radians(), end.0.to_radians())
            }
            Self::Rows(rows) => {
                let rows: Vec<_> =
                    rows.iter().map(|(s, bank)| (s.0, bank.0.to_radians())).collect();
                feature::Bank::stations(&rows)
            }
        }
    }
}

fn fault(error: WallError) -> Fault {
    match error {
        WallError::Range(error) | WallError::Plan(GeometryError::Range(error)) => error.into(),
        WallError::Plan(GeometryError::Piece { index, source }) => {
            Fault::from(source).within(&format!("pieces[{index}]"))
        }
        error
        @ (WallError::Bank(_) | WallError::BankRange { .. } | WallError::BankCover { .. }) => {
            Fault::unfit("bank_deg", error.to_string())
        }
        error @ WallError::Overhang { .. } => Fault::unfit("hollow_radius", error.to_string()),
        other => Fault::unfit("", other.to_string()),
    }
}
