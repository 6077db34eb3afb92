//! Turns a lesson and a simulated pump into a practice job, a debrief, and what to practise next.
//!
//! [`Lesson`](crate::knowledge::schema::Lesson) + a pump that answers ([`Rig`](crate::rig::Rig)) → [`Exercise`], one [`Move`]
//! after the other → [`Debrief`] and [`Score`] → [`due`]: the ladder of growing intervals. The pump's answers go into a
//! job like any other, so that belief, gates and stop rules are those of the real work; nothing of it reaches real records.
//! [`Room`] is all of this with a book that keeps it: what the full screen and the lines share.

mod aid;
mod book;
mod debrief;
mod dials;
mod exercise;
mod moves;
mod progress;
mod room;
mod schedule;
mod score;

pub use aid::Reasons;
pub use book::PracticeBook;
pub use debrief::{Debrief, StepRow, debrief};
pub use dials::{Dial, DialPoint};
pub use exercise::{Done, Exercise, ExerciseError, Found, Happened, Miss};
pub use moves::{Move, MoveLine, PRACTICE_VERSION};
pub use progress::{Progress, progress};
pub use room::{Ended, NotMade, PracticeChoice, Room, TakenUp, open_helps};
pub use schedule::{Due, due};
pub use score::{Score, Slip, score};

#[cfg(test)]
mod tests;
