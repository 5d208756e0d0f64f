//! How a rider rides out of a touchdown.

use crate::air::Air;
use crate::arrays::{self, vector};
use crate::errors::Failure;
use crate::flight::Flight;
use crate::line::Line;
use crate::pickle::pickled;
use crate::ride::Ride;
use crate::rider::Rider;
use crate::units::{degrees, radians};
use loamline::design::{Rejoin, RunOut as Core, RunOutOptions, Trail};
use loamline::ride::RideOptions;
use loamline::site::Obstacle;
use nalgebra::Vector2;
use numpy::PyArray1;
use pyo3::prelude::*;

/// How a rider rides out of a touchdown: speed kept, load in the foot's curve, room to stop, drift.
///
/// Made by `run_out(...)`. Stations are m along the tyres' line from the mark on.
#[pyclass(frozen, eq, module = "loamline")]
#[derive(Debug, Clone, PartialEq)]
pub struct RunOut {
    /// The core's run-out.
    pub core: Core,
}

/// How a rider rides out of a flight's touchdown, straight on over its ground.
///
/// The speed into the surface is lost, the speed over it stays. The tyres' line is the ground under
/// the straight course, its heights averaged over a wheelbase twice. The rider rolls for the reaction time
/// and then brakes steadily, as far as grip lets him. How legs and suspension soften the touch and
/// the foot's curve is not in it; nor is falling.
///
/// Args:
///     flight: the flight, with the ground it comes down on.
///     rider, air: who rides, through what.
///     brake: deceleration by the brake, m/s^2, at least 0; 2 is what a mountain bicycle has to reach
///         in the wet (ISO 4210-2, from memory).
///     reaction: time from the touch to the brake, s, at least 0; 1 is an assumption.
///     length: level length that is looked at, m, from 1 to 500.
///     obstacle: (x, y, radius) of something in the way, m; or None.
///     trail: (x, y, heading in degrees) where the trail goes on straight; or None.
///
/// Raises:
///     InputError: a number outside its range.
///     RideError: no touch, nothing left to ride with, no ground ahead, or a hollow tighter than twice
///         the height of the centre of mass.
///
/// >>> import loamline as ll
/// >>> rider = ll.Rider(cda=0.0, crr=0.0)
/// >>> flight = ll.Launch((0, 0, 2), (6, 0, 0)).flight(ll.Ground.plane(), rider, ll.Air())
/// >>> round(ll.run_out(flight, rider, ll.Air(), brake=3.0, reaction=0.5).stop_station, 3)
/// 9.0
#[pyfunction]
#[pyo3(signature = (
    flight, rider, air, brake=2.0, reaction=1.0, length=40.0, obstacle=None, trail=None,
))]
pub fn run_out(
    py: Python<'_>,
    flight: &Flight,
    rider: &Rider,
    air: &Air,
    brake: f64,
    reaction: f64,
    length: f64,
    obstacle: Option<arrays::Triple>,
    trail: Option<arrays::Triple>,
) -> Result<RunOut, Failure> {
    let obstacle = obstacle.map(|triple| triple.named("obstacle")).transpose()?;
    let obstacle = obstacle.map(|at| Obstacle {
        name: "obstacle".into(),
        position: Vector2::new(at.x, at.y),
        radius: at.z,
    });
    let trail = trail.map(|triple| triple.named("trail")).transpose()?;
    let trail = trail
        .map(|at| Ok::<_, Failure>(Trail::new(at.xy(), radians("trail_heading_deg", at.z)?)?))
        .transpose()?;
    let options = RunOutOptions::default()
        .with_brake(brake)?
        .with_reaction(reaction)?
        .with_length(length)?
        .with_obstacle(obstacle)?
        .with_trail(trail);
    let (flight, rider, air) = (&flight.core, &rider.core, &air.core);
    Ok(RunOut { core: py.detach(|| flight.run_out(rider, air, &options))? })
}

#[pymethods]
impl RunOut {
    /// Speed at the touch, m/s.
    #[getter]
    fn touch_speed(&self) -> f64 {
        self.core.touch_speed
    }

    /// What is left of it over the surface, m/s.
    #[getter]
    fn speed_kept(&self) -> f64 {
        self.core.speed_kept
    }

    /// Where the rider goes, straight on, degrees counter-clockwise from +x.
    #[getter]
    fn heading_deg(&self) -> f64 {
        degrees(self.core.heading)
    }

    /// The ride, station by station.
    #[getter]
    fn ride(&self) -> Ride {
        Ride { core: self.core.ride.clone() }
    }

    /// Station where the brake begins, m; None where the ride ends before.
    #[getter]
    fn braking_from(&self) -> Option<f64> {
        self.core.braking_from
    }

    /// Station where the rider stops, m; None where not on known ground.
    #[getter]
    fn stop_station(&self) -> Option<f64> {
        self.core.stop.map(|stop| stop.station)
    }

    /// Time from the touch to the stop, s; None where there is none on known ground.
    #[getter]
    fn stop_time(&self) -> Option<f64> {
        self.core.stop.map(|stop| stop.time)
    }

