//! The columns of a batch of passes: written in place, cut into pieces for the threads.

use super::{BatchError, Status};

macro_rules! columns {
    ($($(#[$doc:meta])* $name:ident: $item:ty = $nothing:expr;)*) => {
        /// Many passes, a row a pass; NaN for what a pass does not have. SI, radians.
        #[derive(Debug, Clone, PartialEq)]
        #[non_exhaustive]
        pub struct Rows {
            $($(#[$doc])* pub $name: Vec<$item>,)*
        }

        /// Columns to be written over, all of the same length: those of [`Rows`].
        #[derive(Debug)]
        pub struct Columns<'a> {
            $($(#[$doc])* pub $name: &'a mut [$item],)*
        }

        /// What one row says.
        #[derive(Debug, Clone, Copy)]
        pub(super) struct Row {
            $(pub(super) $name: $item,)*
        }

        impl Default for Row {
            fn default() -> Self {
                Self { $($name: $nothing,)* }
            }
        }

        impl Rows {
            /// Room for so many passes.
            pub fn new(rows: usize) -> Self {
                Self { $($name: vec![$nothing; rows],)* }
            }

            /// All columns, to be written over.
            pub fn columns(&mut self) -> Columns<'_> {
                Columns { $($name: &mut self.$name,)* }
            }
        }

        impl<'a> Columns<'a> {
            pub(super) fn check(&self, wanted: usize) -> Result<(), BatchError> {
                $(if self.$name.len() != wanted {
                    let given = self.$name.len();
                    return Err(BatchError::Rows { field: stringify!($name), given, wanted });
                })*
                Ok(())
            }

            /// The same columns for a while.
            pub(super) fn borrowed(&mut self) -> Columns<'_> {
                Columns { $($name: &mut *self.$name,)* }
            }

            pub(super) fn write(&mut self, at: usize, row: &Row) {
                $(self.$name[at] = row.$name;)*
            }

            fn split(self, at: usize) -> (Self, Self) {
                $(let $name = self.$name.split_at_mut(at);)*
                (Self { $($name: $name.0,)* }, Self { $($name: $name.1,)* })
            }
        }
    };
}

const NONE: f64 = f64::NAN;

columns! {
    /// The tyres' speed at the takeoff's start, m/s.
    entry_speed: f64 = NONE;
    /// The tyres' speed at the edge, m/s.
    exit_speed: f64 = NONE;
    /// Seconds from the launch to the touch.
    time: f64 = NONE;
    /// The speed into the surface, m/s.
    normal_speed: f64 = NONE;
    /// The equivalent fall height, metres.
    fall_height: f64 = NONE;
    /// The angle between path and surface, radians.
    angle: f64 = NONE;
    /// The level distance from the tyres' point at the launch to the mark, metres.
    distance: f64 = NONE;
    /// How far the mark is below that, metres.
    drop: f64 = NONE;
    /// The speed over the surface, forward, m/s.
    along_speed: f64 = NONE;
    /// The speed over the surface to the left of forward, m/s.
    sideways_speed: f64 = NONE;
    /// The grip that stopping the sideways speed would take.
    grip_demand: f64 = NONE;
    /// The lean still owed at the touch, radians.
    lean_owed: f64 = NONE;
    /// Distance to the ground less reach, metres.
    residual: f64 = NONE;
    /// The centre of mass at the launch, metres.
    launch_position: [f64; 3] = [NONE; 3];
    /// Its velocity there, m/s.
    launch_velocity: [f64; 3] = [NONE; 3];
    /// The tyres' mark, metres.
    mark: [f64; 3] = [NONE; 3];
    /// The velocity of the centre of mass at the touch, m/s.
    velocity: [f64; 3] = [NONE; 3];
    /// The unit vector from the touched place to the centre of mass.
    normal: [f64; 3] = [NONE; 3];
    /// How each came out: the code of a [`Status`].
    status: u8 = Status::Failed.code();
}

impl Rows {
    /// How many passes.
    pub fn len(&self) -> usize {
        self.status.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.status.is_empty()
    }

    /// How one pass came out; `None` past the last.
    pub fn status(&self, row: usize) -> Option<Status> {
        self.status.get(row).and_then(|code| Status::from_code(*code))
    }
}

impl Columns<'_> {
    /// Pieces of so many rows, the last perhaps shorter.
    pub(super) fn pieces(self, rows: usize) -> impl Iterator<Item = Self> {
        let mut rest = Some(self);
        std::iter::from_fn(move || {
            let all = rest.take().filter(|all| !all.status.is_empty())?;
            let at = rows.min(all.status.len());
            let (piece, left) = all.split(at);
            rest = Some(left);
            Some(piece)
        })
    }
}
