//! Turns keys into effects, page by page: what a page sees, and what it may ask for.
//!
//! A page changes only itself. Whatever touches the job or the stack of pages is an [`Effect`], carried out by the app
//! in order; where saving fails, the rest of the list is not done.

use super::keys::Hint;
use super::sheet::Sheet;
use super::theme::Theme;
use crate::job::{Event, JobLine, Keeper, Sitting};
use crate::knowledge::Knowledge;
use crossterm::event::KeyEvent;
use std::rc::Rc;

/// A job at work.
pub(super) struct Desk {
    /// Saves its events.
    pub keeper: Box<dyn Keeper>,
    /// The job.
    pub sitting: Sitting,
    /// True if the last entry could not be saved.
    pub unsaved: bool,
    /// Where the record was written, if it was.
    pub record: Option<String>,
}

/// What every page may see.
pub(super) struct World {
    /// The job, once one is taken up.
    pub desk: Option<Desk>,
    /// What is known of pumps.
    pub knowledge: Rc<Knowledge>,
    /// Family of a new job.
    pub family: String,
    /// Jobs of this machine.
    pub jobs: Vec<JobLine>,
    /// Styles.
    pub theme: Theme,
    /// Columns and rows of the screen.
    pub size: (u16, u16),
}

impl World {
    /// The job, once one is taken up.
    pub(super) fn sitting(&self) -> Option<&Sitting> {
        self.desk.as_ref().map(|desk| &desk.sitting)
    }
}

/// What kind of page it is, as far as the app must know.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Kind {
    /// The list of jobs.
    Start,
    /// The next step is being worked out.
    Thinking(Purpose),
    /// Shows a step; out of date after any event.
    Step,
    /// A stop rule.
    Stop(String),
    /// Anything else.
    Other,
}

/// What is being worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Purpose {
    /// The walk round the pump.
    Walk,
    /// The next step.
    Step,
}

/// What a page asks for.
pub(super) enum Effect {
    /// Save an event, then apply it.
    Keep(Event),
    /// Begin a job.
    Begin,
    /// Take a job up again.
    TakeUp(u32),
    /// Open a page above this one.
    Open(Box<dyn Page>),
    /// Close the topmost page.
    Close,
    /// Close everything above the job's own page.
    ToJob,
    /// Put this page in place of the job's own.
    Job(Box<dyn Page>),
    /// Write the pump sheet as a file.
    PumpSheet,
    /// Write the record.
    Record,
    /// Keep the good values for the next job of this pump.
    KeepUsual,
    /// Say something in the message line.
    Say(String),
    /// The next theme.
    NextTheme,
    /// Leave the job, or the program.
    Leave,
}

/// One page.
pub(super) trait Page {
    /// What kind it is.
    fn kind(&self) -> Kind {
        Kind::Other
    }
    /// What it shows.
    fn sheet(&self, world: &World) -> Sheet;
    /// What can be done here now.
    fn hints(&self, world: &World) -> Vec<Hint>;
    /// Takes a key.
    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect>;
    /// Takes pasted text, already clean.
    fn paste(&mut self, _text: &str, _world: &World) {}
    /// True while letters are typed.
    fn is_typing(&self) -> bool {
        false
    }
    /// True while the page has more to work out between keys.
    fn is_working(&self) -> bool {
        false
    }
    /// Works a little on; called again while there is more to do and no key waits.
    fn work(&mut self, _world: &World) {}
    /// The job has changed.
    fn refresh(&mut self, _world: &World) {}
}
