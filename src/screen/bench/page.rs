//! Turns keys into effects, page by page: what a page of the bench sees, and what it may ask for.

use crate::editing::{Edit, EntryLine};
use crate::knowledge::Knowledge;
use crate::knowledge::schema::Id;
use crate::proof::Proven;
use crate::screen::keys::Hint;
use crate::screen::sheet::Sheet;
use crate::screen::theme::Theme;
use crossterm::event::KeyEvent;
use std::rc::Rc;

/// What every page may see.
pub(super) struct World {
    /// The knowledge.
    pub knowledge: Rc<Knowledge>,
    /// Every entry of it.
    pub lines: Vec<EntryLine>,
    /// Styles.
    pub theme: Theme,
    /// Columns and rows of the screen.
    pub size: (u16, u16),
}

/// What a page asks for.
pub(super) enum Effect {
    /// Open a page above this one.
    Open(Box<dyn Page>),
    /// Go to an entry.
    Entry(Id),
    /// Close the topmost page.
    Close,
    /// Make a draft of this edit and show what it does.
    Draft(Edit),
    /// Make a draft of taking the last edit back.
    Undo,
    /// Save the draft; the second reader, if one was named.
    Accept(Option<String>),
    /// Drop the draft.
    Drop,
    /// Help for the page below.
    Help,
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
    /// The knowledge is another one. False if there is nothing to show any more.
    fn refresh(&mut self, _world: &World) -> bool {
        true
    }
    /// True while it waits for a proof.
    fn waits(&self) -> bool {
        false
    }
    /// Takes the proof.
    fn proved(&mut self, _proof: Result<Proven, String>) {}
    /// True if it belongs to one change, and goes when that is saved.
    fn is_of_change(&self) -> bool {
        false
    }
}

/// A page for the stack.
pub(super) fn boxed(page: impl Page + 'static) -> Box<dyn Page> {
    Box::new(page)
}
