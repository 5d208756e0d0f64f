//! A small change of a takeoff.

use super::error::{BargainError, Unfit};
use crate::{
    feature::{Bank, Lip, Wall},
    geometry::{Bend, Piece, Plan, VerticalCurve},
    math::{quantile::weighted, range::positive},
    passes::Passes,
    site::{Site, Takeoff},
};
use serde::{Deserialize, Serialize};
use std::fmt;

/// A small change of a takeoff or of the way to it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Change {
    /// A wall whose bank ends so much steeper, radians; flatter below nothing.
    EndBank(f64),
    /// A wall so much longer along its foot, metres, its banks drawn out over it; shorter below nothing.
    Length(f64),
    /// A wall whose panel is left at most so high up, metres from its foot: a rail or a painted line.
    LeaveAtMost(f64),
    /// A lip whose edge stands so much steeper, radians; flatter below nothing.
    LipAngle(f64),
    /// A speed check before the takeoff that lets nobody come onto it faster than so, m/s.
    SpeedCheck(f64),
}

impl Change {
    /// Changes worth a look for a site: a flatter end, a shorter wall, a lower exit, a speed check at the speeds that a
    /// half and a quarter of its riders exceed.
    pub fn usual(site: &Site, passes: &Passes) -> Vec<Self> {
        let shape: &[Self] = match &site.takeoff {
            Takeoff::Wall(wall) => &[
                Self::EndBank(-0.07),
                Self::EndBank(-0.14),
                Self::Length(-0.08 * wall.length()),
                Self::LeaveAtMost(upper(passes)),
            ],
            Takeoff::Lip(_) => &[Self::LipAngle(-0.05), Self::LipAngle(-0.1)],
            Takeoff::Drop(_) => &[],
        };
        let members = passes.members().iter();
        let speeds = members.filter_map(|pass| Some((pass.entry_speed?, pass.drawn.weight)));
        // Tenths of a metre a second: nobody builds a speed check closer.
        let check =
            |share| weighted(speeds.clone(), share).map(|speed| (10.0 * speed).floor() / 10.0);
        let checks = [0.75, 0.5].into_iter().filter_map(check).map(Self::SpeedCheck);
        shape.iter().copied().chain(checks).collect()
    }

    /// The site with the change.
    ///
    /// Errors: a change that this kind of takeoff cannot have, or after which it is none.
    pub fn applied(&self, site: &Site) -> Result<Site, BargainError> {
        let mut changed = site.clone();
        let takeoff = match (self, &site.takeoff) {
            (Self::SpeedCheck(speed), takeoff) => {
                changed.run_in.speed_check = Some(positive("speed_check", *speed)?);
                Ok(takeoff.clone())
            }
            (Self::LipAngle(by), Takeoff::Lip(lip)) => bent(lip, *by).map(Takeoff::from),
            (Self::EndBank(by), Takeoff::Wall(wall)) => banked(wall, *by).map(Takeoff::from),
            (Self::Length(by), Takeoff::Wall(wall)) => drawn_out(wall, *by).map(Takeoff::from),
            (Self::LeaveAtMost(most), takeoff @ Takeoff::Wall(_)) => {
                changed.leave_at_most = Some(positive("leave_at_most", *most)?);
                Ok(takeoff.clone())
            }
            _ => Err(Unfit::NotOfThis),
        };
        changed.takeoff = takeoff.map_err(|unfit| match unfit {
            Unfit::NotOfThis => {
                BargainError::NotOfThis { change: *self, takeoff: site.takeoff.name() }
            }
            Unfit::Reason(reason) => BargainError::Impossible { change: *self, reason },
        })?;
        Ok(changed)
    }
}

impl fmt::Display for Change {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let more = |by: &f64, more: &'static str, less: &'static str| {
            if *by < 0.0 { less } else { more }
        };
        match self {
            Self::EndBank(by) => {
                let word = more(by, "steeper", "flatter");
                write!(f, "end bank {:.0} degrees {word}", by.to_degrees().abs())
            }
            Self::Length(by) => {
                write!(f, "wall {:.2} m {}", by.abs(), more(by, "longer", "shorter"))
            }
            Self::LeaveAtMost(most) => write!(f, "left at most {most:.2} m up the panel"),
            Self::LipAngle(by) => {
                let word = more(by, "steeper", "flatter");
                write!(f, "lip {:.1} degrees {word}", by.to_degrees().abs())
            }
            Self::SpeedCheck(speed) => write!(f, "speed check at {speed:.1} m/s"),
        }
    }
}

