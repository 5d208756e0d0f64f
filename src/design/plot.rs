//! The plot of ground on which a landing may stand, as a raster of heights: quick volumes and
//! clearances for a search. The exact shape has the last word.

use super::quick::Quick;
use crate::{
    ground::{BuiltLanding, Ground},
    math::{
        Vec2, Vec3,
        count::whole,
        outline::{contains, distance, nearest_on, overlap, sides},
    },
    site::{Bounds, Site},
};
use std::f64::consts::TAU;

/// The raster's spacing, metres.
const CELL: f64 = 0.25;
/// The most cells of a raster: beyond, the spacing grows.
const MOST_CELLS: f64 = 200_000.0;
/// How far beyond the marks the plot goes, metres.
const BORDER: f64 = 12.0;
/// How far beyond the deck the ground is looked at for how deep the batters run, metres.
const AROUND: f64 = 1.5;
/// The batters of a search run so much deeper than that, and at most so deep in all, metres.
const DEEPER: f64 = 0.3;
const DEEPEST: f64 = 6.0;
/// Toe and closed form may differ by so much, metres.
const SLACK: f64 = 0.03;

impl Fill {
    /// Both together.
    pub(super) fn with(self, other: Self) -> Self {
        Self { volume: self.volume + other.volume, unknown: self.unknown + other.unknown }
    }
}

/// Heights over a rectangle, and what a landing has to keep clear of.
pub(super) struct Plot<'a> {
    pub bounds: &'a Bounds,
    ground: &'a Ground,
    low: Vec2,
    cell: f64,
    counts: [usize; 2],
    /// Row by row; not a number where the ground is not known.
    heights: Vec<f64>,
    /// Points on the ground around edge, obstacles and keep-outs, as near as earth may come.
    fence: Vec<Vec3>,
    /// The ends of the edge that is left, in plan.
    edge: [Vec2; 2],
}

/// What building a landing on the plot comes to.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Fill {
    /// Earth, cubic metres.
    pub volume: f64,
    /// Where earth would lie beyond the known ground, square metres.
    pub unknown: f64,
}

impl<'a> Plot<'a> {
    /// The plot around where riders come down, `low` to `high` in plan.
    pub(super) fn new(site: &'a Site, ground: &'a Ground, (low, high): (Vec2, Vec2)) -> Self {
        let border = Vec2::repeat(BORDER);
        let (mut low, mut high) = (low - border, high + border);
        if let Some(known) = ground.bounds() {
            low = low.sup(&known.low.xy());
            high = high.inf(&known.high.xy());
        }
        let size = (high - low).sup(&Vec2::repeat(CELL));
        let cell = CELL.max((size.x * size.y / MOST_CELLS).sqrt());
        let counts = [size.x, size.y].map(|length| whole(length / cell) + 1);
        let height = |index: usize| {
            let (i, j) = (index % counts[0], index / counts[0]);
            let at = low + cell * Vec2::new(i as f64 + 0.5, j as f64 + 0.5);
            ground.height(at.x, at.y).unwrap_or(f64::NAN)
        };
        let heights: Vec<f64> = (0..counts[0] * counts[1]).map(height).collect();
        let edge = site.takeoff.edge_ends().map(|end| end.xy());
        let bounds = &site.landing;
        let fence = fence(&edge, bounds)
            .chain(hedge(bounds))
            .filter(|at| (0..2).all(|axis| (low[axis]..=high[axis]).contains(&at[axis])))
            .filter_map(|at| Some(at.push(ground.height(at.x, at.y)?)))
            .collect();
        Self { bounds, ground, low, cell, counts, heights, fence, edge }
    }

    /// The height of the ground itself.
    pub(super) fn height(&self, at: &Vec2) -> Option<f64> {
        self.ground.height(at.x, at.y)
    }

    /// By which angle the ground falls along a direction at a place; level where it is not known.
    pub(super) fn fall(&self, at: &Vec2, along: &Vec2) -> f64 {
        let normal = self.ground.normal(at.x, at.y);
        normal.map_or(0.0, |normal| (normal.xy().dot(along) / normal.z).atan())
    }

    /// How far a landing's earth reaches over the plot and over the faces before it, and how much there is of it.
    pub(super) fn fill(&self, quick: &Quick, before: &[Quick]) -> Fill {
        let lowest = self.lowest_in(&quick.plan_box(AROUND)) - DEEPER;
        let deepest = (quick.crest_height + quick.top() - lowest).min(DEEPEST);
        let [columns, rows] = self.window(&quick.plan_box(quick.run(deepest)));
        let area = self.cell * self.cell;
        let mut fill = Fill::default();
        for row in rows {
            for column in columns.clone() {
                let at = self.low + self.cell * Vec2::new(column as f64 + 0.5, row as f64 + 0.5);
                let ground = self.heights[row * self.counts[0] + column];
                let local = quick.local(&at);
                if quick.crest_height + quick.ceiling(&local) <= ground {
                    continue;
                }
                let under = before.iter().map(|face| face.height_at(&at)).fold(ground, f64::max);
                let earth = quick.crest_height + quick.height(local.x, local.y) - under;
                if ground.is_nan() {
                    fill.unknown += if quick.on_deck(&local) { area } else { 0.0 };
                } else if earth > 0.0 {
                    fill.volume += earth * area;
                }
            }
        }
        fill
    }

