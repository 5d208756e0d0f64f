//! A line on a wall, as a track by the station along the wall's foot.

use super::height::Height;
use super::wall::Wall;
use crate::geometry::{Contact, OnPanel, Track};

/// Joints closer than this are one, metres.
const SAME: f64 = 1e-9;

/// Which pieces of the plan, the bank and the height make a piece of the line.
#[derive(Debug, Clone, Copy)]
struct Pieces {
    plan: usize,
    bank: usize,
    height: usize,
}

#[derive(Debug, Clone)]
pub(super) struct WallLine {
    wall: Wall,
    height: Height,
    breaks: Vec<f64>,
    pieces: Vec<Pieces>,
}

impl WallLine {
    pub(super) fn new(wall: Wall, height: Height, from: f64, to: f64) -> Self {
        let mut breaks = vec![from, to];
        let joints = wall.plan().joints();
        for joint in joints.iter().chain(wall.bank().knots()).chain(height.knots()) {
            // The plan's last piece goes on to a skewed edge: its end is no joint.
            if *joint > from + SAME && *joint < to - SAME {
                breaks.push(*joint);
            }
        }
        breaks.sort_by(f64::total_cmp);
        breaks.dedup_by(|b, a| *b - *a <= SAME);
        let pieces = breaks.windows(2).map(|ends| {
            let middle = 0.5 * (ends[0] + ends[1]);
            Pieces {
                plan: wall.plan().piece(middle),
                bank: wall.bank().piece(middle),
                height: height.piece(middle),
            }
        });
        let pieces = pieces.collect();
        Self { wall, height, breaks, pieces }
    }
}

impl Track for WallLine {
    fn breaks(&self) -> &[f64] {
        &self.breaks
    }

    fn contact(&self, piece: usize, station: f64) -> Contact {
        let at = self.pieces[piece.min(self.pieces.len() - 1)];
        let q = self.height.at(at.height, station);
        self.wall.strip(at.plan, at.bank, station).contact(q)
    }

    fn on_panel(&self, piece: usize, station: f64) -> Option<OnPanel> {
        let at = self.pieces[piece.min(self.pieces.len() - 1)];
        Some(OnPanel { station, height: self.height.at(at.height, station).value() })
    }
}
