//! Sites: read from a file, ridden from a start mark, flown onto a ground.

use crate::border::{Failure, LoamlineStatus, end, give, guard, read, text};
use crate::flight::LoamlineFlight;
use crate::ground::LoamlineGround;
use loamline::files;
use loamline::ride::Lean;
use loamline::site::{RiderClass, Site};
use std::ffi::c_char;

/// A site: its ground, its takeoff, its riders, and what a landing on it may be.
#[derive(Debug)]
pub struct LoamlineSite(Site);

/// Makes the demo site: an invented heath with a right-hand wall that steepens.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_site_demo(out: *mut *mut LoamlineSite) -> LoamlineStatus {
    guard(|| {
        let site = files::demo_site().map_err(Failure::file)?;
        // SAFETY: the contract of this crate.
        unsafe { give(out, LoamlineSite(site)) }
    })
}

/// Makes the site that a file (TOML; its path in UTF-8) tells, with the tables it names.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_site_load(
    path: *const c_char,
    out: *mut *mut LoamlineSite,
) -> LoamlineStatus {
    guard(|| {
        // SAFETY: the contract of this crate.
        let path = unsafe { text(path, "path") }?;
        let site = files::load_site(path).map_err(Failure::file)?;
        // SAFETY: the contract of this crate.
        unsafe { give(out, LoamlineSite(site)) }
    })
}

/// Makes the site's ground as surveyed.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_site_ground(
    site: *const LoamlineSite,
    out: *mut *mut LoamlineGround,
) -> LoamlineStatus {
    guard(|| {
        // SAFETY: the contract of this crate.
        let site = unsafe { read(site, "site") }?;
        let ground = site.0.ground().map_err(Failure::bad_input)?;
        // SAFETY: the contract of this crate.
        unsafe { give(out, LoamlineGround(ground)) }
    })
}

/// Makes the flight of the middle rider of a class, from rest at a start mark (level m up the hill from the run-in's end),
/// over a place of the edge (m up a wall's panel, or to the left of the middle), with a pop, m/s, onto a ground. `lean` is
/// "deck", "balanced" or "settled". A ride that ends before the edge is `LOAMLINE_STATUS_NO_RESULT`.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_site_flight(
    site: *const LoamlineSite,
    start: f64,
    leave: f64,
    who: *const c_char,
    lean: *const c_char,
    pop: f64,
    ground: *const LoamlineGround,
    out: *mut *mut LoamlineFlight,
) -> LoamlineStatus {
    guard(|| {
        // SAFETY: the contract of this crate, for all four.
        let (site, who, lean, ground) = unsafe {
            (
                &read(site, "site")?.0,
                text(who, "who")?,
                text(lean, "lean")?,
                read(ground, "ground")?,
            )
        };
        let ridden = site.ride(start, leave, who, named(lean)?).map_err(Failure::bad_input)?;
        let launch = ridden.last().launch(pop).map_err(Failure::no_result)?;
        let rider = site.class(who).and_then(RiderClass::middle_rider);
        let (rider, air) = (rider.map_err(Failure::bad_input)?, site.middle_air());
        let flight = launch.flight(&ground.0, &rider, &air.map_err(Failure::bad_input)?);
        // SAFETY: the contract of this crate.
        unsafe { give(out, LoamlineFlight(flight.map_err(Failure::no_result)?)) }
    })
}

/// Ends a site; null is nothing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_site_free(site: *mut LoamlineSite) {
    // SAFETY: the contract of this crate.
    unsafe { end(site) }
}

fn named(lean: &str) -> Result<Lean, Failure> {
    Lean::ALL.into_iter().find(|known| known.name() == lean).ok_or_else(|| {
        let known = Lean::ALL.map(Lean::name).join(", ");
        Failure::bad_input(format_args!("lean is {lean:?}; it may be one of {known}"))
    })
}
