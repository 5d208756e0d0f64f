//! Volumes by hand: from cross-sections along a line, and from depths on a grid or on triangles.
//!
//! These are the methods of the printed handbooks, for checking a volume with tape and paper. The
//! exact volume between two surfaces is [`super::volume`].

use crate::math::range::{OutOfRange, finite, non_negative, positive};
use serde::{Deserialize, Serialize};

/// Why sections or depths give no volume.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[non_exhaustive]
pub enum SectionError {
    /// A number is out of its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// Too few sections.
    #[error("{given} sections are too few: {needed} at least")]
    TooFew {
        /// How many there are.
        given: usize,
        /// How many the method needs.
        needed: usize,
    },
    /// Simpson's rule wants an odd number of sections.
    #[error("{given} sections are an even number: Simpson's rule needs an odd one")]
    Even {
        /// How many there are.
        given: usize,
    },
    /// Two lists that belong together differ in length.
    #[error("{left} of one and {right} of the other: the lists need the same length")]
    Lengths {
        /// Length of the first list.
        left: usize,
        /// Length of the second list.
        right: usize,
    },
    /// Stations that do not increase.
    #[error("station {station} does not lie past the one before it, {before}")]
    Order {
        /// The station.
        station: f64,
        /// The one before it.
        before: f64,
    },
}

/// How the volume between two neighbouring sections is reckoned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Between {
    /// Half the sum of the end areas times the distance.
    EndAreas,
    /// As [`Between::EndAreas`], but a third of the area times the distance where one end area is
    /// zero: a pyramid, for which the end areas give half as much again as the truth.
    EndAreasAndPyramids,
    /// The frustum of a cone or pyramid: `L/3 (A + B + sqrt(A B))`.
    Frusta,
}

/// The volume of the sections of areas `areas` at `stations` along a line, cubic metres.
///
/// Needs two sections at least, stations that increase, areas of at least 0. Exact for what each
/// rule is named after; between end areas a solid that narrows is over-reckoned.
pub fn along(stations: &[f64], areas: &[f64], between: Between) -> Result<f64, SectionError> {
    check_areas(areas, 2)?;
    if stations.len() != areas.len() {
        return Err(SectionError::Lengths { left: stations.len(), right: areas.len() });
    }
    let mut sum = 0.0;
    for (s, a) in stations.windows(2).zip(areas.windows(2)) {
        if let ([from, to], [near, far]) = (s, a) {
            sum += step(*from, *to)? * between.mean(*near, *far);
        }
    }
    Ok(sum)
}

/// The volume of equally spaced sections by the trapezoidal rule, cubic metres.
pub fn trapezoidal(areas: &[f64], spacing: f64) -> Result<f64, SectionError> {
    check_areas(areas, 2)?;
    let ends = areas.first().unwrap_or(&0.0) + areas.last().unwrap_or(&0.0);
    Ok(positive("spacing", spacing)? * (areas.iter().sum::<f64>() - 0.5 * ends))
}

/// The volume of equally spaced sections by Simpson's rule, cubic metres.
///
/// Takes each second section as the middle one of a prismoid; exact where areas are cubic in the
/// distance. The number of sections has to be odd, three at least.
pub fn simpson(areas: &[f64], spacing: f64) -> Result<f64, SectionError> {
    check_areas(areas, 3)?;
    if areas.len().is_multiple_of(2) {
        return Err(SectionError::Even { given: areas.len() });
    }
    let ends = areas.first().unwrap_or(&0.0) + areas.last().unwrap_or(&0.0);
    let odd: f64 = areas.iter().skip(1).step_by(2).sum();
    let even: f64 = areas.iter().step_by(2).sum::<f64>() - ends;
    Ok(positive("spacing", spacing)? / 3.0 * (ends + 4.0 * odd + 2.0 * even))
}

/// The volume of one prismoid from its end areas and the area half-way, cubic metres.
pub fn prismoid(near: f64, middle: f64, far: f64, length: f64) -> Result<f64, SectionError> {
    check_areas(&[near, middle, far], 3)?;
    Ok(positive("length", length)? / 6.0 * (near + 4.0 * middle + far))
}

/// The volume under depths on a grid (a borrow pit), cubic metres: cell by cell, mean of four corners.
///
/// `depths` are row-major, `columns` of them in a row, `dx` and `dy` the cell's sides. The same as
/// weighting each depth by the number of cells it is a corner of. Exact for the bilinear surface.
pub fn grid(depths: &[f64], columns: usize, dx: f64, dy: f64) -> Result<f64, SectionError> {
    let cell = positive("dx", dx)? * positive("dy", dy)?;
    if columns < 2 || depths.len() < 2 * columns {
        return Err(SectionError::TooFew { given: depths.len(), needed: 4.max(2 * columns) });
    }
    if !depths.len().is_multiple_of(columns) {
        return Err(SectionError::Lengths { left: depths.len(), right: columns });
    }
    for depth in depths {
        finite("depth", *depth)?;
    }
    let rows: Vec<&[f64]> = depths.chunks(columns).collect();
    let row_sum = |row: &[f64]| row.windows(2).map(|pair| pair.iter().sum::<f64>()).sum::<f64>();
    let pairs = rows.iter().zip(rows.iter().skip(1));
    Ok(0.25 * cell * pairs.map(|(a, b)| row_sum(a) + row_sum(b)).sum::<f64>())
}

/// The volume of a vertical prism on a triangle in plan, cubic metres: area times mean depth.
///
/// Exact between two planes; the sum over a triangulated survey is exact for it.
pub fn prism(corners: [[f64; 2]; 3], depths: [f64; 3]) -> Result<f64, SectionError> {
    for value in corners.iter().flatten().chain(&depths) {
        finite("corners or depths", *value)?;
    }
    let [[ax, ay], [bx, by], [cx, cy]] = corners;
    let area = 0.5 * ((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)).abs();
    Ok(area * depths.iter().sum::<f64>() / 3.0)
}

impl Between {
    fn mean(self, near: f64, far: f64) -> f64 {
        match self {
            Self::EndAreasAndPyramids if near == 0.0 || far == 0.0 => (near + far) / 3.0,
            Self::EndAreas | Self::EndAreasAndPyramids => 0.5 * (near + far),
            Self::Frusta => (near + far + (near * far).sqrt()) / 3.0,
        }
    }
}

fn step(from: f64, to: f64) -> Result<f64, SectionError> {
    if to > from && (to - from).is_finite() {
        return Ok(to - from);
    }
    Err(SectionError::Order { station: to, before: from })
}

fn check_areas(areas: &[f64], needed: usize) -> Result<(), SectionError> {
    if areas.len() < needed {
        return Err(SectionError::TooFew { given: areas.len(), needed });
    }
    for area in areas {
        non_negative("area", *area)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests;
