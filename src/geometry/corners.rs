//! Straight pieces in a vertical plane with their corners rounded by true arcs.

use super::error::GeometryError;
use crate::math::jet::Jet;
use serde::{Deserialize, Serialize};

/// A piece of a rounded polyline, as height over level distance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub(super) enum Stretch {
    /// A straight through a point, at a gradient.
    Straight { x: f64, z: f64, gradient: f64 },
    /// A circle about a point; `bend` is +1 in a hollow (its centre above), -1 over a crest.
    Arc { x: f64, z: f64, radius: f64, bend: f64 },
}

impl Stretch {
    pub(super) fn height(&self, at: f64) -> Jet {
        match *self {
            Self::Straight { x, z, gradient } => {
                Jet::new(z + gradient * (at - x), gradient, 0.0, 0.0)
            }
            Self::Arc { x, z, radius, bend } => {
                let off = Jet::variable(at - x);
                let square = Jet::constant(radius * radius) - off * off;
                Jet::constant(z) - square.sqrt() * bend
            }
        }
    }
}

/// A rounded corner: how much it takes of the straights beside it, and its arc.
struct Corner {
    tangent: f64,
    /// Level distances where the arc begins and ends.
    from: f64,
    to: f64,
    arc: Stretch,
}

/// The breaks and stretches of the polyline through the points with every corner rounded by `radius`.
pub(super) fn rounded(
    x: &[f64],
    z: &[f64],
    radius: f64,
) -> Result<(Vec<f64>, Vec<Stretch>), GeometryError> {
    let gradients: Vec<f64> =
        x.windows(2).zip(z.windows(2)).map(|(x, z)| (z[1] - z[0]) / (x[1] - x[0])).collect();
    let corners: Vec<Option<Corner>> = (1..x.len() - 1)
        .map(|i| corner(x[i], z[i], gradients[i - 1], gradients[i], radius))
        .collect();
    check_room(x, &gradients, &corners, radius)?;
    let (mut breaks, mut stretches) = (vec![x[0]], Vec::new());
    for (i, gradient) in gradients.iter().enumerate() {
        let corner = corners.get(i).and_then(Option::as_ref);
        stretches.push(Stretch::Straight { x: x[i], z: z[i], gradient: *gradient });
        breaks.push(corner.map_or(x[i + 1], |corner| corner.from));
        if let Some(corner) = corner {
            stretches.push(corner.arc);
            breaks.push(corner.to);
        }
    }
    Ok((breaks, stretches))
}

fn corner(x: f64, z: f64, before: f64, after: f64, radius: f64) -> Option<Corner> {
    let (a, b) = (before.atan(), after.atan());
    let turn = b - a;
    if turn.abs() < 1e-9 {
        return None;
    }
    let bend = turn.signum();
    let tangent = radius * (0.5 * turn.abs()).tan();
    let from = x - tangent * a.cos();
    let centre_x = from - bend * radius * a.sin();
    let centre_z = z - tangent * a.sin() + bend * radius * a.cos();
    let arc = Stretch::Arc { x: centre_x, z: centre_z, radius, bend };
    Some(Corner { tangent, from, to: x + tangent * b.cos(), arc })
}

fn check_room(
    x: &[f64],
    gradients: &[f64],
    corners: &[Option<Corner>],
    radius: f64,
) -> Result<(), GeometryError> {
    let taken = |i: Option<usize>| {
        i.and_then(|i| corners.get(i)).and_then(Option::as_ref).map_or(0.0, |c| c.tangent)
    };
    for (index, gradient) in gradients.iter().enumerate() {
        let length = (x[index + 1] - x[index]) * gradient.hypot(1.0);
        let needed = taken(index.checked_sub(1)) + taken(Some(index));
        if needed >= length {
            return Err(GeometryError::RadiusTooLarge { index, radius, length, needed });
        }
    }
    Ok(())
}
