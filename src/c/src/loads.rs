//! What bike and body take in a landing.

use crate::border::{Failure, LoamlineStatus, guard, read, write};
use crate::values::LoamlineRider;
use loamline::load::{Impact, Stage, StageLoads};

/// The loads of a landing. Data on bikes are few, and the legs' stroke rules the result; injury is not predicted.
#[repr(C)]
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoamlineLoads {
    /// Highest force on the body, N.
    pub peak_force: f64,
    /// The same in weights of the body, without the bike.
    pub peak_bodyweights: f64,
    /// When it is reached, s from the touch.
    pub peak_time: f64,
    /// The force, in weights, that would have stopped the body over the same way had it been constant.
    pub mean_bodyweights: f64,
    /// 1 where legs and arms use up their stroke, else 0.
    pub legs_bottomed: i32,
    /// 1 where the suspension uses up its travel, else 0.
    pub suspension_bottomed: i32,
}

/// Writes the loads of coming down on the bike from an equivalent fall height, m, onto a surface so far off level, radians;
/// standard gravity, rigid ground, the usual suspension and legs.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn loamline_loads(
    rider: *const LoamlineRider,
    fall_height: f64,
    slope: f64,
    out: *mut LoamlineLoads,
) -> LoamlineStatus {
    guard(|| {
        // SAFETY: the contract of this crate.
        let rider = unsafe { read(rider, "rider") }?.core()?;
        let impact = Impact::from_height(fall_height)
            .and_then(|impact| impact.with_slope(slope))
            .map_err(Failure::bad_input)?;
        let loads = rider.loads_of(&impact).map_err(Failure::bad_input)?;
        let bottomed = |stage| i32::from(loads.stage(stage).is_some_and(StageLoads::bottomed));
        let value = LoamlineLoads {
            peak_force: loads.peak().value,
            peak_bodyweights: loads.peak_bodyweights(),
            peak_time: loads.peak().time,
            mean_bodyweights: loads.mean_bodyweights(),
            legs_bottomed: bottomed(Stage::Legs),
            suspension_bottomed: bottomed(Stage::Suspension),
        };
        // SAFETY: the contract of this crate.
        unsafe { write(out, "out", value) }
    })
}
