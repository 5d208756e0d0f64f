//! The line that the tyres follow.

use super::error::GeometryError;
use super::frame::{Contact, Frame};
use super::plan::Turn;
use super::table::Table;
use crate::math::range::within;
use serde::{Deserialize, Serialize};
use std::fmt::Debug;
use std::sync::{Arc, OnceLock};

/// What a line is drawn on: points and normals by a parameter of its own, smooth within each piece.
pub trait Track: Debug + Send + Sync {
    /// The parameter where pieces meet, both ends included: at least two numbers, rising.
    fn breaks(&self) -> &[f64];

    /// The touched point and normal on piece `piece` (from 0), with exact derivatives by the parameter.
    fn contact(&self, piece: usize, parameter: f64) -> Contact;

    /// Where that is on the panel of a wall, for a track that runs on one.
    fn on_panel(&self, _piece: usize, _parameter: f64) -> Option<OnPanel> {
        None
    }
}

/// A place on the panel of a wall, laid flat.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct OnPanel {
    /// Metres along the foot seen from above.
    pub station: f64,
    /// Metres up the panel.
    pub height: f64,
}

/// On which side of a line the surface goes up, where it does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Uphill {
    /// The surface lies level across.
    Nowhere,
    /// It rises to this side.
    To(Turn),
}

/// Part of a line over which it is smooth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    /// The track's piece.
    pub piece: usize,
    /// The track's parameter where the section begins.
    pub from: f64,
    /// The track's parameter where it ends.
    pub to: f64,
}

/// The line that the tyres follow, from its start to its end, with the surface's normal under it.
///
/// Cheap to clone. Stations are arc length from its start, good to about `1e-12` of the length.
#[derive(Debug, Clone)]
pub struct Line {
    track: Arc<dyn Track>,
    uphill: Uphill,
    from: f64,
    to: f64,
    table: Arc<OnceLock<Table>>,
}

impl Line {
    /// The line along the whole of `track`.
    pub fn along(track: impl Track + 'static, uphill: Uphill) -> Self {
        let ends = [track.breaks().first(), track.breaks().last()];
        let [from, to] = ends.map(|end| end.copied().unwrap_or(0.0));
        Self { track: Arc::new(track), uphill, from, to, table: Arc::default() }
    }

    /// The part of the line between two values of its track's parameter.
    pub(crate) fn between(&self, from: f64, to: f64) -> Self {
        Self {
            from: from.max(self.from),
            to: to.min(self.to),
            table: Arc::default(),
            ..self.clone()
        }
    }

    /// On which side of the line the surface goes up.
    pub fn uphill(&self) -> Uphill {
        self.uphill
    }

    /// The length along the tyres' line, metres.
    pub fn length(&self) -> f64 {
        self.table().length()
    }

    /// The stations where curvature may jump or bend, ends not included, metres.
    pub fn joints(&self) -> Vec<f64> {
        let table = self.table();
        self.sections().skip(1).map(|section| table.station(section.from)).collect()
    }

    /// The frame `station` metres from the start; a station outside the line counts as its nearest end.
    pub fn frame(&self, station: f64) -> Frame {
        let place = self.table().place(station);
        let (piece, parameter) =
            place.map_or((0, self.from), |place| (place.piece, place.parameter));
        let (frame, _) = self.at(piece, parameter);
        Frame { station: station.clamp(0.0, self.length()), ..frame }
    }

    /// Where the line is on the panel of its wall, `station` metres from the start; none for a line that is not on a wall.
    pub fn on_panel(&self, station: f64) -> Option<OnPanel> {
        let place = self.table().place(station)?;
        self.track.on_panel(place.piece, place.parameter)
    }

    /// The last `length` metres of the line; from above 0 to its whole length.
    pub fn tail(&self, length: f64) -> Result<Self, GeometryError> {
        let whole = self.length();
        // Rounding in a length that was asked of the line is not an error.
        within("length", length, f64::MIN_POSITIVE, whole * (1.0 + 1e-12))?;
        let place = self.table().place(whole - length);
        Ok(self.between(place.map_or(self.from, |place| place.parameter), self.to))
    }

    /// The smooth parts of the line in order.
    pub fn sections(&self) -> impl Iterator<Item = Section> + '_ {
        let pairs = self.track.breaks().windows(2).enumerate();
        pairs
            .map(|(piece, ends)| Section {
                piece,
                from: ends[0].max(self.from),
                to: ends[1].min(self.to),
            })
            .filter(|section| section.from < section.to)
    }

    /// The track's parameter `station` metres from the start; outside the line, its nearest end.
    pub(crate) fn parameter(&self, station: f64) -> f64 {
        self.table().place(station).map_or(self.from, |place| place.parameter)
    }

    /// The frame, without its station, at a parameter within a section, and the metres a unit of the parameter is.
    pub(crate) fn at(&self, piece: usize, parameter: f64) -> (Frame, f64) {
        self.track.contact(piece, parameter).frame()
    }

    fn table(&self) -> &Table {
        self.table.get_or_init(|| {
            let sections: Vec<Section> = self.sections().collect();
            Table::new(&sections, |piece, parameter| {
                self.track.contact(piece, parameter).point.d1().norm()
            })
        })
    }
}
