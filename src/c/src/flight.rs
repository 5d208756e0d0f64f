//! Flights: one to follow frame by frame, or many at once.

use crate::border::{Failure, LoamlineStatus, end, give, guard, read, rows, write, write_rows};
use crate::ground::LoamlineGround;
use crate::values::{
    LoamlineAir, LoamlineLaunch, LoamlineOutcome, LoamlineRider, LoamlineTouchdown,
};
use loamline::flight::Flight;
use loamline::math::parallel::Crew;

/// How many flights a thread takes at a time.
const STRIDE: usize = 64;

/// A flight from its launch to the ground.
#[derive(Debug)]
pub struct LoamlineFlight(pub(crate) Flight);

// What a C program may read from several threads at once.
const fn shared<T: Send + Sync>() {}
const _: () = shared::<LoamlineFlight>();
const _: () = shared::<LoamlineGround>();

/// Makes the flight of a launch by hand onto a ground.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_flight(
    launch: *const LoamlineLaunch,
    ground: *const LoamlineGround,
    rider: *const LoamlineRider,
    air: *const LoamlineAir,
    out: *mut *mut LoamlineFlight,
) -> LoamlineStatus {
    guard(|| {
        // SAFETY: the contract of this crate, for all four.
        let (launch, ground, rider, air) = unsafe {
            (
                read(launch, "launch")?,
                read(ground, "ground")?,
                read(rider, "rider")?,
                read(air, "air")?,
            )
        };
        let flight = launch.core()?.flight(&ground.0, &rider.core()?, &air.core()?);
        // SAFETY: the contract of this crate.
        unsafe { give(out, LoamlineFlight(flight.map_err(Failure::no_result)?)) }
    })
}

/// Writes the centre of mass (three numbers, m) at a time since the launch, s; before the launch and after the end the nearer of both
/// counts.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_flight_position(
    flight: *const LoamlineFlight,
    time: f64,
    out: *mut f64,
) -> LoamlineStatus {
    guard(|| {
        // SAFETY: the contract of this crate.
        let flight = &unsafe { read(flight, "flight") }?.0;
        if time.is_nan() {
            return Err(Failure::bad_input("time is not a number"));
        }
        let position = flight.position(time.clamp(0.0, flight.time()));
        // SAFETY: the contract of this crate.
        unsafe { write::<[f64; 3]>(out.cast(), "out", position.into()) }
    })
}

/// Writes how the flight comes out, and the moment of landing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_flight_touchdown(
    flight: *const LoamlineFlight,
    out: *mut LoamlineTouchdown,
) -> LoamlineStatus {
    guard(|| {
        // SAFETY: the contract of this crate.
        let flight = unsafe { read(flight, "flight") }?;
        let touchdown = LoamlineTouchdown::of(&flight.0.touchdown());
        // SAFETY: the contract of this crate.
        unsafe { write(out, "out", touchdown) }
    })
}

/// Ends a flight; null is nothing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_flight_free(flight: *mut LoamlineFlight) {
    // SAFETY: the contract of this crate.
    unsafe { end(flight) }
}

/// Writes the touchdowns of `count` launches by hand, row by row, on all cores; the same numbers on any number of them. A
/// launch that is none has the outcome `LOAMLINE_OUTCOME_BAD_LAUNCH` in its row, and the others are as ever.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_flights(
    launches: *const LoamlineLaunch,
    count: usize,
    ground: *const LoamlineGround,
    rider: *const LoamlineRider,
    air: *const LoamlineAir,
    out: *mut LoamlineTouchdown,
) -> LoamlineStatus {
    guard(|| {
        // SAFETY: the contract of this crate, for all four.
        let (launches, ground, rider, air) = unsafe {
            let launches = rows(launches, count, "launches")?;
            (launches, read(ground, "ground")?, read(rider, "rider")?, read(air, "air")?)
        };
        let (rider, air) = (rider.core()?, air.core()?);
        let row = |i: usize| {
            let launch = launches[i].core()?;
            let flight = launch.flight(&ground.0, &rider, &air).map_err(Failure::no_result)?;
            Ok::<_, Failure>(LoamlineTouchdown::of(&flight.touchdown()))
        };
        let none = LoamlineTouchdown::none(LoamlineOutcome::BadLaunch, f64::NAN);
        let touchdowns = Crew::default()
            .map(count, STRIDE, |i| row(i).unwrap_or(none))
            .map_err(Failure::no_result)?;
        // SAFETY: the contract of this crate.
        unsafe { write_rows(out, "out", &touchdowns) }
    })
}
