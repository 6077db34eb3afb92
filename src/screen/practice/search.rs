//! Turns a few words into a check to do, or into what somebody thinks is the matter.

use super::checks::CheckPage;
use super::naming::Naming;
use super::page::{Effect, Page, World, boxed};
use crate::knowledge::schema::Id;
use crate::practice::{Exercise, Move};
use crate::screen::field::Field;
use crate::screen::keys::{Bound, Hint, acts, arrows, find, hints, way};
use crate::screen::lines::{Lines, para};
use crate::screen::pages::{list_row, next};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

/// Matches listed at most.
const LISTED: usize = 40;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Pick,
    Back,
    Down,
    Up,
}

const PICK: &[Bound<Act>] = &[acts(&[KeyCode::Enter], "Enter", "this one", "take the chosen row", Act::Pick)];
const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);
const BACK: &[Bound<Act>] = &[way(&[KeyCode::Esc], "Esc", "back", "back to the job", Act::Back)];

/// What is looked for.
enum Purpose {
    Check,
    Think,
    /// With what was named already, and how sure.
    Name(Vec<(Id, f64)>),
}

/// A search by words.
pub(super) struct Search {
    purpose: Purpose,
    words: Field,
    hits: Vec<Id>,
    at: usize,
}

impl Search {
    fn of(purpose: Purpose) -> Self {
        Self { purpose, words: Field::default(), hits: Vec::new(), at: 0 }
    }

    /// For a check.
    pub(super) fn check() -> Self {
        Self::of(Purpose::Check)
    }

    /// For what somebody thinks it is.
    pub(super) fn think() -> Self {
        Self::of(Purpose::Think)
    }

    /// For what it is, with what was named already.
    pub(super) fn name(named: Vec<(Id, f64)>) -> Self {
        Self::of(Purpose::Name(named))
    }

    fn look_up(&mut self, world: &World) {
        let words = self.words.text();
        let find = |exercise: &Exercise| match self.purpose {
            Purpose::Check => exercise.checks_like(words, LISTED),
            Purpose::Think | Purpose::Name(_) => exercise.nodes_like(words, LISTED),
        };
        (self.hits, self.at) = (world.exercise.as_ref().map(find).unwrap_or_default(), 0);
    }

    fn tables(&self) -> Vec<&'static [Bound<Act>]> {
        match self.hits.len() {
            0 => vec![BACK],
            1 => vec![PICK, BACK],
            _ => vec![PICK, LIST, BACK],
        }
    }

    fn pick(&self, world: &World) -> Vec<Effect> {
        let Some(id) = self.hits.get(self.at) else { return Vec::new() };
        match &self.purpose {
            Purpose::Check => vec![Effect::Open(boxed(CheckPage::new(id, world)))],
            Purpose::Think => vec![Effect::Make(Move::Thinks { node: id.clone() })],
            Purpose::Name(named) => {
                vec![Effect::Close, Effect::Open(boxed(Naming::new(named.clone(), id.clone())))]
            }
        }
    }

    /// Where one is, what it is about, the label of the field, what to type, what is said of words that fit nothing.
    fn texts(&self) -> [&'static str; 5] {
        match self.purpose {
            Purpose::Check => [
                "CHECK",
                "look for a check by words",
                "I check:",
                "Type a few words: a part, a gauge, a sound, what you would do.",
                "No check is called anything like that. Try the name of a part or a gauge.",
            ],
            Purpose::Think => [
                "THINK",
                "what you think it is, before you look",
                "I think:",
                "Type a few words for a cause, or for what is broken.",
                "Nothing is called like that.",
            ],
            Purpose::Name(_) => [
                "NAME IT",
                "what is the matter",
                "It is:",
                "Type a few words for the cause: why it broke, not what is broken.",
                "Nothing is called like that.",
            ],
        }
    }

    fn rows(&self, world: &World, columns: usize) -> (Lines, Option<(usize, usize)>) {
        let theme = &world.theme;
        let [_, _, _, to_type, nothing] = self.texts();
        let Some(exercise) = world.exercise.as_ref().filter(|_| !self.hits.is_empty()) else {
            let text = if self.words.trimmed().is_empty() { to_type } else { nothing };
            return (para(text, columns, theme.text), None);
        };
        let (mut lines, mut focus) = (Lines::new(), None);
        for (at, id) in self.hits.iter().enumerate() {
            let first = lines.len();
            lines.extend(list_row(&exercise.sitting.name_of(id), "", at == self.at, (columns, theme)));
            if at == self.at {
                focus = Some((first, lines.len()));
            }
        }
        (lines, focus)
    }
}

impl Page for Search {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        self.tables().into_iter().flat_map(hints).collect()
    }

    fn sheet(&self, world: &World) -> Sheet {
        let columns = Columns::of(world.size.0).full;
        let [place, title, label, ..] = self.texts();
        let pinned = vec![self.words.line(label, columns, &world.theme)];
        let (body, focus) = self.rows(world, columns);
        Sheet { place, title: title.to_owned(), pinned, body, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        match self.tables().into_iter().find_map(|table| find(table, key.code)) {
            Some(Act::Pick) => return self.pick(world),
            Some(Act::Back) => return vec![Effect::Close],
            Some(Act::Down) => self.at = next(self.at, self.hits.len()),
            Some(Act::Up) => self.at = self.at.saturating_sub(1),
            None => {
                if self.words.press(key) {
                    self.look_up(world);
                }
            }
        }
        Vec::new()
    }

    fn paste(&mut self, text: &str, world: &World) {
        self.words.paste(text);
        self.look_up(world);
    }
}
