//! What practice needs from the world to keep its jobs: implemented by the command layer on disk, in memory by tests.

use super::Move;
use super::moves::MoveLine;
use super::score::Score;
use crate::knowledge::schema::Lesson;
use crate::rig::Rig;
use jiff::civil::Date;

/// Keeps practice jobs, apart from real ones.
pub trait PracticeBook {
    /// The marks of all jobs that ended, oldest first, and what could not be read.
    fn marked(&self) -> (Vec<(Date, Score)>, Vec<String>);
    /// The moves of the last job if it did not end; moves made from here on are added to it.
    fn take_up(&mut self) -> Option<Vec<MoveLine>>;
    /// Begins a job with its first move.
    ///
    /// # Errors
    /// What stands against it, in words; nothing was begun then.
    fn begin(&mut self, first: Move) -> Result<(), String>;
    /// Saves a move of the job begun or taken up.
    ///
    /// # Errors
    /// What stands against it, in words; the move must not be made then.
    fn keep(&mut self, made: Move) -> Result<(), String>;
    /// Today, where the person is.
    fn today(&self) -> Date;
    /// A seed that no job had yet.
    fn seed(&self) -> u64;
    /// The pump of a lesson.
    ///
    /// # Errors
    /// Why there is none, in words.
    fn pump(&self, lesson: &Lesson, seed: u64) -> Result<Box<dyn Rig>, String>;
}
