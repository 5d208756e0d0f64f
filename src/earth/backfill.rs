//! Earth behind a back of logs, and the thrust with which it leans on it.

use super::theory::{Angles, PressureError, Theory};
use super::{Soil, Spread};
use crate::math::range::{OutOfRange, finite, non_negative, positive, within};
use serde::{Deserialize, Serialize};
use std::f64::consts::FRAC_PI_2;

/// The weight of fresh water as soil mechanics reckons it, newtons per cubic metre.
pub const WATER_WEIGHT: f64 = 9.81e3;

/// Earth behind a back: its friction and weight, how it rises, what stands on it, and the water in it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Backfill {
    friction: Spread,
    unit_weight: Spread,
    saturated_weight: Spread,
    slope: f64,
    surcharge: f64,
    water: f64,
}

/// Sideways pressure at a depth, pascals.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Pressure {
    /// Of the earth's grains, with what stands on it.
    pub earth: f64,
    /// Of the water between them.
    pub water: f64,
}

/// A push on a metre of back.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Push {
    /// Newtons per metre.
    pub force: f64,
    /// How high above the foot it pushes, metres.
    pub height: f64,
}

/// The thrust on a metre of back: what it is made of, and in sum.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Thrust {
    /// Sideways pressure over upright pressure.
    pub coefficient: f64,
    /// Of the earth's own weight.
    pub earth: Push,
    /// Of what stands on it.
    pub surcharge: Push,
    /// Of the water, level.
    pub water: Push,
    /// How far below level earth and surcharge push, radians.
    pub angle: f64,
}

/// One set of numbers out of the spans.
#[derive(Debug, Clone, Copy)]
pub(super) struct Numbers {
    pub(super) friction: f64,
    unit_weight: f64,
    saturated_weight: f64,
}

impl Backfill {
    /// Earth with an angle of internal `friction`, radians, and a unit weight, newtons per cubic metre; level, dry and bare.
    pub fn new(friction: Spread, unit_weight: Spread) -> Result<Self, OutOfRange> {
        friction.between("friction", f64::MIN_POSITIVE, FRAC_PI_2.next_down())?;
        unit_weight.between("unit_weight", f64::MIN_POSITIVE, f64::MAX)?;
        let saturated_weight = Spread::exactly(unit_weight.value().max(2.0 * WATER_WEIGHT))?;
        let (slope, surcharge, water) = (0.0, 0.0, 0.0);
        Ok(Self { friction, unit_weight, saturated_weight, slope, surcharge, water })
    }

    /// A soil, placed; level, dry and bare.
    pub fn of(soil: &Soil) -> Self {
        Self {
            friction: soil.friction(),
            unit_weight: soil.unit_weight(),
            saturated_weight: soil.saturated_weight(),
            slope: 0.0,
            surcharge: 0.0,
            water: 0.0,
        }
    }

    /// The same, rising behind the top at an angle, radians; negative where it falls.
    pub fn with_slope(self, slope: f64) -> Result<Self, OutOfRange> {
        let steepest = FRAC_PI_2.next_down();
        Ok(Self { slope: within("slope", slope, -steepest, steepest)?, ..self })
    }

    /// The same with a load all over it, pascals. People and riders close together are 4.3 kPa: 90 lb/ft2, AASHTO,
    /// *LRFD Guide Specifications for the Design of Pedestrian Bridges* (2009).
    pub fn with_surcharge(self, surcharge: f64) -> Result<Self, OutOfRange> {
        Ok(Self { surcharge: non_negative("surcharge", surcharge)?, ..self })
    }

    /// The same with water standing in it, so many metres above the foot of the back.
    pub fn with_water(self, water: f64) -> Result<Self, OutOfRange> {
        Ok(Self { water: non_negative("water", water)?, ..self })
    }

    /// The same with another weight below the water, newtons per cubic metre, above that of water.
    pub fn with_saturated_weight(self, weight: Spread) -> Result<Self, OutOfRange> {
        let saturated_weight = weight.between("saturated_weight", WATER_WEIGHT, f64::MAX)?;
        Ok(Self { saturated_weight, ..self })
    }

