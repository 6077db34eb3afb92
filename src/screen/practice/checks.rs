//! Turns a chosen check into what it takes to do it, before it is done.

use super::page::{Effect, Page, World};
use crate::job::{Look, StepView};
use crate::knowledge::schema::{Help, Id};
use crate::practice::Move;
use crate::screen::ask::part;
use crate::screen::keys::{Bound, Hint, acts, find, hints};
use crate::screen::lines::{Lines, blank, line, numbered};
use crate::screen::parts;
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Do,
    Back,
}

/// Enter does not do it: a check may need more than a look, and that must be thought of first.
const KEYS: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('d')], "d", "do it", "do this check now", Act::Do),
    acts(&[KeyCode::Char('b'), KeyCode::Esc], "b", "another", "back to the list", Act::Back),
];

/// A check about to be done.
pub(super) struct CheckPage {
    check: Id,
    /// With help: what it takes now, and its cautions. Alone, to think of them is what is practised.
    step: Option<StepView>,
}

impl CheckPage {
    /// For a check of the knowledge.
    pub(super) fn new(check: &Id, world: &World) -> Self {
        let helped = world.exercise.as_ref().filter(|exercise| exercise.help != Help::Alone);
        let step = match helped.and_then(|exercise| exercise.sitting.idea(check)).map(|idea| idea.look) {
            Some(Look::Ready { step, .. } | Look::NotNow { step, .. }) => Some(step),
            _ => None,
        };
        Self { check: check.clone(), step }
    }
}

impl Page for CheckPage {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(KEYS)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let Some(check) = world.knowledge.all.checks.get(&self.check) else { return Sheet::default() };
        let cautions = self.step.as_ref().map(|step| step.cautions.as_slice()).unwrap_or_default();
        let effort = self.step.as_ref().map(parts::effort).unwrap_or_default();
        let mut body = Lines::new();
        part(&mut body, "Takes:", &effort, (columns, theme));
        part(&mut body, "Tools:", &check.tools.join(", "), (columns, theme));
        body.push(blank());
        body.push(line("HOW", theme.heading));
        body.extend(numbered(&check.steps, columns, theme.text));
        let cautions = parts::cautions(cautions, columns, theme);
        Sheet { place: "CHECK", title: check.name.clone(), cautions, body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        match find(KEYS, key.code) {
            Some(Act::Do) => vec![Effect::Make(Move::Does { check: self.check.clone() })],
            Some(Act::Back) => vec![Effect::Close],
            None => Vec::new(),
        }
    }
}
