//! Turns simulated pumps whose faults are known into marks of the whole program: where the true fault stands after so many
//! answers, the minutes it took beside a fixed order of checks, and whether the belief may be believed.
//!
//! [`Settings`] and a number → [`draw`](Ground::draw)n job → [`played`](Ground::play) by the planner and by a
//! [fixed order](Effort) → [`JobMarks`] → [`Report`] of [`Figure`]s with intervals. What shows comes from the
//! [`simulation`](crate::simulation), which never reads the knowledge; where the two part is told as [`Disagreement`]s.
//! Nothing here prints or uses threads: a job hangs on the settings and its number alone.

mod disagree;
mod draw;
mod figure;
mod fixed;
mod ground;
mod kept;
mod marks;
mod noise;
mod play;
mod reply;
mod report;
mod tally;
mod work;

pub use disagree::{Disagreement, disagreements};
pub use draw::{Drawn, ExamError};
pub use figure::{Figure, Sample};
pub use ground::{Ground, PUMPS};
pub use kept::{Kept, KeptError};
pub use marks::{AFTER, Believed, Effort, JobMarks, Stand, calibration_error};
pub use noise::noisy;
pub use report::{Confusion, Paired, Report, TOP, report};

use crate::knowledge::schema::Id;
use serde::{Deserialize, Serialize};

#[cfg(test)]
mod tests;

/// Answers after which asking ends, can't-tells counted.
pub const MOST_ANSWERS: usize = 40;
/// Things put right after which a job is given up.
pub const MOST_REPAIRS: usize = 6;

/// What jobs are played. Shares are 0 to 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Settings {
    /// Pump family.
    pub family: Id,
    /// The same seed, the same jobs.
    pub seed: u64,
    /// Faults per job.
    pub faults: usize,
    /// Share of answers to findings that are the wrong way round.
    pub wrong: f64,
    /// Share of findings and readings that nobody can tell.
    pub cannot_tell: f64,
    /// Standard deviation of the noise on the log-odds of the strengths that the planner believes in.
    pub mismatch: f64,
    /// Faults that the graph does not have, instead of those it has.
    pub outside: bool,
    /// Every fault as often as any other, instead of by its share of jobs.
    pub evenly: bool,
}
