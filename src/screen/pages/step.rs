//! Turns the next step into its page: cautions, minutes, the question, how to do it; causes beside, trail below.

use super::{boxed, common, gate, skip, why_ask};
use crate::job::{FirstRun, GateKind, Isolation, StepView};
use crate::screen::ask::{Ask, Pressed, part};
use crate::screen::keys::{Bound, COMMON, Hint, find, hints, way};
use crate::screen::likely;
use crate::screen::lines::{Lines, blank, flow, line, numbered, para};
use crate::screen::page::{Effect, Kind, Page, World};
use crate::screen::parts;
use crate::screen::place::is_small;
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::{KeyCode, KeyEvent};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Why,
    Skip,
}

const KEYS: &[Bound<Act>] = &[
    way(&[KeyCode::Char('w')], "w", "why", "why this question is asked", Act::Why),
    way(&[KeyCode::Char('k')], "k", "skip check", "this whole check cannot be done now", Act::Skip),
];

/// Where isolation was not possible before.
const ISOLATE: &[Bound<()>] =
    &[way(&[KeyCode::Char('i')], "i", "isolate after all", "isolation has become possible", ())];

/// Where a start was not possible before.
const START: &[Bound<()>] =
    &[way(&[KeyCode::Char('i')], "i", "start after all", "the first-run lines can be answered now", ())];

/// The gate that was not possible before, so that it may be asked again, and its key.
pub(super) fn barred(world: &World) -> Option<(GateKind, &'static [Bound<()>])> {
    let gates = world.sitting()?.gates();
    match (&gates.isolation, &gates.first_run) {
        (Isolation::NotPossible(_), _) => Some((GateKind::Isolation, ISOLATE)),
        (_, FirstRun::NotYet(_)) => Some((GateKind::FirstRun, START)),
        _ => None,
    }
}

/// Opens that gate, if this is its key.
pub(super) fn after_all(key: KeyCode, world: &World) -> Option<Vec<Effect>> {
    let (kind, keys) = barred(world)?;
    find(keys, key)?;
    let gate = world.sitting()?.gate(kind);
    Some(vec![Effect::Open(boxed(gate::GatePage::again(gate)))])
}

/// The page of a step.
#[derive(Debug)]
pub(in crate::screen) struct StepPage {
    step: StepView,
    ask: Ask,
}

impl StepPage {
    /// Asks the most telling open question of the step; `None` if it has none.
    pub(in crate::screen) fn new(step: StepView) -> Option<Self> {
        let ask = Ask::new(step.asks.first()?.clone(), Some(&step.check));
        Some(Self { step, ask })
    }

    /// What is asked, how, and what it takes; the question stands first where rows are few. With the rows up to its end.
    fn body(&self, world: &World, columns: usize) -> (Lines, usize) {
        let theme = &world.theme;
        let effort = para(&parts::effort(&self.step), columns, theme.dim);
        let mut body = self.ask.question(columns, theme);
        let mut lead = body.len();
        if is_small(world.size) {
            body.extend(effort);
        } else {
            lead += effort.len();
            body.splice(0..0, effort);
        }
        body.extend(self.ask.how(columns, theme));
        body.extend(world.sitting().map(|sitting| self.ask.dial(sitting, columns, world)).unwrap_or_default());
        body.push(blank());
        if !self.step.steps.is_empty() {
            body.push(line("STEPS", theme.heading));
            body.extend(numbered(&self.step.steps, columns, theme.text));
        }
        part(&mut body, "Tools:", &self.step.tools.join(", "), (columns, theme));
        let more = self.step.asks.len().saturating_sub(1);
        if 0 < more {
            let more = if more == 1 { "1 more question".to_owned() } else { format!("{more} more questions") };
            body.extend(para(&format!("This check can also answer {more}."), columns, theme.dim));
        }
        (body, lead)
    }
}

impl Page for StepPage {
    fn kind(&self) -> Kind {
        Kind::Step
    }

    fn is_typing(&self) -> bool {
        self.ask.is_typing()
    }

    fn is_working(&self) -> bool {
        self.ask.is_working()
    }

    fn work(&mut self, world: &World) {
        if let Some(sitting) = world.sitting() {
            self.ask.work(sitting);
        }
    }

    fn hints(&self, world: &World) -> Vec<Hint> {
        let mut all = self.ask.hints();
        if !self.ask.is_busy() {
            all.extend(hints(KEYS));
            all.extend(hints(COMMON));
            if let Some((_, keys)) = barred(world) {
                all.extend(hints(keys));
            }
        }
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let Some(sitting) = world.sitting() else { return Sheet::default() };
        let (theme, columns) = (&world.theme, Columns::of(world.size.0));
        let note = parts::isolation_note(sitting, &self.step);
        let (mut body, lead) = self.body(world, columns.body);
        let mut pinned = note.map(|note| flow(&[(&note, theme.strong)], columns.full)).unwrap_or_default();
        if is_small(world.size) {
            // The question has no room below it.
            body.splice(lead..lead, std::mem::take(&mut pinned));
        }
        Sheet {
            place: if self.ask.view.number.is_some() { "READING" } else { "QUESTION" },
            title: self.step.name.clone(),
            cautions: parts::cautions(&self.step.cautions, columns.full, theme),
            pinned,
            body,
            lead,
            side: likely::beside(sitting, columns.side, theme),
            foot: parts::trail(sitting, columns.full, theme),
            entry: self.ask.entry(world, columns.full),
            ..Sheet::default()
        }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        let Some(sitting) = world.sitting() else { return Vec::new() };
        match self.ask.press(key, sitting) {
            Pressed::NotMine => {}
            Pressed::Taken => return Vec::new(),
            Pressed::Refused(why) => return vec![Effect::Say(why)],
            Pressed::Answered(mut effects, usual) => {
                effects.extend(usual);
                return effects;
            }
        }
        match find(KEYS, key.code) {
            Some(Act::Why) => vec![why_ask::open(&self.ask.view.id, sitting)],
            Some(Act::Skip) => vec![Effect::Open(boxed(skip::Skip::new(&self.step.check, &self.step.name)))],
            None => after_all(key.code, world).unwrap_or_else(|| common(key, self, world)),
        }
    }

    fn paste(&mut self, text: &str, world: &World) {
        if let Some(sitting) = world.sitting() {
            self.ask.paste(text, sitting);
        }
    }
}
