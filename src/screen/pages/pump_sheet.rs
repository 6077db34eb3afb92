//! Turns what a person knows of the pump into its sheet, row by row; says which field would help most.

use super::{ABOVE, above, list_row, next, with};
use crate::job::FormRow;
use crate::knowledge::sheet::HowKnown;
use crate::screen::field::Field;
use crate::screen::keys::{Bound, Hint, acts, arrows, find, hints};
use crate::screen::lines::{Lines, blank, flow, line, para};
use crate::screen::page::{Effect, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Edit,
    HowKnown,
    Write,
    Down,
    Up,
}

const KEYS: &[Bound<Act>] = &[
    acts(&[KeyCode::Enter], "Enter", "fill in", "fill in the chosen field", Act::Edit),
    acts(&[KeyCode::Char('k')], "k", "how known", "measured, read off or guessed", Act::HowKnown),
    acts(&[KeyCode::Char('w')], "w", "write file", "write the sheet as a file for other jobs", Act::Write),
];

const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);

const TYPING: &[Bound<bool>] = &[
    acts(&[KeyCode::Enter], "Enter", "take it", "take the field as typed; nothing or ? = not known", true),
    acts(&[KeyCode::Esc], "Esc", "drop it", "drop what is typed", false),
];

/// The form.
#[derive(Debug, Default)]
pub(in crate::screen) struct PumpSheetPage {
    at: usize,
    typed: Option<Field>,
    refused: Option<String>,
}

impl PumpSheetPage {
    fn row(&self, world: &World) -> Option<FormRow> {
        world.sitting().and_then(|sitting| sitting.form().into_iter().nth(self.at))
    }

    fn fill(&mut self, text: &str, how: Option<HowKnown>, world: &World) -> Vec<Effect> {
        let (Some(row), Some(sitting)) = (self.row(world), world.sitting()) else { return Vec::new() };
        match sitting.fill(&row.key, text, how.or(row.how)) {
            Ok(filled) => {
                (self.typed, self.refused) = (None, None);
                vec![Effect::Keep(filled.event), Effect::Say(format!("Saved in this job: {}.", filled.said))]
            }
            Err(refused) => {
                self.refused = Some(refused.to_string());
                Vec::new()
            }
        }
    }

    /// The next way of knowing, for a field that is filled in.
    fn known_otherwise(&mut self, world: &World) -> Vec<Effect> {
        let Some((row, how)) = self.row(world).and_then(|row| row.how.map(|how| (row, how))) else { return Vec::new() };
        let ways = HowKnown::WORDS;
        let at = ways.iter().position(|way| way.1 == how).map_or(0, |at| (at + 1) % ways.len());
        self.fill(&row.value, Some(ways[at].1), world)
    }

    fn body(&self, world: &World, columns: usize) -> (Lines, Option<(usize, usize)>) {
        let (theme, mut focus) = (&world.theme, None);
        let Some(sitting) = world.sitting() else { return (Lines::new(), None) };
        let mut body = para("Every field may stay unknown; a guess counts for little.", columns, theme.dim);
        let helps: Vec<String> = sitting.helps().iter().map(|helps| helps.field.replace('_', " ")).collect();
        if !helps.is_empty() {
            body.extend(flow(&[("Would help most:", theme.dim), (&helps.join(", "), theme.strong)], columns));
        }
        body.push(blank());
        for (at, row) in sitting.form().iter().enumerate() {
            let first = body.len();
            let how = row.how.map_or_else(String::new, |how| format!("  {:8}", how.words()));
            let value = if row.value.is_empty() { "not known" } else { row.value.as_str() };
            body.extend(list_row(&row.label, &format!("{value}{how}"), at == self.at, (columns, theme)));
            if at == self.at {
                focus = Some((first, body.len()));
            }
        }
        (body, focus)
    }
}

impl Page for PumpSheetPage {
    fn is_typing(&self) -> bool {
        self.typed.is_some()
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        if self.typed.is_some() {
            return hints(TYPING);
        }
        let mut all = hints(KEYS);
        all.extend(with(LIST, ABOVE));
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let (body, focus) = self.body(world, columns);
        let mut entry = Lines::new();
        if let (Some(typed), Some(row)) = (&self.typed, self.row(world)) {
            entry.push(typed.line(&format!("{}:", row.label), columns, theme));
            if row.label.starts_with("healthy") {
                entry.push(line("In another running state: number @ half, flooded, cold", theme.dim));
            }
        }
        if let Some(why) = &self.refused {
            entry.extend(flow(&[("Not taken:", theme.trouble), (why, theme.text)], columns));
        }
        let title = world.sitting().map(|sitting| sitting.header().pump).unwrap_or_default();
        Sheet { place: "PUMP SHEET", title, body, entry, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        if let Some(typed) = &mut self.typed {
            return match find(TYPING, key.code) {
                Some(true) => {
                    let text = typed.trimmed().to_owned();
                    self.fill(&text, None, world)
                }
                Some(false) => {
                    (self.typed, self.refused) = (None, None);
                    Vec::new()
                }
                None => {
                    typed.press(key);
                    Vec::new()
                }
            };
        }
        self.refused = None;
        match find(KEYS, key.code).or_else(|| find(LIST, key.code)) {
            Some(Act::Edit) => {
                let mut typed = Field::default();
                typed.paste(&self.row(world).map(|row| row.value).unwrap_or_default());
                self.typed = Some(typed);
                Vec::new()
            }
            Some(Act::HowKnown) => self.known_otherwise(world),
            Some(Act::Write) => vec![Effect::PumpSheet],
            Some(Act::Down) => {
                self.at = next(self.at, world.sitting().map_or(0, |sitting| sitting.form().len()));
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
        if let Some(typed) = &mut self.typed {
            typed.paste(text);
        }
    }
}
