//! What somebody does in a practice job, one move per line of its journal.

use super::score::Score;
use crate::knowledge::schema::{Help, Id};
use jiff::Timestamp;
use serde::{Deserialize, Serialize};

/// Version of the lines of a practice journal.
pub const PRACTICE_VERSION: u32 = 1;

/// A move with its time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MoveLine {
    /// When.
    pub at: Timestamp,
    /// What.
    #[serde(flatten)]
    pub made: Move,
}

/// Something done in a practice job. The pump answers by the seed, so the moves alone make the job again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "move", rename_all = "snake_case")]
pub enum Move {
    /// A lesson was begun; always first.
    Began {
        /// Version of the lines.
        version: u32,
        /// Lesson.
        lesson: Id,
        /// Seed of the pump.
        seed: u64,
        /// Help chosen.
        help: Help,
        /// Hash of the knowledge.
        knowledge: String,
    },
    /// What somebody thinks it is, before looking.
    Thinks {
        /// Cause, condition or damage.
        node: Id,
    },
    /// A check was done.
    Does {
        /// Check.
        check: Id,
    },
    /// The pump was stopped for good.
    Stops,
    /// Zero energy was proved.
    Isolates,
    /// The list before the first run was walked.
    Readies,
    /// What it is was named: the job ends.
    Names {
        /// Causes (or what was taken for one), each with how sure, 0 to 1.
        nodes: Vec<(Id, f64)>,
    },
    /// It was given up: the job ends.
    GivesUp,
    /// The marks, worked out once after the end.
    Marked {
        /// The marks.
        score: Box<Score>,
    },
}

impl Move {
    /// True if no other move may follow but the marks.
    pub fn ends(&self) -> bool {
        matches!(self, Self::Names { .. } | Self::GivesUp)
    }
}
