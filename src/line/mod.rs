//! Turns a job into lines of text and lines of text into the events of a job.
//!
//! Lines are only appended: no cursor is moved, so a screen reader or a script can follow. What is entered is saved
//! first and applied after; the end of the input at any prompt leaves a saved job behind and is no error.
//! Orders that start something of their own leave the prompt where they were typed and come back to the main loop:
//! nothing nests, and the open question is always derived from the job.

mod answers;
mod change;
mod closing;
mod complaint;
mod console;
mod doubts;
mod find;
mod gate;
mod lists;
mod number;
mod opening;
mod orders;
mod practice;
mod question;
mod reasons;
mod rebuild;
mod results;
mod service;
mod session;
mod sheet;
mod show;
mod signing;
mod step;
mod stop;
mod tell;
mod think;
mod walk;

use crate::job::{Archive, Sitting, SittingError};
use crate::knowledge::Knowledge;
use console::{Console, Halt};
use std::io::{self, BufRead, Write};
use std::rc::Rc;
use thiserror::Error;

pub use orders::{Word, help_lines, words};
pub use practice::{practice_words, practise};

/// What the caller decides.
#[derive(Debug, Clone)]
pub struct Options {
    /// Pump family of a new job.
    pub family: String,
    /// Job to take up at once, without asking.
    pub resume: Option<u32>,
    /// Turns a job into the text of its record.
    pub record: fn(&Sitting) -> String,
}

/// Why the lines cannot go on.
#[derive(Debug, Error)]
pub enum LineError {
    /// The job cannot be begun or taken up; the text says what to do.
    #[error("{0}")]
    Archive(String),
    /// The events do not make a job.
    #[error(transparent)]
    Sitting(#[from] SittingError),
    /// Nothing can be read.
    #[error("cannot read what is typed: {0}")]
    Input(io::Error),
    /// Nothing can be shown.
    #[error("cannot show lines: {0}")]
    Output(io::Error),
}

/// Runs one sitting by lines. The end of the input, and a reader of the output that went away, count as success.
pub fn run(
    archive: &mut dyn Archive,
    knowledge: Rc<Knowledge>,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
    options: Options,
) -> Result<(), LineError> {
    let mut console = Console::new(input, out);
    let Options { family, resume, record } = options;
    match opening::open(archive, knowledge, &mut console, (&family, resume)) {
        Ok(opened) => session::Session::new(opened, archive, console, record).run(),
        Err(Halt::Fault(error)) => Err(error),
        Err(_) => Ok(()),
    }
}
