//! Columns of numbers, a row a case: kept, written over in place, and cut into pieces for the threads.

/// A column that has not as many rows as the others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("{field}: {given} rows, {wanted} are wanted")]
#[non_exhaustive]
pub struct WrongRows {
    /// Which column.
    pub field: &'static str,
    /// How many it has.
    pub given: usize,
    /// How many are wanted.
    pub wanted: usize,
}

/// How many rows all columns have, of which the first says how many are wanted.
pub(crate) fn rows_of<const N: usize>(
    columns: [(&'static str, usize); N],
) -> Result<usize, WrongRows> {
    let wanted = columns.first().map_or(0, |(_, rows)| *rows);
    match columns.into_iter().find(|(_, given)| *given != wanted) {
        Some((field, given)) => Err(WrongRows { field, given, wanted }),
        None => Ok(wanted),
    }
}

/// What stands in a row that has no number.
pub(crate) trait Cell: Copy {
    /// No number.
    const NONE: Self;
}

impl Cell for f64 {
    const NONE: Self = Self::NAN;
}

impl Cell for bool {
    const NONE: Self = false;
}

impl<T: Cell, const N: usize> Cell for [T; N] {
    const NONE: Self = [T::NONE; N];
}

/// The columns of a batch: a struct that owns them, one that borrows them to be written over, and one for a single row.
///
/// Beside those named there is `status`, the codes of a type of statuses, at first of the one given.
macro_rules! columns {
    (
        $(#[$rows_doc:meta])* rows $Rows:ident;
        $(#[$columns_doc:meta])* columns $Columns:ident;
        $(#[$row_doc:meta])* row $Row:ident;
        status $Status:ident, $failed:expr;
        $($(#[$doc:meta])* $name:ident: $item:ty;)*
    ) => {
        $(#[$rows_doc])*
        #[derive(Debug, Clone, PartialEq)]
        #[non_exhaustive]
        pub struct $Rows {
            $($(#[$doc])* pub $name: Vec<$item>,)*
            /// How each came out: the code of its status.
            pub status: Vec<u8>,
        }

        $(#[$columns_doc])*
        #[derive(Debug)]
        pub struct $Columns<'a> {
            $($(#[$doc])* pub $name: &'a mut [$item],)*
            /// How each came out: the code of its status.
            pub status: &'a mut [u8],
        }

        $(#[$row_doc])*
        #[derive(Debug, Clone, Copy)]
        pub(crate) struct $Row {
            $(pub(crate) $name: $item,)*
            pub(crate) status: u8,
        }

        impl $Row {
            /// A row without numbers.
            pub(crate) const fn none(status: $Status) -> Self {
                Self {
                    $($name: <$item as $crate::math::columns::Cell>::NONE,)*
                    status: status.code(),
                }
            }
        }

        impl $Rows {
            /// Room for so many.
            pub fn new(rows: usize) -> Self {
                Self {
                    $($name: vec![<$item as $crate::math::columns::Cell>::NONE; rows],)*
                    status: vec![$failed.code(); rows],
                }
            }

            /// All columns, to be written over.
            pub fn columns(&mut self) -> $Columns<'_> {
                $Columns { $($name: &mut self.$name,)* status: &mut self.status }
            }

            /// How many rows there are.
            pub fn len(&self) -> usize {
                self.status.len()
            }

            /// Whether there are none.
            pub fn is_empty(&self) -> bool {
                self.status.is_empty()
            }

            /// How one came out; `None` past the last.
            pub fn status(&self, row: usize) -> Option<$Status> {
                self.status.get(row).and_then(|code| $Status::from_code(*code))
            }
        }

        impl $Columns<'_> {
            /// Whether all have so many rows.
            pub(crate) fn check(&self, wanted: usize) -> Result<(), $crate::math::columns::WrongRows> {
                let given = [$((stringify!($name), self.$name.len()),)* ("status", self.status.len())];
                match given.into_iter().find(|(_, given)| *given != wanted) {
                    Some((field, given)) => {
                        Err($crate::math::columns::WrongRows { field, given, wanted })
                    }
                    None => Ok(()),
                }
            }

            /// The same columns for a while.
            pub(crate) fn borrowed(&mut self) -> $Columns<'_> {
                $Columns { $($name: &mut *self.$name,)* status: &mut *self.status }
            }

            pub(crate) fn write(&mut self, at: usize, row: &$Row) {
                $(self.$name[at] = row.$name;)*
                self.status[at] = row.status;
            }

            fn split(self, at: usize) -> (Self, Self) {
                $(let $name = self.$name.split_at_mut(at);)*
                let status = self.status.split_at_mut(at);
                (
                    Self { $($name: $name.0,)* status: status.0 },
                    Self { $($name: $name.1,)* status: status.1 },
                )
            }

            /// Pieces of so many rows, the last perhaps shorter.
            pub(crate) fn pieces(self, rows: usize) -> impl Iterator<Item = Self> {
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
    };
}
pub(crate) use columns;
