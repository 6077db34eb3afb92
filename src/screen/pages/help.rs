//! Turns the key tables of the page below into help.

use super::{boxed, words};
use crate::screen::keys::{Bound, Hint, acts, find, hints, way};
use crate::screen::lines::{Lines, blank, hanging, line, para};
use crate::screen::page::{Effect, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crate::text::{pad, width};
use crossterm::event::{KeyCode, KeyEvent};

const GOOD_TO_KNOW: &[&str] = &[
    "Every answer is saved before the next question.",
    "\"Can't tell\" and \"can't check now\" are good answers. They never block the job.",
    "Any answer can be changed later. The result is the same as entering it right at first.",
    "Confirmed comes from a direct look, never from likelihood alone.",
    "PgUp and PgDn scroll; so do the arrows where there is nothing to choose.",
    "Site isolation procedure, local codes and licensed practice go first.",
];

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Back,
    Words,
    Theme,
}

const KEYS: &[Bound<Act>] = &[
    acts(&[KeyCode::Char('b'), KeyCode::Esc], "b", "back", "back to where you were", Act::Back),
    way(&[KeyCode::Char('g')], "g", "trade words", "trade words in plain words", Act::Words),
    way(
        &[KeyCode::Char('l')],
        "l",
        "next theme",
        "dark, light for the sun, high contrast, without colours",
        Act::Theme,
    ),
];

/// Help for the page below.
#[derive(Debug)]
pub(in crate::screen) struct Help {
    below: Vec<Hint>,
}

impl Help {
    /// For a page with these keys.
    pub(in crate::screen) fn new(below: Vec<Hint>) -> Self {
        Self { below }
    }
}

/// Keys, and what is good to know.
pub(in crate::screen) fn help_lines(below: &[Hint], good_to_know: &[&str], columns: usize, theme: &Theme) -> Lines {
    let widest = below.iter().map(|hint| width(&hint.shown)).max().unwrap_or(0);
    let mut body = vec![line("KEYS OF THE PAGE BELOW", theme.heading)];
    for hint in below {
        let label = pad(&hint.shown, widest + 1);
        body.extend(hanging((&label, theme.key), (&hint.title, theme.text), columns));
    }
    body.push(blank());
    body.push(line("GOOD TO KNOW", theme.heading));
    body.extend(good_to_know.iter().flat_map(|text| para(text, columns, theme.text)));
    body
}

impl Page for Help {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        hints(KEYS)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let body = help_lines(&self.below, GOOD_TO_KNOW, columns, theme);
        Sheet { place: "HELP", title: "what can be done there".to_owned(), body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        match find(KEYS, key.code) {
            Some(Act::Back) => vec![Effect::Close],
            Some(Act::Words) => vec![Effect::Open(boxed(words::Words::new(world)))],
            Some(Act::Theme) => vec![Effect::NextTheme],
            None => Vec::new(),
        }
    }
}
