//! Turns a lesson and a simulated pump into a practice job, a debrief, and what to practise next.
//!
//! [`Lesson`](crate::knowledge::schema::Lesson) + a pump that answers ([`Rig`](crate::rig::Rig)) → [`Exercise`], one [`Move`]
//! after the other → [`Debrief`] and [`Score`] → [`due`]: the ladder of growing intervals. The pump's answers go into a
//! job like any other, so that belief, gates and stop rules are those of the real work; nothing of it reaches real records.

mod book;
mod debrief;
mod exercise;
mod moves;
mod progress;
mod schedule;
mod score;

pub use book::PracticeBook;
pub use debrief::{Debrief, StepRow, debrief};
pub use exercise::{Done, Exercise, ExerciseError, Found, Happened, Miss};
pub use moves::{Move, MoveLine, PRACTICE_VERSION};
pub use progress::{Progress, progress};
pub use schedule::{Due, due};
pub use score::{Score, Slip, score};

#[cfg(test)]
mod tests;
