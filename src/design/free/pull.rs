//! How a touchdown answers to the nodes of the grid under it.

use super::patch::Patch;
use crate::design::barrow::Response;
use crate::flight::Flight;
use crate::math::count::whole;
use crate::math::{Vec2, Vec3};
use crate::touchdown::Contact;
use nalgebra::Matrix2;

/// A mark this near to a line of the grid is on it, where the touch's normal is not the cell's own; metres.
const ON_LINE: f64 = 1e-5;
/// Normals closer than this are the same.
const SAME: f64 = 1e-6;
/// A mark higher than this over the patch is not on it, metres: the present ground stands out between nodes.
const OFF: f64 = 0.02;

/// One touchdown's fall height, and its change by the height of each node under it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Pull {
    pub(super) fall_height: f64,
    /// Places among the unknowns, with metres a metre.
    pub(super) by_node: Vec<(usize, f64)>,
}

/// One rider's ways down, of which the hardest counts, and his share over the limit squared.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ways {
    pub(super) ways: Vec<Pull>,
    pub(super) share: f64,
}

impl Ways {
    /// The way that falls highest.
    pub(super) fn hardest(&self) -> Option<&Pull> {
        self.ways.iter().max_by(|a, b| a.fall_height.total_cmp(&b.fall_height))
    }

    /// His part of the severity.
    pub(super) fn severity(&self) -> f64 {
        self.hardest().map_or(0.0, |way| self.share * way.fall_height.powi(2))
    }
}

impl Pull {
    /// How a step of the nodes changes the fall height, to first order, metres.
    pub(super) fn change(&self, step: &[f64]) -> f64 {
        self.by_node.iter().map(|(node, rate)| rate * step[*node]).sum()
    }

    /// The pull of a flight's touch; none where it touches before it is upright, or off the patch.
    pub(super) fn of(flight: &Flight, patch: &Patch, earth: &[f64]) -> Option<Self> {
        let contact = flight.touchdown().contact.filter(Contact::is_upright)?;
        let cell = Cell::under(patch, earth, &contact)?;
        let by_node = match cell.feature(&contact) {
            Feature::Inside => cell.inside(flight, &contact)?,
            Feature::Edge(a, b) => cell.edge(flight, &contact, a, b)?,
            Feature::Corner(a) => corner(flight, &contact, a)?,
        };
        let known = |(corner, rate): (usize, f64)| Some((patch.unknown(cell.nodes[corner])?, rate));
        let by_node = by_node.into_iter().filter_map(known).collect();
        Some(Self { fall_height: contact.fall_height, by_node })
    }
}

/// What of a cell is touched; corners are numbered as [`Cell::nodes`] are.
enum Feature {
    Inside,
    Edge(usize, usize),
    Corner(usize),
}

/// The bilinear cell under a mark.
struct Cell {
    /// Low left, low right, high left, high right.
    nodes: [usize; 4],
    heights: [f64; 4],
    /// Where in it the mark is, 0 to 1 along both axes.
    inside: Vec2,
    spacing: f64,
}

impl Cell {
    fn under(patch: &Patch, earth: &[f64], contact: &Contact) -> Option<Self> {
        let spacing = patch.spacing();
        let at = (contact.mark.xy() - patch.origin()) / spacing;
        let (columns, rows) = patch.size();
        let last = Vec2::new(columns as f64 - 2.0, rows as f64 - 2.0);
        if at.min() < 0.0 || at.x > last.x + 1.0 || at.y > last.y + 1.0 {
            return None;
        }
        let low = at.map(f64::floor).inf(&last);
        let first = whole(low.y) * columns + whole(low.x);
        let nodes = [first, first + 1, first + columns, first + columns + 1];
        let heights = nodes.map(|node| patch.bare()[node] + earth[node]);
        let cell = Self { nodes, heights, inside: at - low, spacing };
        let shares = cell.shares();
        let height: f64 = (0..4).map(|corner| shares[corner] * heights[corner]).sum();
        (contact.mark.z - height < OFF).then_some(cell)
    }

    /// What each corner's height counts at the mark.
    fn shares(&self) -> [f64; 4] {
        let (u, v) = (self.inside.x, self.inside.y);
        [(1.0 - u) * (1.0 - v), u * (1.0 - v), (1.0 - u) * v, u * v]
    }

