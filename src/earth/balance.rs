//! Where the earth of a fill comes from: its own cut first, then the borrow places, nearest first.

use super::{Earthwork, Hours, Spread, Task};
use crate::math::range::{OutOfRange, non_negative};
use serde::{Deserialize, Serialize};

/// A named place where earth may be dug.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Borrow {
    name: String,
    available: f64,
    distance: f64,
}

/// Earth taken from one place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Draw {
    /// The place; the fill's own cut is "cut".
    pub from: String,
    /// Dug there, in the bank, cubic metres.
    pub bank: f64,
    /// Carried, loose, cubic metres.
    pub loose: f64,
    /// Barrows full; round up.
    pub barrows: f64,
    /// How far each is carried, metres one way.
    pub distance: f64,
    /// Person-hours to dig, load and carry it.
    pub hours: Spread,
}

/// Where the earth of a fill comes from, and whether it is enough. Volumes in the bank, cubic metres.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Balance {
    /// What the fill takes.
    pub needed: f64,
    /// What is taken where, in that order.
    pub draws: Vec<Draw>,
    /// What is missing.
    pub short: f64,
    /// What is cut and not needed.
    pub spare: f64,
}

/// Less than this is what rounding leaves of a volume, cubic metres: a cubic millimetre.
const SPECK: f64 = 1e-9;

impl Borrow {
    /// A place with so much earth in the bank, cubic metres, so far away, metres one way.
    pub fn new(name: impl Into<String>, available: f64, distance: f64) -> Result<Self, OutOfRange> {
        let available = non_negative("available", available)?;
        Ok(Self { name: name.into(), available, distance: non_negative("distance", distance)? })
    }

    /// What it is called.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Earth there, in the bank, cubic metres.
    pub fn available(&self) -> f64 {
        self.available
    }

    /// How far it is, metres one way.
    pub fn distance(&self) -> f64 {
        self.distance
    }
}

impl Earthwork {
    /// Where the earth of the fill comes from: the cut first, then these places, nearest first.
    ///
    /// The cut is carried as far as [`super::Means::haul`] says. All of it is taken for good earth of the one soil: what
    /// is duff or stones in it comes off.
    pub fn balance(&self, places: &[Borrow]) -> Result<Balance, OutOfRange> {
        let needed = self.loads.bank;
        let mut draws = Vec::new();
        let mut left = needed;
        let mut take = |from: &str, there: f64, distance: f64| -> Result<(), OutOfRange> {
            let bank = there.min(left);
            if bank > SPECK {
                draws.push(self.draw(from, bank, distance)?);
                left -= bank;
            }
            Ok(())
        };
        take("cut", self.volume.cut, self.means.haul())?;
        let mut nearest: Vec<&Borrow> = places.iter().collect();
        nearest.sort_by(|a, b| a.distance.total_cmp(&b.distance));
        for place in nearest {
            take(&place.name, place.available, place.distance)?;
        }
        let spare = (self.volume.cut - needed).max(0.0);
        let short = if left > SPECK { left } else { 0.0 };
        Ok(Balance { needed, draws, short, spare })
    }

    fn draw(&self, from: &str, bank: f64, distance: f64) -> Result<Draw, OutOfRange> {
        let loose = bank * (1.0 + self.soil.swell().value());
        let barrows = loose / self.means.barrow().volume();
        let layer = self.means.tamping().layer(self.soil.grain());
        let task = Task { bank, placed: 0.0, barrows, haul: distance, layer };
        let hours = Hours::of(&task, self.soil.digging(), self.soil.grain())?;
        let hours = hours.dig.plus(&hours.load).plus(&hours.haul);
        Ok(Draw { from: from.to_owned(), bank, loose, barrows, distance, hours })
    }
}

impl Balance {
    /// How far a cubic metre is carried on average, metres; none where nothing is taken.
    pub fn mean_distance(&self) -> Option<f64> {
        let bank: f64 = self.draws.iter().map(|draw| draw.bank).sum();
        let carried: f64 = self.draws.iter().map(|draw| draw.bank * draw.distance).sum();
        (bank > 0.0).then(|| carried / bank)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::earth::{Means, Soil};
    use crate::ground::Ground;
    use crate::math::Vec3;

    /// A slope turned the other way about its middle: as much fill as cut, 6.25 m3 of each.
    fn turned() -> Earthwork {
        let side = |z: f64| {
            let corners = [[0.0, 0.0, -z], [5.0, 0.0, -z], [5.0, 5.0, z], [0.0, 5.0, z]];
            Ground::survey(&corners.map(Vec3::from)).expect("a survey")
        };
        Earthwork::between(&side(0.5), &side(-0.5), &Soil::loam(), &Means::default()).expect("ok")
    }

    fn borrow(name: &str, available: f64, distance: f64) -> Borrow {
        Borrow::new(name, available, distance).expect("a place")
    }

    #[test]
    fn the_cut_goes_first_and_the_nearest_next() {
        let work = turned();
        assert!((work.volume.fill - 6.25).abs() < 1e-12 && (work.volume.cut - 6.25).abs() < 1e-12);
        let places =
            [borrow("ditch", 9.0, 60.0), borrow("pit", 0.3, 30.0), borrow("bank", 0.0, 5.0)];
        let balance = work.balance(&places).expect("a balance");
        let from: Vec<&str> = balance.draws.iter().map(|draw| draw.from.as_str()).collect();
        assert_eq!(from, ["cut", "pit", "ditch"]);
        let taken: f64 = balance.draws.iter().map(|draw| draw.bank).sum();
        assert!((taken - 6.25 / 0.9).abs() < 1e-12 && balance.short.abs() < 1e-12);
        let ditch = 6.25 / 0.9 - 6.25 - 0.3;
        let mean = (6.25 * 20.0 + 0.3 * 30.0 + ditch * 60.0) / taken;
        assert!((balance.mean_distance().expect("carried") - mean).abs() < 1e-9);
        let barrows = balance.draws[2].barrows;
        assert!((barrows - ditch * 1.25 / 0.08).abs() < 1e-9);
    }

    #[test]
    fn too_little_is_said_and_so_is_too_much() {
        let work = turned();
        let balance = work.balance(&[]).expect("a balance");
        assert!((balance.short - (6.25 / 0.9 - 6.25)).abs() < 1e-12);
        let level = Ground::plane(Vec3::zeros(), 0.0, 0.0).expect("a plane");
        let pit = [[0.0, 0.0, 1.0], [4.0, 0.0, 1.0], [0.0, 4.0, 1.0]].map(Vec3::from);
        let pit = Ground::survey(&pit).expect("a survey");
        let dug = Earthwork::between(&pit, &level, &Soil::sand(), &Means::default()).expect("ok");
        let balance = dug.balance(&[]).expect("a balance");
        assert!(balance.draws.is_empty() && balance.mean_distance().is_none());
        assert!((balance.spare - 8.0).abs() < 1e-12);
        assert!(Borrow::new("pit", -1.0, 0.0).is_err_and(|error| error.field == "available"));
    }
}