    /// The lowest known ground in a window, of every third cell each way.
    fn lowest_in(&self, corners: &[Vec2; 4]) -> f64 {
        let [columns, rows] = self.window(corners);
        let row = |row: usize| {
            let heights =
                columns.clone().step_by(3).map(move |column| row * self.counts[0] + column);
            heights.map(|index| self.heights[index]).fold(f64::INFINITY, f64::min)
        };
        rows.step_by(3).map(row).fold(f64::INFINITY, f64::min)
    }

    /// How high a landing's earth lies at most where none may lie: around edge, obstacles and keep-outs, metres.
    pub(super) fn blocked(&self, quick: &Quick) -> f64 {
        let mut most = 0.0;
        for at in &self.fence {
            let local = quick.local(&at.xy());
            if quick.crest_height + quick.ceiling(&local) - at.z > most {
                most = (quick.crest_height + quick.height(local.x, local.y) - at.z).max(most);
            }
        }
        most
    }

    /// Whether a landing as built keeps clear of edge, obstacles and keep-outs, by its toe line, and its deck within the area.
    pub(super) fn keeps(&self, built: &BuiltLanding) -> bool {
        let toe: Vec<Vec2> = built.toe().iter().map(Vec3::xy).collect();
        let [from, to] = &self.edge;
        let corner = |at: &Vec2| (nearest_on(from, to, at) - at).norm();
        let ends = distance(&toe, from).min(distance(&toe, to));
        let edge = toe.iter().map(corner).fold(ends, f64::min);
        let deck = built.deck_outline();
        edge >= self.bounds.edge_clearance
            && self.bounds.obstacles.iter().all(|o| distance(&toe, &o.position) >= o.radius)
            && !self.bounds.keep_outs.iter().any(|out| overlap(&out.corners, &toe))
            && deck.iter().all(|corner| self.outside(&corner.xy()) <= 1e-9)
    }

    fn window(&self, corners: &[Vec2; 4]) -> [std::ops::Range<usize>; 2] {
        [0, 1].map(|axis| {
            let of = |corner: &Vec2| (corner[axis] - self.low[axis]) / self.cell;
            let least = corners.iter().map(of).fold(f64::INFINITY, f64::min);
            let most = corners.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
            let count = self.counts[axis];
            whole(least).min(count)..(whole(most) + 1).min(count)
        })
    }

    /// How far a place lies outside the allowed area, metres; 0 within it, or where all is allowed.
    pub(super) fn outside(&self, at: &Vec2) -> f64 {
        let area = &self.bounds.area;
        if area.is_empty() { 0.0 } else { distance(area, at) }
    }
}

/// Points no farther apart than a raster's cell around the edge and each obstacle, and in the middle of each.
fn fence(edge: &[Vec2; 2], bounds: &Bounds) -> impl Iterator<Item = Vec2> {
    let along = edge[1] - edge[0];
    let stretches = whole((along.norm() / CELL).ceil()).max(1);
    let on_edge = (0..=stretches).map(|i| edge[0] + along * (i as f64 / stretches as f64));
    let edge = on_edge.map(|at| (at, bounds.edge_clearance));
    let all = edge.chain(bounds.obstacles.iter().map(|o| (o.position, o.radius)));
    all.collect::<Vec<(Vec2, f64)>>().into_iter().flat_map(|(middle, radius)| {
        let radius = radius + SLACK;
        let count = whole((TAU * radius / CELL).ceil());
        let around = (0..count).map(move |i| {
            let (sin, cos) = (TAU * i as f64 / count as f64).sin_cos();
            middle + radius * Vec2::new(cos, sin)
        });
        around.chain([middle])
    })
}

/// Points around each keep-out, no farther apart than a raster's cell, and so many within that no face lies between them.
fn hedge(bounds: &Bounds) -> impl Iterator<Item = Vec2> {
    let between = 0.7 * bounds.length.low.min(bounds.width.low).max(CELL);
    bounds.keep_outs.iter().flat_map(move |keep_out| {
        let corners = &keep_out.corners;
        let around = sides(corners).flat_map(move |(from, to)| {
            let count = whole(((to - from).norm() / CELL).ceil()).max(1);
            let off = out_of(corners, from, to);
            (0..=count).map(move |i| from.lerp(to, i as f64 / count as f64) + off)
        });
        around.chain(inside(corners, between))
    })
}

/// A short step out of an outline, square to one of its sides.
fn out_of(corners: &[Vec2], from: &Vec2, to: &Vec2) -> Vec2 {
    let along = (to - from).normalize();
    let off = SLACK * Vec2::new(along.y, -along.x);
    let middle = 0.5 * (from + to);
    if contains(corners, &(middle + 1e-3 * off)) { -off } else { off }
}

/// Points of a square raster within an outline.
fn inside(corners: &[Vec2], between: f64) -> impl Iterator<Item = Vec2> {
    let far = Vec2::repeat(f64::INFINITY);
    let low = corners.iter().fold(far, |low, at| low.inf(at));
    let high = corners.iter().fold(-far, |high, at| high.sup(at));
    let size = high - low;
    let between = between.max((size.x * size.y / MOST_CELLS).sqrt());
    let count = (size / between).map(f64::floor);
    let rows = (0..=whole(count.y)).map(move |j| (j as f64 + 0.5) * between);
    let places = rows.flat_map(move |y| {
        (0..=whole(count.x)).map(move |i| low + Vec2::new((i as f64 + 0.5) * between, y))
    });
    places.filter(move |at| contains(corners, at))
}
