//! From the far end to the near one, or to where it stops.

use super::design::EvenDesign;
use super::form::Solver;
use super::station::Station;
use super::stop::StoppedBy;

/// Stations are at most this far apart along, metres, and this share of the whole.
const SPACING: f64 = 0.1;
const SHARE: f64 = 1.0 / 64.0;
/// Where it stops is found to this, metres.
const SHORTEST: f64 = 1e-8;
/// Stations nearer to one another than this, metres, would only let rounding show in the slope between them.
const CLOSEST: f64 = 1e-4;
/// The near end is met to this, metres.
const MET: f64 = 1e-13;

/// The stations from the far end inwards, and why there are no more.
pub(super) fn march(
    solver: &Solver,
    design: &EvenDesign,
    far: Station,
) -> (Vec<Station>, StoppedBy) {
    let spacing = SPACING.min(SHARE * (design.far().x - design.near()));
    let (mut stations, mut last, mut stride) = (vec![far], far, spacing);
    loop {
        let gap = last.earth.x - design.near();
        // Met as well where rounding lets it get no nearer.
        if gap <= MET * (1.0 + design.far().x) {
            return (stations, StoppedBy::NearEnd);
        }
        let next = solver.next(&last, stride).and_then(|next| standing(design, next));
        match next {
            Ok(next) if next.earth.x < design.near() - MET => {
                stride *= gap / (last.earth.x - next.earth.x);
            }
            Ok(next) => {
                keep(&mut stations, next);
                last = next;
            }
            // A near end right under the launch is never met by a flight.
            Err(_) if stride <= SHORTEST && gap <= SHORTEST => {
                return (stations, StoppedBy::NearEnd);
            }
            Err(reason) if stride <= SHORTEST => return (stations, reason),
            Err(_) => stride *= 0.5,
        }
    }
}

/// The station, where earth is let stand that steep.
pub(super) fn standing(design: &EvenDesign, station: Station) -> Result<Station, StoppedBy> {
    let level = station.angle.cos() * design.cross_slope().cos();
    if level < design.steepest().cos() { Err(StoppedBy::TooSteep) } else { Ok(station) }
}

fn keep(stations: &mut Vec<Station>, next: Station) {
    let close = |last: &Station| last.earth.x - next.earth.x < CLOSEST;
    if stations.len() > 1 && stations.last().is_some_and(close) {
        stations.pop();
    }
    stations.push(next);
}
