//! How hard earth presses sideways: the coefficients of Rankine, of Coulomb, and of earth at rest.

use crate::math::range::{OutOfRange, within};
use serde::{Deserialize, Serialize};
use std::f64::consts::FRAC_PI_2;

/// Which theory gives the sideways pressure of earth from its weight.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
#[non_exhaustive]
pub enum Theory {
    /// Active pressure on an upright plane in the earth, along the slope of the backfill (Rankine 1857).
    ///
    /// `K = cos b (cos b - r) / (cos b + r)`, `r = sqrt(cos^2 b - cos^2 phi)`, for a backfill that rises at `b`.
    Rankine,
    /// Active pressure on a back that leans, with friction between earth and back (Coulomb 1776).
    ///
    /// With `e` the lean into the fill and `d` the wall's friction angle, `K = cos^2(phi + e) / (cos^2 e cos(d - e)
    /// (1 + sqrt(sin(phi + d) sin(phi - b) / (cos(d - e) cos(e + b))))^2)`; the thrust stands at `d` to the back's
    /// normal.
    Coulomb {
        /// The angle of friction between earth and back, radians: a half to two thirds of the earth's own
        /// (common practice).
        wall_friction: f64,
    },
    /// Earth against a back that does not give at all, level: `K = 1 - sin phi` (Jaky 1944).
    AtRest,
}

/// Why earth gives no pressure.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, thiserror::Error)]
#[non_exhaustive]
pub enum PressureError {
    /// A number out of its range.
    #[error(transparent)]
    OutOfRange(#[from] OutOfRange),
    /// The backfill rises more steeply than its earth stands.
    #[error(
        "slope_deg = {slope_deg} is out of range: a backfill stands no steeper than its angle of friction, \
         {friction_deg} degrees; flatten it, or hold it with a second, lower wall farther up"
    )]
    SteeperThanStands {
        /// How steeply it rises, degrees.
        slope_deg: f64,
        /// The earth's angle of friction, degrees.
        friction_deg: f64,
    },
    /// Earth at rest is known for a level backfill only.
    #[error(
        "slope_deg = {slope_deg} is out of range: 0 for earth at rest; take Rankine or Coulomb"
    )]
    AtRestSlopes {
        /// How steeply it rises, degrees.
        slope_deg: f64,
    },
}

/// What a coefficient of earth pressure depends on, radians.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Angles {
    /// Internal friction of the earth.
    pub(super) friction: f64,
    /// How the backfill rises behind the top.
    pub(super) slope: f64,
    /// How far the back leans into the fill.
    pub(super) lean: f64,
}

impl Theory {
    /// The sideways pressure on an upright back over the upright pressure of earth with an angle of `friction` whose
    /// backfill rises at `slope`; radians.
    pub fn coefficient(&self, friction: f64, slope: f64) -> Result<f64, PressureError> {
        self.of(Angles { friction, slope, lean: 0.0 })
    }

    /// As [`Self::coefficient`], on a back that leans.
    pub(super) fn of(&self, angles: Angles) -> Result<f64, PressureError> {
        let Angles { friction, slope, .. } = angles;
        within("friction", friction, f64::MIN_POSITIVE, FRAC_PI_2.next_down())?;
        within("slope", slope, -FRAC_PI_2.next_down(), FRAC_PI_2.next_down())?;
        if slope > friction {
            let (slope_deg, friction_deg) = (slope.to_degrees(), friction.to_degrees());
            return Err(PressureError::SteeperThanStands { slope_deg, friction_deg });
        }
        match *self {
            Self::Rankine => Ok(rankine(friction, slope)),
            Self::Coulomb { wall_friction } => {
                within("wall_friction", wall_friction, 0.0, friction)?;
                Ok(coulomb(angles, wall_friction))
            }
            Self::AtRest if slope == 0.0 => Ok(1.0 - friction.sin()),
            Self::AtRest => Err(PressureError::AtRestSlopes { slope_deg: slope.to_degrees() }),
        }
    }

    /// The angle of the thrust above level, radians: along the slope, or at the wall's friction to the back's normal.
    pub(super) fn thrust_angle(&self, slope: f64, lean: f64) -> f64 {
        match *self {
            Self::Rankine => slope,
            Self::Coulomb { wall_friction } => wall_friction - lean,
            Self::AtRest => 0.0,
        }
    }
}

fn rankine(friction: f64, slope: f64) -> f64 {
    let (cosine, root) = (slope.cos(), root_of_squares(slope, friction));
    cosine * (cosine - root) / (cosine + root)
}

/// `sqrt(cos^2 a - cos^2 b)` without cancellation.
fn root_of_squares(a: f64, b: f64) -> f64 {
    ((b + a).sin() * (b - a).sin()).max(0.0).sqrt()
}

fn coulomb(angles: Angles, wall: f64) -> f64 {
    let Angles { friction, slope, lean } = angles;
    let facing = (wall - lean).cos();
    let wedge = (friction + wall).sin() * (friction - slope).sin();
    let root = (wedge / (facing * (lean + slope).cos())).max(0.0).sqrt();
    (friction + lean).cos().powi(2) / (lean.cos().powi(2) * facing * (1.0 + root).powi(2))
}

