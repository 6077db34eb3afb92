//! Turns a kind and a few words into the list of entries that fit.

use super::page::{Effect, Page, World};
use crate::editing::find_entries;
use crate::knowledge::Kind;
use crate::screen::field::Field;
use crate::screen::keys::{Bound, Hint, acts, arrows, find, hints, way};
use crate::screen::lines::{Lines, para};
use crate::screen::pages::{list_row, next};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

/// Rows shown at most; more words find the others.
const LISTED: usize = 200;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Open,
    Find,
    Kind,
    Down,
    Up,
    Undo,
    Theme,
    Help,
    Leave,
    Done,
    Clear,
}

const OPEN: &[Bound<Act>] = &[
    acts(&[KeyCode::Enter], "Enter", "open", "open the chosen entry", Act::Open),
    acts(&[KeyCode::Char('f')], "f", "find by words", "find entries by a few words", Act::Find),
    acts(&[KeyCode::Char('k')], "k", "next kind", "only entries of the next kind, or of all", Act::Kind),
];
const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);
const REST: &[Bound<Act>] = &[
    way(&[KeyCode::Char('u')], "u", "undo", "take the last edit back", Act::Undo),
    way(
        &[KeyCode::Char('l')],
        "l",
        "next theme",
        "dark, light for the sun, high contrast, without colours",
        Act::Theme,
    ),
    way(&[KeyCode::Char('h'), KeyCode::Char('?')], "h", "help", "this help", Act::Help),
    way(&[KeyCode::Char('q')], "q", "leave", "leave the bench", Act::Leave),
];
const TYPING: &[Bound<Act>] = &[
    acts(&[KeyCode::Enter], "Enter", "to the list", "keep the words and choose a row", Act::Done),
    acts(&[KeyCode::Esc], "Esc", "without words", "drop the words", Act::Clear),
];

/// Entries by kind and words.
pub(super) struct List {
    kind: Option<Kind>,
    words: Field,
    is_typing: bool,
    hits: Vec<usize>,
    at: usize,
}

impl List {
    /// Every entry.
    pub(super) fn new(world: &World) -> Self {
        let mut list = Self { kind: None, words: Field::default(), is_typing: false, hits: Vec::new(), at: 0 };
        list.look_up(world);
        list
    }

    fn look_up(&mut self, world: &World) {
        self.hits = find_entries(&world.lines, self.kind, self.words.trimmed());
        self.at = self.at.min(self.shown().saturating_sub(1));
    }

    fn shown(&self) -> usize {
        self.hits.len().min(LISTED)
    }

    fn next_kind(&mut self, world: &World) {
        let all = Kind::ALL;
        let at = self.kind.and_then(|kind| all.iter().position(|known| *known == kind)).map_or(0, |at| at + 1);
        let is_used = |kind: &&Kind| world.lines.iter().any(|line| line.kind == **kind);
        self.kind = all.get(at..).unwrap_or_default().iter().find(is_used).copied();
        self.at = 0;
        self.look_up(world);
    }

    fn tables(&self) -> Vec<&'static [Bound<Act>]> {
        if self.is_typing { vec![TYPING, LIST] } else { vec![OPEN, LIST, REST] }
    }
}

impl Page for List {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        self.tables().into_iter().flat_map(hints).collect()
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let of = self.kind.map_or("all kinds", Kind::name);
        let count = self.hits.len();
        let title = format!("{count} {} of {of}", if count == 1 { "entry" } else { "entries" });
        let mut pinned = Lines::new();
        if self.is_typing || !self.words.trimmed().is_empty() {
            pinned.push(self.words.line("Words:", columns, theme));
        }
        let (mut body, mut focus) = (Lines::new(), None);
        for (row, at) in self.hits.iter().take(LISTED).enumerate() {
            let Some(entry) = world.lines.get(*at) else { continue };
            let first = body.len();
            body.extend(list_row(&entry.name, entry.kind.name(), row == self.at, (columns, theme)));
            if row == self.at {
                focus = Some((first, body.len()));
            }
        }
        if self.hits.is_empty() {
            body = para("Nothing fits. Try fewer words, or another kind.", columns, theme.text);
        } else if LISTED < self.hits.len() {
            body.extend(para("More fit; find them by words.", columns, theme.dim));
        }
        Sheet { place: "KNOWLEDGE", title, pinned, body, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        match self.tables().into_iter().find_map(|table| find(table, key.code)) {
            Some(Act::Open) => {
                let entry = self.hits.get(self.at).and_then(|at| world.lines.get(*at));
                return entry.map(|entry| Effect::Entry(entry.id.clone())).into_iter().collect();
            }
            Some(Act::Find) => self.is_typing = true,
            Some(Act::Done) => self.is_typing = false,
            Some(Act::Clear) => {
                (self.words, self.is_typing) = (Field::default(), false);
                self.look_up(world);
            }
            Some(Act::Kind) => self.next_kind(world),
            Some(Act::Down) => self.at = next(self.at, self.shown()),
            Some(Act::Up) => self.at = self.at.saturating_sub(1),
            Some(Act::Undo) => return vec![Effect::Undo],
            Some(Act::Theme) => return vec![Effect::NextTheme],
            Some(Act::Help) => return vec![Effect::Help],
            Some(Act::Leave) => return vec![Effect::Leave],
            None if self.is_typing && self.words.press(key) => {
                self.at = 0;
                self.look_up(world);
            }
            None => {}
        }
        Vec::new()
    }

    fn paste(&mut self, text: &str, world: &World) {
        if self.is_typing {
            self.words.paste(text);
            self.look_up(world);
        }
    }

    fn refresh(&mut self, world: &World) -> bool {
        self.look_up(world);
        true
    }
}