/// The place on the edge that a quarter of the riders leave above, in tenths of a metre.
fn upper(passes: &Passes) -> f64 {
    let leave = passes.members().iter().filter_map(|pass| Some((pass.leave?, pass.drawn.weight)));
    (10.0 * weighted(leave, 0.75).unwrap_or(1.0)).floor().max(1.0) / 10.0
}

/// A wall in the same place with another panel: its plan, bank and width.
fn built(wall: &Wall, (plan, bank, width): (Plan, Bank, f64)) -> Result<Wall, Unfit> {
    let built = Wall::new(plan, bank, width)?
        .with_grade(wall.grade())?
        .placed(wall.position(), wall.heading())?
        .with_end_skew(wall.end_skew())?;
    Ok(match wall.hollow_radius() {
        None => built,
        Some(radius) => built.with_hollow(radius)?,
    })
}

fn banked(wall: &Wall, by: f64) -> Result<Wall, Unfit> {
    let bank = match wall.bank().ends() {
        Some((start, end)) => Bank::linear(start, end + by)?,
        // A ramp by stations gets its change in proportion to the station.
        None => with_rows(wall, |station, bank| (station, bank + by * station / wall.length()))?,
    };
    built(wall, (wall.plan().clone(), bank, wall.width()))
}

fn drawn_out(wall: &Wall, by: f64) -> Result<Wall, Unfit> {
    let plan = wall.plan();
    let Some((last, before)) = plan.pieces().split_last() else { return Err(Unfit::NotOfThis) };
    let pieces = before.iter().copied().chain([longer(last, by)]).collect();
    let plan = Plan::new(pieces, plan.turn())?;
    let share = plan.length() / wall.length();
    let bank = match wall.bank().ends() {
        Some((start, end)) => Bank::linear(start, end)?,
        None => with_rows(wall, |station, bank| (share * station, bank))?,
    };
    built(wall, (plan, bank, wall.width()))
}

fn with_rows(wall: &Wall, row: impl Fn(f64, f64) -> (f64, f64)) -> Result<Bank, Unfit> {
    let rows: Vec<(f64, f64)> =
        wall.bank().rows().iter().map(|(station, bank)| row(*station, *bank)).collect();
    Ok(Bank::stations(&rows)?)
}

/// The piece so much longer, bent as before; a clothoid's curvature goes on as it grew.
fn longer(piece: &Piece, by: f64) -> Piece {
    match *piece {
        Piece::Arc { radius, angle } => Piece::Arc { radius, angle: angle + by / radius },
        Piece::Clothoid { length, radius_start, radius_end } => {
            let (start, end) = (radius_start.recip(), radius_end.recip());
            let end = start + (end - start) * (length + by) / length;
            Piece::Clothoid { length: length + by, radius_start, radius_end: end.recip() }
        }
        Piece::Straight { length } => Piece::Straight { length: length + by },
    }
}

/// The lip with its last bend turned so much further.
fn bent(lip: &Lip, by: f64) -> Result<Lip, Unfit> {
    let curve = lip.curve();
    let mut pieces = curve.pieces().to_vec();
    let bends = |(_, piece): &&mut (Bend, Piece)| !matches!(piece, Piece::Straight { .. });
    let Some((bend, piece)) = pieces.iter_mut().rev().find(bends) else {
        return Err(Unfit::NotOfThis);
    };
    let by = if *bend == Bend::Up { by } else { -by };
    *piece = match *piece {
        Piece::Arc { radius, angle } => Piece::Arc { radius, angle: angle + by },
        Piece::Clothoid { length, radius_start, radius_end } => {
            let turn = 0.5 * length * (radius_start.recip() + radius_end.recip());
            Piece::Clothoid { length: length * (turn + by) / turn, radius_start, radius_end }
        }
        straight @ Piece::Straight { .. } => straight,
    };
    let curve = VerticalCurve::new(curve.grade(), pieces)?;
    let (start, end) = lip.tilt();
    let bent = Lip::new(curve, lip.width())?
        .placed(lip.position(), lip.heading())?
        .with_hip(lip.hip())?
        .with_end_skew(lip.end_skew())?;
    Ok(bent.with_tilt(start, end)?)
}
