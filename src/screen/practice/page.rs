//! Turns keys into effects, page by page: what a page of practice sees, and what it may ask for.

use crate::knowledge::Knowledge;
use crate::knowledge::schema::{Help, Id};
use crate::practice::{Dial, Due, Exercise, Move, Progress};
use crate::screen::keys::Hint;
use crate::screen::sheet::Sheet;
use crate::screen::theme::Theme;
use crossterm::event::KeyEvent;
use std::rc::Rc;

/// What every page may see.
pub(super) struct World {
    /// Knowledge with its lessons.
    pub knowledge: Rc<Knowledge>,
    /// The practice job, while there is one.
    pub exercise: Option<Exercise>,
    /// Its dials, once they are worked out.
    pub dials: Option<Vec<Dial>>,
    /// Groups of look-alikes, what is due first.
    pub groups: Vec<Due>,
    /// How practice goes.
    pub progress: Progress,
    /// True if the last move could not be saved.
    pub unsaved: bool,
    /// Styles.
    pub theme: Theme,
    /// Columns and rows of the screen.
    pub size: (u16, u16),
    /// Seconds since the program began.
    pub seconds: f64,
}

/// What a page asks for.
pub(super) enum Effect {
    /// Begin a lesson with a seed, or a new one, and help.
    Begin(Id, Option<u64>, Help),
    /// Save a move, then make it.
    Make(Move),
    /// Open a page above this one.
    Open(Box<dyn Page>),
    /// Close the topmost page.
    Close,
    /// Back to the choice of lessons.
    ToChoice,
    /// The next theme.
    NextTheme,
    /// Leave the program.
    Leave,
}

/// One page.
pub(super) trait Page {
    /// What it shows.
    fn sheet(&self, world: &World) -> Sheet;
    /// What can be done here now.
    fn hints(&self, world: &World) -> Vec<Hint>;
    /// Takes a key.
    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect>;
    /// Takes pasted text, already clean.
    fn paste(&mut self, _text: &str, _world: &World) {}
    /// True while the end of a job is being worked out.
    fn is_ending(&self) -> bool {
        false
    }
    /// True if it must be seen before any key counts.
    fn is_grave(&self) -> bool {
        false
    }
    /// True if it shows the needles.
    fn shows_dials(&self) -> bool {
        false
    }
    /// True while it has more to work out between keys.
    fn is_working(&self) -> bool {
        false
    }
    /// Works a little on.
    fn work(&mut self, _world: &World) {}
    /// A move was made.
    fn refresh(&mut self, _world: &World) {}
}

/// A page for the stack.
pub(super) fn boxed(page: impl Page + 'static) -> Box<dyn Page> {
    Box::new(page)
}
