//! Turns the operator's words into the complaint: kept as typed, with the findings marked that they mean.

use super::find::complaints;
use super::{first_minute, list_row, next};
use crate::knowledge::Hit;
use crate::knowledge::schema::Id;
use crate::screen::field::Field;
use crate::screen::keys::{Bound, Hint, acts, find, hints, way};
use crate::screen::lines::{Lines, flow, para};
use crate::screen::page::{Effect, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};
use indexmap::IndexSet;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    GoOn,
    ToList,
    Down,
    Up,
    Mark,
    Leave,
}

const GO_ON: &[Bound<Act>] = &[acts(&[KeyCode::Enter], "Enter", "go on", "go on with what is marked", Act::GoOn)];

const WORDS: &[Bound<Act>] = &[way(&[KeyCode::Down], "Down", "to the list", "from the words to the list", Act::ToList)];

const LIST: &[Bound<Act>] = &[
    acts(&[KeyCode::Char(' ')], "Space", "mark or unmark", "mark what fits; several may fit", Act::Mark),
    way(&[KeyCode::Down], "Up/Down", "choose", "choose a row; letters go to the words again", Act::Down),
    way(&[KeyCode::Up], "", "", "", Act::Up),
];

const LEAVE: &[Bound<Act>] = &[way(&[KeyCode::Esc], "Esc", "leave", "leave; the job is saved", Act::Leave)];

/// The page of the complaint.
#[derive(Debug)]
pub(in crate::screen) struct Complaint {
    words: Field,
    hits: Vec<Hit>,
    marked: IndexSet<Id>,
    /// Row of the list, or none while words are typed.
    at: Option<usize>,
    /// True once it was said that nothing is marked.
    bare: bool,
}

impl Complaint {
    /// An empty page.
    pub(in crate::screen) fn new(world: &World) -> Self {
        let mut page =
            Self { words: Field::default(), hits: Vec::new(), marked: IndexSet::new(), at: None, bare: false };
        page.look_up(world);
        page
    }

    fn look_up(&mut self, world: &World) {
        self.hits = world.sitting().map(|sitting| complaints(sitting, self.words.text())).unwrap_or_default();
        (self.at, self.bare) = (None, false);
    }

    fn tables(&self) -> [&'static [Bound<Act>]; 3] {
        [GO_ON, if self.at.is_some() { LIST } else { WORDS }, LEAVE]
    }

    fn go_on(&mut self, world: &World) -> Vec<Effect> {
        let Some(sitting) = world.sitting() else { return Vec::new() };
        if let (true, Some(at)) = (self.marked.is_empty(), self.at) {
            self.mark(at);
            return vec![Effect::Say("Marked. Enter again goes on.".to_owned())];
        }
        let words = self.words.trimmed();
        let keeps_words_only = self.bare && !words.is_empty();
        if self.marked.is_empty() && !keeps_words_only {
            self.bare = !words.is_empty();
            let said = if self.bare {
                "Nothing is marked. Enter again keeps the words only."
            } else {
                "Type what the operator says, or go down to the list."
            };
            return vec![Effect::Say(said.to_owned())];
        }
        let ids: Vec<Id> = self.marked.iter().cloned().collect();
        let names: Vec<String> = ids.iter().map(|id| sitting.name_of(id)).collect();
        let words = if words.is_empty() { format!("from the list: {}", names.join("; ")) } else { words.to_owned() };
        let said = if names.is_empty() { "the words alone".to_owned() } else { names.join("; ") };
        vec![
            Effect::Keep(sitting.complaint(&words, &ids)),
            Effect::Say(format!("Saved: {said}.")),
            Effect::Job(first_minute::page_after(world, 0)),
        ]
    }

    fn mark(&mut self, at: usize) {
        let Some(hit) = self.hits.get(at) else { return };
        if !self.marked.shift_remove(&hit.id) {
            self.marked.insert(hit.id.clone());
        }
        self.bare = false;
    }

    fn rows(&self, world: &World, columns: usize) -> (Lines, Option<(usize, usize)>) {
        let (theme, mut body, mut focus) = (&world.theme, Lines::new(), None);
        if self.hits.is_empty() {
            return (
                para("Nothing here is called like that. The words are kept all the same.", columns, theme.text),
                None,
            );
        }
        for (row, hit) in self.hits.iter().enumerate() {
            let first = body.len();
            let name = world.sitting().map(|sitting| sitting.name_of(&hit.id)).unwrap_or_default();
            let mark = if self.marked.contains(&hit.id) { "[x]" } else { "[ ]" };
            let other = hit.matched.is_empty() || hit.matched == name;
            let alias = if other { String::new() } else { format!("  \"{}\"", hit.matched) };
            body.extend(list_row(&format!("{mark} {name}{alias}"), "", self.at == Some(row), (columns, theme)));
            if self.at == Some(row) {
                focus = Some((first, body.len()));
            }
        }
        (body, focus)
    }
}

impl Page for Complaint {
    fn is_typing(&self) -> bool {
        true
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        self.tables().into_iter().flat_map(hints).collect()
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let mut pinned = para("What does the operator say? The words are kept as typed.", columns, theme.text);
        pinned.push(self.words.line("Words:", columns, theme));
        let (body, focus) = self.rows(world, columns);
        let names: Vec<String> = world
            .sitting()
            .map(|sitting| self.marked.iter().map(|id| sitting.name_of(id)).collect())
            .unwrap_or_default();
        let marked = if names.is_empty() { "nothing yet".to_owned() } else { names.join("; ") };
        let entry = flow(&[("MARKED", theme.heading), (&marked, theme.strong)], columns);
        Sheet {
            place: "COMPLAINT",
            title: "what the operator says".to_owned(),
            pinned,
            body,
            entry,
            focus,
            ..Sheet::default()
        }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        match self.tables().into_iter().find_map(|table| find(table, key.code)) {
            Some(Act::GoOn) => return self.go_on(world),
            Some(Act::Leave) => return vec![Effect::Leave],
            Some(Act::ToList) => self.at = (!self.hits.is_empty()).then_some(0),
            Some(Act::Down) => self.at = self.at.map(|at| next(at, self.hits.len())),
            Some(Act::Up) => self.at = self.at.and_then(|at| at.checked_sub(1)),
            Some(Act::Mark) => self.at.into_iter().for_each(|at| self.mark(at)),
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
