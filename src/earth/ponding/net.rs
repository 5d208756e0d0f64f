//! A ground as triangles, with who is next to whom.

use super::{Drainage, PondingError};
use crate::ground::{Ground, Surface, Survey};
use crate::math::range::OutOfRange;
use crate::math::{Vec2, Vec3};
use std::collections::{HashMap, HashSet};

/// Most points that are taken of a ground.
const MOST: f64 = 2e6;

/// Points closer together than this are one, metres.
const SAME_PLACE: f64 = 1e-6;

/// Points of a ground and the triangles between them.
#[derive(Debug)]
pub(super) struct Net {
    points: Vec<Vec3>,
    triangles: Vec<[usize; 3]>,
    neighbours: Vec<Vec<usize>>,
    border: Vec<usize>,
}

impl Net {
    pub(super) fn of(ground: &Ground, drainage: &Drainage) -> Result<Self, PondingError> {
        match (ground.surfaces(), drainage.area()) {
            ([Surface::Survey(survey)], None) => Ok(Self::new(survey)),
            _ => Ok(Self::new(&Survey::new(&sampled(ground, drainage)?)?)),
        }
    }

    fn new(survey: &Survey) -> Self {
        let points = survey.points().to_vec();
        let corners = survey.mesh().triangles().iter();
        let triangles: Vec<[usize; 3]> = corners.map(|t| t.map(|i| i as usize)).collect();
        let mut neighbours = vec![Vec::new(); points.len()];
        let mut edges: HashMap<(usize, usize), u32> = HashMap::new();
        for &[a, b, c] in &triangles {
            for (p, q) in [(a, b), (b, c), (c, a)] {
                let count = edges.entry((p.min(q), p.max(q))).or_insert(0);
                *count += 1;
                if *count == 1 {
                    neighbours[p].push(q);
                    neighbours[q].push(p);
                }
            }
        }
        let mut border: Vec<usize> = edges
            .into_iter()
            .filter(|(_, count)| *count == 1)
            .flat_map(|((p, q), _)| [p, q])
            .collect();
        border.sort_unstable();
        border.dedup();
        Self { points, triangles, neighbours, border }
    }

    pub(super) fn points(&self) -> &[Vec3] {
        &self.points
    }

    pub(super) fn triangles(&self) -> &[[usize; 3]] {
        &self.triangles
    }

    pub(super) fn neighbours(&self, point: usize) -> &[usize] {
        &self.neighbours[point]
    }

    /// The points around the outside, from which water runs off.
    pub(super) fn border(&self) -> &[usize] {
        &self.border
    }
}

/// The ground's own points within the area, and a lattice over it.
fn sampled(ground: &Ground, drainage: &Drainage) -> Result<Vec<Vec3>, PondingError> {
    let whole = ground.bounds().map(|bounds| (bounds.low.xy(), bounds.high.xy()));
    let (low, high) = drainage.area().or(whole).ok_or(PondingError::Unbounded)?;
    let cells = ((high - low) / drainage.spacing()).map(|cells| cells.ceil().max(1.0));
    if (cells.x + 1.0) * (cells.y + 1.0) > MOST {
        let allowed = format!("so wide that the area takes at most {MOST} points");
        return Err(OutOfRange::new("spacing", drainage.spacing(), allowed).into());
    }
    let mut places = own_points(ground, low, high);
    places.extend(lattice(low, high, cells));
    let mut seen = HashSet::with_capacity(places.len());
    places
        .retain(|at| seen.insert([at.x, at.y].map(|x| ((x / SAME_PLACE).round() + 0.0).to_bits())));
    let stands = |at: &Vec2| Some(Vec3::new(at.x, at.y, ground.height(at.x, at.y)?));
    let points: Vec<Vec3> = places.iter().filter_map(stands).collect();
    if points.len() < 3 {
        let (low, high) = ([low.x, low.y], [high.x, high.y]);
        return Err(PondingError::NoGround { low, high });
    }
    Ok(points)
}

fn own_points(ground: &Ground, low: Vec2, high: Vec2) -> Vec<Vec2> {
    let of = |surface: &Surface| match surface {
        Surface::Survey(survey) => survey.points().to_vec(),
        Surface::Landing { mesh, .. } => mesh.vertices().to_vec(),
        Surface::Grid(grid) => {
            let corners =
                (0..grid.rows()).flat_map(|row| (0..grid.columns()).map(move |at| (at, row)));
            corners.filter_map(|(at, row)| grid.corner(at, row)).collect()
        }
        _ => Vec::new(),
    };
    let within = |at: &Vec2| low.x <= at.x && at.x <= high.x && low.y <= at.y && at.y <= high.y;
    let points = ground.surfaces().iter().flat_map(of);
    points.map(|point| point.xy()).filter(within).collect()
}

fn lattice(low: Vec2, high: Vec2, cells: Vec2) -> impl Iterator<Item = Vec2> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "whole numbers from 1 to the greatest number of points"
    )]
    let (columns, rows) = (cells.x as u32, cells.y as u32);
    let share = |i: u32, of: u32| f64::from(i) / f64::from(of);
    (0..=rows).flat_map(move |row| {
        (0..=columns).map(move |column| {
            let at = Vec2::new(share(column, columns), share(row, rows));
            low + (high - low).component_mul(&at)
        })
    })
}
