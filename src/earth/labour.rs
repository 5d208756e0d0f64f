//! Hours of work with shovel, barrow and tamper, from published tables of labour.

use super::{Grain, Spread};
use crate::math::range::{OutOfRange, non_negative, positive};
use serde::{Deserialize, Serialize};

/// How hard the ground is to dig.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Digging {
    /// Loose sand and soil.
    Light,
    /// Firm soil.
    Medium,
    /// Clay, gravel, stones and roots.
    Heavy,
}

/// Person-hours of a job, each with the span of the tables.
///
/// Per cubic metre of bank, by hand, down to 1.5 m, on level ground:
///
/// | | light | medium | heavy |
/// |---|---|---|---|
/// | dig | 1.20 to 2.00 | 1.75 to 2.33 | 2.17 to 3.57 |
/// | load | 0.65 to 1.00 | 0.65 to 1.30 | 0.65 to 1.90 |
///
/// Barrowing takes 0.16 hours up to 10 m, 0.31 up to 20 m and 0.47 up to 50 m, or 1.25 with spreading; filling and
/// tamping a placed cubic metre 0.59 to 1.30 by the layer's thickness, or 1.0. The value is the middle of a span.
///
/// Sources: productivity tables of the Guild of Project Controls (digging in trenches and pits, moving by distance,
/// filling by layer); labour factors for hand excavation of a trades academy (digging, loading, wheeling,
/// backfilling); F. P. Spalding, *A Text-book on Roads and Pavements* (1908) for shovelling loosened earth, 1.5 to 2
/// cubic yards an hour. Two Asian schedules give 4 to 5 hours for digging, if their day has eight; they are left out,
/// since its length is not printed. All are for paid workers: volunteers may well take twice as long.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Hours {
    /// Digging.
    pub dig: Spread,
    /// Loading into the barrow.
    pub load: Spread,
    /// Barrowing there and back.
    pub haul: Spread,
    /// Filling in layers and tamping.
    pub place: Spread,
}

/// What is dug, carried how far, and placed how.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Task {
    /// Volume dug, in the bank, cubic metres.
    pub bank: f64,
    /// Volume placed, cubic metres.
    pub placed: f64,
    /// Barrows full.
    pub barrows: f64,
    /// How far each is pushed, metres one way.
    pub haul: f64,
    /// Thickness of a layer before it is tamped, metres.
    pub layer: f64,
}

/// Past this the tables end, metres.
const TABLED_HAUL: f64 = 50.0;
/// How fast a barrow is pushed there and back past that, metres a second: a slow walk (from memory).
const WALK: (f64, f64) = (0.8, 1.2);
const SECONDS: f64 = 3600.0;

impl Hours {
    /// The hours of a task in ground that digs like `digging`, of which `grain` is placed.
    ///
    /// Past the 50 m at which the tables end, each barrow more walks there and back at 0.8 to 1.2 m/s.
    pub fn of(task: &Task, digging: Digging, grain: Grain) -> Result<Self, OutOfRange> {
        let bank = non_negative("bank", task.bank)?;
        let placed = non_negative("placed", task.placed)?;
        let walked = 2.0 * (non_negative("haul", task.haul)? - TABLED_HAUL).max(0.0);
        let metres = walked * non_negative("barrows", task.barrows)?;
        let walking = middle(metres / WALK.1 / SECONDS, metres / WALK.0 / SECONDS);
        Ok(Self {
            dig: digging.dig().times(bank),
            load: digging.load().times(bank),
            haul: wheeling(task.haul).times(bank).plus(&walking),
            place: filling(positive("layer", task.layer)?, grain).times(placed),
        })
    }

    /// All of them together.
    pub fn total(&self) -> Spread {
        self.dig.plus(&self.load).plus(&self.haul).plus(&self.place)
    }
}

