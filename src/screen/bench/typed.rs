//! Turns a typed line into an edit: another strength or value, a field, a link, what takes an entry's place.

use super::page::{Effect, Page, World};
use crate::editing::{Edit, link_of_fields};
use crate::knowledge::Kind;
use crate::knowledge::schema::Id;
use crate::screen::field::Field;
use crate::screen::keys::{Bound, Hint, acts, find, hints};
use crate::screen::lines::{Lines, blank, hanging, para};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Take,
    Drop,
}

const TYPING: &[Bound<Act>] = &[
    acts(&[KeyCode::Enter], "Enter", "see what it does", "see what it does; nothing is saved yet", Act::Take),
    acts(&[KeyCode::Esc], "Esc", "back", "back; nothing is saved", Act::Drop),
];

/// What is to be typed.
pub(super) enum Wanted {
    /// Another strength.
    Strength {
        /// Where.
        path: String,
        /// What it is now.
        was: String,
    },
    /// Another value.
    Value {
        /// Where.
        path: String,
        /// As it stands in the file.
        was: String,
    },
    /// A field of an entry with its value.
    Field {
        /// Kind of the entry.
        kind: Kind,
        /// The entry.
        id: Id,
    },
    /// The other end of a link with its fields.
    Link {
        /// Kind of this end.
        kind: Kind,
        /// This end.
        id: Id,
    },
    /// What takes its place.
    Retire {
        /// Kind of the entry.
        kind: Kind,
        /// The entry.
        id: Id,
    },
}

/// A line to be typed.
pub(super) struct Typed {
    wanted: Wanted,
    field: Field,
    trouble: Option<String>,
}

impl Typed {
    /// For what is wanted; a value begins with what stands there.
    pub(super) fn new(wanted: Wanted) -> Self {
        let (mut field, mut trouble) = (Field::default(), None);
        if let Wanted::Value { path, was } = &wanted {
            field.paste(was);
            // Cut short it would be saved cut short.
            if field.text() != was {
                field = Field::default();
                trouble = Some(format!("This is too long for one line; use: weephole knowledge set {path} VALUE"));
            }
        }
        Self { wanted, field, trouble }
    }

    /// Title, label, and what may be typed.
    fn texts(&self) -> (String, &'static str, &'static str) {
        match &self.wanted {
            Wanted::Strength { path, .. } => (
                path.clone(),
                "Strength:",
                "A word (almost never, rarely, sometimes, half, often, usually, nearly always), a number such as 0.43, \
                 \"8 of 20\", or lowest/best/highest such as 5/8/12 of 20.",
            ),
            Wanted::Value { path, .. } => (path.clone(), "Value:", "The new value, as it stands in a file."),
            Wanted::Field { id, .. } => (
                id.clone(),
                "Field and value:",
                "A field of this entry and its value, such as: minutes 12, or shown_by.valves_worn.reviewed 2026-12",
            ),
            Wanted::Link { id, .. } => (
                id.clone(),
                "Other end and fields:",
                "The id of the other end and the fields, such as: valves_worn strength=often basis=guess source=practice",
            ),
            Wanted::Retire { id, .. } => (
                id.clone(),
                "Takes its place:",
                "The id of the entry of the same kind that takes its place everywhere. This id is never given again.",
            ),
        }
    }

    fn edit(&self) -> Result<Edit, String> {
        let typed = self.field.trimmed().to_owned();
        if typed.is_empty() {
            return Err("Nothing was typed.".to_owned());
        }
        match &self.wanted {
            Wanted::Strength { path, .. } | Wanted::Value { path, .. } => {
                Ok(Edit::Set { path: path.clone(), value: typed })
            }
            Wanted::Field { kind, id } => {
                let (field, value) = typed.split_once([' ', ':', '=']).ok_or("Type a field, a blank and the value.")?;
                let path = format!("{}.{id}.{}", kind.name(), field.trim());
                Ok(Edit::Set { path, value: value.trim().to_owned() })
            }
            Wanted::Link { kind, id } => link(*kind, id, &typed),
            Wanted::Retire { kind, id } => Ok(Edit::Retire { kind: *kind, id: id.clone(), instead: typed }),
        }
    }
}

/// A link from or to this end: to a finding or reading it comes from the other end.
fn link(kind: Kind, id: &Id, typed: &str) -> Result<Edit, String> {
    let mut parts = typed.split_whitespace();
    let other = parts.next().unwrap_or_default().to_owned();
    let fields: Option<Vec<(String, String)>> =
        parts.map(|part| part.split_once('=').map(|(field, value)| (field.to_owned(), value.to_owned()))).collect();
    let fields = fields.filter(|fields| !fields.is_empty()).ok_or("Write each field as FIELD=VALUE.")?;
    let entry = link_of_fields(&fields).map_err(|refusal| refusal.to_string())?;
    let comes_in = matches!(kind, Kind::Findings | Kind::Readings);
    let (from, to) = if comes_in { (other, id.clone()) } else { (id.clone(), other) };
    Ok(Edit::Link { from, to, entry })
}

impl Page for Typed {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(TYPING)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let (title, label, may) = self.texts();
        let mut body = Lines::new();
        if let Wanted::Strength { was, .. } | Wanted::Value { was, .. } = &self.wanted {
            body.extend(hanging(("Now:", theme.dim), (was, theme.strong), columns));
            body.push(blank());
        }
        body.extend(para(may, columns, theme.text));
        let mut entry = vec![self.field.line(label, columns, theme)];
        entry.extend(self.trouble.iter().flat_map(|why| para(why, columns, theme.trouble)));
        Sheet { place: "CHANGE", title, body, entry, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        match find(TYPING, key.code) {
            Some(Act::Take) => match self.edit() {
                Ok(edit) => return vec![Effect::Draft(edit)],
                Err(why) => self.trouble = Some(why),
            },
            Some(Act::Drop) => return vec![Effect::Close],
            None => {
                self.field.press(key);
                self.trouble = None;
            }
        }
        Vec::new()
    }

    fn paste(&mut self, text: &str, _world: &World) {
        self.field.paste(text);
    }

    fn is_of_change(&self) -> bool {
        true
    }
}