/// The angle of friction that presses as hard at the foot of a fill of `height` as `friction` and `cohesion` do
/// together: `K = Ka - 2 c sqrt(Ka) / (unit_weight height)`, and the angle with that coefficient; radians.
///
/// Cohesion is not for a wall to lean on: it goes where the earth cracks or soaks. At least 0, pascals; where it
/// holds the earth up alone there is no such angle and the error says so.
pub fn equivalent_friction(
    friction: f64,
    cohesion: f64,
    unit_weight: f64,
    height: f64,
) -> Result<f64, PressureError> {
    let active = Theory::Rankine.coefficient(friction, 0.0)?;
    let upright = unit_weight * height;
    let most = 0.5 * active.sqrt() * upright;
    let cohesion = within("cohesion", cohesion, 0.0, most.max(0.0).next_down())?;
    let equivalent = active - 2.0 * cohesion * active.sqrt() / upright;
    Ok(FRAC_PI_2 - 2.0 * equivalent.sqrt().atan())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rad(degrees: f64) -> f64 {
        degrees.to_radians()
    }

    /// `tan^2(45 - phi/2)`, and Coulomb without friction on the wall is the same.
    #[test]
    fn level_backfill_is_the_textbooks() {
        for degrees in [20.0, 26.0, 30.0, 36.0, 45.0] {
            let by_hand = (rad(45.0) - 0.5 * rad(degrees)).tan().powi(2);
            let smooth = Theory::Coulomb { wall_friction: 0.0 };
            for theory in [Theory::Rankine, smooth] {
                let k = theory.coefficient(rad(degrees), 0.0).expect("a coefficient");
                assert!((k - by_hand).abs() < 1e-14, "{theory:?} {degrees}");
            }
        }
    }

    /// V. N. S. Murthy, *Geotechnical Engineering*, chapter 11 (from memory): 34 degrees, 15 degrees: 0.311; and
    /// the table of B. M. Das, *Principles of Foundation Engineering* (from memory).
    #[test]
    fn sloping_backfill_as_in_textbooks() {
        for (friction, slope, printed, off) in [
            (34.0, 15.0, 0.311, 6e-4),
            (30.0, 5.0, 0.3372, 1e-4),
            (30.0, 10.0, 0.3495, 1e-4),
            (30.0, 20.0, 0.4142, 1e-4),
            (28.0, 10.0, 0.3802, 1e-4),
            (36.0, 20.0, 0.306, 1e-4),
        ] {
            let k = Theory::Rankine.coefficient(rad(friction), rad(slope)).expect("a coefficient");
            assert!((k - printed).abs() < off, "{friction} {slope} {k}");
        }
    }

    /// Coulomb with the wall's friction equal to the slope is Rankine.
    #[test]
    fn the_two_theories_meet_where_their_thrusts_are_parallel() {
        for (friction, slope) in [(30.0, 10.0), (34.0, 20.0), (28.0, 0.0)] {
            let coulomb = Theory::Coulomb { wall_friction: rad(slope) };
            let [a, b] = [coulomb, Theory::Rankine]
                .map(|t| t.coefficient(rad(friction), rad(slope)).expect("a coefficient"));
            assert!((a - b).abs() < 1e-12, "{a} {b}");
        }
    }

    /// The greatest thrust of all plane wedges, searched for by brute force, is Coulomb's.
    #[test]
    fn coulomb_is_the_worst_wedge() {
        let angles = Angles { friction: rad(32.0), slope: rad(12.0), lean: rad(6.0) };
        let (Angles { friction, slope, lean }, wall) = (angles, rad(18.0));
        let k = Theory::Coulomb { wall_friction: wall }.of(angles).expect("a coefficient");
        // A wall of height 1: twice the wedge's area between back, slope and a plane, times the thrust's share.
        let thrust = |plane: f64| {
            let across = (1.0 - lean.tan() * slope.tan()) / (plane.tan() - slope.tan());
            let area = across * (1.0 - lean.tan() * plane.tan());
            area * (plane - friction).sin() / (plane - friction - wall + lean).cos()
        };
        let planes = (1..9000).map(|i| friction + f64::from(i) * 1e-4);
        let worst = planes.map(thrust).fold(0.0, f64::max);
        assert!((k - worst).abs() < 1e-7, "{k} {worst}");
    }

    #[test]
    fn what_cannot_stand_says_what_to_do() {
        let steep = Theory::Rankine.coefficient(rad(30.0), rad(31.0));
        assert!(steep.is_err_and(|error| error.to_string().contains("flatten")));
        assert!(Theory::AtRest.coefficient(rad(30.0), rad(5.0)).is_err());
        assert!(Theory::Rankine.coefficient(f64::NAN, 0.0).is_err());
        let rough = Theory::Coulomb { wall_friction: rad(40.0) };
        assert!(rough.coefficient(rad(30.0), 0.0).is_err());
        assert!(equivalent_friction(rad(25.0), 1e9, 18e3, 2.0).is_err());
        assert!(equivalent_friction(rad(25.0), 1.0, 18e3, 0.0).is_err());
    }
}
