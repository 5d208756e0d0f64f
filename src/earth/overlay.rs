//! Layers of height over the plan, laid over each other and integrated piece by piece.

use super::{split::by_sign, volume::Volume};
use crate::{
    ground::Piece,
    math::{Vec2, bilinear::Bilinear, polygon::Polygon},
};

/// Which surface a layer is part of; a surface is as high as the highest of its layers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    Before,
    After,
    Both,
}

impl Role {
    pub(super) fn is_part_of(self, surface: Self) -> bool {
        self == surface || self == Self::Both
    }
}

/// Pieces of height that overlap nowhere, with the boxes they lie in.
#[derive(Debug)]
pub(super) struct Layer {
    role: Role,
    pieces: Vec<(Vec2, Vec2, Piece)>,
}

impl Layer {
    pub(super) fn new(role: Role, pieces: Vec<Piece>) -> Self {
        let boxed = |piece: Piece| {
            let (low, high) = piece.outline.bounds()?;
            Some((low, high, piece))
        };
        Self { role, pieces: pieces.into_iter().filter_map(boxed).collect() }
    }

    /// What a region shares with each piece, and the piece's height there.
    fn over(&self, region: &Polygon) -> impl Iterator<Item = (Polygon, &Bilinear)> {
        let bounds = region.bounds();
        let near = move |low: &Vec2, high: &Vec2| {
            bounds.is_some_and(|(from, to)| {
                low.x < to.x && from.x < high.x && low.y < to.y && from.y < high.y
            })
        };
        self.pieces
            .iter()
            .filter(move |(low, high, _)| near(low, high))
            .map(|(_, _, piece)| (region.intersection(&piece.outline), &piece.height))
            .filter(|(shared, _)| !shared.is_empty())
    }
}

/// The heights of the layers that are known to cover a region.
#[derive(Debug, Clone, Default)]
struct Present {
    heights: Vec<(Role, Bilinear)>,
}

impl Present {
    fn with(&self, role: Role, height: &Bilinear) -> Self {
        let mut heights = self.heights.clone();
        heights.push((role, *height));
        Self { heights }
    }

    fn of(&self, surface: Role) -> Vec<Bilinear> {
        let part = self.heights.iter().filter(|(role, _)| role.is_part_of(surface));
        part.map(|(_, height)| *height).collect()
    }
}

/// What looks at the parts of the plan over which both surfaces have one formula each, and at the depth between them.
type Show<'a> = &'a mut dyn FnMut(&Polygon, &Bilinear);

/// The volume between the surfaces over a region, where both have a layer.
pub(super) fn volume_over(region: &Polygon, layers: &[Layer]) -> Volume {
    over(region, &Present::default(), layers, &mut |_, _| {})
}

/// Shows all parts of a region over which each surface has one formula for its height; some of them twice, and some
/// cut where another layer lies higher.
pub(super) fn parts_over(region: &Polygon, layers: &[Layer], show: Show<'_>) {
    over(region, &Present::default(), layers, show);
}

/// The first layer covers part of the region only. So the volume is that without the layer, plus,
/// over each of its pieces, what its presence changes: no outline but a convex one is ever needed.
fn over(region: &Polygon, present: &Present, layers: &[Layer], show: Show<'_>) -> Volume {
    let covered = |surface: Role| {
        present.heights.iter().any(|(role, _)| role.is_part_of(surface))
            || layers.iter().any(|layer| layer.role.is_part_of(surface))
    };
    if !covered(Role::Before) || !covered(Role::After) {
        return Volume::default();
    }
    let Some((layer, rest)) = layers.split_first() else { return between(region, present, show) };
    let mut volume = over(region, present, rest, show);
    for (shared, height) in layer.over(region) {
        volume += over(&shared, &present.with(layer.role, height), rest, show);
        volume -= over(&shared, present, rest, &mut |_, _| {});
    }
    volume
}

/// The volume between the surfaces over a region that all the layers present cover.
fn between(region: &Polygon, present: &Present, show: Show<'_>) -> Volume {
    let mut volume = Volume::default();
    highest(region.clone(), &present.of(Role::Before), &mut |part, before| {
        highest(part, &present.of(Role::After), &mut |part, after| {
            if before != after {
                let depth = after.above(before);
                show(&part, &depth);
                volume += signed(part, &depth);
            }
        });
    });
    volume
}

fn signed(region: Polygon, depth: &Bilinear) -> Volume {
    let signed = by_sign(region, depth);
    let integral = |parts: &[Polygon]| parts.iter().map(|part| part.integral(depth)).sum::<f64>();
    let area = |parts: &[Polygon]| parts.iter().map(Polygon::area).sum::<f64>();
    let mut volume = Volume { fill: integral(&signed.above), ..Volume::default() };
    volume.cut = -integral(&signed.below);
    volume.fill_area = if volume.fill > 0.0 { area(&signed.above) } else { 0.0 };
    volume.cut_area = if volume.cut > 0.0 { area(&signed.below) } else { 0.0 };
    volume
}

/// Cuts a region into the parts where each of the heights is the highest, and shows them.
fn highest(region: Polygon, heights: &[Bilinear], show: &mut dyn FnMut(Polygon, &Bilinear)) {
    match heights {
        [] => {}
        [height] => show(region, height),
        [first, second, rest @ ..] => {
            let signed = by_sign(region, &first.above(second));
            for (parts, higher) in [(signed.above, first), (signed.below, second)] {
                let mut left = vec![*higher];
                left.extend_from_slice(rest);
                for part in parts {
                    highest(part, &left, show);
                }
            }
        }
    }
}
