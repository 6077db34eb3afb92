//! Turns the state of a job into pages, one file each.

pub(super) mod asked;
pub(super) mod checks;
pub(super) mod close;
pub(super) mod complaint;
pub(super) mod doubts;
mod find;
pub(super) mod first_minute;
pub(super) mod fix;
pub(super) mod gate;
pub(super) mod help;
pub(super) mod idea;
pub(super) mod idea_view;
pub(super) mod pump_sheet;
pub(super) mod rebuild;
pub(super) mod recap;
mod result_lines;
pub(super) mod results;
pub(super) mod service;
pub(super) mod skip;
pub(super) mod start;
pub(super) mod step;
pub(super) mod stop;
pub(super) mod tell;
pub(super) mod thinking;
pub(super) mod trail;
pub(super) mod try_out;
pub(super) mod usual;
pub(super) mod walk;
pub(super) mod why_ask;
pub(super) mod why_cause;
pub(super) mod words;

use super::keys::{Bound, COMMON, Common, Hint, find, hints, way};
use super::lines::{Lines, cell, span};
use super::page::{Effect, Page, World};
use super::theme::Theme;
use crate::text::{clean, width, wrap};
use crossterm::event::{KeyCode, KeyEvent};
use ratatui::text::Line;

/// What a key of the table for most pages of a job does.
fn common(key: KeyEvent, page: &dyn Page, world: &World) -> Vec<Effect> {
    let Some(action) = find(COMMON, key.code) else { return Vec::new() };
    let page: Option<Box<dyn Page>> = match action {
        Common::WhyCause => why_cause::WhyCausePage::new(world).map(boxed),
        Common::Trail => Some(boxed(trail::TrailPage::new())),
        Common::Tell => Some(boxed(tell::Tell::new(world))),
        Common::Idea => Some(boxed(idea::Idea::default())),
        Common::Doubts => Some(boxed(doubts::DoubtsPage::new(world))),
        Common::Checks => Some(boxed(checks::ChecksPage::new(world))),
        Common::Results => results::ResultsPage::so_far(world).map(boxed),
        Common::Help => Some(boxed(help::Help::new(page.hints(world)))),
        Common::Leave => return vec![Effect::Leave],
    };
    page.map(Effect::Open).into_iter().collect()
}

fn boxed(page: impl Page + 'static) -> Box<dyn Page> {
    Box::new(page)
}

/// Keys of a page that lies above another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Above {
    Back,
    Help,
    Leave,
}

const ABOVE: &[Bound<Above>] = &[
    way(&[KeyCode::Char('b'), KeyCode::Esc], "b", "back", "back to where you were", Above::Back),
    way(&[KeyCode::Char('h')], "h", "help", "this help", Above::Help),
    way(&[KeyCode::Char('q')], "q", "leave", "leave; the job is saved", Above::Leave),
];

/// What a key of a page that lies above another does.
fn above(key: KeyEvent, page: &dyn Page, world: &World) -> Vec<Effect> {
    match find(ABOVE, key.code) {
        Some(Above::Back) => vec![Effect::Close],
        Some(Above::Help) => vec![Effect::Open(boxed(help::Help::new(page.hints(world))))],
        Some(Above::Leave) => vec![Effect::Leave],
        None => Vec::new(),
    }
}

/// The page's own keys, then others.
fn with<A, B>(own: &[Bound<A>], others: &[Bound<B>]) -> Vec<Hint> {
    let mut all = hints(own);
    all.extend(hints(others));
    all
}

/// The digits that choose one of so many rows.
pub(in crate::screen) fn digits(many: usize) -> String {
    if many < 2 { "1".to_owned() } else { format!("1-{}", many.min(9)) }
}

/// One row down, if there is one.
pub(in crate::screen) fn next(at: usize, many: usize) -> usize {
    (at + 1).min(many.saturating_sub(1))
}

/// A row of a list, over as many lines as it needs; a short text may stand at its right end.
pub(in crate::screen) fn list_row(text: &str, end: &str, chosen: bool, (columns, theme): (usize, &Theme)) -> Lines {
    let style = if chosen { theme.chosen } else { theme.text };
    let mark = if chosen { theme.marks.chosen } else { " " };
    let ending = if end.is_empty() { 0 } else { width(end) + 2 };
    let room = columns.saturating_sub(2 + ending).max(1);
    let text = clean(text);
    // Wrapping makes one blank of many, so a row of columns that fits is left alone.
    let pieces = if width(&text) <= room { vec![text] } else { wrap(&text, room) };
    pieces
        .into_iter()
        .enumerate()
        .map(|(at, piece)| {
            let lead = if at == 0 { mark } else { " " };
            let tail = if at == 0 && !end.is_empty() { format!("  {end}") } else { " ".repeat(ending) };
            Line::from(vec![
                span(&format!("{lead} "), style),
                span(&cell(&piece, room, theme.marks.cut), style),
                span(&tail, style),
            ])
        })
        .collect()
}
