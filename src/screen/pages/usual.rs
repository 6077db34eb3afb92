//! Turns the usual value of a reading on this pump into evidence: without it the number just entered says nothing.

use crate::job::AskView;
use crate::screen::keys::{Bound, Hint, Role, acts, find, hints};
use crate::screen::lines::{blank, flow, para};
use crate::screen::number::{NumberEntry, Typing, Which};
use crate::screen::page::{Effect, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

const UNKNOWN: &[Bound<()>] =
    &[acts(&[KeyCode::Char('?'), KeyCode::Esc], "?", "not known", "the usual value is not known", ())];

/// Asks for the usual value.
#[derive(Debug)]
pub(in crate::screen) struct Usual {
    id: String,
    name: String,
    unit: String,
    healthy: String,
    number: Option<NumberEntry>,
}

impl Usual {
    /// Of this reading.
    pub(in crate::screen) fn new(view: &AskView) -> Self {
        let number = view.number.as_ref();
        Self {
            id: view.id.clone(),
            name: view.name.clone(),
            unit: number.map(|number| number.unit.clone()).unwrap_or_default(),
            healthy: number.map(|number| number.healthy.clone()).unwrap_or_default(),
            number: None,
        }
    }

    fn begin(&mut self) -> &mut NumberEntry {
        let id = &self.id;
        self.number.get_or_insert_with(|| NumberEntry::new(id, None, Which::Usual))
    }

    fn type_number(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        let Some(sitting) = world.sitting() else { return Vec::new() };
        match self.begin().press(key, sitting) {
            Typing::Goes => Vec::new(),
            Typing::Dropped => {
                self.number = None;
                Vec::new()
            }
            Typing::Stands(event, echo) => {
                let said = format!("Saved: usual {} here: {echo}.", self.name);
                vec![Effect::Keep(*event), Effect::Say(said), Effect::Close]
            }
        }
    }
}

impl Page for Usual {
    fn is_typing(&self) -> bool {
        self.number.as_ref().is_some_and(NumberEntry::is_typing)
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        if let Some(number) = &self.number {
            return number.hints();
        }
        let mut all = vec![Hint {
            key: KeyCode::Char('1'),
            shown: "0-9".to_owned(),
            short: format!("type the usual value, {}", self.unit),
            title: "begin to type the usual value with its unit".to_owned(),
            role: Role::Answer,
        }];
        all.extend(hints(UNKNOWN));
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let mut body = para("What does it show on this pump as a rule, at the same work?", columns, theme.strong);
        body.push(blank());
        body.extend(flow(&[("Healthy:", theme.dim), (&self.healthy, theme.text)], columns));
        body.extend(para("The number just saved says nothing without it.", columns, theme.text));
        body.extend(para("Look in the log, on the last record, or ask who runs the pump.", columns, theme.text));
        let entry = self.number.as_ref().map(|number| number.lines(&self.unit, columns, theme)).unwrap_or_default();
        Sheet { place: "USUAL VALUE", title: self.name.clone(), body, entry, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        if self.number.is_some() || NumberEntry::begins(key.code) {
            return self.type_number(key, world);
        }
        match find(UNKNOWN, key.code) {
            Some(()) => {
                let said = "Kept in the record. It counts once the usual value is known.".to_owned();
                vec![Effect::Say(said), Effect::Close]
            }
            None => Vec::new(),
        }
    }

    fn paste(&mut self, text: &str, world: &World) {
        if let Some(sitting) = world.sitting() {
            self.begin().paste(text, sitting);
        }
    }
}
