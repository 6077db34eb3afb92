//! Turns one finding or reading, taken from the trail or told without being asked, into its own small page.

use super::{ABOVE, above};
use crate::job::{AskView, Where};
use crate::knowledge::schema::Id;
use crate::screen::ask::{Ask, Pressed};
use crate::screen::keys::{Hint, hints};
use crate::screen::likely;
use crate::screen::lines::{blank, flow};
use crate::screen::page::{Effect, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crossterm::event::KeyEvent;

/// Where an answer leads back to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::screen) enum Then {
    /// To the page below.
    Close,
    /// To the job's own page.
    ToJob,
}

/// The page of one question.
#[derive(Debug)]
pub(in crate::screen) struct Asked {
    ask: Ask,
    then: Then,
}

impl Asked {
    /// Something nobody asked.
    pub(in crate::screen) fn told(view: AskView) -> Self {
        Self { ask: Ask::new(view, None), then: Then::ToJob }
    }

    /// An answer of the trail, anew; it keeps the check it came from. `None` if the knowledge no longer has it.
    pub(in crate::screen) fn anew(id: &str, world: &World) -> Option<Self> {
        let sitting = world.sitting()?;
        let check: Option<&Id> = match sitting.job.given.get(id) {
            Some((_, _, Where::Check(check))) => Some(check),
            _ => None,
        };
        Some(Self { ask: Ask::new(sitting.ask_view(id)?, check), then: Then::Close })
    }
}

impl Page for Asked {
    fn is_typing(&self) -> bool {
        self.ask.is_typing()
    }

    fn hints(&self, _world: &World) -> Vec<Hint> {
        let mut all = self.ask.hints();
        if !self.ask.is_busy() {
            all.extend(hints(ABOVE));
        }
        all
    }

    fn sheet(&self, world: &World) -> Sheet {
        let Some(sitting) = world.sitting() else { return Sheet::default() };
        let (theme, columns) = (&world.theme, Columns::of(world.size.0));
        let mut body = self.ask.question(columns.body, theme);
        body.extend(self.ask.how(columns.body, theme));
        body.extend(self.ask.dial(sitting, columns.body, world));
        if let Some(row) = sitting.trail().into_iter().find(|row| row.id == self.ask.view.id) {
            body.push(blank());
            body.extend(flow(&[("So far:", theme.dim), (&row.answer, theme.strong)], columns.body));
        }
        Sheet {
            place: if self.then == Then::Close { "CHANGE AN ANSWER" } else { "TELL" },
            title: self.ask.view.name.clone(),
            body,
            side: likely::beside(sitting, columns.side, theme),
            entry: self.ask.entry(world, columns.full),
            ..Sheet::default()
        }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        let Some(sitting) = world.sitting() else { return Vec::new() };
        match self.ask.press(key, sitting) {
            Pressed::NotMine => above(key, self, world),
            Pressed::Taken => Vec::new(),
            Pressed::Refused(why) => vec![Effect::Say(why)],
            Pressed::Answered(mut effects, usual) => {
                effects.push(if self.then == Then::Close { Effect::Close } else { Effect::ToJob });
                effects.extend(usual);
                effects
            }
        }
    }

    fn paste(&mut self, text: &str, world: &World) {
        if let Some(sitting) = world.sitting() {
            self.ask.paste(text, sitting);
        }
    }
}
