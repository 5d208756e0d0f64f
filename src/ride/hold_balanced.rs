//! Hold speeds of a rider who balances: rides tell the grip that each entry speed needs, and that is what is searched.

use super::error::RideError;
use super::hold::{FASTEST, HoldSpeeds, MOST_GRIP};
use super::options::{Lean, RideOptions};
use crate::air::Air;
use crate::geometry::Line;
use crate::math::search::lowest;
use crate::rider::Rider;
use std::convert::Infallible;

/// The slowest entry speed that is tried, m/s, and the ratio of one to the next.
const SLOWEST: f64 = 1.0;
const RATIO: f64 = 1.15;
/// How closely a hold speed is searched for, m/s.
const CLOSELY: f64 = 1e-9;
/// Golden-section steps towards the speed that needs the least grip.
const STEPS: usize = 40;

/// An entry speed and the grip that a ride from it needs: infinite where it does not come to the line's end.
#[derive(Debug, Clone, Copy)]
struct Tried {
    speed: f64,
    needs: f64,
}

/// Rides along one line.
pub(super) struct Needs<'a> {
    pub(super) line: &'a Line,
    pub(super) rider: &'a Rider,
    pub(super) air: &'a Air,
    pub(super) lean: Lean,
}

impl Needs<'_> {
    /// The hold speeds: the needs fall with speed at first and grow later, so those within the grip lie together.
    pub(super) fn speeds(&self) -> Result<HoldSpeeds, RideError> {
        let grip = self.rider.grip();
        let scan = self.scan(grip)?;
        let Some(best) = (0..scan.len()).min_by(|a, b| scan[*a].needs.total_cmp(&scan[*b].needs))
        else {
            return Ok(HoldSpeeds::Never { grip_needed: None });
        };
        let low = scan[best.saturating_sub(1)].speed;
        let high = scan[(best + 1).min(scan.len() - 1)].speed;
        let inside = if scan[best].needs <= grip { scan[best] } else { self.least(low, high) };
        if inside.needs > grip {
            let helps = inside.needs < MOST_GRIP;
            return Ok(HoldSpeeds::Never { grip_needed: helps.then_some(inside.needs) });
        }
        let slower = scan.iter().rev().find(|t| t.speed < inside.speed && t.needs > grip);
        let faster = scan.iter().find(|t| t.speed > inside.speed && t.needs > grip);
        let slower = slower.map_or(0.0, |tried| tried.speed);
        let fastest = faster.map_or(f64::INFINITY, |t| self.edge(inside.speed, t.speed, grip));
        Ok(HoldSpeeds::Between { slowest: self.edge(inside.speed, slower, grip), fastest })
    }

    /// Needs over the speeds that may matter: up to where the grip has been enough and is no more.
    fn scan(&self, grip: f64) -> Result<Vec<Tried>, RideError> {
        let (mut scan, mut failed): (Vec<Tried>, _) = (Vec::new(), None);
        let (mut speed, mut least) = (SLOWEST, f64::INFINITY);
        while speed <= FASTEST {
            match self.ride(speed) {
                Ok(needs) => scan.push(Tried { speed, needs }),
                Err(error) => {
                    scan.push(Tried { speed, needs: f64::INFINITY });
                    failed = Some(error);
                }
            }
            let needs = scan[scan.len() - 1].needs;
            if needs > grip && needs > 1.5 * least {
                break;
            }
            least = least.min(needs);
            speed *= RATIO;
        }
        match failed {
            Some(error) if least.is_infinite() => Err(error),
            _ => Ok(scan),
        }
    }

    fn ride(&self, speed: f64) -> Result<f64, RideError> {
        let options = RideOptions { lean: self.lean, ..RideOptions::new(speed) }.exit_only();
        let ride = self.line.ride(self.rider, self.air, &options)?;
        Ok(if ride.exit.is_some() { ride.peak.demand } else { f64::INFINITY })
    }

    /// What a speed needs; a ride that has no solution does not hold.
    fn needs(&self, speed: f64) -> f64 {
        self.ride(speed).unwrap_or(f64::INFINITY)
    }

    /// The speed between two that needs the least.
    fn least(&self, low: f64, high: f64) -> Tried {
        let Ok((speed, needs)) =
            lowest(|speed| Ok::<_, Infallible>(self.needs(speed)), (low, high), STEPS);
        Tried { speed, needs }
    }

    /// The last speed on the way from `inside`, which holds, to `outside` that still holds.
    fn edge(&self, mut inside: f64, mut outside: f64, grip: f64) -> f64 {
        while (inside - outside).abs() > CLOSELY {
            let middle = 0.5 * (inside + outside);
            if self.needs(middle) <= grip { inside = middle } else { outside = middle }
        }
        inside
    }
}
