//! How the loads of a batch's landing came out.

use serde::{Deserialize, Serialize};
use std::fmt;

/// How the loads of one landing of a batch came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Status {
    /// The body was stopped.
    Stopped,
    /// The body was still going down when the record ended.
    NotStopped,
    /// A number that is not finite or out of its range.
    BadInput,
    /// The chain's motion does not resolve.
    Failed,
}

impl Status {
    /// All of them; a status's code is its place here.
    pub const ALL: [Self; 4] = [Self::Stopped, Self::NotStopped, Self::BadInput, Self::Failed];

    /// The number that stands for it in a column.
    pub const fn code(self) -> u8 {
        match self {
            Self::Stopped => 0,
            Self::NotStopped => 1,
            Self::BadInput => 2,
            Self::Failed => 3,
        }
    }

    /// The status that a number stands for.
    pub fn from_code(code: u8) -> Option<Self> {
        Self::ALL.get(usize::from(code)).copied()
    }

    /// The status as one word, as tables have it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Stopped => "stopped",
            Self::NotStopped => "not_stopped",
            Self::BadInput => "bad_input",
            Self::Failed => "failed",
        }
    }
}

impl fmt::Display for Status {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_a_place() {
        for (place, status) in Status::ALL.iter().enumerate() {
            assert_eq!(usize::from(status.code()), place);
            assert_eq!(Status::from_code(status.code()), Some(*status));
        }
        assert_eq!(Status::from_code(4), None);
    }
}
