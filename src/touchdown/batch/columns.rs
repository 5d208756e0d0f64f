//! The columns of what touches say, and those of a batch of flights.

use super::Status;
use crate::touchdown::Contact;

/// Columns among which are those of a touch, the same for all that fly.
macro_rules! touch_columns {
    (
        $(#[$rows_doc:meta])* rows $Rows:ident;
        $(#[$columns_doc:meta])* columns $Columns:ident;
        $(#[$row_doc:meta])* row $Row:ident;
        status $Status:ident, $failed:expr;
        before { $($before:tt)* }
        after { $($after:tt)* }
    ) => {
        $crate::math::columns::columns! {
            $(#[$rows_doc])* rows $Rows;
            $(#[$columns_doc])* columns $Columns;
            $(#[$row_doc])* row $Row;
            status $Status, $failed;
            $($before)*
            /// Seconds from the launch to the touch.
            time: f64;
            /// The speed into the surface, m/s.
            normal_speed: f64;
            /// The equivalent fall height, metres.
            fall_height: f64;
            /// The angle between path and surface, radians.
            angle: f64;
            /// The level distance from the tyres' point at the launch to the mark, metres; from the centre of mass for a
            /// launch by hand.
            distance: f64;
            /// How far the mark is below that point, metres.
            drop: f64;
            /// The speed over the surface, forward, m/s.
            along_speed: f64;
            /// The speed over the surface to the left of forward, m/s.
            sideways_speed: f64;
            /// The grip that stopping the sideways speed would take.
            grip_demand: f64;
            /// Distance to the ground less reach, metres.
            residual: f64;
            /// The tyres' mark, metres.
            mark: [f64; 3];
            /// The velocity of the centre of mass at the touch, m/s.
            velocity: [f64; 3];
            /// The unit vector from the touched place to the centre of mass.
            normal: [f64; 3];
            $($after)*
        }

        impl $crate::touchdown::batch::Touching for $Columns<'_> {
            fn touches(&mut self) -> $crate::touchdown::batch::Columns<'_> {
                $crate::touchdown::batch::Columns {
                    time: self.time,
                    normal_speed: self.normal_speed,
                    fall_height: self.fall_height,
                    angle: self.angle,
                    distance: self.distance,
                    drop: self.drop,
                    along_speed: self.along_speed,
                    sideways_speed: self.sideways_speed,
                    grip_demand: self.grip_demand,
                    residual: self.residual,
                    mark: self.mark,
                    velocity: self.velocity,
                    normal: self.normal,
                    status: self.status,
                }
            }
        }

        impl $crate::touchdown::batch::Touched for $Row {
            fn touched(self, contact: &$crate::touchdown::Contact) -> Self {
                Self {
                    time: contact.time,
                    normal_speed: contact.normal_speed,
                    fall_height: contact.fall_height,
                    angle: contact.angle,
                    distance: contact.distance,
                    drop: contact.drop,
                    along_speed: contact.along_speed,
                    sideways_speed: contact.sideways_speed,
                    grip_demand: contact.grip_demand,
                    residual: contact.residual,
                    mark: contact.mark.into(),
                    velocity: contact.velocity.into(),
                    normal: contact.normal.into(),
                    ..self
                }
            }
        }
    };
}
pub(crate) use touch_columns;

/// Columns among which are those of a touch.
pub(crate) trait Touching {
    /// Those of the touch, for a while.
    fn touches(&mut self) -> Columns<'_>;
}

/// A row that tells of a touch.
pub(crate) trait Touched {
    /// The row with what one touch says.
    fn touched(self, contact: &Contact) -> Self;
}

touch_columns! {
    /// The ends of many flights, a row a flight; NaN where a flight has no touch. SI, radians.
    rows Flights;
    /// Columns to be written over, all of the same length: those of [`Flights`].
    columns Columns;
    /// What one end says.
    row Row;
    status Status, Status::Failed;
    before {}
    after {}
}
