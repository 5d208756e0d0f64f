//! Two registers at a time: while one waits for a root or a quotient, the other goes on.

use crate::math::lanes;

/// How many registers go side by side.
const SIDE_BY_SIDE: usize = 2;

pub(super) type Lanes<S> = lanes::Lanes<S, SIDE_BY_SIDE>;
pub(super) type Mask<S> = lanes::Mask<S, SIDE_BY_SIDE>;
