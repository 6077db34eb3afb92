//! Turns a few words into the cause or check somebody thinks of.

use super::{boxed, idea_view, list_row, next};
use crate::job::Sitting;
use crate::knowledge::Hit;
use crate::screen::field::Field;
use crate::screen::keys::{Bound, Hint, acts, arrows, find, hints, way};
use crate::screen::lines::{Lines, para};
use crate::screen::page::{Effect, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

/// Matches listed at most.
const LISTED: usize = 40;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Open,
    Back,
    Down,
    Up,
}

const OPEN: &[Bound<Act>] = &[acts(&[KeyCode::Enter], "Enter", "this one", "check the chosen row", Act::Open)];
const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);
const BACK: &[Bound<Act>] = &[way(&[KeyCode::Esc], "Esc", "back", "back to where you were", Act::Back)];

/// The page for an idea.
#[derive(Debug, Default)]
pub(in crate::screen) struct Idea {
    words: Field,
    hits: Vec<Hit>,
    at: usize,
}

impl Idea {
    fn look_up(&mut self, world: &World) {
        let find = |sitting: &Sitting| sitting.ideas(self.words.text(), LISTED);
        self.hits = world.sitting().map(find).unwrap_or_default();
        self.at = 0;
    }

    fn tables(&self) -> Vec<&'static [Bound<Act>]> {
        if self.hits.is_empty() { vec![BACK] } else { vec![OPEN, LIST, BACK] }
    }

    fn rows(&self, world: &World, columns: usize) -> (Lines, Option<(usize, usize)>) {
        let theme = &world.theme;
        if self.words.trimmed().is_empty() {
            let text = "Type a few words: what you think it is, or what you would check.";
            return (para(text, columns, theme.text), None);
        }
        let Some(sitting) = world.sitting().filter(|_| !self.hits.is_empty()) else {
            return (para("No cause or check is called like that.", columns, theme.text), None);
        };
        let (mut lines, mut focus) = (Lines::new(), None);
        for (at, hit) in self.hits.iter().enumerate() {
            let first = lines.len();
            let name = sitting.name_of(&hit.id);
            let alias = if hit.matched == name { String::new() } else { format!("  \"{}\"", hit.matched) };
            let kind = if sitting.graph.node(&hit.id).is_some() { "cause" } else { "check" };
            lines.extend(list_row(&format!("{name}{alias}"), kind, at == self.at, (columns, theme)));
            if at == self.at {
                focus = Some((first, lines.len()));
            }
        }
        (lines, focus)
    }
}

impl Page for Idea {
    fn is_typing(&self) -> bool {
        true
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        self.tables().into_iter().flat_map(hints).collect()
    }

    fn sheet(&self, world: &World) -> Sheet {
        let columns = Columns::of(world.size.0).full;
        let pinned = vec![self.words.line("I think:", columns, &world.theme)];
        let (body, focus) = self.rows(world, columns);
        let title = "check an idea of your own".to_owned();
        Sheet { place: "MY IDEA", title, pinned, body, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        match self.tables().into_iter().find_map(|table| find(table, key.code)) {
            Some(Act::Open) => {
                let page = self.hits.get(self.at).and_then(|hit| idea_view::IdeaPage::new(&hit.id, world));
                return page.map(|page| Effect::Open(boxed(page))).into_iter().collect();
            }
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
