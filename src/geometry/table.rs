//! Arc length along a line: a table of polynomials, each good to rounding.

use super::line::Section;
use crate::math::legendre::{self, Basis};
use std::sync::LazyLock;

const NODES: usize = 12;
/// What a panel may miss of its own length.
const TOLERANCE: f64 = 1e-13;
/// Panels are halved no further than this, in the line's parameter.
const SHORTEST: f64 = 1e-7;

static BASIS: LazyLock<Basis<NODES>> = LazyLock::new(Basis::new);

/// Part of a piece over which one polynomial gives the arc length.
#[derive(Debug, Clone)]
struct Panel {
    piece: usize,
    from: f64,
    width: f64,
    /// The station where the panel begins.
    station: f64,
    /// Legendre coefficients of the metres a unit of the parameter is.
    stretch: [f64; NODES],
}

/// Arc length against the line's parameter, over a line's whole length.
#[derive(Debug, Clone)]
pub(super) struct Table {
    panels: Vec<Panel>,
    length: f64,
}

/// A place on a track: which piece, and the parameter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Place {
    pub(super) piece: usize,
    pub(super) parameter: f64,
}

impl Table {
    /// The table over `sections`; `stretch` gives the metres a unit of the parameter is.
    pub(super) fn new(sections: &[Section], stretch: impl Fn(usize, f64) -> f64) -> Self {
        let mut table = Self { panels: Vec::new(), length: 0.0 };
        for section in sections {
            let mut from = section.from;
            let mut width = section.to - from;
            while from < section.to {
                width = width.min(section.to - from);
                let at = BASIS.rule.nodes.map(|x| stretch(section.piece, from + x * width));
                let coefficients = BASIS.coefficients(&at);
                let rough = legendre::tail(&coefficients) > TOLERANCE * coefficients[0].abs();
                if rough && width > SHORTEST {
                    width *= 0.5;
                    continue;
                }
                let (piece, station) = (section.piece, table.length);
                table.panels.push(Panel { piece, from, width, station, stretch: coefficients });
                table.length += width * BASIS.whole(&at);
                // The last panel ends where the section does, not a rounding before.
                from = if from + width >= section.to { section.to } else { from + width };
                width *= 2.0;
            }
        }
        table
    }

    pub(super) fn length(&self) -> f64 {
        self.length
    }

    /// Where the line is `station` metres from its start; kept within its ends.
    pub(super) fn place(&self, station: f64) -> Option<Place> {
        let station = station.clamp(0.0, self.length);
        let after = self.panels.partition_point(|panel| panel.station <= station);
        let panel = self.panels.get(after.max(1) - 1)?;
        Some(Place { piece: panel.piece, parameter: panel.parameter(station) })
    }

    /// The station at a parameter within the line.
    pub(super) fn station(&self, parameter: f64) -> f64 {
        let after = self.panels.partition_point(|panel| panel.from <= parameter);
        self.panels.get(after.max(1) - 1).map_or(0.0, |panel| panel.station_at(parameter))
    }
}

impl Panel {
    fn station_at(&self, parameter: f64) -> f64 {
        let x = ((parameter - self.from) / self.width).clamp(0.0, 1.0);
        self.station + self.width * legendre::integral(&self.stretch, x)
    }

    /// Newton's method: the polynomial rises and is nearly straight.
    fn parameter(&self, station: f64) -> f64 {
        let wanted = (station - self.station) / self.width;
        let mut x = (wanted / legendre::integral(&self.stretch, 1.0)).clamp(0.0, 1.0);
        for _ in 0..20 {
            let gap = wanted - legendre::integral(&self.stretch, x);
            let step = gap / legendre::value(&self.stretch, x);
            x = (x + step).clamp(0.0, 1.0);
            if step.abs() < 1e-15 {
                break;
            }
        }
        self.from + x * self.width
    }
}
