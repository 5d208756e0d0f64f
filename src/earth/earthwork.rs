//! The earth between two grounds with all it takes: volumes by state, loads, lifts, hours.

use super::shape::{Shape, shape};
use super::{Hours, Lifts, Loads, Means, Soil, Task, Volume, VolumeError, volume};
use crate::explain::Explanation;
use crate::ground::Ground;
use crate::math::range::OutOfRange;
use serde::{Deserialize, Serialize};
use std::fmt;

/// The earth between a ground before and one after, and what it takes to move it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Earthwork {
    /// Fill and cut, exactly.
    pub volume: Volume,
    /// How deep and how steep.
    pub shape: Shape,
    /// The soil.
    pub soil: Soil,
    /// What it is moved with.
    pub means: Means,
    /// The fill by state, in barrows, trailers and mass.
    pub loads: Loads,
    /// The layers it is built up in.
    pub lifts: Lifts,
    /// Person-hours for all of it.
    pub hours: Hours,
    /// What to beware of.
    pub warnings: Vec<Unwise>,
}

/// Why there is no earthwork between two grounds.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum EarthworkError {
    /// There is no volume.
    #[error(transparent)]
    Volume(#[from] VolumeError),
    /// A number out of its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
}

/// What an earthwork warns of.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Unwise {
    /// A filled face steeper than its soil should be built.
    FillTooSteep {
        /// The face, radians.
        slope: f64,
        /// What the soil stands at, radians.
        stands: f64,
        /// The soil.
        soil: String,
    },
    /// A cut face steeper than the soil stands even when hard and dry.
    CutTooSteep {
        /// The face, radians.
        slope: f64,
        /// What the soil stands at when hard and dry, radians.
        stands: f64,
        /// The soil.
        soil: String,
    },
    /// Earth carried farther than any table of labour goes.
    LongHaul {
        /// How far, metres.
        haul: f64,
    },
}

/// What no one builds closer than, radians: a degree.
const AS_BUILT: f64 = std::f64::consts::PI / 180.0;
/// Where the tables of labour end, metres.
const TABLED_HAUL: f64 = 50.0;

impl Earthwork {
    /// The earth between a ground before and one after, of a soil, moved with some means.
    ///
    /// What is filled has to be dug; what is cut beyond that has to be dug and carted away too.
    pub fn between(
        before: &Ground,
        after: &Ground,
        soil: &Soil,
        means: &Means,
    ) -> Result<Self, EarthworkError> {
        let (volume, shape) = (volume(before, after)?, shape(before, after)?);
        let loads = Loads::of(volume.fill, soil, means.barrow(), means.trailer())?;
        let dug = loads.bank.max(volume.cut);
        let task = Task {
            bank: dug,
            placed: loads.placed,
            barrows: dug * (1.0 + soil.swell().value()) / means.barrow().volume(),
            haul: means.haul(),
            layer: means.tamping().layer(soil.grain()),
        };
        Ok(Self {
            volume,
            shape,
            soil: soil.clone(),
            means: *means,
            loads,
            lifts: Lifts::of(shape.deepest_fill, soil, means.tamping())?,
            hours: Hours::of(&task, soil.digging(), soil.grain())?,
            warnings: Unwise::about(&shape, soil, means),
        })
    }

    /// The model behind the numbers, what went in, its sources and its limits.
    pub fn explain(&self) -> Explanation {
        let model = "Volumes are the exact integral of the difference between the two grounds, fill and cut apart. \
            Bank = placed / (1 - shrinkage), loose = bank (1 + swell), settled = placed (1 - settlement). Hours are \
            digging, loading, barrowing and tamping by published tables for hand labour, each with the span of the \
            tables; lifts are as thick as the tamper reaches.";
        let limits = "Soil numbers differ by half and more from site to site and with the weather: weigh a barrow \
            and count the first ten. Hours are for paid workers on level ground: volunteers, roots, rain and hills \
            take longer. Duff and topsoil are no fill and are not in the volumes.";
        let soil = &self.soil;
        Explanation::new(model, limits)
            .with_input("fill", self.volume.fill, "m^3")
            .with_input("cut", self.volume.cut, "m^3")
            .with_input("swell", soil.swell().value(), "")
            .with_input("shrinkage", soil.shrinkage().value(), "")
            .with_input("settlement", soil.settlement().value(), "")
            .with_input("loose_density", soil.loose_density().value(), "kg/m^3")
            .with_input("barrow_volume", self.means.barrow().volume(), "m^3")
            .with_input("haul", self.means.haul(), "m")
            .with_source("S. W. Nunnally, Construction Methods and Management (swell, shrinkage, density; from memory)")
            .with_source("USDA NRCS, Ponds: Planning, Design, Construction, AH 590, and FAO Training Series 20/1 (settlement)")
            .with_source("Guild of Project Controls, productivity tables; labour factors of a trades academy; F. P. Spalding, A Text-book on Roads and Pavements, 1908 (hours)")
            .with_source("USDA NRCS, Construction Specification 23 (from memory) and a maker's guide for rammers (lifts)")
    }
}

