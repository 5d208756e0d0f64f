//! The exact volume between two grounds.

use super::overlay::{Layer, Role, volume_over};
use crate::{
    ground::{BuiltLanding, Ground, Surface},
    math::{Vec2, polygon::Polygon},
};
use serde::{Deserialize, Serialize};
use std::ops::{AddAssign, SubAssign};

/// Earth moved between a surface before and one after, fill and cut apart.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Volume {
    /// Where the surface after is the higher, cubic metres.
    pub fill: f64,
    /// Where the surface after is the lower, cubic metres.
    pub cut: f64,
    /// The plan area of the fill, square metres.
    pub fill_area: f64,
    /// The plan area of the cut, square metres.
    pub cut_area: f64,
}

impl Volume {
    /// Fill less cut: the earth that has to come from elsewhere, cubic metres.
    pub fn net(&self) -> f64 {
        self.fill - self.cut
    }
}

impl AddAssign for Volume {
    fn add_assign(&mut self, other: Self) {
        self.fill += other.fill;
        self.cut += other.cut;
        self.fill_area += other.fill_area;
        self.cut_area += other.cut_area;
    }
}

impl SubAssign for Volume {
    fn sub_assign(&mut self, other: Self) {
        self.fill -= other.fill;
        self.cut -= other.cut;
        self.fill_area -= other.fill_area;
        self.cut_area -= other.cut_area;
    }
}

/// Why there is no volume between two grounds.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum VolumeError {
    /// Both grounds run on for ever and differ.
    #[error(
        "the volume between two planes that run on for ever has no end; give a survey or a grid"
    )]
    Unbounded,
    /// The grounds have no plan area in common.
    #[error("the two grounds do not overlap in plan")]
    Apart,
}

/// The volume between two grounds, over the plan area that both cover; cubic metres.
///
/// Planes, triangles and facets are integrated exactly (to rounding); the bilinear cells of a grid
/// too, but for the line where fill turns into cut, which is found to 0.01 mm in height (an error
/// of less than a millionth of a cubic metre). What both grounds share, such as the ground under a
/// landing, counts nothing outside the rest. Elevation differences are taken straight down, so
/// loose, placed and settled states are the same here: see [`super::Loads`] for those.
pub fn volume(before: &Ground, after: &Ground) -> Result<Volume, VolumeError> {
    let both = overlaid(before, after)?;
    Ok(both.map_or_else(Volume::default, |(region, layers)| volume_over(&region, &layers)))
}

/// The part of the plan where two grounds differ and are both there, with their layers; `None` where they are the same.
pub(super) fn overlaid(
    before: &Ground,
    after: &Ground,
) -> Result<Option<(Polygon, Vec<Layer>)>, VolumeError> {
    let layers = layers(before, after);
    let differs = |role: &Role| *role != Role::Both;
    if !layers.iter().any(|(role, _)| differs(role)) {
        return Ok(None);
    }
    let (low, high) = extent(&layers)?;
    let pieces = |(role, layer): (Role, Surface)| Layer::new(role, layer.pieces(low, high));
    let layers: Vec<Layer> = layers.into_iter().map(pieces).collect();
    Ok(Some((Polygon::rectangle(low, high), layers)))
}

impl BuiltLanding {
    /// The earth in the landing above its ground, cubic metres, exactly as [`volume`] says.
    pub fn volume(&self) -> Result<Volume, VolumeError> {
        volume(self.ground(), &self.ground().with_built(self))
    }
}

/// The layers of both grounds, those first that both have.
fn layers(before: &Ground, after: &Ground) -> Vec<(Role, Surface)> {
    let (before, after) = (before.surfaces(), after.surfaces());
    let shared = |layer: &Surface, others: &[Surface]| others.contains(layer);
    let mut layers = Vec::new();
    for layer in before {
        let role = if shared(layer, after) { Role::Both } else { Role::Before };
        layers.push((role, layer.clone()));
    }
    let only_after = after.iter().filter(|layer| !shared(layer, before));
    layers.extend(only_after.map(|layer| (Role::After, layer.clone())));
    layers.sort_by_key(|(role, _)| *role != Role::Both);
    layers
}

/// The box outside which the grounds do not differ, or are not both there.
fn extent(layers: &[(Role, Surface)]) -> Result<(Vec2, Vec2), VolumeError> {
    let differs = reach(layers, |role| role != Role::Both);
    let before = reach(layers, |role| role.is_part_of(Role::Before));
    let after = reach(layers, |role| role.is_part_of(Role::After));
    let low = differs.0.sup(&before.0).sup(&after.0);
    let high = differs.1.inf(&before.1).inf(&after.1);
    if low.x >= high.x || low.y >= high.y {
        return Err(VolumeError::Apart);
    }
    if low.iter().chain(high.iter()).all(|x| x.is_finite()) {
        return Ok((low, high));
    }
    Err(VolumeError::Unbounded)
}

/// The box about the layers of some role; inside out where there are none.
fn reach(layers: &[(Role, Surface)], wanted: impl Fn(Role) -> bool) -> (Vec2, Vec2) {
    let nothing = (Vec2::repeat(f64::INFINITY), Vec2::repeat(f64::NEG_INFINITY));
    let wanted = layers.iter().filter(|(role, _)| wanted(*role));
    wanted.fold(nothing, |(low, high), (_, layer)| {
        let (from, to) = layer.plan_bounds();
        (low.inf(&from), high.sup(&to))
    })
}

#[cfg(test)]
mod tests;