    /// How it rises behind the top, radians.
    pub fn slope(&self) -> f64 {
        self.slope
    }

    /// What stands on it, pascals.
    pub fn surcharge(&self) -> f64 {
        self.surcharge
    }

    /// How high water stands above the foot of the back, metres.
    pub fn water(&self) -> f64 {
        self.water
    }

    /// Its angle of internal friction, radians.
    pub fn friction(&self) -> Spread {
        self.friction
    }

    /// Its weight above the water, newtons per cubic metre.
    pub fn unit_weight(&self) -> Spread {
        self.unit_weight
    }

    /// The sideways pressure at a depth under the top of an upright back of `height`, metres.
    pub fn pressure(
        &self,
        theory: Theory,
        height: f64,
        depth: f64,
    ) -> Result<Pressure, PressureError> {
        let height = positive("height", height)?;
        let depth = within("depth", depth, 0.0, height)?;
        let numbers = self.numbers();
        let coefficient = theory.of(self.angles(&numbers, 0.0))?;
        let wet = (depth - (height - self.water)).max(0.0).min(depth);
        let upright = numbers.unit_weight * (depth - wet) + numbers.buoyant() * wet;
        let earth = coefficient * (self.surcharge + upright);
        Ok(Pressure { earth, water: WATER_WEIGHT * wet })
    }

    /// The thrust on a metre of upright back of a height, metres.
    pub fn thrust(&self, theory: Theory, height: f64) -> Result<Thrust, PressureError> {
        self.lean_on(theory, height, 0.0, &self.numbers())
    }

    /// The thrust on a metre of back that leans into the fill, with one set of numbers.
    pub(super) fn lean_on(
        &self,
        theory: Theory,
        height: f64,
        lean: f64,
        numbers: &Numbers,
    ) -> Result<Thrust, PressureError> {
        let height = positive("height", height)?;
        let coefficient = theory.of(self.angles(numbers, lean))?;
        let wet = self.water.min(height);
        let dry = height - wet;
        let weight = numbers.unit_weight;
        let earth = [
            Push { force: 0.5 * coefficient * weight * dry * dry, height: wet + dry / 3.0 },
            Push { force: coefficient * weight * dry * wet, height: 0.5 * wet },
            Push { force: 0.5 * coefficient * numbers.buoyant() * wet * wet, height: wet / 3.0 },
        ];
        let surcharge = Push { force: coefficient * self.surcharge * height, height: 0.5 * height };
        let water = Push { force: 0.5 * WATER_WEIGHT * wet * wet, height: wet / 3.0 };
        let earth = Push::sum(&earth);
        finite("thrust", earth.force + surcharge.force + water.force)?;
        let angle = theory.thrust_angle(self.slope, lean);
        Ok(Thrust { coefficient, earth, surcharge, water, angle })
    }

    /// The numbers to reckon with.
    pub(super) fn numbers(&self) -> Numbers {
        self.take(self.friction.value(), Spread::value)
    }

    /// The least friction and the most weight.
    pub(super) fn weakest(&self) -> Numbers {
        self.take(self.friction.low(), Spread::high)
    }

    /// The most friction and the least weight.
    pub(super) fn strongest(&self) -> Numbers {
        self.take(self.friction.high(), Spread::low)
    }

    fn take(&self, friction: f64, end: impl Fn(&Spread) -> f64) -> Numbers {
        let (unit_weight, saturated_weight) = (end(&self.unit_weight), end(&self.saturated_weight));
        Numbers { friction, unit_weight, saturated_weight }
    }

    fn angles(&self, numbers: &Numbers, lean: f64) -> Angles {
        Angles { friction: numbers.friction, slope: self.slope, lean }
    }
}

impl Numbers {
    /// What the earth weighs in water.
    fn buoyant(&self) -> f64 {
        (self.saturated_weight - WATER_WEIGHT).max(0.0)
    }
}

