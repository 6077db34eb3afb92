//! Turns a job into full-screen pages, and keys into the events of a job.
//!
//! Key → the page on top changes itself and asks for effects ([`page`]) → the app carries them out, saving before
//! applying ([`carry`]) → the page yields a sheet without coordinates ([`sheet`]) → rows of the screen. Nothing here
//! computes a probability; views come from `job`. Key tables ([`keys`]) yield key bar and help; [`theme`] holds all styles.
//! [`practice`] and [`bench`] are programs of the same parts; all run on [`terminal`].

mod app;
mod ascii;
mod ask;
mod bar;
mod bench;
mod carry;
mod chart;
mod dial;
mod face;
mod field;
mod frame;
mod keys;
mod likely;
mod lines;
mod number;
mod page;
mod pages;
mod parts;
mod place;
mod practice;
mod sheet;
mod signals;
mod signed;
mod terminal;
mod theme;
mod watch;

use crate::job::{Archive, Sitting, SittingError};
use crate::knowledge::Knowledge;
use crate::practice::{PracticeBook, PracticeChoice, Room};
use crate::proof::Workshop;
use std::io;
use std::rc::Rc;
use thiserror::Error;

pub use app::App;
pub use bench::BenchApp;
pub use keys::{Hint, Role};
pub use practice::{PracticeApp, PracticeOptions};
pub use terminal::Program;
pub use theme::{Colours, Look, Marks, Remember, Theme, ThemeName};

/// What the caller decides.
#[derive(Debug, Clone)]
pub struct Options {
    /// Pump family of a new job.
    pub family: String,
    /// Job to take up at once, without the list of jobs.
    pub resume: Option<u32>,
    /// Turns a job into the text of its record.
    pub record: fn(&Sitting) -> String,
    /// How it looks.
    pub look: Look,
}

impl Default for Options {
    fn default() -> Self {
        Self { family: String::new(), resume: None, record: |_| String::new(), look: Look::default() }
    }
}

/// Why the full screen cannot go on.
#[derive(Debug, Error)]
pub enum ScreenError {
    /// The job cannot be taken up; the text says what to do.
    #[error("{0}")]
    Archive(String),
    /// The events do not make a job.
    #[error(transparent)]
    Sitting(#[from] SittingError),
    /// The terminal does not work.
    #[error("the terminal does not work: {0}; `--plain` works without one")]
    Terminal(io::Error),
}

/// Runs the full screen until the person leaves. The terminal is as before on every way out.
pub fn run(archive: &mut dyn Archive, knowledge: Rc<Knowledge>, options: Options) -> Result<(), ScreenError> {
    terminal::run(&mut App::new(archive, knowledge, options)?)
}

/// Runs practice on the full screen until the person leaves. The terminal is as before on every way out.
pub fn practise(
    book: &mut dyn PracticeBook,
    knowledge: &Rc<Knowledge>,
    choice: PracticeChoice,
    options: PracticeOptions,
) -> Result<(), ScreenError> {
    terminal::run(&mut PracticeApp::new(Room::new(book, knowledge), choice, options))
}

/// Runs the supervisor's bench on the full screen until the person leaves. The terminal is as before on every way out.
pub fn work_on_knowledge(shop: &mut dyn Workshop, look: Look) -> Result<(), ScreenError> {
    terminal::run(&mut BenchApp::new(shop, look))
}
