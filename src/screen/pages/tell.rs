//! Turns a few words into the finding or reading they mean, so that it can be told without being asked.

use super::find::observables;
use super::{asked, boxed, list_row, next};
use crate::job::Event;
use crate::knowledge::Hit;
use crate::screen::field::Field;
use crate::screen::keys::{Bound, Hint, acts, arrows, find, hints, way};
use crate::screen::lines::{Lines, para};
use crate::screen::page::{Effect, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Open,
    Back,
    Down,
    Up,
}

const OPEN: &[Bound<Act>] = &[acts(&[KeyCode::Enter], "Enter", "this one", "answer the chosen row", Act::Open)];
const NOTE: &[Bound<Act>] =
    &[acts(&[KeyCode::Enter], "Enter", "keep as a remark", "keep the words as a remark for the record", Act::Open)];
const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);
const BACK: &[Bound<Act>] = &[way(&[KeyCode::Esc], "Esc", "back", "back to where you were", Act::Back)];

/// The page for telling something.
#[derive(Debug)]
pub(in crate::screen) struct Tell {
    words: Field,
    hits: Vec<Hit>,
    at: usize,
}

impl Tell {
    /// An empty page.
    pub(in crate::screen) fn new(world: &World) -> Self {
        let mut page = Self { words: Field::default(), hits: Vec::new(), at: 0 };
        page.look_up(world);
        page
    }

    fn look_up(&mut self, world: &World) {
        self.hits = world.sitting().map(|sitting| observables(sitting, self.words.text())).unwrap_or_default();
        self.at = 0;
    }

    fn tables(&self) -> Vec<&'static [Bound<Act>]> {
        match (self.hits.is_empty(), self.words.trimmed().is_empty()) {
            (false, _) => vec![OPEN, LIST, BACK],
            (true, false) => vec![NOTE, BACK],
            (true, true) => vec![BACK],
        }
    }

    fn open(&self, world: &World) -> Vec<Effect> {
        let Some(hit) = self.hits.get(self.at) else {
            let text = self.words.trimmed().to_owned();
            return vec![
                Effect::Keep(Event::Note { text }),
                Effect::Say("Saved as a remark for the record.".to_owned()),
                Effect::ToJob,
            ];
        };
        let view = world.sitting().and_then(|sitting| sitting.ask_view(&hit.id));
        view.map(|view| Effect::Open(boxed(asked::Asked::told(view)))).into_iter().collect()
    }

    fn rows(&self, world: &World, columns: usize) -> (Lines, Option<(usize, usize)>) {
        let theme = &world.theme;
        if self.words.trimmed().is_empty() {
            return (
                para("Type a few words: what you saw, heard, felt, smelt or measured.", columns, theme.text),
                None,
            );
        }
        if self.hits.is_empty() {
            return (para("No finding or reading is called like that.", columns, theme.text), None);
        }
        let (mut lines, mut focus) = (Lines::new(), None);
        for (at, hit) in self.hits.iter().enumerate() {
            let first = lines.len();
            let name = world.sitting().map(|sitting| sitting.name_of(&hit.id)).unwrap_or_default();
            let alias = if hit.matched == name { String::new() } else { format!("  \"{}\"", hit.matched) };
            let given = world.sitting().is_some_and(|sitting| sitting.job.given.contains_key(&hit.id));
            let end = if given { "answered" } else { "" };
            lines.extend(list_row(&format!("{name}{alias}"), end, at == self.at, (columns, theme)));
            if at == self.at {
                focus = Some((first, lines.len()));
            }
        }
        (lines, focus)
    }
}

impl Page for Tell {
    fn is_typing(&self) -> bool {
        true
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        self.tables().into_iter().flat_map(hints).collect()
    }

    fn sheet(&self, world: &World) -> Sheet {
        let columns = Columns::of(world.size.0).full;
        let pinned = vec![self.words.line("Words:", columns, &world.theme)];
        let (body, focus) = self.rows(world, columns);
        let title = "something that was not asked".to_owned();
        Sheet { place: "TELL", title, pinned, body, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        match self.tables().into_iter().find_map(|table| find(table, key.code)) {
            Some(Act::Open) => return self.open(world),
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
