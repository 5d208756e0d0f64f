//! Where the next barrow of earth helps most: how touchdowns answer to the ground under them, place by place.

mod error;
mod map;
mod mound;
mod next;
mod response;

pub use error::BarrowError;
pub use map::{BarrowMap, barrow_map};
pub use mound::Mound;
pub use next::{NextBarrow, next_barrows};
pub use response::Response;

use crate::passes::Passes;

/// How hard the touchdowns of an ensemble are on average, against a limit: the weighted mean of `(h / limit)^2`, `h` the
/// equivalent fall height.
///
/// The square makes hard landings count more than many soft ones. Only who touches the ground counts; 1 is everybody at the
/// limit, 0 where nobody touches.
pub fn severity(passes: &Passes, fall_limit: f64) -> f64 {
    let touches = passes.members().iter().filter_map(|pass| {
        let hard = pass.contact()?.fall_height / fall_limit;
        Some((pass.drawn.weight, hard * hard))
    });
    let (total, sum) = touches
        .fold((0.0, 0.0), |(total, sum), (weight, hard)| (total + weight, sum + weight * hard));
    if total > 0.0 { sum / total } else { 0.0 }
}
