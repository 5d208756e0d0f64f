//! How far up the panel a line runs, by station along the foot.

use crate::math::jet::Jet;
use crate::math::spline::Spline;

/// The height of a line up a panel.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Height {
    /// From one height to another over a length, level and without curvature at both ends.
    Quintic { enter: f64, leave: f64, length: f64 },
    /// Through points.
    Through(Spline),
}

impl Height {
    pub(super) fn piece(&self, station: f64) -> usize {
        match self {
            Self::Quintic { .. } => 0,
            Self::Through(spline) => spline.piece(station),
        }
    }

    pub(super) fn knots(&self) -> &[f64] {
        match self {
            Self::Quintic { .. } => &[],
            Self::Through(spline) => spline.knots(),
        }
    }

    pub(super) fn at(&self, piece: usize, station: f64) -> Jet {
        match self {
            Self::Quintic { enter, leave, length } => {
                let x = station / length;
                let rise = leave - enter;
                let per = length.recip();
                Jet::new(
                    enter + rise * x * x * x * (10.0 + x * (6.0 * x - 15.0)),
                    rise * per * 30.0 * x * x * (1.0 - x) * (1.0 - x),
                    rise * per * per * 60.0 * x * (1.0 - x) * (1.0 - 2.0 * x),
                    rise * per * per * per * 60.0 * (1.0 + x * (6.0 * x - 6.0)),
                )
            }
            Self::Through(spline) => spline.at(piece, station),
        }
    }
}
