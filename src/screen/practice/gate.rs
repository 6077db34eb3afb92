//! Turns the lines of a gate into a page of practice: they are read, and then walked with one key.

use super::page::{Effect, Page, World};
use crate::job::{GateKind, GateView};
use crate::practice::Move;
use crate::screen::keys::{Bound, Hint, acts, find, hints};
use crate::screen::lines::{blank, numbered, para};
use crate::screen::parts;
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Walk,
    Back,
}

const KEYS: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('z')], "z", "done, line by line", "every line is done", Act::Walk),
    acts(&[KeyCode::Char('b'), KeyCode::Esc], "b", "back", "back; nothing is done", Act::Back),
];

/// A gate.
pub(super) struct GatePage {
    gate: GateView,
    made: Move,
}

impl GatePage {
    /// A gate and the move that passes it.
    pub(super) fn new(gate: GateView, made: Move) -> Self {
        Self { gate, made }
    }
}

impl Page for GatePage {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(KEYS)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let (place, title) = match self.gate.kind {
            GateKind::Isolation => ("ISOLATION", "two proofs of zero"),
            GateKind::FirstRun => ("FIRST RUN", "before the first turn under power"),
        };
        let mut body = para("At a real pump every line is said or answered by a person.", columns, theme.dim);
        body.push(blank());
        let lines: Vec<String> = self.gate.lines.iter().map(|line| line.ask.to_owned()).collect();
        body.extend(numbered(&lines, columns, theme.strong));
        let cautions = parts::cautions(&self.gate.cautions, columns, theme);
        Sheet { place, title: title.to_owned(), cautions, body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        match find(KEYS, key.code) {
            Some(Act::Walk) => vec![Effect::Make(self.made.clone())],
            Some(Act::Back) => vec![Effect::Close],
            None => Vec::new(),
        }
    }
}