    /// Where the tyres stop, m, an array of three; None where not on known ground.
    #[getter]
    fn stop_place<'py>(&self, py: Python<'py>) -> Option<Bound<'py, PyArray1<f64>>> {
        self.core.stop.map(|stop| vector(py, &stop.place))
    }

    /// Highest load on the surface after the touch, g's: what the foot's curve gives.
    #[getter]
    fn peak_load(&self) -> f64 {
        self.core.peak_load.load
    }

    /// Station of the highest load, m.
    #[getter]
    fn peak_load_station(&self) -> f64 {
        self.core.peak_load.station
    }

    /// How far to the left of the landing's middle line the ride ends, m; None without a landing.
    #[getter]
    fn drift(&self) -> Option<f64> {
        self.core.drift
    }

    /// Station where the ride leaves the landing's face over a side, m; None where it does not.
    #[getter]
    fn leaves_side_at(&self) -> Option<f64> {
        self.core.leaves_side_at
    }

    /// Least level distance of the course from the obstacle's rim, m, negative where it runs into
    /// it; None without an obstacle.
    #[getter]
    fn clearance(&self) -> Option<f64> {
        self.core.obstacle.map(|passing| passing.clearance)
    }

    /// What is left between the stop and the obstacle, m, negative where the rider would have had to
    /// stop earlier; None where the course passes clear or there is no stop on known ground.
    #[getter]
    fn room(&self) -> Option<f64> {
        self.core.obstacle.and_then(|passing| passing.room)
    }

    /// Speed at which the rider gets to the obstacle, m/s; None where he does not.
    #[getter]
    fn obstacle_speed(&self) -> Option<f64> {
        self.core.obstacle.and_then(|passing| passing.speed)
    }

    /// Where on the landing the tyres touched: "caught", "long", "wide", "short", or "landed" without one.
    #[getter]
    fn touched(&self) -> &'static str {
        self.core.touched.word()
    }

    /// How steep the ground is where the tyres touch, degrees.
    #[getter]
    fn touch_slope_deg(&self) -> f64 {
        degrees(self.core.touch_slope)
    }

    /// How steep the ground is where the ride ends, degrees; None where it is not known.
    #[getter]
    fn end_slope_deg(&self) -> Option<f64> {
        self.core.end_slope.map(degrees)
    }

    /// How far the rider has to turn to rejoin the trail, degrees, to the left positive; None
    /// without a trail.
    #[getter]
    fn turn_deg(&self) -> Option<f64> {
        self.core.rejoin.map(|rejoin| degrees(rejoin.turn))
    }

    /// Station where the straight course meets the trail's line, m; None where it does not ahead.
    #[getter]
    fn turn_station(&self) -> Option<f64> {
        self.rejoin(|rejoin| rejoin.meets_at)
    }

    /// The widest arc onto the trail from where the rider can begin to turn, after the reaction
    /// time, m; None where there is none.
    #[getter]
    fn turn_radius(&self) -> Option<f64> {
        self.rejoin(|rejoin| rejoin.radius)
    }

    /// Grip that this arc asks for on the level at the speed at which it begins; None without one.
    #[getter]
    fn turn_grip_demand(&self) -> Option<f64> {
        self.rejoin(|rejoin| rejoin.grip_demand)
    }

    /// Speed at a station, m/s; None where the ride does not come there.
    fn speed_at(&self, station: f64) -> Option<f64> {
        self.core.speed_at(station)
    }

    /// The ride along the next feature's line, entered with what this run-out has left there.
    ///
    /// Args:
    ///     line: of the next feature.
    ///     rider, air: who rides, through what.
    ///
    /// Raises:
    ///     RideError: a line that begins more than half a metre aside of the course, or where the
    ///         run-out does not come; a ride that cannot be.
    fn ride_on(
        &self,
        py: Python<'_>,
        line: &Line,
        rider: &Rider,
        air: &Air,
    ) -> Result<Ride, Failure> {
        let (line, rider, air) = (&line.core, &rider.core, &air.core);
        let options = RideOptions::new(0.0);
        Ok(Ride { core: py.detach(|| self.core.ride_on(line, rider, air, &options))? })
    }

    /// What is not wrong but unwise, in words.
    #[getter]
    fn warnings(&self) -> Vec<String> {
        self.core.warnings.iter().map(ToString::to_string).collect()
    }

    /// The model behind the numbers, what went in, its sources and its limits, in paragraphs.
    fn explain(&self) -> String {
        self.core.explain().to_string()
    }

    fn __repr__(&self) -> String {
        let stops = self.core.stop.map_or_else(
            || "does not stop on known ground".to_owned(),
            |stop| format!("stops after {:.1} m", stop.station),
        );
        let (kept, load) = (self.core.speed_kept, self.core.peak_load.load);
        format!("<RunOut: keeps {kept:.2} m/s, up to {load:.2} g, {stops}>")
    }
}

impl RunOut {
    fn rejoin(&self, of: impl Fn(Rejoin) -> Option<f64>) -> Option<f64> {
        self.core.rejoin.and_then(of)
    }
}

pickled!(RunOut, Core);
