//! The toe: where the batters come down to the ground.

use super::{FACET, Landing, LandingError, deck::Deck, facets::turns};
use crate::{
    ground::{Ground, Mesh},
    math::{Vec2, Vec3},
};

/// The greatest distance between two lines of search along an edge of the deck, metres.
const EDGE: f64 = 0.25;

/// The distance in plan between two looks at the ground along a line, metres.
const STEP: f64 = 0.1;

/// How closely a toe is found along its line, metres.
const CLOSE: f64 = 1e-7;

/// A line in plan, along which a batter runs down: from the deck's edge, in a direction.
#[derive(Debug, Clone, Copy)]
struct Line {
    from: Vec2,
    along: Vec2,
}

/// The toe line, counter-clockwise in plan from behind the right end of the crest.
///
/// Found along lines that run down the batters, at most 4 degrees apart around corners and
/// [`EDGE`] along edges. Where the edge of the deck itself lies in the ground, the edge.
pub(super) fn toe(
    ground: &Ground,
    landing: &Landing,
    deck: &Deck,
    mesh: &Mesh,
) -> Result<Vec<Vec3>, LandingError> {
    let lines = lines(landing, deck);
    lines.iter().filter_map(|line| meet(ground, mesh, line).transpose()).collect()
}

/// An error where some of the deck has no ground under it.
pub(super) fn check_covered(
    ground: &Ground,
    landing: &Landing,
    deck: &Deck,
) -> Result<(), LandingError> {
    let half = 0.5 * landing.width();
    let (from, to) = deck.span();
    for along in spaced(from, to) {
        for across in spaced(-half, half) {
            height(ground, &landing.plan(along, across))?;
        }
    }
    Ok(())
}

/// Equal steps of [`EDGE`] at most, both ends included.
fn spaced(from: f64, to: f64) -> impl Iterator<Item = f64> {
    let parts = ((to - from).abs() / EDGE).ceil().max(1.0);
    let shares = (0_u32..).map(f64::from).take_while(move |part| *part <= parts);
    shares.map(move |part| from + (to - from) * part / parts)
}

/// Where a line that runs down from the deck first meets the ground; none beyond the mesh.
fn meet(ground: &Ground, mesh: &Mesh, line: &Line) -> Result<Option<Vec3>, LandingError> {
    let at = |distance: f64| line.from + distance * line.along;
    let above = |distance: f64| -> Result<f64, LandingError> {
        let at = at(distance);
        let ground = height(ground, &at)?;
        Ok(mesh.height(at.x, at.y).map_or(-1.0, |surface| surface - ground))
    };
    let (mut over, mut under) = (0.0, 0.0);
    while above(under)? > 0.0 {
        (over, under) = (under, under + STEP);
    }
    while under - over > CLOSE {
        let middle = 0.5 * (over + under);
        if above(middle)? > 0.0 {
            over = middle;
        } else {
            under = middle;
        }
    }
    let toe = at(over);
    Ok(mesh.height(toe.x, toe.y).map(|surface| toe.push(surface)))
}

fn height(ground: &Ground, at: &Vec2) -> Result<f64, LandingError> {
    ground.height(at.x, at.y).ok_or(LandingError::OffSurvey { x: at.x, y: at.y })
}

fn lines(landing: &Landing, deck: &Deck) -> Vec<Line> {
    let half = 0.5 * landing.width();
    let mut lines = side(landing, deck, -1.0);
    let (from, to) = deck.span();
    let straight = |along: f64, ahead: f64| {
        move |across: f64| Line {
            from: landing.plan(along, across),
            along: ahead * landing.ahead(),
        }
    };
    lines.extend(spaced(-half, half).map(straight(to, 1.0)));
    let mut left = side(landing, deck, 1.0);
    left.reverse();
    lines.extend(left);
    lines.extend(spaced(half, -half).map(straight(from, -1.0)));
    lines
}

/// Lines from the back around to the front of one side.
fn side(landing: &Landing, deck: &Deck, side: f64) -> Vec<Line> {
    let turns = turns(landing, &deck.corners);
    let line = |along: f64, turn: f64| Line {
        from: landing.plan(along, 0.5 * side * landing.width()),
        along: turn.sin() * landing.ahead() + side * turn.cos() * landing.left(),
    };
    let mut lines = Vec::new();
    for (number, corner) in deck.corners.iter().enumerate() {
        let (Some(before), Some(after)) = (turns.get(number), turns.get(number + 1)) else { break };
        let parts = ((after - before).abs() / FACET).ceil().max(1.0);
        let shares = (0_u32..).map(f64::from).take_while(|part| *part <= parts);
        lines.extend(shares.map(|part| line(corner.x, before + (after - before) * part / parts)));
        if let Some(next) = deck.corners.get(number + 1) {
            lines.extend(spaced(corner.x, next.x).map(|along| line(along, *after)));
        }
    }
    lines
}
