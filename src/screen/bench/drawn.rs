//! Turns what is around an entry into a drawing, and the keys of a page into help.

use super::page::{Effect, Page, World};
use crate::editing::neighbourhood;
use crate::knowledge::schema::Id;
use crate::screen::keys::{Bound, Hint, acts, find, hints};
use crate::screen::lines::line;
use crate::screen::pages::help::help_lines;
use crate::screen::sheet::{Columns, Sheet};
use crate::text::cut_with;
use crossterm::event::{KeyCode, KeyEvent};

const GOOD_TO_KNOW: &[&str] = &[
    "Nothing is saved before you have seen what it does and pressed the key for it.",
    "The text before each edit stays in the folder's backups; undo takes the last one back.",
    "Cases get worse or better by the rank of the true cause, all facts given. Ranks when asked: by lines, --asked.",
    "New entries are made by lines: weephole knowledge add.",
    "PgUp and PgDn scroll; so do the arrows where there is nothing to choose.",
];

const BACK: &[Bound<()>] = &[acts(&[KeyCode::Char('b'), KeyCode::Esc], "b", "back", "back to where you were", ())];

fn back(key: KeyEvent) -> Vec<Effect> {
    find(BACK, key.code).map(|()| Effect::Close).into_iter().collect()
}

/// Two links up and down from an entry.
pub(super) struct Drawn {
    id: Id,
    lines: Vec<String>,
}

impl Drawn {
    /// Around this entry.
    pub(super) fn new(id: &str, world: &World) -> Self {
        Self { id: id.to_owned(), lines: neighbourhood(&world.knowledge, id) }
    }
}

impl Page for Drawn {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(BACK)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let style = |text: &str| if text.starts_with(' ') { theme.text } else { theme.strong };
        let middle = self.lines.iter().position(|text| !text.starts_with(' ')).unwrap_or_default();
        let draw = |text: &String| line(&cut_with(text, columns, theme.marks.cut), style(text));
        let body = self.lines.iter().map(draw).collect();
        Sheet { place: "DRAWING", title: self.id.clone(), body, focus: Some((middle, middle + 1)), ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        back(key)
    }

    fn refresh(&mut self, world: &World) -> bool {
        self.lines = neighbourhood(&world.knowledge, &self.id);
        world.knowledge.kind_of(&self.id).is_some()
    }
}

/// Help for the page below.
pub(super) struct HelpPage {
    below: Vec<Hint>,
}

impl HelpPage {
    /// For a page with these keys.
    pub(super) fn new(below: Vec<Hint>) -> Self {
        Self { below }
    }
}

impl Page for HelpPage {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(BACK)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let body = help_lines(&self.below, GOOD_TO_KNOW, Columns::of(world.size.0).full, &world.theme);
        Sheet { place: "HELP", title: "what can be done there".to_owned(), body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        back(key)
    }
}
