//! Areas in plan of any shape, given by their corners in order: whether they are one, what they hold, how far off it is.

use super::Vec2;
use robust::{Coord, orient2d};
use serde::{Deserialize, Serialize};

/// The most corners: each side is looked at against each other one.
const MOST: usize = 2000;

/// Why corners do not go around an area.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[non_exhaustive]
pub enum OutlineError {
    /// Too few corners.
    #[error("{found} corners go around no area: give at least three, in order")]
    TooFew {
        /// How many there are.
        found: usize,
    },
    /// Too many corners.
    #[error("{found} corners are more than {MOST}: leave out those that hardly bend the outline")]
    TooMany {
        /// How many there are.
        found: usize,
    },
    /// Two corners in a row at one place.
    #[error(
        "corners {first} and {second} both stand at ({x}, {y}): leave one out; the outline closes by itself"
    )]
    Repeated {
        /// The one corner, from 1.
        first: usize,
        /// The other.
        second: usize,
        /// Where they stand, m.
        x: f64,
        /// Where they stand, m.
        y: f64,
    },
    /// Two sides that meet where they should not.
    #[error(
        "side {first} (corner {first} to {}) and side {second} (corner {second} to {}) cross at ({x:.2}, {y:.2}): give the corners in the order in which one walks around the area",
        after(*first, *corners), after(*second, *corners)
    )]
    Crosses {
        /// The one side, from 1; it starts at the corner of its number.
        first: usize,
        /// The other.
        second: usize,
        /// How many corners there are.
        corners: usize,
        /// About where they meet, m.
        x: f64,
        /// About where they meet, m.
        y: f64,
    },
}

/// The number of the corner at which a side ends.
const fn after(side: usize, corners: usize) -> usize {
    side % corners + 1
}

/// Nothing where the corners go around one area: three or more, apart, no two sides crossing or touching but neighbours at
/// their corner. Exact for the numbers given, whatever their rounding.
pub fn check(corners: &[Vec2]) -> Result<(), OutlineError> {
    let found = corners.len();
    if found < 3 {
        return Err(OutlineError::TooFew { found });
    }
    if found > MOST {
        return Err(OutlineError::TooMany { found });
    }
    if let Some((at, (corner, _))) = sides(corners).enumerate().find(|(_, (a, b))| a == b) {
        let (first, second) = (at + 1, after(at + 1, found));
        return Err(OutlineError::Repeated { first, second, x: corner.x, y: corner.y });
    }
    let all: Vec<Side> = sides(corners).collect();
    for (i, one) in all.iter().enumerate() {
        for (j, other) in all.iter().enumerate().skip(i + 1) {
            let meet = match (j - i, found - (j - i)) {
                (1, _) => folds_back(*one, *other),
                (_, 1) => folds_back(*other, *one),
                _ => touch(*one, *other),
            };
            if meet {
                let at = middle(*one, *other);
                let (first, second) = (i + 1, j + 1);
                return Err(OutlineError::Crosses {
                    first,
                    second,
                    corners: found,
                    x: at.x,
                    y: at.y,
                });
            }
        }
    }
    Ok(())
}

/// A side: from one corner to another.
pub type Side<'a> = (&'a Vec2, &'a Vec2);

/// The sides in order, the last one back to the first corner.
pub fn sides(corners: &[Vec2]) -> impl Iterator<Item = (&Vec2, &Vec2)> {
    corners.iter().zip(corners.iter().cycle().skip(1))
}

/// Whether an outline holds a point: by the number of its sides that a ray crosses.
pub fn contains(corners: &[Vec2], at: &Vec2) -> bool {
    let crossed = sides(corners).filter(|(a, b)| {
        (a.y > at.y) != (b.y > at.y) && at.x < a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x)
    });
    crossed.count() % 2 == 1
}

/// How far a point is from the nearest side, inside or out; infinite where there is no side.
pub fn from_sides(corners: &[Vec2], at: &Vec2) -> f64 {
    let off = |(a, b): Side| (nearest_on(a, b, at) - at).norm();
    sides(corners).map(off).fold(f64::INFINITY, f64::min)
}

/// How far a point is from an area; 0 within it.
pub fn distance(corners: &[Vec2], at: &Vec2) -> f64 {
    if contains(corners, at) { 0.0 } else { from_sides(corners, at) }
}

/// Whether two areas have a point in common.
pub fn overlap(one: &[Vec2], other: &[Vec2]) -> bool {
    let holds = |area: &[Vec2], of: &[Vec2]| of.first().is_some_and(|at| contains(area, at));
    holds(one, other)
        || holds(other, one)
        || sides(one).any(|side| sides(other).any(|against| touch(side, against)))
}

/// The point of a segment that is nearest to a point.
pub fn nearest_on(from: &Vec2, to: &Vec2, at: &Vec2) -> Vec2 {
    let along = to - from;
    let length = along.norm_squared();
    let share = if length > 0.0 { ((at - from).dot(&along) / length).clamp(0.0, 1.0) } else { 0.0 };
    from + share * along
}

/// On which side of a line a point lies: left of it positive, the sign exact.
fn turn(from: &Vec2, to: &Vec2, at: &Vec2) -> f64 {
    let coord = |p: &Vec2| Coord { x: p.x, y: p.y };
    orient2d(coord(from), coord(to), coord(at))
}