impl Push {
    /// The sum of several, where it pushes as they do together.
    fn sum(pushes: &[Self]) -> Self {
        let force: f64 = pushes.iter().map(|push| push.force).sum();
        let moment: f64 = pushes.iter().map(|push| push.force * push.height).sum();
        Self { force, height: if force > 0.0 { moment / force } else { 0.0 } }
    }
}

impl Thrust {
    /// All of it that pushes level, and how high above the foot.
    pub fn level(&self) -> Push {
        let level = |push: Push| Push { force: push.force * self.angle.cos(), ..push };
        Push::sum(&[level(self.earth), level(self.surcharge), self.water])
    }

    /// What of it pushes down, and how high above the foot; negative up.
    pub fn down(&self) -> Push {
        let both = Push::sum(&[self.earth, self.surcharge]);
        Push { force: both.force * self.angle.sin(), ..both }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn backfill(friction_deg: f64, weight: f64) -> Backfill {
        let exactly = |value| Spread::exactly(value).expect("a number");
        Backfill::new(exactly(friction_deg.to_radians()), exactly(weight)).expect("a backfill")
    }

    /// Thrust and its height against the pressure summed over thin strips.
    #[test]
    fn thrust_is_the_integral_of_pressure() {
        let (height, strips) = (2.4, 4800);
        for water in [0.0, 0.9, 2.4, 5.0] {
            let fill = backfill(30.0, 18e3).with_surcharge(4.3e3).and_then(|f| f.with_water(water));
            let fill = fill.and_then(|f| f.with_slope(0.2)).expect("a backfill");
            let thrust = fill.thrust(Theory::Rankine, height).expect("a thrust");
            let (mut force, mut moment) = (0.0, 0.0);
            for i in 0..strips {
                let depth = height * (f64::from(i) + 0.5) / f64::from(strips);
                let p = fill.pressure(Theory::Rankine, height, depth).expect("a pressure");
                let push = (p.earth * 0.2_f64.cos() + p.water) * height / f64::from(strips);
                force += push;
                moment += push * (height - depth);
            }
            let level = thrust.level();
            assert!((level.force / force - 1.0).abs() < 1e-6, "{water}");
            assert!((level.height / (moment / force) - 1.0).abs() < 1e-5, "{water}");
        }
    }

    /// `1/2 K w H^2` at a third of the height; and water alone, 62.4 lb/ft3 over 10 ft, 3120 lb/ft (derived).
    #[test]
    fn triangles_push_at_a_third() {
        let dry = backfill(30.0, 17.3e3).thrust(Theory::Rankine, 7.32).expect("a thrust");
        assert!((dry.level().force / 154.496e3 - 1.0).abs() < 1e-5);
        assert!((dry.level().height - 2.44).abs() < 1e-12 && dry.down().force.abs() < 1e-9);
        let wet = backfill(30.0, 17.3e3).with_water(3.048).expect("wet");
        let water = wet.thrust(Theory::Rankine, 3.048).expect("a thrust").water;
        assert!((water.force / (3120.0 * 4.448_222 / 0.3048) - 1.0).abs() < 2e-3);
    }

    #[test]
    fn more_water_more_thrust() {
        let level = |water: f64| {
            let fill = Backfill::of(&Soil::loam()).with_water(water).expect("a backfill");
            fill.thrust(Theory::Rankine, 1.2).expect("a thrust").level().force
        };
        assert!(level(0.0) < level(0.4) && level(0.4) < level(0.8) && level(0.8) < level(1.2));
        assert!((level(1.2) - level(3.0)).abs() < 1e-9);
    }

    #[test]
    fn numbers_that_cannot_be_are_named() {
        let fill = backfill(30.0, 18e3);
        assert!(fill.with_surcharge(-1.0).is_err_and(|e| e.field == "surcharge"));
        assert!(fill.with_water(f64::NAN).is_err_and(|e| e.field == "water"));
        assert!(fill.with_slope(2.0).is_err_and(|e| e.field == "slope"));
        assert!(fill.thrust(Theory::Rankine, 0.0).is_err());
        assert!(fill.thrust(Theory::Rankine, 1e200).is_err());
        assert!(fill.pressure(Theory::Rankine, 1.0, 1.1).is_err());
    }
}
