//! Many flights of rider and bike as one rigid body: what the end of one says, a row a flight.

use super::columns::{Touched, touch_columns};
use super::{BatchError, Status};
use crate::air::Air;
use crate::flight::{Body, FlightError, RigidOptions};
use crate::ground::{Ground, Reach};
use crate::launch::{Attitude, Launch, LaunchError};
use crate::math::Vec3;
use crate::math::columns::{WrongRows, rows_of};
use crate::math::parallel::Crew;
use crate::rider::Rider;
use crate::touchdown::{Contact, Touchdown, Turn};

/// Flights that one thread takes at a time.
const PIECE: usize = 64;

/// The launches of a batch of rigid flights: a row a flight. Numbers that are not finite, and axes that are no attitude,
/// spoil only their own row.
#[derive(Debug, Clone, Copy)]
pub struct RigidLaunches<'a> {
    /// The centre of mass, metres.
    pub position: &'a [[f64; 3]],
    /// Its velocity, m/s.
    pub velocity: &'a [[f64; 3]],
    /// Unit vectors forward, left and up through the bike.
    pub attitude: &'a [[[f64; 3]; 3]],
    /// Angular velocity in the site's axes, rad/s.
    pub angular_velocity: &'a [[f64; 3]],
    /// The tyres' speed with which the wheels spin, m/s; none takes the velocity's part forward.
    pub tyre_speed: Option<&'a [f64]>,
}

/// What all rigid flights of a batch share: who flies through what onto what, and what he does.
#[derive(Debug, Clone)]
pub struct RigidBatch {
    ground: Ground,
    rider: Rider,
    air: Air,
    options: RigidOptions,
}

touch_columns! {
    /// The ends of many rigid flights, a row a flight; NaN where a flight has no touch, and no turn. SI, radians; vectors of
    /// turning about the bike's forward, left and up axes, as in [`Turn`].
    rows RigidFlights;
    /// Columns to be written over, all of the same length: those of [`RigidFlights`].
    columns RigidColumns;
    /// What one end says.
    row RigidRow;
    status Status, Status::Failed;
    before {}
    after {
        /// The lean still owed at the touch, radians.
        lean_owed: f64;
        /// Which way the bike points at the touch: unit vectors forward, left, up.
        attitude: [[f64; 3]; 3];
        /// The attitude that the landing wants.
        wanted: [[f64; 3]; 3];
        /// How the bike turns at the touch, rad/s.
        rates: [f64; 3];
        /// The turn still owed, radians.
        owed: [f64; 3];
        /// The constant rate that would pay it over the whole time of flight, rad/s.
        rate_to_pay: [f64; 3];
        /// The constant torque that would pay it over that time, N m.
        torque_to_pay: [f64; 3];
        /// The angle between bike and surface, radians, nose up positive: above 0 the rear wheel touches first, below it the
        /// front one.
        pitch_to_surface: f64;
        /// How much higher the other wheel is then, metres.
        gap: f64;
        /// Seconds until the other wheel touches; infinite where it never does.
        between_wheels: f64;
    }
}

impl<'a> RigidLaunches<'a> {
    fn rows(&self) -> Result<usize, WrongRows> {
        let position = self.position.len();
        rows_of([
            ("position", position),
            ("velocity", self.velocity.len()),
            ("attitude", self.attitude.len()),
            ("angular_velocity", self.angular_velocity.len()),
            ("tyre_speed", self.tyre_speed.map_or(position, <[f64]>::len)),
        ])
    }

    /// Some of them, one after another.
    fn part(&self, from: usize, to: usize) -> RigidLaunches<'a> {
        RigidLaunches {
            position: &self.position[from..to],
            velocity: &self.velocity[from..to],
            attitude: &self.attitude[from..to],
            angular_velocity: &self.angular_velocity[from..to],
            tyre_speed: self.tyre_speed.map(|speed| &speed[from..to]),
        }
    }

    fn launch(&self, row: usize) -> Result<Launch, LaunchError> {
        let [t, l, u] = self.attitude[row].map(Vec3::from);
        let launch = Launch::by_hand(self.position[row].into(), self.velocity[row].into())?;
        let turning = self.angular_velocity[row].into();
        let launch = launch.with_attitude(Attitude { t, l, u }, turning)?;
        match self.tyre_speed {
            Some(speed) => launch.with_tyre_speed(speed[row]),
            None => Ok(launch),
        }
    }
}

