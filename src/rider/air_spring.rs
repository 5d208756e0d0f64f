//! The spring of a suspension, by its sag and its progression.

use crate::math::range::{OutOfRange, positive, within};
use crate::math::roots;
use serde::{Deserialize, Serialize};

/// Dry air that has no time to give off its heat: the landing takes tenths of a second.
pub(crate) const ADIABATIC: f64 = 1.4;
/// Below this share of its column a spring's energy is summed as a series; the closed form would cancel.
const SHORT: f64 = 0.02;
/// How near to its whole column a spring may be at full travel, when its law is sought.
const NEAREST: f64 = 1e-9;

/// A spring that gets stiffer as its air is pressed together: `F(x) = A ((1 - x/L)^-n - 1)`.
///
/// That is the gas law of one chamber, `F = A_p ((p_0 + p_a) (1 - x/L)^-n - p_a)`, less its force at full
/// extension, which a negative spring balances there; `L` is the length of the air column and `n` = 1.4, as for air
/// that keeps its heat. `A` and `L` follow from two wishes, both met to rounding: at the sag the spring carries the
/// load, and at full travel its force is `progression` times that of a linear spring with the same sag. A progression
/// of 1 is the linear spring (`L` without end). A slow push meets a softer spring (`n` near 1), and a real negative
/// spring is softer off the top: neither is modelled.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct AirSpring {
    /// The stiffness at full extension, `A n / L`, N/m.
    rate: f64,
    /// `1 / L`, 1/m.
    curl: f64,
}

impl AirSpring {
    /// The spring that carries `load`, N, at the share `sag` of `travel`, m, and at full travel pushes with `progression`
    /// times the force of a linear spring with the same sag.
    pub fn from_sag(
        load: f64,
        travel: f64,
        sag: f64,
        progression: f64,
    ) -> Result<Self, OutOfRange> {
        positive("load", load)?;
        positive("travel", travel)?;
        if !(sag > 0.0 && sag < 1.0) {
            return Err(OutOfRange::new("sag", sag, "above 0 and below 1"));
        }
        within("progression", progression, 1.0, 20.0)?;
        let share = share_at_full_travel(sag, progression)?;
        let curl = share / travel;
        let rate = load / (sag * travel * stiffening(sag * share));
        Ok(Self { rate, curl })
    }

    /// One chamber with its force at full extension balanced: the piston's area times the absolute pressure there, N,
    /// and the length of the air column, m.
    pub fn from_chamber(force: f64, column: f64) -> Result<Self, OutOfRange> {
        positive("force", force)?;
        positive("column", column)?;
        Ok(Self { rate: force * ADIABATIC / column, curl: 1.0 / column })
    }

    /// The stiffness at full extension, N/m.
    pub const fn rate(&self) -> f64 {
        self.rate
    }

    /// One over the length of the air column, 1/m; 0 for a linear spring.
    pub const fn curl(&self) -> f64 {
        self.curl
    }

    /// The force at a compression `x`, m, below the column's length: N. Negative where `x` is.
    pub fn force(&self, x: f64) -> f64 {
        self.rate * x * stiffening(self.curl * x)
    }

    /// The energy stored at a compression `x`, m: J.
    pub fn energy(&self, x: f64) -> f64 {
        let u = self.curl * x;
        if u.abs() < SHORT {
            // The series of the force, integrated term by term.
            let (mut term, mut sum) = (1.0, 0.0);
            for j in 0..12 {
                let j = f64::from(j);
                sum += term / (j + 2.0);
                term *= u * (ADIABATIC + 1.0 + j) / (j + 2.0);
            }
            return self.rate * x * x * sum;
        }
        let squeezed = ((1.0 - ADIABATIC) * (-u).ln_1p()).exp_m1() / (ADIABATIC - 1.0);
        self.rate * (squeezed - u) / (ADIABATIC * self.curl * self.curl)
    }
}

/// `((1 - u)^-n - 1) / (n u)`: the force over that of the stiffness at full extension; 1 at `u` = 0.
fn stiffening(u: f64) -> f64 {
    if u == 0.0 { 1.0 } else { (-ADIABATIC * (-u).ln_1p()).exp_m1() / (ADIABATIC * u) }
}

/// The share of the air column that full travel takes, from what it does to the force.
fn share_at_full_travel(sag: f64, progression: f64) -> Result<f64, OutOfRange> {
    let off = |share: f64| (stiffening(share) / stiffening(sag * share)).ln() - progression.ln();
    if progression <= 1.0 {
        return Ok(0.0);
    }
    roots::bracketed(off, 0.0, 1.0 - NEAREST, 1e-16).map_err(|_| {
        OutOfRange::new("progression", progression, format!("less, with a sag of {sag}"))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::math::quadrature;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn sag_and_full_travel_are_met(
            sag in 0.05..0.6f64, travel in 0.05..0.25f64, progression in 1.0..20.0f64,
        ) {
            let (load, spring) = (850.0, AirSpring::from_sag(850.0, travel, sag, progression).unwrap());
            assert_relative_eq!(spring.force(sag * travel), load, max_relative = 1e-13);
            let full = progression * load / sag;
            assert_relative_eq!(spring.force(travel), full, max_relative = 1e-9);
        }

        #[test]
        fn energy_is_the_force_summed(x in -0.05..0.159f64, progression in 1.0..4.0f64) {
            let spring = AirSpring::from_sag(800.0, 0.16, 0.25, progression).unwrap();
            let summed = quadrature::integrate(|x| spring.force(x), 0.0, x);
            assert_relative_eq!(spring.energy(x), summed, max_relative = 1e-9, epsilon = 1e-12);
        }
    }

    #[test]
    fn a_progression_of_one_is_linear() {
        let spring = AirSpring::from_sag(800.0, 0.16, 0.25, 1.0).unwrap();
        assert_relative_eq!(spring.force(0.1), 800.0 / 0.04 * 0.1, max_relative = 1e-14);
        let nearly = AirSpring::from_sag(800.0, 0.16, 0.25, 1.0 + 1e-9).unwrap();
        assert_relative_eq!(nearly.force(0.1), spring.force(0.1), max_relative = 1e-8);
        assert_relative_eq!(nearly.energy(0.1), spring.energy(0.1), max_relative = 1e-8);
    }

    /// Derived: the gas law with a piston of 30 mm, 80 psi gauge and a column of 0.24 m, less its force at full extension.
    #[test]
    fn it_is_the_gas_law_less_the_force_at_full_extension() {
        let (area, gauge, ambient) = (0.0007068583470577034, 551_580.56, 101_325.0);
        let spring = AirSpring::from_chamber(area * (gauge + ambient), 0.24).unwrap();
        assert_relative_eq!(area * gauge + spring.force(0.08), 742.539, epsilon = 0.01);
        assert_relative_eq!(area * gauge + spring.force(0.16), 2076.963, epsilon = 0.01);
    }

    #[test]
    fn wrong_numbers_are_named() {
        let named = |load, travel, sag, progression| {
            AirSpring::from_sag(load, travel, sag, progression).unwrap_err().field.into_owned()
        };
        assert_eq!(named(0.0, 0.16, 0.25, 1.3), "load");
        assert_eq!(named(800.0, 0.0, 0.25, 1.3), "travel");
        assert_eq!(named(800.0, 0.16, 1.0, 1.3), "sag");
        assert_eq!(named(800.0, 0.16, 0.25, 0.9), "progression");
    }
}
