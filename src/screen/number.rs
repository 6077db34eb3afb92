//! Turns typed text into a reading: echoed in two units while it is typed, questioned where it is doubtful.

use super::field::Field;
use super::keys::{Bound, Hint, acts, find, hints};
use super::lines::{Lines, flow, sentence};
use super::theme::Theme;
use crate::job::{Entered, Event, Refused, Sitting};
use crate::knowledge::schema::Id;
use crossterm::event::{KeyCode, KeyEvent};

/// Which number is typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Which {
    /// What the instrument shows now.
    Now,
    /// What it shows as a rule on this pump.
    Usual,
}

/// A number being typed.
#[derive(Debug)]
pub(super) struct NumberEntry {
    reading: Id,
    check: Option<Id>,
    which: Which,
    field: Field,
    heard: Heard,
    value: Option<(Id, f64)>,
}

/// What is made of it so far.
#[derive(Debug)]
enum Heard {
    /// Nothing to say yet.
    Nothing,
    /// A number; its echo.
    Number(String),
    /// Not taken; why.
    Refused(String),
    /// Waits to be let stand.
    Doubtful(Box<Entered>),
}

/// What a key has come to.
pub(super) enum Typing {
    /// Goes on.
    Goes,
    /// Given up.
    Dropped,
    /// A number that stands, with its echo.
    Stands(Box<Event>, String),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Enter,
    Drop,
    Stand,
    Again,
}

const TYPING: &[Bound<Act>] = &[
    acts(&[KeyCode::Enter], "Enter", "take the number", "take the number as typed", Act::Enter),
    acts(&[KeyCode::Esc], "Esc", "no number", "drop what is typed", Act::Drop),
];

const DOUBT: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('y')], "y", "let it stand", "the number is right: let it stand", Act::Stand),
    acts(&[KeyCode::Char('n'), KeyCode::Esc], "n", "type it again", "type the number again", Act::Again),
];

impl NumberEntry {
    /// An empty entry.
    pub(super) fn new(reading: &str, check: Option<&Id>, which: Which) -> Self {
        Self {
            reading: reading.to_owned(),
            check: check.cloned(),
            which,
            field: Field::default(),
            heard: Heard::Nothing,
            value: None,
        }
    }

    /// The number typed so far: reading or key, and SI.
    pub(super) fn value(&self) -> Option<(&str, f64)> {
        self.value.as_ref().map(|(key, si)| (key.as_str(), *si))
    }

    /// True for a key that begins a number.
    pub(super) fn begins(key: KeyCode) -> bool {
        matches!(key, KeyCode::Char('0'..='9' | '+' | '-' | '\u{2212}'))
    }

    /// What can be done now.
    pub(super) fn hints(&self) -> Vec<Hint> {
        hints(if matches!(self.heard, Heard::Doubtful(_)) { DOUBT } else { TYPING })
    }

    /// True while letters are typed.
    pub(super) fn is_typing(&self) -> bool {
        !matches!(self.heard, Heard::Doubtful(_))
    }

    /// Takes a key.
    pub(super) fn press(&mut self, key: KeyEvent, sitting: &Sitting) -> Typing {
        let table = if self.is_typing() { TYPING } else { DOUBT };
        match find(table, key.code) {
            Some(Act::Enter) => self.take(sitting),
            Some(Act::Drop) => Typing::Dropped,
            Some(Act::Stand) => self.stand(),
            Some(Act::Again) => {
                self.heard = Heard::Nothing;
                Typing::Goes
            }
            None => {
                if self.is_typing() && self.field.press(key) {
                    self.listen(sitting);
                }
                Typing::Goes
            }
        }
    }

    /// Takes pasted text.
    pub(super) fn paste(&mut self, text: &str, sitting: &Sitting) {
        if self.is_typing() {
            self.field.paste(text);
            self.listen(sitting);
        }
    }

    /// Says a number back while it is typed; what is no number yet is not complained of yet.
    fn listen(&mut self, sitting: &Sitting) {
        self.value = None;
        self.heard = match self.understand(sitting) {
            Ok(entered) => {
                if let Event::Measured { reading, si, .. } = entered.event {
                    self.value = Some((reading, si));
                }
                Heard::Number(entered.echo)
            }
            Err(_) => Heard::Nothing,
        };
    }

    fn take(&mut self, sitting: &Sitting) -> Typing {
        match self.understand(sitting) {
            Ok(entered) if entered.doubts.is_empty() => return Typing::Stands(Box::new(entered.event), entered.echo),
            Ok(entered) => self.heard = Heard::Doubtful(Box::new(entered)),
            Err(refused) => self.heard = Heard::Refused(sentence(&refused.to_string())),
        }
        Typing::Goes
    }

    fn understand(&self, sitting: &Sitting) -> Result<Entered, Refused> {
        match self.which {
            Which::Now => sitting.measure(&self.reading, self.field.text(), self.check.as_deref()),
            Which::Usual => sitting.usual(&self.reading, self.field.text()),
        }
    }

    fn stand(&mut self) -> Typing {
        match std::mem::replace(&mut self.heard, Heard::Nothing) {
            Heard::Doubtful(entered) => Typing::Stands(Box::new(entered.event), entered.echo),
            other => {
                self.heard = other;
                Typing::Goes
            }
        }
    }

    /// The line being typed and what is made of it.
    pub(super) fn lines(&self, unit: &str, columns: usize, theme: &Theme) -> Lines {
        let mut lines = vec![self.field.line("Number and unit:", columns, theme)];
        lines.extend(match &self.heard {
            Heard::Nothing => flow(&[(&format!("For example in {unit}."), theme.dim)], columns),
            Heard::Number(echo) => flow(&[("Reads as", theme.dim), (echo, theme.strong)], columns),
            Heard::Refused(why) => flow(&[("Not taken:", theme.trouble), (why, theme.text)], columns),
            Heard::Doubtful(entered) => doubt(entered, columns, theme),
        });
        lines
    }
}

fn doubt(entered: &Entered, columns: usize, theme: &Theme) -> Lines {
    let mut lines = flow(&[("Reads as", theme.dim), (&entered.echo, theme.strong)], columns);
    for doubt in &entered.doubts {
        lines.extend(flow(&[("Doubtful:", theme.trouble), (&sentence(doubt), theme.text)], columns));
    }
    lines.extend(flow(&[("Let it stand?", theme.strong)], columns));
    lines
}
