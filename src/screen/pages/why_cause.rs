//! Turns the reasons for and against a cause into a page; the arrows lead through the causes.

use super::{ABOVE, above, with};
use crate::job::{AnswerWeight, LikelyRow, WhyCause};
use crate::screen::keys::{Bound, Hint, find, way};
use crate::screen::likely;
use crate::screen::lines::{Lines, blank, flow, hanging, line, para, two_ends};
use crate::screen::page::{Effect, Page, World};
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crossterm::event::{KeyCode, KeyEvent};

/// Causes to choose from.
const CAUSES: usize = 12;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Next,
    Last,
}

const KEYS: &[Bound<Act>] = &[
    way(&[KeyCode::Right, KeyCode::Tab], "Right", "next cause", "the next cause of the list", Act::Next),
    way(&[KeyCode::Left], "Left", "cause before", "the cause before it", Act::Last),
];

/// Why a cause stands where it stands.
#[derive(Debug)]
pub(in crate::screen) struct WhyCausePage {
    rows: Vec<LikelyRow>,
    at: usize,
    why: Option<WhyCause>,
}

impl WhyCausePage {
    /// About the first cause of the list.
    pub(in crate::screen) fn new(world: &World) -> Option<Self> {
        let rows = world.sitting()?.likely(CAUSES);
        let mut page = Self { rows, at: 0, why: None };
        page.look_up(world);
        Some(page)
    }

    /// About this cause.
    pub(in crate::screen) fn about(cause: &str, world: &World) -> Option<Self> {
        let mut page = Self::new(world)?;
        page.at = page.rows.iter().position(|row| row.id == cause).unwrap_or_default();
        page.look_up(world);
        Some(page)
    }

    fn look_up(&mut self, world: &World) {
        let row = self.rows.get(self.at);
        self.why = row.and_then(|row| world.sitting().and_then(|sitting| sitting.why_cause(&row.id)));
    }

    fn body(&self, columns: usize, theme: &Theme) -> Lines {
        let Some(row) = self.rows.get(self.at) else { return Lines::new() };
        let stands = format!("{} of 20 jobs like this, {}, {}", row.of_20, row.word, row.status.word());
        let mut body = para(&stands, columns, likely::style_of(row.status, theme));
        body.push(blank());
        let Some(why) = &self.why else {
            body.extend(para("No reasons can be given while the answers do not fit together.", columns, theme.trouble));
            return body;
        };
        body.extend(for_and_against(why, columns, theme));
        let before = format!("{:.0} of 1,000 jobs", why.per_1000);
        body.extend(hanging(("Before anything is known:", theme.dim), (&before, theme.text), columns));
        body.extend(hanging(("Source:", theme.dim), (&why.source, theme.text), columns));
        if !why.lets_it_happen.is_empty() {
            body.extend(hanging(("What lets it happen:", theme.dim), (&why.lets_it_happen, theme.text), columns));
        }
        body
    }
}

/// Answers for and against the cause.
pub(super) fn for_and_against(why: &WhyCause, columns: usize, theme: &Theme) -> Lines {
    let mut lines = weights("SPEAKS FOR IT", &why.favouring, columns, theme);
    lines.extend(weights("SPEAKS AGAINST IT", &why.opposing, columns, theme));
    if lines.is_empty() {
        lines.extend(para("No answer speaks for or against it yet.", columns, theme.text));
        lines.push(blank());
    }
    lines
}

fn weights(head: &str, weights: &[AnswerWeight], columns: usize, theme: &Theme) -> Lines {
    if weights.is_empty() {
        return Lines::new();
    }
    let mut lines = vec![line(head, theme.heading)];
    for weight in weights {
        let number = format!("{} ({:+.0}; {:+.0} when given)", weight.word, weight.decibans, weight.when_given);
        if columns < 60 {
            lines.extend(flow(&[(&weight.name, theme.text), (&number, theme.strong)], columns));
        } else {
            lines.push(two_ends((&weight.name, theme.text), (&number, theme.strong), columns, theme.marks.cut));
        }
    }
    lines.push(blank());
    lines
}

impl Page for WhyCausePage {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        with(KEYS, ABOVE)
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (theme, columns) = (&world.theme, Columns::of(world.size.0).full);
        let mut body = self.body(columns, theme);
        body.push(blank());
        body.extend(para(
            "Numbers are decibans, with all other answers known and when given: +10 makes the odds ten times as high, -10 ten \
             times as low.",
            columns,
            theme.dim,
        ));
        let title = self.rows.get(self.at).map(|row| format!("{}  ({} of {})", row.name, self.at + 1, self.rows.len()));
        Sheet { place: "WHY THIS CAUSE", title: title.unwrap_or_default(), body, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        let many = self.rows.len();
        match find(KEYS, key.code) {
            Some(Act::Next) => self.at = if self.at + 1 < many { self.at + 1 } else { 0 },
            Some(Act::Last) => self.at = self.at.checked_sub(1).unwrap_or(many.saturating_sub(1)),
            None => return above(key, self, world),
        }
        self.look_up(world);
        Vec::new()
    }

    fn refresh(&mut self, world: &World) {
        self.look_up(world);
    }
}
