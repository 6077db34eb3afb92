//! Turns a draft into the page before acceptance: the change in words, problems new and gone, the cases that flip.

use super::page::{Effect, Page, World};
use crate::job::initials_and_role;
use crate::proof::{Drafted, Proven};
use crate::screen::field::Field;
use crate::screen::keys::{Bound, Hint, acts, find, hints};
use crate::screen::lines::{Lines, blank, line, para};
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crossterm::event::{KeyCode, KeyEvent};
use ratatui::style::Style;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Save,
    Second,
    Drop,
    Take,
    Leave,
}

const SAVE: &[Bound<Act>] = &[acts(&[KeyCode::Char('s')], "s", "save it", "save it; undo takes it back", Act::Save)];
/// Another key than the usual one, so that habit does not press it.
const SAVE_WORSE: &[Bound<Act>] = &[acts(
    &[KeyCode::Char('w')],
    "w",
    "save it although it gets worse",
    "save it although a case gets worse",
    Act::Save,
)];
const SECOND: &[Bound<Act>] =
    &[acts(&[KeyCode::Char('2')], "2", "who else read it", "initials and role of the second reader", Act::Second)];
const DROP: &[Bound<Act>] =
    &[acts(&[KeyCode::Char('b'), KeyCode::Esc], "b", "do not save", "drop it; nothing is saved", Act::Drop)];
const TYPING: &[Bound<Act>] = &[
    acts(&[KeyCode::Enter], "Enter", "take it", "take the initials; nothing is saved yet", Act::Take),
    acts(&[KeyCode::Esc], "Esc", "back", "back to the change", Act::Leave),
];

/// A change that waits to be accepted.
pub(super) struct DraftPage {
    drafted: Drafted,
    takes_back: bool,
    proof: Option<Result<Proven, String>>,
    second: Option<String>,
    typing: Option<Field>,
    trouble: Option<String>,
}

impl DraftPage {
    /// For a new draft; its cases are being played.
    pub(super) fn new(drafted: Drafted, takes_back: bool) -> Self {
        Self { drafted, takes_back, proof: None, second: None, typing: None, trouble: None }
    }

    fn tables(&self) -> Vec<&'static [Bound<Act>]> {
        if self.typing.is_some() {
            return vec![TYPING];
        }
        let needs_second = self.drafted.safety && self.second.is_none() && !self.takes_back;
        match &self.proof {
            None => vec![DROP],
            Some(_) if needs_second => vec![SECOND, DROP],
            Some(Ok(proof)) if proof.worse == 0 => vec![SAVE, DROP],
            Some(_) => vec![SAVE_WORSE, DROP],
        }
    }

    fn take_second(&mut self) {
        let Some(field) = &self.typing else { return };
        match initials_and_role(field.trimmed()) {
            Ok(second) => (self.second, self.typing, self.trouble) = (Some(second), None, None),
            Err(why) => self.trouble = Some(why),
        }
    }

    fn cases(&self, columns: usize, theme: &Theme) -> Lines {
        let style = |text: &str| if text.starts_with("Worse") { theme.trouble } else { theme.text };
        match &self.proof {
            None => para(&format!("The cases are being played{}", theme.marks.cut), columns, theme.strong),
            Some(Err(why)) => para(&format!("The cases could not be played: {why}"), columns, theme.trouble),
            Some(Ok(proof)) => proof.lines.iter().flat_map(|text| para(text, columns, style(text))).collect(),
        }
    }
}

fn texts(texts: &[String], columns: usize, style: Style) -> Lines {
    texts.iter().flat_map(|text| text.lines()).flat_map(|text| para(text, columns, style)).collect()
}

impl Page for DraftPage {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        self.tables().into_iter().flat_map(hints).collect()
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let mut body = vec![line(if self.takes_back { "CHANGES BACK" } else { "CHANGES" }, theme.heading)];
        body.extend(texts(&self.drafted.words, columns, theme.strong));
        body.extend(para(&format!("In {}.", self.drafted.files.join(", ")), columns, theme.dim));
        if !self.drafted.problems.is_empty() {
            body.push(line("PROBLEMS, NEW AND GONE", theme.heading));
            body.extend(texts(&self.drafted.problems, columns, theme.text));
        }
        body.push(line("CASES, ALL FACTS GIVEN", theme.heading));
        body.extend(self.cases(columns, theme));
        if self.drafted.safety && !self.takes_back {
            body.push(blank());
            let read = self.second.as_ref().map(|who| format!("Also read by {who}."));
            let text = read.unwrap_or_else(|| "This is safety text: a second person reads it first.".to_owned());
            body.extend(para(&text, columns, theme.strong));
        }
        let mut entry = Lines::new();
        entry.extend(self.typing.iter().map(|field| field.line("Initials and role:", columns, theme)));
        entry.extend(self.trouble.iter().flat_map(|why| para(why, columns, theme.trouble)));
        Sheet { place: "DRAFT", title: "not saved yet".to_owned(), body, entry, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, _world: &World) -> Vec<Effect> {
        match self.tables().into_iter().find_map(|table| find(table, key.code)) {
            Some(Act::Save) => return vec![Effect::Accept(self.second.clone())],
            Some(Act::Drop) => return vec![Effect::Drop],
            Some(Act::Second) => self.typing = Some(Field::default()),
            Some(Act::Take) => self.take_second(),
            Some(Act::Leave) => (self.typing, self.trouble) = (None, None),
            None => {
                if let Some(field) = &mut self.typing {
                    field.press(key);
                    self.trouble = None;
                }
            }
        }
        Vec::new()
    }

    fn paste(&mut self, text: &str, _world: &World) {
        if let Some(field) = &mut self.typing {
            field.paste(text);
        }
    }

    fn waits(&self) -> bool {
        self.proof.is_none()
    }

    fn proved(&mut self, proof: Result<Proven, String>) {
        self.proof = Some(proof);
    }

    fn is_of_change(&self) -> bool {
        true
    }
}
