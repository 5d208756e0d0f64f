//! The chain followed from the touch on: piece by piece, each until a member holds in another way.

use super::LoadError;
use super::chain::Chain;
use super::impact::Impact;
use super::series::Piece;
use super::state::{Change, Grip, State};
use serde::{Deserialize, Serialize};
use std::fmt;

/// The most pieces, empty ones counted, before a chain is given up.
const MOST_PIECES: usize = 100_000;
/// Slower than this everywhere, m/s, and
const AT_REST: f64 = 0.02;
/// with less than this of gravity left over, the chain has come to rest.
const BALANCED: f64 = 0.05;
/// A speed below which no tolerance is taken from it, m/s.
const SLOW: f64 = 0.1;

/// Why a record ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum RecordEnd {
    /// It all came to rest.
    AtRest,
    /// It went up off the ground again and comes down a second time.
    SecondTouch,
    /// It was followed as long as was asked for.
    Longest,
}

impl fmt::Display for RecordEnd {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::AtRest => "comes to rest",
            Self::SecondTouch => "bounces and touches again",
            Self::Longest => "is followed no longer",
        })
    }
}

/// How far to follow it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Until {
    /// To the end of its record.
    End,
    /// Until the body stops and its legs give no more: enough to know what they used.
    Stopped,
}

/// A piece of the motion as long as it lasts.
pub(super) struct Stretch<'a> {
    pub(super) piece: &'a Piece,
    pub(super) state: &'a State,
    pub(super) from: f64,
    pub(super) length: f64,
}

/// Follows the chain, hands each stretch to `visit`, and gives the last state, its time and why it is the last.
pub(super) fn march(
    chain: &Chain,
    impact: &Impact,
    until: Until,
    mut visit: impl FnMut(&Stretch<'_>),
) -> Result<(State, f64, RecordEnd), LoadError> {
    let gravity = impact.gravity() * impact.slope_cos();
    let mut state = State::start(chain, impact.normal_speed());
    let (mut time, mut bounced) = (0.0, false);
    for _ in 0..MOST_PIECES {
        let piece = Piece::new(chain, &state, gravity);
        let left = chain.longest - time;
        let reach = piece.reach(impact.normal_speed().max(SLOW));
        if reach.is_nan() {
            return Err(LoadError::NonFinite { time });
        }
        let reach = reach.min(left);
        let next = first_change(chain, &state, &piece, reach);
        let length = next.map_or(reach, |(at, ..)| at);
        if length > 0.0 {
            visit(&Stretch { piece: &piece, state: &state, from: time, length });
            state = piece.state(&state, length);
            state.nodes.iter_mut().for_each(|node| node.hold.settle());
            time += length;
        }
        if let Some((_, at, change)) = next {
            if at == 0 && change == Change::Grip(Grip::Stick) && bounced && off_ground(&state) {
                return Ok((state, time, RecordEnd::SecondTouch));
            }
            state.apply(at, change);
            bounced |= at == 0 && off_ground(&state) && goes_up(chain, &state);
        }
        if reach >= left && length >= left {
            return Ok((state, time, RecordEnd::Longest));
        }
        if is_at_rest(&piece, length, impact.gravity())
            || (until == Until::Stopped && is_stopped(&state))
        {
            return Ok((state, time, RecordEnd::AtRest));
        }
    }
    Err(LoadError::TooStiff { pieces: MOST_PIECES, time })
}

/// The first member to hold in another way within a time: when, which, and how.
fn first_change(
    chain: &Chain,
    state: &State,
    piece: &Piece,
    within: f64,
) -> Option<(f64, usize, Change)> {
    let mut first: Option<(f64, usize, Change)> = None;
    for (at, (series, node)) in piece.links.iter().zip(&state.nodes).enumerate() {
        for guard in series.guards(&chain.links[at].part, &node.hold) {
            let within = first.map_or(within, |(time, ..)| time);
            if let Some((time, change)) = guard.gives_way(within)
                && (first.is_none() || time < within)
            {
                first = Some((time, at, change));
            }
        }
    }
    first
}

fn off_ground(state: &State) -> bool {
    state.nodes[0].hold.grip == Grip::Open
}

/// The whole of it and the body go up: a bounce, not a wheel that skips.
fn goes_up(chain: &Chain, state: &State) -> bool {
    let body = state.nodes.last().map_or(0.0, |node| node.speed);
    body < 0.0 && state.momentum(chain) < 0.0
}

fn is_at_rest(piece: &Piece, time: f64, gravity: f64) -> bool {
    piece.links.iter().all(|series| {
        let speed = crate::math::polynomial::value(&series.speed, time);
        let mut pull = 0.0;
        for n in (1..series.speed.len()).rev() {
            pull = pull * time + series.speed[n] * n as f64;
        }
        speed.abs() < AT_REST && pull.abs() < BALANCED * gravity
    })
}

fn is_stopped(state: &State) -> bool {
    let speed =
        |from_top: usize| state.nodes.iter().rev().nth(from_top).map_or(0.0, |node| node.speed);
    speed(0) <= 0.0 && speed(0) <= speed(1)
}
