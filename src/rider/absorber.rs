//! What stands between the tyres and the rider's mass when the ground comes.

use super::RiderError;
use crate::math::range::{OutOfRange, non_negative, positive, within};
use serde::{Deserialize, Serialize};

/// Tyres, suspension, and legs and arms, as one chain along the surface's normal.
///
/// Both wheels count together. Data on bikes are few: the defaults are round numbers, and the
/// legs' stroke, which rules the result, should be varied from 0.2 to 0.5 m.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Absorber {
    /// Both tyres' stiffness, N/m, above 0. Default 150 000 (from memory).
    pub tyre_stiffness: f64,
    /// The mass between tyres and suspension, kg, above 0. Default 6 (common practice).
    pub unsprung_mass: f64,
    /// The bike's mass between suspension and rider, kg, above 0. Default 9: a trail bike of 15 kg
    /// (common practice: 13 to 16) less what is unsprung.
    pub frame_mass: f64,
    /// The suspension's travel at the wheels, m, above 0; none is a rigid bike, for which see
    /// [`Absorber::rigid`]. Default 0.16 (common practice for a trail bike).
    pub travel: Option<f64>,
    /// The share of the travel that rider and bike use at rest, above 0 and below 1. Default 0.25
    /// (Mountain Biking UK, 30 September 2022: trail bikes, rear).
    pub sag: f64,
    /// The spring's force at full travel over that of a linear spring with the same sag, from 1 to
    /// 20. Default 1.3 (common practice).
    pub progression: f64,
    /// Damping as the suspension goes in, N s/m, at least 0. Default 750: about 0.3 of critical
    /// for 80 kg on that sag (common practice).
    pub compression: f64,
    /// Damping as it comes out, N s/m, at least 0. Default 1250: about half of critical (common
    /// practice).
    pub rebound: f64,
    /// How far legs and arms can give, m, above 0. Default 0.35: what the peak force of a
    /// practised soft landing implies, `h / (f - 1)` (3.2 body weights from 0.75 m: Puddle and
    /// Maulder 2013), rounded up.
    pub leg_stroke: f64,
    /// The force at which legs and arms yield, body weights, above 1 (they must hold the body up).
    /// Default 3.2: the peak of that landing.
    pub leg_force: f64,
    /// Legs' and arms' stiffness up to that force, N/m, above 0. Default 17 800: legs hopping
    /// on a hard floor (Ferris and Farley 1997, abstract).
    pub leg_stiffness: f64,
    /// Legs' and arms' damping, N s/m, at least 0. Default 700: legs meet that landing, at 3.8 m/s,
    /// with their full force at once, as its peak and stroke together ask for (derived).
    pub leg_damping: f64,
}

impl Absorber {
    /// The absorber of a bike without suspension, all else as by default: tyres, the whole bike's
    /// mass, and legs and arms. Sag, progression, compression and rebound count for nothing then.
    pub fn rigid() -> Self {
        Self { travel: None, ..Self::default() }
    }

    /// The mass of the whole bike, kg.
    pub const fn bike_mass(&self) -> f64 {
        self.unsprung_mass + self.frame_mass
    }

    /// Nothing, or the first value that lies outside its range.
    pub(super) fn check(&self) -> Result<(), RiderError> {
        positive("tyre_stiffness", self.tyre_stiffness)?;
        positive("unsprung_mass", self.unsprung_mass)?;
        positive("frame_mass", self.frame_mass)?;
        if let Some(travel) = self.travel
            && !(travel > 0.0 && travel.is_finite())
        {
            let allowed = "a finite number above 0; a bike without suspension is asked for as a rigid absorber";
            return Err(OutOfRange::new("travel", travel, allowed).into());
        }
        if !(self.sag > 0.0 && self.sag < 1.0) {
            return Err(OutOfRange::new("sag", self.sag, "above 0 and below 1").into());
        }
        within("progression", self.progression, 1.0, 20.0)?;
        non_negative("compression", self.compression)?;
        non_negative("rebound", self.rebound)?;
        positive("leg_stroke", self.leg_stroke)?;
        if !(self.leg_force > 1.0 && self.leg_force.is_finite()) {
            return Err(
                OutOfRange::new("leg_force", self.leg_force, "a finite number above 1").into()
            );
        }
        positive("leg_stiffness", self.leg_stiffness)?;
        non_negative("leg_damping", self.leg_damping)?;
        Ok(())
    }
}

impl Default for Absorber {
    fn default() -> Self {
        Self {
            tyre_stiffness: 150_000.0,
            unsprung_mass: 6.0,
            frame_mass: 9.0,
            travel: Some(0.16),
            sag: 0.25,
            progression: 1.3,
            compression: 750.0,
            rebound: 1250.0,
            leg_stroke: 0.35,
            leg_force: 3.2,
            leg_stiffness: 17_800.0,
            leg_damping: 700.0,
        }
    }
}