impl Unwise {
    fn about(shape: &Shape, soil: &Soil, means: &Means) -> Vec<Self> {
        let named = || soil.name().to_owned();
        let (fill, cut) = (soil.stand_up().value(), soil.stand_up().high());
        let steep = |slope: f64, stands: f64| slope > stands + AS_BUILT;
        let filled = steep(shape.steepest_fill, fill).then(|| Self::FillTooSteep {
            slope: shape.steepest_fill,
            stands: fill,
            soil: named(),
        });
        let dug = steep(shape.steepest_cut, cut).then(|| Self::CutTooSteep {
            slope: shape.steepest_cut,
            stands: cut,
            soil: named(),
        });
        let haul = means.haul();
        let far = (haul > TABLED_HAUL).then_some(Self::LongHaul { haul });
        [filled, dug, far].into_iter().flatten().collect()
    }
}

impl fmt::Display for Unwise {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::FillTooSteep { slope, stands, soil } => write!(
                f,
                "a filled face of {:.0} degrees is steeper than {soil} should be built, {:.0}: flatten its batter to \
                 that, or hold it with logs",
                slope.to_degrees(),
                stands.to_degrees()
            ),
            Self::CutTooSteep { slope, stands, soil } => write!(
                f,
                "a cut face of {:.0} degrees is steeper than {soil} stands even hard and dry, {:.0}: cut it flatter",
                slope.to_degrees(),
                stands.to_degrees()
            ),
            Self::LongHaul { haul } => write!(
                f,
                "{haul:.0} m is farther than the tables of labour go, {TABLED_HAUL:.0}: the hours past that are \
                 reckoned by a walk; find earth nearer, or take a trailer"
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Landing;
    use crate::math::{Vec2, Vec3};

    fn level() -> Ground {
        Ground::plane(Vec3::zeros(), 0.0, 0.0).expect("a plane")
    }

    fn built(batter: f64) -> Ground {
        let landing =
            Landing::new(Vec2::zeros(), 0.0, 0.35, 4.0, 3.0).and_then(|l| l.with_batter(batter));
        level().with_landing(&landing.expect("a landing")).expect("built")
    }

    #[test]
    fn all_of_it_hangs_together() {
        let (soil, means) = (Soil::loam(), Means::default());
        let work = Earthwork::between(&level(), &built(0.58), &soil, &means).expect("earthwork");
        assert!((work.loads.placed - work.volume.fill).abs() < 1e-12);
        assert!(f64::from(work.lifts.count) * work.lifts.tamped >= work.shape.deepest_fill - 1e-9);
        let per_metre = work.hours.total().value() / work.loads.bank;
        assert!((3.0..8.0).contains(&per_metre), "{per_metre}");
        assert_eq!(work.warnings, []);
        assert!(work.explain().to_string().contains("shrinkage = 0.1"));
    }

    #[test]
    fn steep_faces_and_long_hauls_are_warned_of() {
        let means = Means::default().with_haul(80.0).expect("means");
        let work = Earthwork::between(&level(), &built(0.8), &Soil::sand(), &means).expect("ok");
        assert!(matches!(
            work.warnings[..],
            [Unwise::FillTooSteep { .. }, Unwise::LongHaul { .. }]
        ));
        let dug = Earthwork::between(&built(0.9), &level(), &Soil::sand(), &means).expect("ok");
        assert!(matches!(dug.warnings[..], [Unwise::LongHaul { .. }]), "what is left is level");
        assert!(dug.hours.dig.value() > 0.0 && dug.loads.barrows.abs() < 1e-9);
        assert!(work.warnings.iter().all(|warning| warning.to_string().len() > 40));
    }

    #[test]
    fn grounds_without_end_have_none() {
        let other = Ground::plane(Vec3::zeros(), 0.1, 0.0).expect("a plane");
        let none = Earthwork::between(&level(), &other, &Soil::loam(), &Means::default());
        assert_eq!(none, Err(VolumeError::Unbounded.into()));
    }
}
