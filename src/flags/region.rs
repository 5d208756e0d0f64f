//! The region in which a mark is to be looked for.

use crate::math::{Vec2, quantile};
use crate::ride::Lean;
use nalgebra::Matrix2;
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;

/// Marks are never known better than to this, metres.
const FINEST: f64 = 0.002;

/// One drawn mark.
#[derive(Debug, Clone, Copy)]
pub(super) struct Drawn {
    pub(super) lean: Lean,
    pub(super) weight: f64,
    pub(super) mark: Vec2,
}

/// The marks of one lean, as a normal distribution.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Cloud {
    /// The lean.
    pub lean: Lean,
    /// Its share.
    pub weight: f64,
    /// The middle, m.
    pub middle: Vec2,
    /// The covariance, m².
    pub covariance: Matrix2<f64>,
}

/// Where marks lie most thickly: all places whose density is at least that of a level, which is set so that the region holds
/// its share of the drawn marks, whatever their shape.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Region {
    clouds: Vec<Cloud>,
    half: f64,
    nine_tenths: f64,
}

impl Region {
    pub(super) fn of(drawn: &[Drawn]) -> Option<Self> {
        let total: f64 = drawn.iter().map(|one| one.weight).sum();
        let mut leans: Vec<Lean> = drawn.iter().map(|one| one.lean).collect();
        leans.dedup();
        let clouds: Vec<Cloud> = leans
            .into_iter()
            .map(|lean| {
                let own: Vec<&Drawn> = drawn.iter().filter(|one| one.lean == lean).collect();
                let weight: f64 = own.iter().map(|one| one.weight).sum();
                let middle = own.iter().map(|one| one.mark * one.weight).sum::<Vec2>() / weight;
                let square = |one: &&Drawn| {
                    let off = one.mark - middle;
                    off * off.transpose() * (one.weight / weight)
                };
                let covariance = own.iter().map(square).sum::<Matrix2<f64>>()
                    + Matrix2::identity() * (FINEST * FINEST);
                Cloud { lean, weight: weight / total, middle, covariance }
            })
            .collect();
        let region = Self { clouds, half: 0.0, nine_tenths: 0.0 };
        let level = |share: f64| {
            let each = drawn.iter().map(|one| (region.density(&one.mark), one.weight));
            quantile::weighted(each, 1.0 - share)
        };
        let (half, nine_tenths) = (level(0.5)?, level(0.9)?);
        Some(Self { half, nine_tenths, ..region })
    }

    /// The marks of each lean.
    pub fn clouds(&self) -> &[Cloud] {
        &self.clouds
    }

    /// How thickly marks lie at a place, 1/m²: all of them together 1.
    pub fn density(&self, at: &Vec2) -> f64 {
        let each = self.clouds.iter().map(|cloud| {
            let off = at - cloud.middle;
            let size = cloud.covariance.determinant();
            let square =
                cloud.covariance.try_inverse().map_or(f64::INFINITY, |i| off.dot(&(i * off)));
            cloud.weight * (-0.5 * square).exp() / (2.0 * PI * size.sqrt())
        });
        each.sum()
    }

    /// The density on the rim of the region that holds half of all marks, and of the one that holds nine tenths.
    pub const fn levels(&self) -> [f64; 2] {
        [self.half, self.nine_tenths]
    }

    /// Whether a place lies in the region that holds half of all marks.
    pub fn holds_half(&self, at: &Vec2) -> bool {
        self.density(at) >= self.half
    }

    /// Whether a place lies in the region that holds nine tenths of all marks.
    pub fn holds_nine_tenths(&self, at: &Vec2) -> bool {
        self.density(at) >= self.nine_tenths
    }

    /// The middle of all marks, m.
    pub fn middle(&self) -> Vec2 {
        self.clouds.iter().map(|cloud| cloud.middle * cloud.weight).sum()
    }

    /// The standard deviation of the marks along a level direction, m, all leans together.
    pub fn spread_along(&self, direction: &Vec2) -> f64 {
        let middle = self.middle();
        let each = self.clouds.iter().map(|cloud| {
            let off = (cloud.middle - middle).dot(direction);
            cloud.weight * (direction.dot(&(cloud.covariance * direction)) + off * off)
        });
        each.sum::<f64>().sqrt()
    }
}
