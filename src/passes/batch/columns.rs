//! The columns of a batch of passes.

use super::Status;
use crate::touchdown::batch::touch_columns;

touch_columns! {
    /// Many passes, a row a pass; NaN for what a pass does not have. SI, radians.
    rows Rows;
    /// Columns to be written over, all of the same length: those of [`Rows`].
    columns Columns;
    /// What one row says.
    row Row;
    status Status, Status::FAILED;
    before {
        /// The tyres' speed at the takeoff's start, m/s.
        entry_speed: f64;
        /// The tyres' speed at the edge, m/s.
        exit_speed: f64;
        /// The centre of mass at the launch, metres.
        launch_position: [f64; 3];
        /// Its velocity there, m/s.
        launch_velocity: [f64; 3];
    }
    after {
        /// The lean still owed at the touch, radians.
        lean_owed: f64;
    }
}
