//! Turns a check that cannot be done now into its reason: one of a few, or in one's own words.

use super::{ABOVE, above, digits, list_row, next, with};
use crate::job::Event;
use crate::knowledge::schema::Id;
use crate::screen::field::Field;
use crate::screen::keys::{Bound, Hint, Role, acts, arrows, find, hints};
use crate::screen::lines::{Lines, blank, para};
use crate::screen::page::{Effect, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

const REASONS: &[&str] = &[
    "too risky just now",
    "tool or part is not here",
    "cannot get at it",
    "the pump must keep running",
    "somebody else must do it",
    "not fitted on this pump",
];
const OWN: &str = "another reason, in your own words";

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Choose,
    Down,
    Up,
}

const KEYS: &[Bound<Act>] =
    &[acts(&[KeyCode::Enter], "Enter", "the chosen one", "skip the check for the chosen reason", Act::Choose)];
const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Typing {
    Take,
    Drop,
}

const TYPING: &[Bound<Typing>] = &[
    acts(&[KeyCode::Enter], "Enter", "skip for this reason", "skip the check for the typed reason", Typing::Take),
    acts(&[KeyCode::Esc], "Esc", "back", "back to the reasons", Typing::Drop),
];

/// The page for skipping a check.
#[derive(Debug)]
pub(in crate::screen) struct Skip {
    check: Id,
    name: String,
    at: usize,
    own: Option<Field>,
}

impl Skip {
    /// For this check.
    pub(in crate::screen) fn new(check: &str, name: &str) -> Self {
        Self { check: check.to_owned(), name: name.to_owned(), at: 0, own: None }
    }

    fn choose(&mut self, at: usize) -> Vec<Effect> {
        match REASONS.get(at) {
            Some(reason) => self.skip(reason),
            None if at == REASONS.len() => {
                self.own = Some(Field::default());
                Vec::new()
            }
            None => Vec::new(),
        }
    }

    fn skip(&self, reason: &str) -> Vec<Effect> {
        vec![
            Effect::Keep(Event::Barred { check: self.check.clone(), reason: reason.to_owned() }),
            Effect::Say(format!("Saved: not now: {}.", self.name)),
            Effect::ToJob,
        ]
    }

    fn type_reason(&mut self, key: KeyEvent) -> Vec<Effect> {
        let Some(field) = &mut self.own else { return Vec::new() };
        match find(TYPING, key.code) {
            Some(Typing::Take) if field.trimmed().is_empty() => {
                vec![Effect::Say("Say the reason in a few words.".to_owned())]
            }
            Some(Typing::Take) => {
                let reason = field.trimmed().to_owned();
                self.skip(&reason)
            }
            Some(Typing::Drop) => {
                self.own = None;
                Vec::new()
            }
            None => {
                field.press(key);
                Vec::new()
            }
        }
    }
}

impl Page for Skip {
    fn is_typing(&self) -> bool {
        self.own.is_some()
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        if self.own.is_some() {
            return hints(TYPING);
        }
        let mut all = vec![Hint {
            key: KeyCode::Char('1'),
            shown: digits(REASONS.len() + 1),
            short: "choose".to_owned(),
            title: "skip the check for that reason".to_owned(),
            role: Role::Answer,
        }];
        all.extend(with(KEYS, LIST));
        all.extend(hints(ABOVE));
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let mut body: Lines =
            para("Why can this check not be done now? It will not be asked again.", columns, theme.strong);
        body.push(blank());
        let mut focus = None;
        for (at, reason) in REASONS.iter().copied().chain([OWN]).enumerate() {
            let first = body.len();
            body.extend(list_row(&format!("{}  {reason}", at + 1), "", at == self.at, (columns, theme)));
            if at == self.at {
                focus = Some((first, body.len()));
            }
        }
        let entry = self.own.as_ref().map(|field| vec![field.line("Reason:", columns, theme)]).unwrap_or_default();
        Sheet { place: "SKIP A CHECK", title: self.name.clone(), body, entry, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        if self.own.is_some() {
            return self.type_reason(key);
        }
        if let KeyCode::Char(digit @ '1'..='9') = key.code {
            return self.choose(usize::from(digit as u8 - b'1'));
        }
        match find(KEYS, key.code).or_else(|| find(LIST, key.code)) {
            Some(Act::Choose) => self.choose(self.at),
            Some(Act::Down) => {
                self.at = next(self.at, REASONS.len() + 1);
                Vec::new()
            }
            Some(Act::Up) => {
                self.at = self.at.saturating_sub(1);
                Vec::new()
            }
            None => above(key, self, world),
        }
    }

    fn paste(&mut self, text: &str, _world: &World) {
        if let Some(field) = &mut self.own {
            field.paste(text);
        }
    }
}
