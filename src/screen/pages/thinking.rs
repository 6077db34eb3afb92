//! Turns the moment after an answer into a page: the likely causes at once, the next question as soon as it is there.

use crate::screen::keys::{Bound, Hint, find, hints, way};
use crate::screen::likely;
use crate::screen::lines::{blank, line};
use crate::screen::page::{Effect, Kind, Page, Purpose, World};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

const KEYS: &[Bound<()>] = &[way(&[KeyCode::Char('q')], "q", "leave", "leave; the job is saved", ())];

/// The next step is being worked out.
#[derive(Debug)]
pub(in crate::screen) struct Thinking {
    purpose: Purpose,
}

impl Thinking {
    /// For this purpose.
    pub(in crate::screen) fn new(purpose: Purpose) -> Self {
        Self { purpose }
    }
}

impl Page for Thinking {
    fn kind(&self) -> Kind {
        Kind::Thinking(self.purpose)
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(KEYS)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let Some(sitting) = world.sitting() else { return Sheet::default() };
        let mut body = likely::rows(sitting, likely::BESIDE, columns, theme);
        body.push(blank());
        let (title, says) = match self.purpose {
            Purpose::Walk => ("a look round the pump comes next", "working out what is worth a look"),
            Purpose::Step => ("a moment", "working out the next question"),
        };
        body.push(line(&format!("{says}{}", theme.marks.cut), theme.strong));
        Sheet { place: "WORKING", title: title.to_owned(), body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        find(KEYS, key.code).map(|()| Effect::Leave).into_iter().collect()
    }
}
