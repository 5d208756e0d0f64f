//! How steep a wall stands along its length.

use super::error::WallError;
use crate::math::jet::Jet;
use crate::math::range::{OutOfRange, finite};
use crate::math::spline::Spline;
use serde::{Deserialize, Serialize};

/// How finely a ramp between given stations is searched for angles out of range.
const CHECKS_PER_PIECE: usize = 32;

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
enum Shape {
    Linear { start: f64, end: f64 },
    Stations(Spline),
}

/// The bank angle along a wall, radians from level, by stations along its foot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Bank(Shape);

impl Bank {
    /// A bank that changes evenly from `start` to `end` (radians, 0 to a right angle) over the wall's length.
    pub fn linear(start: f64, end: f64) -> Result<Self, WallError> {
        for bank in [start, end] {
            let degrees = finite("bank_deg", bank.to_degrees())?;
            if !in_range(bank) {
                return Err(OutOfRange::new("bank_deg", degrees, "from 0 to 90").into());
            }
        }
        Ok(Self(Shape::Linear { start, end }))
    }

    /// The same bank all along: a wall ride.
    pub fn constant(bank: f64) -> Result<Self, WallError> {
        Self::linear(bank, bank)
    }

    /// A ramp through rows of station (metres along the foot) and bank (radians), with continuous second
    /// derivative. Stations rise and cover the wall.
    pub fn stations(rows: &[(f64, f64)]) -> Result<Self, WallError> {
        let (stations, banks): (Vec<f64>, Vec<f64>) = rows.iter().copied().unzip();
        let spline = Spline::through(&stations, &banks).map_err(WallError::Bank)?;
        Ok(Self(Shape::Stations(spline)))
    }

    /// The bank at the start and the end of an even ramp, radians; none for a ramp by stations.
    pub fn ends(&self) -> Option<(f64, f64)> {
        match self.0 {
            Shape::Linear { start, end } => Some((start, end)),
            Shape::Stations(_) => None,
        }
    }

    /// The rows of station, metres, and bank, radians, of a ramp by stations; empty for an even one.
    pub fn rows(&self) -> Vec<(f64, f64)> {
        match &self.0 {
            Shape::Linear { .. } => Vec::new(),
            Shape::Stations(spline) => {
                spline.knots().iter().copied().zip(spline.values().iter().copied()).collect()
            }
        }
    }

    /// The stations where the ramp's pieces meet, none for an even one.
    pub(super) fn knots(&self) -> &[f64] {
        match &self.0 {
            Shape::Linear { .. } => &[],
            Shape::Stations(spline) => spline.knots(),
        }
    }

    pub(super) fn piece(&self, station: f64) -> usize {
        match &self.0 {
            Shape::Linear { .. } => 0,
            Shape::Stations(spline) => spline.piece(station),
        }
    }

    /// The bank at a station on a given piece, for a wall of this length.
    pub(super) fn at(&self, piece: usize, station: f64, length: f64) -> Jet {
        match &self.0 {
            Shape::Linear { start, end } => {
                let rate = (end - start) / length;
                Jet::new(start + rate * station, rate, 0.0, 0.0)
            }
            Shape::Stations(spline) => spline.at(piece, station),
        }
    }

    /// Checks that the ramp covers a wall of this length and stays in range up to `reach`.
    pub(super) fn check(&self, length: f64, reach: f64) -> Result<(), WallError> {
        let knots = self.knots();
        if let (Some(&first), Some(&last)) = (knots.first(), knots.last()) {
            let slack = 1e-9 * length;
            if first > slack || last < length - slack {
                return Err(WallError::BankCover { first, last, length });
            }
        }
        match self.along(length, reach).find(|(_, bank)| !in_range(*bank)) {
            Some((station, bank)) => {
                Err(WallError::BankRange { station, bank_deg: bank.to_degrees() })
            }
            None => Ok(()),
        }
    }

    /// Checks that a panel of this width, bent up across by `hollow_radius`, stands no steeper than upright at its top.
    pub(super) fn check_top(
        &self,
        length: f64,
        reach: f64,
        width: f64,
        hollow_radius: f64,
    ) -> Result<(), WallError> {
        let steeper = width / hollow_radius;
        match self.along(length, reach).find(|(_, bank)| !in_range(bank + steeper)) {
            Some((station, bank)) => Err(WallError::Overhang {
                station,
                hollow_radius,
                top_deg: (bank + steeper).to_degrees(),
            }),
            None => Ok(()),
        }
    }

    /// Stations up to `reach` and the bank there, close enough to see where it goes.
    fn along(&self, length: f64, reach: f64) -> impl Iterator<Item = (f64, f64)> + '_ {
        let checks = CHECKS_PER_PIECE * self.knots().len().max(2);
        (0..=checks).map(move |i| {
            let station = reach * i as f64 / checks as f64;
            (station, self.at(self.piece(station), station, length).value())
        })
    }
}

/// From level to upright, with room for the rounding of degrees turned into radians.
fn in_range(bank: f64) -> bool {
    (-1e-12..=std::f64::consts::FRAC_PI_2 + 1e-12).contains(&bank)
}