impl RigidBatch {
    /// Rigid flights of this rider through this air onto this ground. Errors: a torque that is not finite; a righting rate
    /// that is none.
    pub fn new(
        ground: &Ground,
        rider: &Rider,
        air: &Air,
        options: RigidOptions,
    ) -> Result<Self, FlightError> {
        Body::of(rider, 0.0, options.torque)?;
        Reach::leaning(rider.com_height_landing(), 0.0, options.flight.righting_rate)?;
        Ok(Self { ground: ground.clone(), rider: rider.clone(), air: *air, options })
    }

    /// Flies all launches and writes what their ends say, on the threads of a crew: row by row, to the last bit, what
    /// [`Launch::rigid_flight`] and its touchdown give, on any number of them.
    ///
    /// Errors: columns of other lengths than the launches; no threads; stopped by the watch.
    pub fn flights_into(
        &self,
        launches: RigidLaunches<'_>,
        out: &mut RigidColumns<'_>,
        crew: &Crew<'_>,
    ) -> Result<(), BatchError> {
        let rows = launches.rows()?;
        out.check(rows)?;
        let parts = (0..rows).step_by(PIECE).map(|at| launches.part(at, rows.min(at + PIECE)));
        let pieces: Vec<_> = parts.zip(out.borrowed().pieces(PIECE)).collect();
        let work = |(launches, mut out): (RigidLaunches<'_>, RigidColumns<'_>)| {
            for at in 0..launches.position.len() {
                out.write(at, &self.row(&launches, at));
            }
        };
        Ok(crew.each(pieces, |(launches, _)| launches.position.len(), work)?)
    }

    /// As [`Self::flights_into`], into columns of their own.
    pub fn flights(
        &self,
        launches: RigidLaunches<'_>,
        crew: &Crew<'_>,
    ) -> Result<RigidFlights, BatchError> {
        let mut flights = RigidFlights::new(launches.position.len());
        self.flights_into(launches, &mut flights.columns(), crew)?;
        Ok(flights)
    }

    fn row(&self, launches: &RigidLaunches<'_>, at: usize) -> RigidRow {
        let Self { ground, rider, air, options } = self;
        let Ok(launch) = launches.launch(at) else { return RigidRow::none(Status::BadInput) };
        match launch.rigid_flight(ground, rider, air, *options) {
            Ok(flight) => RigidRow::of(&flight.touchdown()),
            Err(FlightError::Value(_)) => RigidRow::none(Status::BadInput),
            Err(_) => RigidRow::none(Status::Failed),
        }
    }
}

impl RigidRow {
    fn of(touchdown: &Touchdown) -> Self {
        let row = Self::none(Status::Flown(touchdown.outcome));
        let Some(contact) = &touchdown.contact else { return row };
        let &Contact { lean_owed, .. } = contact;
        let row = Self { lean_owed, ..row.touched(contact) };
        touchdown.turn.as_ref().map_or(row, |turn| row.turned(turn))
    }

    fn turned(self, turn: &Turn) -> Self {
        let axes = |Attitude { t, l, u }: Attitude| [t.into(), l.into(), u.into()];
        Self {
            attitude: axes(turn.attitude),
            wanted: axes(turn.wanted),
            rates: turn.rates.into(),
            owed: turn.owed.into(),
            rate_to_pay: turn.rate_to_pay.into(),
            torque_to_pay: turn.torque_to_pay.into(),
            pitch_to_surface: turn.pitch_to_surface,
            gap: turn.gap,
            between_wheels: turn.between_wheels,
            ..self
        }
    }
}
