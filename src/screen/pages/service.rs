//! Turns the return-to-service list into a page: every line answered and judged, then "passed" or "not yet".

use super::{ABOVE, above, common, list_row, next};
use crate::job::{ServiceLineView, ServiceView};
use crate::screen::field::Field;
use crate::screen::keys::{Bound, COMMON, Hint, acts, arrows, find, hints, typing};
use crate::screen::lines::{Lines, blank, flow, hanging, line, para};
use crate::screen::page::{Effect, Kind, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Yes,
    No,
    NotNow,
    Number,
    Decide,
    Down,
    Up,
    Done,
    Drop,
}

const YES_NO: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('y')], "y", "yes: passes", "yes: this line passes", Act::Yes),
    acts(&[KeyCode::Char('n')], "n", "no: off", "no: this line is off", Act::No),
];
const NUMBER: &[Bound<Act>] =
    &[acts(&[KeyCode::Enter], "Enter", "enter the number", "enter the number of this line", Act::Number)];
const REST: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('.')], ".", "not now", "leave this line out", Act::NotNow),
    acts(&[KeyCode::Char('z')], "z", "decide", "decide: passed, or not yet", Act::Decide),
];
const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);
const TYPING: &[Bound<Act>] = &typing(Act::Done, Act::Drop);

#[derive(Debug)]
enum Typing {
    Number(Field),
    Decide(Field),
}

/// The list.
#[derive(Debug)]
pub(in crate::screen) struct ServicePage {
    /// Chosen row; none = the first open one.
    at: Option<usize>,
    typing: Option<Typing>,
    /// True for the job's own page.
    is_step: bool,
    /// The number whose doubts were shown.
    doubted: Option<String>,
}

impl ServicePage {
    /// The job's own page.
    pub(in crate::screen) fn new() -> Self {
        Self { at: None, typing: None, is_step: true, doubted: None }
    }

    /// Above another page.
    pub(in crate::screen) fn above() -> Self {
        Self { is_step: false, ..Self::new() }
    }

    fn place(&self, view: &ServiceView) -> usize {
        let unsaid = view.lines.iter().position(|line| line.said.is_none());
        let needed = || view.lines.iter().position(|line| view.open.contains(&line.name));
        let first = || unsaid.or_else(needed).unwrap_or(0);
        self.at.unwrap_or_else(first).min(view.lines.len().saturating_sub(1))
    }

    fn chosen<'v>(&self, view: &'v ServiceView) -> Option<&'v ServiceLineView> {
        view.lines.get(self.place(view))
    }

    fn tables(&self, view: &ServiceView) -> Vec<&'static [Bound<Act>]> {
        if self.typing.is_some() {
            return vec![TYPING];
        }
        let takes_number = self.chosen(view).is_some_and(|line| line.number.is_some());
        vec![if takes_number { NUMBER } else { YES_NO }, REST, LIST]
    }

    fn answered(&self, passed: Option<bool>, view: &ServiceView, world: &World) -> Vec<Effect> {
        let (Some(line), Some(sitting)) = (self.chosen(view), world.sitting()) else { return Vec::new() };
        let said = match passed {
            Some(true) => "passes",
            Some(false) => "off",
            None => "left out",
        };
        let event = sitting.prove_seen(&line.id, passed, "");
        vec![Effect::Keep(event), Effect::Say(format!("Saved: {}: {said}.", line.name))]
    }

    fn act(&mut self, action: Act, view: &ServiceView, world: &World) -> Vec<Effect> {
        match action {
            Act::Yes | Act::No | Act::NotNow => {
                let passed = (action != Act::NotNow).then_some(action == Act::Yes);
                let effects = self.answered(passed, view, world);
                self.at = None;
                return effects;
            }
            Act::Number => self.typing = Some(Typing::Number(Field::default())),
            Act::Decide => self.typing = Some(Typing::Decide(Field::default())),
            Act::Down => self.at = Some(next(self.place(view), view.lines.len())),
            Act::Up => self.at = Some(self.place(view).saturating_sub(1)),
            Act::Drop => self.typing = None,
            Act::Done => return self.done(view, world),
        }
        Vec::new()
    }

    fn done(&mut self, view: &ServiceView, world: &World) -> Vec<Effect> {
        let Some(sitting) = world.sitting() else { return Vec::new() };
        match self.typing.take() {
            Some(Typing::Number(field)) => self.number(field, view, world),
            Some(Typing::Decide(field)) if field.trimmed().is_empty() => {
                self.typing = Some(Typing::Decide(field));
                vec![Effect::Say("Somebody must be named.".to_owned())]
            }
            Some(Typing::Decide(field)) => {
                let said = if view.passes {
                    "Saved: back in service. Its readings are this pump's usual values from now on."
                } else {
                    "Saved: not yet. Nothing counts as repaired before it is back at its usual values."
                };
                let event = sitting.returned(field.trimmed());
                let mut effects = vec![Effect::Keep(event), Effect::Say(said.to_owned())];
                if view.passes {
                    effects.push(Effect::KeepUsual);
                }
                if !self.is_step {
                    effects.push(Effect::Close);
                }
                effects
            }
            None => Vec::new(),
        }
    }

    fn number(&mut self, field: Field, view: &ServiceView, world: &World) -> Vec<Effect> {
        let (Some(line), Some(sitting)) = (self.chosen(view), world.sitting()) else { return Vec::new() };
        match sitting.prove(&line.id, field.trimmed()) {
            Ok((_, echo, doubts)) if !doubts.is_empty() && self.doubted.as_deref() != Some(field.trimmed()) => {
                self.doubted = Some(field.trimmed().to_owned());
                self.typing = Some(Typing::Number(field));
                vec![Effect::Say(format!("{echo}: {} Enter again lets it stand.", doubts.join(" ")))]
            }
            Ok((event, echo, _)) => {
                let said = format!("Saved: {}: {echo}.", line.name);
                (self.at, self.doubted) = (None, None);
                vec![Effect::Keep(event), Effect::Say(said)]
            }
            Err(refused) => {
                self.typing = Some(Typing::Number(field));
                vec![Effect::Say(refused.to_string())]
            }
        }
    }

    fn rows(&self, view: &ServiceView, world: &World, columns: usize) -> (Lines, Option<(usize, usize)>) {
        let (theme, at) = (&world.theme, self.place(view));
        let (mut lines, mut focus) = (Lines::new(), None);
        for (row, entry) in view.lines.iter().enumerate() {
            let first = lines.len();
            let said = match &entry.said {
                None if entry.must => "needed".to_owned(),
                None => String::new(),
                Some((text, Some(true))) => format!("{text}: passes"),
                Some((text, Some(false))) => format!("{text}: OFF"),
                Some((text, None)) => format!("{text}: noted"),
            };
            lines.extend(list_row(&entry.name, &said, row == at, (columns, theme)));
            if row == at {
                lines.extend(hanging(("   ", theme.dim), (&entry.ask, theme.strong), columns));
                lines.extend(hanging(("   How:", theme.dim), (&entry.how, theme.text), columns));
                if let Some((unit, band)) = &entry.number {
                    let text = format!("{band}; in {unit} or another unit");
                    lines.extend(hanging(("   Passes:", theme.dim), (&text, theme.text), columns));
                }
                focus = Some((first, lines.len()));
            }
        }
        (lines, focus)
    }
}