    /// What each corner's height counts for the gradient at the mark.
    fn rates(&self) -> [Vec2; 4] {
        let (u, v) = (self.inside.x, self.inside.y);
        let rates = [(v - 1.0, u - 1.0), (1.0 - v, -u), (-v, 1.0 - u), (v, u)];
        rates.map(|(x, y)| Vec2::new(x, y) / self.spacing)
    }

    fn slope(&self) -> Vec2 {
        let rates = self.rates();
        (0..4).map(|corner| rates[corner] * self.heights[corner]).sum()
    }

    fn feature(&self, contact: &Contact) -> Feature {
        let slope = self.slope();
        let own = Vec3::new(-slope.x, -slope.y, 1.0).normalize();
        if (own - contact.normal).norm() < SAME {
            return Feature::Inside;
        }
        let near = ON_LINE / self.spacing;
        let side = |x: f64| match x {
            x if x < near => Some(0),
            x if x > 1.0 - near => Some(1),
            _ => None,
        };
        match (side(self.inside.x), side(self.inside.y)) {
            (Some(i), Some(j)) => Feature::Corner(i + 2 * j),
            (Some(i), None) => Feature::Edge(i, i + 2),
            (None, Some(j)) => Feature::Edge(2 * j, 2 * j + 1),
            (None, None) => Feature::Inside,
        }
    }

    fn inside(&self, flight: &Flight, contact: &Contact) -> Option<Vec<(usize, f64)>> {
        let [a, b, c, d] = self.heights;
        let twist = (a - b - c + d) / (self.spacing * self.spacing);
        let response = Response::of(flight, contact, Matrix2::new(0.0, twist, twist, 0.0))?;
        let (shares, rates) = (self.shares(), self.rates());
        let rate = |corner: usize| {
            response.by_height * shares[corner] + response.by_slope.dot(&rates[corner])
        };
        Some((0..4).map(|corner| (corner, rate(corner))).collect())
    }

    /// A touch of the straight between two corners: the ball about the centre of mass rests on it.
    ///
    /// With `p` the touched place, `e` the way along the edge and `n = (c - p) / h`: `n . (c - p)` stays `h` and
    /// `(c - p) . e` stays 0, which gives the change of time and place, and so of `n`.
    fn edge(
        &self,
        flight: &Flight,
        contact: &Contact,
        a: usize,
        b: usize,
    ) -> Option<Vec<(usize, f64)>> {
        let along_x = b == a + 1;
        let level = if along_x { Vec3::x() } else { Vec3::y() };
        let grade = (self.heights[b] - self.heights[a]) / self.spacing;
        let edge = level + Vec3::z() * grade;
        let share = if along_x { self.inside.x } else { self.inside.y };
        let (n, v, height) = (contact.normal, contact.velocity, flight.reach().height());
        let rate = |raised: f64, steeper: f64| {
            let later = n.z * raised / n.dot(&v);
            let up = v * later - Vec3::z() * raised;
            let farther = (up.dot(&edge) + height * n.z * steeper) / edge.norm_squared();
            harder(flight, contact, later, (up - edge * farther) / height)
        };
        let steeper = self.spacing.recip();
        Some(vec![(a, rate(1.0 - share, -steeper)?), (b, rate(share, steeper)?)])
    }
}

/// A touch of a corner: the ball about the centre of mass rests on it.
fn corner(flight: &Flight, contact: &Contact, corner: usize) -> Option<Vec<(usize, f64)>> {
    let later = contact.normal.z / contact.normal.dot(&contact.velocity);
    let turned = (contact.velocity * later - Vec3::z()) / flight.reach().height();
    Some(vec![(corner, harder(flight, contact, later, turned)?)])
}

/// The change of the fall height where the touch comes so much later, with a normal turned by so much.
fn harder(flight: &Flight, contact: &Contact, later: f64, turned: Vec3) -> Option<f64> {
    let path = flight.flight_path();
    let acceleration = path.motion(contact.time).acceleration;
    let faster = -acceleration.dot(&contact.normal) * later - contact.velocity.dot(&turned);
    let change = contact.normal_speed * faster / path.forces().g();
    change.is_finite().then_some(change)
}
