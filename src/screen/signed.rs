//! Turns typed words and a second, separate key into a decision with a name under it.
//!
//! Enter only ends the typing. What could hurt somebody is recorded by a letter that does nothing else, so that no
//! habit and no stuck key decides it.

use super::field::Field;
use super::keys::{Bound, Hint, acts, find, hints};
use super::lines::{Lines, flow, para};
use super::theme::Theme;
use crate::text::width;
use crossterm::event::{KeyCode, KeyEvent};

/// Fewest letters that name somebody.
const LEAST: usize = 2;
/// Fewest columns beside a label to type in.
const LEAST_ROOM: usize = 20;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Act {
    Read,
    Drop,
    Record,
    Again,
}

const TYPING: &[Bound<Act>] = &[
    acts(&[KeyCode::Enter], "Enter", "read it over", "end the typing; nothing is saved yet", Act::Read),
    acts(&[KeyCode::Esc], "Esc", "back", "back; nothing is saved", Act::Drop),
];

/// Keys once the words are typed.
pub(super) type Last = &'static [Bound<Act>];

/// Records that the site runs on.
pub(super) const RUN_ON: Last = &[
    acts(&[KeyCode::Char('r')], "r", "record: running on", "record that the site runs on", Act::Record),
    acts(&[KeyCode::Esc], "Esc", "type again", "type it again; nothing is saved", Act::Again),
];

/// A decision being signed.
#[derive(Debug)]
pub(super) struct Signed {
    field: Field,
    label: &'static str,
    last: Last,
    is_read: bool,
    is_short: bool,
}

/// What a key has come to.
pub(super) enum Signing {
    /// Goes on.
    Goes,
    /// Given up.
    Dropped,
    /// Recorded with these words.
    Done(String),
}

impl Signed {
    /// Asks for words under this label, then for the last key.
    pub(super) fn new(label: &'static str, last: Last) -> Self {
        Self { field: Field::default(), label, last, is_read: false, is_short: false }
    }

    fn table(&self) -> &'static [Bound<Act>] {
        if self.is_read { self.last } else { TYPING }
    }

    /// What can be done now.
    pub(super) fn hints(&self) -> Vec<Hint> {
        hints(self.table())
    }

    /// True while letters are typed.
    pub(super) fn is_typing(&self) -> bool {
        !self.is_read
    }

    /// Takes a key.
    pub(super) fn press(&mut self, key: KeyEvent) -> Signing {
        match find(self.table(), key.code) {
            Some(Act::Read) => {
                self.is_short = self.field.trimmed().chars().count() < LEAST;
                self.is_read = !self.is_short;
            }
            Some(Act::Drop) => return Signing::Dropped,
            Some(Act::Record) => return Signing::Done(self.field.trimmed().to_owned()),
            Some(Act::Again) => self.is_read = false,
            None if self.is_typing() => {
                self.field.press(key);
                self.is_short = false;
            }
            None => {}
        }
        Signing::Goes
    }

    /// Takes pasted text.
    pub(super) fn paste(&mut self, text: &str) {
        if self.is_typing() {
            self.field.paste(text);
        }
    }

    /// The words, and what is still missing.
    pub(super) fn lines(&self, columns: usize, theme: &Theme) -> Lines {
        if self.is_read {
            let mut lines = flow(&[(self.label, theme.text), (self.field.trimmed(), theme.strong)], columns);
            lines.extend(flow(&[("Not recorded yet.", theme.trouble)], columns));
            return lines;
        }
        // What is typed wants room: where the label leaves little, it stands above.
        let mut lines = if columns < width(self.label) + LEAST_ROOM {
            let mut lines = para(self.label, columns, theme.strong);
            lines.push(self.field.line(">", columns, theme));
            lines
        } else {
            vec![self.field.line(self.label, columns, theme)]
        };
        if self.is_short {
            lines.extend(flow(&[("Somebody must be named.", theme.trouble)], columns));
        }
        lines
    }
}