/// Whether two segments have a point in common.
pub fn touch((a, b): Side, (c, d): Side) -> bool {
    if a.inf(b).iter().zip(c.sup(d).iter()).any(|(low, high)| low > high)
        || c.inf(d).iter().zip(a.sup(b).iter()).any(|(low, high)| low > high)
    {
        return false;
    }
    let parts = |(from, to): Side, (p, q): Side| {
        let (p, q) = (turn(from, to, p), turn(from, to, q));
        !((p > 0.0 && q > 0.0) || (p < 0.0 && q < 0.0))
    };
    parts((a, b), (c, d)) && parts((c, d), (a, b))
}

/// Whether a side runs back over the one before it.
fn folds_back((a, b): Side, (_, c): Side) -> bool {
    turn(a, b, c) == 0.0 && (b - a).dot(&(c - b)) < 0.0
}

/// About where two segments that meet do so.
fn middle((a, b): Side, (c, d): Side) -> Vec2 {
    let (along, against) = (b - a, d - c);
    let across = along.perp(&against);
    let share = (c - a).perp(&against) / across;
    if share.is_finite() { a + share.clamp(0.0, 1.0) * along } else { nearest_on(a, b, c) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn outline(points: &[(f64, f64)]) -> Vec<Vec2> {
        points.iter().map(|(x, y)| Vec2::new(*x, *y)).collect()
    }

    #[test]
    fn sides_that_cross_are_named() {
        let bow = outline(&[(0.0, 0.0), (4.0, 0.0), (0.0, 3.0), (4.0, 3.0)]);
        let error = check(&bow).unwrap_err();
        let OutlineError::Crosses { first, second, x, y, .. } = error else { panic!("{error}") };
        assert_eq!((first, second), (2, 4));
        assert!((x - 2.0).abs() < 1e-15 && (y - 1.5).abs() < 1e-15);
        assert!(error.to_string().contains("side 4 (corner 4 to 1)"));
    }

    #[test]
    fn corners_that_are_no_outline_say_why() {
        let few = check(&outline(&[(0.0, 0.0), (1.0, 0.0)])).unwrap_err();
        assert_eq!(few, OutlineError::TooFew { found: 2 });
        let closed = outline(&[(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (0.0, 0.0)]);
        let twice = check(&closed).unwrap_err();
        assert!(matches!(twice, OutlineError::Repeated { first: 4, second: 1, .. }));
        // Flat: the second side runs back over the first.
        let flat = outline(&[(0.0, 0.0), (2.0, 0.0), (1.0, 0.0)]);
        assert!(matches!(check(&flat).unwrap_err(), OutlineError::Crosses { first: 1, .. }));
        // A corner on a side that is not its own.
        let pinched = outline(&[(0.0, 0.0), (4.0, 0.0), (4.0, 2.0), (2.0, 0.0), (0.0, 2.0)]);
        let Err(OutlineError::Crosses { first, second, .. }) = check(&pinched) else { panic!() };
        assert_eq!((first, second), (1, 3));
        let round = |i: u32| Vec2::new(f64::from(i).cos(), f64::from(i).sin());
        let many = check(&(0..2001).map(round).collect::<Vec<_>>()).unwrap_err();
        assert_eq!(many, OutlineError::TooMany { found: 2001 });
    }

    #[test]
    fn a_hollow_outline_holds_what_it_goes_around() {
        let angle =
            outline(&[(0.0, 0.0), (3.0, 0.0), (3.0, 1.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0)]);
        assert_eq!(check(&angle), Ok(()));
        assert!(contains(&angle, &Vec2::new(0.5, 2.5)) && !contains(&angle, &Vec2::new(2.0, 2.0)));
        assert!((distance(&angle, &Vec2::new(2.0, 1.75)) - 0.75).abs() < 1e-15);
        assert!((from_sides(&angle, &Vec2::new(0.5, 2.0)) - 0.5).abs() < 1e-15);
        let square = |x: f64, y: f64, size: f64| {
            outline(&[(x, y), (x + size, y), (x + size, y + size), (x, y + size)])
        };
        assert!(!overlap(&angle, &square(1.5, 1.5, 1.0)));
        assert!(
            overlap(&angle, &square(0.2, 0.2, 0.1)) && overlap(&square(-1.0, -1.0, 9.0), &angle)
        );
        // Neither holds a corner of the other.
        let bar = outline(&[(-1.0, 0.4), (5.0, 0.4), (5.0, 0.6), (-1.0, 0.6)]);
        assert!(overlap(&angle, &bar));
    }

    proptest! {
        /// A star around its middle never crosses itself; one that is nearly a circle does once two of its corners are
        /// exchanged that are a third of the way apart.
        #[test]
        fn stars_are_outlines_until_corners_are_exchanged(
            radii in proptest::collection::vec(0.5..3.0_f64, 9..40),
        ) {
            let count = radii.len() as f64;
            let corner = |(i, radius): (usize, &f64)| {
                let (sin, cos) = (std::f64::consts::TAU * i as f64 / count).sin_cos();
                Vec2::new(100.0 + radius * cos, radius * sin)
            };
            let mut star: Vec<Vec2> = radii.iter().enumerate().map(corner).collect();
            prop_assert_eq!(check(&star), Ok(()));
            star.reverse();
            prop_assert_eq!(check(&star), Ok(()));
            let middle = Vec2::new(100.0, 0.0);
            let round = |p: &Vec2| middle + (p - middle).normalize() * (3.0 + 0.01 * (p - middle).norm());
            let mut circle: Vec<Vec2> = star.iter().map(round).collect();
            circle.swap(0, star.len() / 3);
            let crossed = matches!(check(&circle), Err(OutlineError::Crosses { .. }));
            prop_assert!(crossed);
        }
    }
}
