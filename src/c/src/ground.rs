//! Grounds: plane, grid, survey, and the same with a landing.

use crate::border::{Failure, LoamlineStatus, end, give, guard, read, rows, write};
use crate::values::LoamlineLanding;
use loamline::Ground;
use loamline::math::{Vec2, Vec3};

/// The ground that is flown onto.
#[derive(Debug)]
pub struct LoamlineGround(pub(crate) Ground);

/// Makes a plane without end through a point (three numbers: x, y, z; m), falling at `slope` along `heading`, radians.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_ground_plane(
    point: *const f64,
    slope: f64,
    heading: f64,
    out: *mut *mut LoamlineGround,
) -> LoamlineStatus {
    guard(|| {
        // SAFETY: the contract of this crate.
        let point = unsafe { read::<[f64; 3]>(point.cast(), "point") }?;
        let ground = Ground::plane(Vec3::from(*point), slope, heading);
        // SAFETY: the contract of this crate.
        unsafe { give(out, LoamlineGround(ground.map_err(Failure::bad_input)?)) }
    })
}

/// Makes a ground of heights on a regular grid, bilinear between: `rows` rows along y of `columns` along x each, from
/// `origin` (two numbers: x, y; m), `spacing` (two: along x, along y; m) apart.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_ground_grid(
    origin: *const f64,
    spacing: *const f64,
    columns: usize,
    rows: usize,
    heights: *const f64,
    out: *mut *mut LoamlineGround,
) -> LoamlineStatus {
    guard(|| {
        let count =
            columns.checked_mul(rows).ok_or_else(|| Failure::bad_input("too many heights"))?;
        // SAFETY: the contract of this crate, for all three.
        let (origin, spacing, heights) = unsafe {
            let heights = self::rows(heights, count, "heights")?;
            (pair(origin, "origin")?, pair(spacing, "spacing")?, heights)
        };
        let ground = Ground::grid(origin, spacing, columns, rows, heights.to_vec());
        // SAFETY: the contract of this crate.
        unsafe { give(out, LoamlineGround(ground.map_err(Failure::bad_input)?)) }
    })
}

/// Two numbers from a pointer on.
///
/// # Safety
/// The crate's contract for pointers.
unsafe fn pair(pointer: *const f64, name: &str) -> Result<Vec2, Failure> {
    // SAFETY: null or valid for two numbers, by the contract.
    Ok(Vec2::from(*unsafe { read::<[f64; 2]>(pointer.cast(), name) }?))
}

/// Makes a ground of `count` surveyed points (three numbers each: x, y, z; m), with flat triangles between neighbours.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_ground_survey(
    points: *const f64,
    count: usize,
    out: *mut *mut LoamlineGround,
) -> LoamlineStatus {
    guard(|| {
        // SAFETY: the contract of this crate.
        let points = unsafe { rows::<[f64; 3]>(points.cast(), count, "points") }?;
        let points: Vec<Vec3> = points.iter().map(|point| Vec3::from(*point)).collect();
        let ground = Ground::survey(&points).map_err(Failure::bad_input)?;
        // SAFETY: the contract of this crate.
        unsafe { give(out, LoamlineGround(ground)) }
    })
}

/// Makes a ground with a landing built on it; the first stays as it is.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_ground_with_landing(
    ground: *const LoamlineGround,
    landing: *const LoamlineLanding,
    out: *mut *mut LoamlineGround,
) -> LoamlineStatus {
    guard(|| {
        // SAFETY: the contract of this crate.
        let (ground, landing) = unsafe { (read(ground, "ground")?, read(landing, "landing")?) };
        let built = ground.0.with_landing(&landing.core()?).map_err(Failure::bad_input)?;
        // SAFETY: the contract of this crate.
        unsafe { give(out, LoamlineGround(built)) }
    })
}

/// Writes the height over a plan position, m; NaN where the ground is not known.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_ground_height(
    ground: *const LoamlineGround,
    x: f64,
    y: f64,
    out: *mut f64,
) -> LoamlineStatus {
    guard(|| {
        // SAFETY: the contract of this crate.
        let ground = unsafe { read(ground, "ground") }?;
        let height = ground.0.height(x, y).unwrap_or(f64::NAN);
        // SAFETY: the contract of this crate.
        unsafe { write(out, "out", height) }
    })
}

/// Ends a ground; null is nothing.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_ground_free(ground: *mut LoamlineGround) {
    // SAFETY: the contract of this crate.
    unsafe { end(ground) }
}
