//! Places too flat to shed water.

use super::{flood::Flood, net::Net};
use crate::math::Vec2;
use serde::{Deserialize, Serialize};
use std::collections::HashMap;

/// A place with less slope than sheds water.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Flat {
    /// Its middle in plan.
    pub middle: Vec2,
    /// Its area in plan, square metres.
    pub area: f64,
    /// Its mean slope, rise over run.
    pub slope: f64,
}

/// Smaller places are left out, square metres: less than a footprint of a bike.
const SMALLEST: f64 = 0.1;

/// The places outside the ponds with less than a slope, each all triangles that hang together by edges; largest first.
pub(super) fn flats(net: &Net, flood: &Flood, outslope: f64) -> Vec<Flat> {
    let mut level: Vec<(Flat, [usize; 3])> = Vec::new();
    for &corners in net.triangles() {
        let dry = corners.iter().all(|point| !flood.is_wet(net, *point));
        if let Some(flat) = triangle(net, corners).filter(|flat| dry && flat.slope < outslope) {
            level.push((flat, corners));
        }
    }
    let mut flats: Vec<Flat> = together(&level).into_iter().map(|group| joined(&group)).collect();
    flats.retain(|flat| flat.area >= SMALLEST);
    flats.sort_by(|a, b| b.area.total_cmp(&a.area));
    flats
}

fn triangle(net: &Net, corners: [usize; 3]) -> Option<Flat> {
    let [a, b, c] = corners.map(|point| net.points()[point]);
    let normal = (b - a).cross(&(c - a));
    let area = 0.5 * normal.z.abs();
    let middle = (a + b + c).xy() / 3.0;
    (area > 0.0).then(|| Flat { middle, area, slope: normal.xy().norm() / normal.z.abs() })
}

/// Triangles in groups that hang together by edges.
fn together(level: &[(Flat, [usize; 3])]) -> Vec<Vec<Flat>> {
    let mut beside: HashMap<(usize, usize), Vec<usize>> = HashMap::new();
    let edges = |[a, b, c]: [usize; 3]| [(a, b), (b, c), (c, a)].map(|(p, q)| (p.min(q), p.max(q)));
    for (at, (_, corners)) in level.iter().enumerate() {
        for edge in edges(*corners) {
            beside.entry(edge).or_default().push(at);
        }
    }
    let mut seen = vec![false; level.len()];
    let mut groups = Vec::new();
    for start in 0..level.len() {
        if seen[start] {
            continue;
        }
        seen[start] = true;
        let (mut group, mut at) = (vec![start], 0);
        while let Some(&one) = group.get(at) {
            at += 1;
            for edge in edges(level[one].1) {
                for &next in beside.get(&edge).into_iter().flatten() {
                    if !seen[next] {
                        seen[next] = true;
                        group.push(next);
                    }
                }
            }
        }
        groups.push(group.into_iter().map(|one| level[one].0).collect());
    }
    groups
}

fn joined(group: &[Flat]) -> Flat {
    let area: f64 = group.iter().map(|flat| flat.area).sum();
    let middle: Vec2 = group.iter().map(|flat| flat.middle * flat.area).sum();
    let slope: f64 = group.iter().map(|flat| flat.slope * flat.area).sum();
    Flat { middle: middle / area, area, slope: slope / area }
}
