//! Turns the glossary into a list that narrows while letters are typed.

use crate::knowledge::search;
use crate::screen::field::Field;
use crate::screen::keys::{Bound, Hint, acts, find, hints};
use crate::screen::lines::{hanging, para};
use crate::screen::page::{Effect, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

const KEYS: &[Bound<()>] = &[acts(&[KeyCode::Esc, KeyCode::Enter], "Esc", "back", "back to where you were", ())];

/// Trade words.
#[derive(Debug)]
pub(in crate::screen) struct Words {
    typed: Field,
    terms: Vec<String>,
}

impl Words {
    /// All of them.
    pub(in crate::screen) fn new(world: &World) -> Self {
        let mut page = Self { typed: Field::default(), terms: Vec::new() };
        page.look_up(world);
        page
    }

    fn look_up(&mut self, world: &World) {
        let glossary = &world.knowledge.all.glossary;
        self.terms = if self.typed.trimmed().is_empty() {
            glossary.keys().cloned().collect()
        } else {
            let candidates: Vec<(&str, Vec<&str>)> =
                glossary.keys().map(|term| (term.as_str(), vec![term.as_str()])).collect();
            search(self.typed.trimmed(), &candidates).into_iter().map(|hit| hit.id).collect()
        };
    }
}

impl Page for Words {
    fn is_typing(&self) -> bool {
        true
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(KEYS)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let glossary = &world.knowledge.all.glossary;
        let pinned = vec![self.typed.line("Word:", columns, theme)];
        let mut body: Vec<_> = self
            .terms
            .iter()
            .filter_map(|term| glossary.get_key_value(term))
            .flat_map(|(term, meaning)| hanging((&format!("{term}:"), theme.strong), (meaning, theme.text), columns))
            .collect();
        if body.is_empty() {
            body = para("That word is not explained here.", columns, theme.text);
        }
        Sheet { place: "TRADE WORDS", title: "in plain words".to_owned(), pinned, body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        if find(KEYS, key.code).is_some() {
            return vec![Effect::Close];
        }
        if self.typed.press(key) {
            self.look_up(world);
        }
        Vec::new()
    }

    fn paste(&mut self, text: &str, world: &World) {
        self.typed.paste(text);
        self.look_up(world);
    }
}
