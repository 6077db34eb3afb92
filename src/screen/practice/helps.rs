//! Turns a chosen lesson into the choice of help: what it does not allow is not offered.

use super::page::{Effect, Page, World};
use crate::knowledge::schema::{Help, Id};
use crate::practice::open_helps;
use crate::screen::keys::{Bound, Hint, Role, acts, arrows, find, hints, way};
use crate::screen::lines::{Lines, blank, line, para};
use crate::screen::pages::{digits, list_row, next};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Begin,
    Down,
    Up,
    Back,
}

const KEYS: &[Bound<Act>] =
    &[acts(&[KeyCode::Enter], "Enter", "begin with the chosen help", "begin with the chosen help", Act::Begin)];
const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);
const BACK: &[Bound<Act>] =
    &[way(&[KeyCode::Char('b'), KeyCode::Esc], "b", "another lesson", "back to the lessons", Act::Back)];

/// How much help.
pub(super) struct Helps {
    lesson: Id,
    seed: Option<u64>,
    open: Vec<Help>,
    at: usize,
}

impl Helps {
    /// For a lesson, with a seed chosen beforehand.
    pub(super) fn new(lesson: &Id, seed: Option<u64>, world: &World) -> Self {
        let open = world.knowledge.all.lessons.get(lesson).map(open_helps).unwrap_or_default();
        Self { lesson: lesson.clone(), seed, open, at: 0 }
    }

    fn tables(&self) -> Vec<&'static [Bound<Act>]> {
        if self.open.len() < 2 { vec![KEYS, BACK] } else { vec![KEYS, LIST, BACK] }
    }

    fn begin(&self, at: usize) -> Vec<Effect> {
        let begin = |help: &Help| Effect::Begin(self.lesson.clone(), self.seed, *help);
        self.open.get(at).map(begin).into_iter().collect()
    }
}

fn says(help: Help) -> &'static str {
    match help {
        Help::Shown => "shown: watch the planner do it, with its reasons",
        Help::Half => "half: do it with the likely causes in sight, and hints",
        Help::Alone => "alone: do it as at the pump",
    }
}

impl Page for Helps {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        let mut all = vec![Hint {
            key: KeyCode::Char('1'),
            shown: digits(self.open.len()),
            short: "begin with that row".to_owned(),
            title: "begin with the help of that row".to_owned(),
            role: Role::Answer,
        }];
        all.extend(self.tables().into_iter().flat_map(hints));
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let lesson = world.knowledge.all.lessons.get(&self.lesson);
        let title = lesson.map_or_else(|| self.lesson.clone(), |lesson| lesson.name.clone());
        let mut body = para("How much help?", columns, theme.strong);
        body.push(blank());
        let mut focus = None;
        for (at, help) in self.open.iter().enumerate() {
            let first = body.len();
            let lines: Lines = list_row(&format!("{}. {}", at + 1, says(*help)), "", at == self.at, (columns, theme));
            body.extend(lines);
            if at == self.at {
                focus = Some((first, body.len()));
            }
        }
        if self.open.len() < 3 {
            body.push(blank());
            body.push(line("This lesson allows no more help than that.", theme.dim));
        }
        Sheet { place: "HELP IN PRACTICE", title, body, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        if let KeyCode::Char(digit @ '1'..='9') = key.code {
            let at = digit.to_digit(10).map_or(0, |digit| digit as usize - 1);
            return self.begin(at);
        }
        match self.tables().into_iter().find_map(|table| find(table, key.code)) {
            Some(Act::Begin) => return self.begin(self.at),
            Some(Act::Down) => self.at = next(self.at, self.open.len()),
            Some(Act::Up) => self.at = self.at.saturating_sub(1),
            Some(Act::Back) => return vec![Effect::Close],
            None => {}
        }
        Vec::new()
    }
}