/// How the whole list stands, in sight whatever row is chosen.
fn standing(view: &ServiceView, columns: usize, theme: &Theme) -> Lines {
    let mut lines = vec![line(if view.passes { "PASSES" } else { "NOT YET" }, theme.heading)];
    for off in &view.off {
        lines.extend(hanging(("Off:", theme.trouble), (off, theme.text), columns));
    }
    if !view.open.is_empty() {
        lines.extend(hanging(("Still needed:", theme.dim), (&view.open.join(", "), theme.text), columns));
    }
    lines
}

impl Page for ServicePage {
    fn kind(&self) -> Kind {
        if self.is_step { Kind::Step } else { Kind::Other }
    }

    fn is_typing(&self) -> bool {
        self.typing.is_some()
    }

    fn hints(&self, world: &World) -> Vec<Hint> {
        let Some(sitting) = world.sitting() else { return Vec::new() };
        let mut all: Vec<Hint> = self.tables(&sitting.service()).into_iter().flat_map(hints).collect();
        if self.typing.is_none() {
            all.extend(if self.is_step { hints(COMMON) } else { hints(ABOVE) });
        }
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let Some(sitting) = world.sitting() else { return Sheet::default() };
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let view = sitting.service();
        let (body, focus) = self.rows(&view, world, columns);
        let mut pinned = standing(&view, columns, theme);
        pinned.push(blank());
        let entry = match &self.typing {
            Some(Typing::Number(field)) => vec![field.line(">", columns, theme)],
            Some(Typing::Decide(field)) => {
                let what = if view.passes { "It passes." } else { "Not yet." };
                let mut lines = flow(&[(what, theme.strong), ("Not recorded yet.", theme.trouble)], columns);
                lines.extend(para(
                    "Who decides, and when is it looked at again after running in?",
                    columns,
                    theme.text,
                ));
                lines.push(field.line(">", columns, theme));
                lines
            }
            None => Lines::new(),
        };
        let title = "same gauge, place and running state as the usual values".to_owned();
        Sheet { place: "RETURN TO SERVICE", title, pinned, body, entry, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        let Some(sitting) = world.sitting() else { return Vec::new() };
        let view = sitting.service();
        if let Some(action) = self.tables(&view).into_iter().find_map(|table| find(table, key.code)) {
            return self.act(action, &view, world);
        }
        let takes_number = self.chosen(&view).is_some_and(|line| line.number.is_some());
        if let (KeyCode::Char('0'..='9' | '-'), None, true) = (key.code, &self.typing, takes_number) {
            self.typing = Some(Typing::Number(Field::default()));
        }
        match &mut self.typing {
            Some(Typing::Number(field) | Typing::Decide(field)) => {
                field.press(key);
                Vec::new()
            }
            None if self.is_step => common(key, self, world),
            None => above(key, self, world),
        }
    }

    fn paste(&mut self, text: &str, _world: &World) {
        if let Some(Typing::Number(field) | Typing::Decide(field)) = &mut self.typing {
            field.paste(text);
        }
    }
}