impl Digging {
    /// Person-hours to dig a cubic metre of bank.
    pub fn dig(self) -> Spread {
        match self {
            Self::Light => middle(1.2, 1.0 / 0.50),
            Self::Medium => middle(1.0 / 0.57, 1.0 / 0.43),
            Self::Heavy => middle(1.0 / 0.46, 1.0 / 0.28),
        }
    }

    /// Person-hours to load a cubic metre of bank into barrows.
    pub fn load(self) -> Spread {
        const YARD: f64 = 0.764_554_857_984;
        let fastest = 1.0 / (2.0 * YARD);
        match self {
            Self::Light => middle(fastest, 1.0),
            Self::Medium => middle(fastest, 1.3),
            Self::Heavy => middle(fastest, 1.9),
        }
    }
}

/// Person-hours to move a cubic metre of bank by barrow over a distance within the tables.
fn wheeling(haul: f64) -> Spread {
    let by_band = match haul {
        ..=10.0 => 0.16,
        ..=20.0 => 0.31,
        _ => 0.47,
    };
    middle(by_band, 1.25)
}

/// Person-hours to fill in a cubic metre in layers and to tamp it.
fn filling(layer: f64, grain: Grain) -> Spread {
    // Cubic metres an hour for layers up to 100, 200 and 300 mm and over.
    let output = match grain {
        Grain::Granular => [0.85, 1.02, 1.28, 1.69],
        Grain::Cohesive => [0.77, 0.92, 1.16, 1.56],
    };
    let [thin, medium, thick, thickest] = output;
    let by_layer: f64 = 1.0
        / match layer {
            ..=0.1 => thin,
            ..=0.2 => medium,
            ..=0.3 => thick,
            _ => thickest,
        };
    middle(by_layer.min(1.0), by_layer.max(1.0))
}

fn middle(low: f64, high: f64) -> Spread {
    Spread::printed(f64::midpoint(low, high), low, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    const TASK: Task = Task { bank: 2.0, placed: 1.8, barrows: 30.0, haul: 15.0, layer: 0.15 };

    #[test]
    fn the_sum_of_the_operations() {
        let hours = Hours::of(&TASK, Digging::Medium, Grain::Granular).expect("hours");
        let low = 2.0 * (1.0 / 0.57 + 0.5 / 0.764_554_857_984 + 0.31) + 1.8 / 1.02;
        let high = 2.0 * (1.0 / 0.43 + 1.3 + 1.25) + 1.8;
        let total = hours.total();
        assert!((total.low() - low).abs() < 1e-12 && (total.high() - high).abs() < 1e-12);
        assert!((total.value() - f64::midpoint(low, high)).abs() < 1e-12);
    }

    #[test]
    fn farther_is_longer_and_joins_where_the_tables_end() {
        let haul = |haul| {
            let task = Task { haul, ..TASK };
            Hours::of(&task, Digging::Light, Grain::Cohesive).expect("hours").haul
        };
        let metres = [5.0, 15.0, 30.0, 50.0, 80.0, 200.0];
        for pair in metres.windows(2) {
            assert!(haul(pair[0]).low() <= haul(pair[1]).low());
            assert!(haul(pair[0]).high() <= haul(pair[1]).high());
        }
        let beyond = haul(50.0 + 1e-9).value() - haul(50.0).value();
        assert!(beyond.abs() < 1e-9);
        let walked = haul(110.0).high() - haul(50.0).high();
        assert!((walked - 30.0 * 120.0 / 0.8 / 3600.0).abs() < 1e-12, "{walked}");
    }

    #[test]
    fn tasks_that_cannot_be_are_named() {
        let hours = |task: Task| Hours::of(&task, Digging::Light, Grain::Granular);
        assert!(hours(Task { haul: -1.0, ..TASK }).is_err_and(|e| e.field == "haul"));
        assert!(hours(Task { layer: 0.0, ..TASK }).is_err_and(|e| e.field == "layer"));
        assert!(hours(Task { bank: f64::NAN, ..TASK }).is_err_and(|e| e.field == "bank"));
    }
}
