//! Turns lessons and a book that keeps them into practice jobs at work: what the full screen and the lines share.
//!
//! A move is saved before it is made: what could not be saved was not done, and is said.

use super::book::PracticeBook;
use super::debrief::{Debrief, debrief};
use super::exercise::{Exercise, ExerciseError, Happened};
use super::moves::{Move, PRACTICE_VERSION};
use super::progress::{Progress, progress};
use super::schedule::{Due, due};
use super::score::{Score, score};
use crate::knowledge::Knowledge;
use crate::knowledge::schema::{Help, Id, Lesson};
use std::rc::Rc;
use thiserror::Error;

/// Moves of the planner, at most.
const MOST_MOVES: usize = 60;

/// What the caller decides beforehand.
#[derive(Debug, Clone, Default)]
pub struct PracticeChoice {
    /// Lesson; asked for if none.
    pub lesson: Option<Id>,
    /// Seed of the pump; a new one if none.
    pub seed: Option<u64>,
    /// Help; asked for if none.
    pub help: Option<Help>,
}

/// Why a move was not made.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NotMade {
    /// Something stands against it.
    #[error(transparent)]
    Stands(#[from] ExerciseError),
    /// It could not be saved.
    #[error("not saved, so it was not done: {0}")]
    NotSaved(String),
}

/// A job that did not end, made again.
pub struct TakenUp {
    /// The job; or why it cannot be taken up, in words.
    pub exercise: Result<Exercise, String>,
    /// What must be told first.
    pub notices: Vec<String>,
}

/// A job that has ended.
pub struct Ended {
    /// What there is to learn.
    pub debrief: Debrief,
    /// The marks.
    pub marks: Score,
    /// Why the marks were not saved, if they were not.
    pub not_saved: Option<String>,
}

/// Where somebody practises: the lessons, and the book that keeps what is done.
pub struct Room<'a> {
    book: &'a mut dyn PracticeBook,
    knowledge: Rc<Knowledge>,
}

/// The helps that may be had with a lesson, from most to least.
pub fn open_helps(lesson: &Lesson) -> Vec<Help> {
    [Help::Shown, Help::Half, Help::Alone].into_iter().filter(|help| lesson.help <= *help).collect()
}

impl<'a> Room<'a> {
    /// A room with the lessons of this knowledge.
    pub fn new(book: &'a mut dyn PracticeBook, knowledge: &Rc<Knowledge>) -> Self {
        Self { book, knowledge: Rc::clone(knowledge) }
    }

    /// The knowledge.
    pub fn knowledge(&self) -> &Rc<Knowledge> {
        &self.knowledge
    }

    /// What to practise, what is due first; how practice goes; what could not be read of earlier jobs.
    pub fn stand(&self) -> (Vec<Due>, Progress, Vec<String>) {
        let (marked, trouble) = self.book.marked();
        (due(&self.knowledge, &marked, self.book.today()), progress(&marked), trouble)
    }

    /// The last job, if it did not end; moves made from here on are added to it.
    pub fn take_up(&mut self) -> Option<TakenUp> {
        let moves = self.book.take_up()?;
        let Some(Move::Began { lesson, seed, help, knowledge, .. }) = moves.first().map(|line| &line.made) else {
            return None;
        };
        let name = self.knowledge.all.lessons.get(lesson).map_or(lesson, |lesson| &lesson.name);
        let mut notices = vec![format!("The last job did not end: {name}.")];
        if *knowledge != self.knowledge.hash {
            notices.push("The knowledge has changed since; some answers may differ.".to_owned());
        }
        let exercise = self.exercise(lesson, (*seed, *help)).map(|mut exercise| {
            for line in &moves {
                let _ = exercise.make(&line.made); // what cannot be made again is left out
            }
            exercise
        });
        Some(TakenUp { exercise, notices })
    }

    /// Begins a lesson: saved first.
    ///
    /// # Errors
    /// Why it cannot be begun, in words; nothing was begun then.
    pub fn begin(&mut self, lesson: &str, (seed, help): (Option<u64>, Help)) -> Result<Exercise, String> {
        let seed = seed.unwrap_or_else(|| self.book.seed());
        let exercise = self.exercise(lesson, (seed, help))?;
        let (lesson, knowledge) = (lesson.to_owned(), self.knowledge.hash.clone());
        self.book.begin(Move::Began { version: PRACTICE_VERSION, lesson, seed, help, knowledge })?;
        Ok(exercise)
    }

    /// Saves a move, and only then makes it.
    ///
    /// # Errors
    /// [`NotMade`]; the job is as before then.
    pub fn make(&mut self, exercise: &mut Exercise, made: Move) -> Result<Happened, NotMade> {
        exercise.may(&made)?;
        let saved = made.clone();
        self.book.keep(made).map_err(NotMade::NotSaved)?;
        Ok(exercise.act(&saved)?)
    }

    /// What the planner would do now: as long as it has not done too much already.
    pub fn planned(exercise: &Exercise) -> Move {
        if exercise.done.len() < MOST_MOVES { exercise.planned() } else { Move::GivesUp }
    }

    /// Marks of a job that has ended, saved, and what there is to learn beside the planner on the same pump.
    ///
    /// # Errors
    /// Why the planner cannot play it, in words.
    pub fn end(&mut self, exercise: &Exercise) -> Result<Ended, String> {
        let help = exercise.lesson.1.help.max(exercise.help);
        let mut planner = self.exercise(&exercise.lesson.0, (exercise.seed, help))?;
        planner.play_out(MOST_MOVES, |_, _| {});
        let marks = score(exercise, planner.minutes());
        let debrief = debrief(exercise, &planner, &marks);
        let not_saved = self.book.keep(Move::Marked { score: Box::new(marks.clone()) }).err();
        Ok(Ended { debrief, marks, not_saved })
    }

    fn exercise(&self, lesson: &str, (seed, help): (u64, Help)) -> Result<Exercise, String> {
        let entry = self.knowledge.all.lessons.get(lesson);
        let entry = entry.ok_or_else(|| ExerciseError::NoSuchLesson(lesson.to_owned()).to_string())?;
        let pump = self.book.pump(entry, seed)?;
        Exercise::begin(&self.knowledge, lesson, (seed, help), pump).map_err(|error| error.to_string())
    }
}
