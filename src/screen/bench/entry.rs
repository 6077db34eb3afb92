//! Turns one entry into a page: what leads here, what it leads to, what stands beside it, its fields; every row can be
//! followed or changed.

use super::drawn::Drawn;
use super::page::{Effect, Page, World, boxed};
use super::typed::{Typed, Wanted};
use crate::editing::{EntryView, LinkRow};
use crate::knowledge::Kind;
use crate::screen::chart::bar;
use crate::screen::keys::{Bound, Hint, acts, arrows, find, hints, way};
use crate::screen::lines::{Lines, cell, hanging, line, span};
use crate::screen::pages::{list_row, next};
use crate::screen::parts::percent;
use crate::screen::sheet::{Columns, Sheet};
use crate::screen::theme::Theme;
use crate::text::cut_with;
use crossterm::event::{KeyCode, KeyEvent};
use ratatui::text::Line;

/// Cells of a bar of strength.
const BAR: usize = 10;
/// Columns below which a link takes two rows.
const NARROW: usize = 60;
/// Columns of the words of a strength.
const WORDS: usize = 24;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Act {
    Follow,
    Change,
    Set,
    Link,
    Retire,
    Draw,
    Undo,
    Down,
    Up,
    Back,
    Help,
}

const FOLLOW: &[Bound<Act>] =
    &[acts(&[KeyCode::Enter], "Enter", "go there", "go to the entry of the chosen row", Act::Follow)];
const CHANGE: &[Bound<Act>] =
    &[acts(&[KeyCode::Char('e')], "e", "change it", "change the strength or value of the chosen row", Act::Change)];
const SET: &[Bound<Act>] =
    &[acts(&[KeyCode::Char('s')], "s", "set another field", "set a field that is not there yet", Act::Set)];
const LINK: &[Bound<Act>] = &[acts(&[KeyCode::Char('a')], "a", "add a link", "add a link", Act::Link)];
const RETIRE: &[Bound<Act>] =
    &[acts(&[KeyCode::Char('r')], "r", "retire", "take it out; another entry takes its place", Act::Retire)];
const DRAW: &[Bound<Act>] = &[way(&[KeyCode::Char('d')], "d", "drawing", "two links up and down, drawn", Act::Draw)];
const LIST: &[Bound<Act>] = &arrows(Act::Down, Act::Up);
const REST: &[Bound<Act>] = &[
    way(&[KeyCode::Char('u')], "u", "undo", "take the last edit back", Act::Undo),
    way(&[KeyCode::Char('b'), KeyCode::Esc], "b", "back", "back to where you were", Act::Back),
    way(&[KeyCode::Char('h'), KeyCode::Char('?')], "h", "help", "this help", Act::Help),
];

/// One entry.
pub(super) struct EntryPage {
    view: EntryView,
    at: usize,
}

/// What a row is about.
enum Row<'v> {
    Link(&'v LinkRow),
    Beside(&'v (String, String)),
    Field(&'v crate::editing::FieldRow),
}

impl EntryPage {
    /// For an id.
    pub(super) fn new(id: &str, world: &World) -> Option<Self> {
        Some(Self { view: EntryView::of(&world.knowledge, id)?, at: 0 })
    }

    fn rows(&self) -> Vec<Row<'_>> {
        let links = self.view.up.iter().chain(&self.view.down).map(Row::Link);
        let fields = self.view.fields.iter().map(Row::Field);
        links.chain(fields).chain(self.view.beside.iter().map(Row::Beside)).collect()
    }

    fn is_node(&self) -> bool {
        matches!(self.view.kind, Kind::Causes | Kind::Conditions | Kind::Damage | Kind::Findings | Kind::Readings)
    }

    fn tables(&self) -> Vec<&'static [Bound<Act>]> {
        let rows = self.rows();
        let mut tables: Vec<&[Bound<Act>]> = match rows.get(self.at) {
            Some(Row::Link(_)) => vec![FOLLOW, CHANGE],
            Some(Row::Beside(_)) => vec![FOLLOW],
            Some(Row::Field(_)) => vec![CHANGE],
            None => Vec::new(),
        };
        tables.push(SET);
        if self.is_node() {
            tables.push(LINK);
        }
        if self.view.kind != Kind::Retired {
            tables.push(RETIRE);
        }
        tables.push(LIST);
        if self.is_node() {
            tables.push(DRAW);
        }
        tables.push(REST);
        tables
    }

    fn follow(&self) -> Vec<Effect> {
        match self.rows().get(self.at) {
            Some(Row::Link(row)) => vec![Effect::Entry(row.other.clone())],
            Some(Row::Beside((id, _))) => vec![Effect::Entry(id.clone())],
            _ => Vec::new(),
        }
    }

    fn change(&self) -> Vec<Effect> {
        let wanted = match self.rows().get(self.at) {
            Some(Row::Link(row)) => {
                Wanted::Strength { path: row.path.clone(), was: format!("{} ({})", row.words, percent(row.strength)) }
            }
            Some(Row::Field(row)) => Wanted::Value { path: row.path.clone(), was: row.text.clone() },
            _ => return Vec::new(),
        };
        vec![Effect::Open(boxed(Typed::new(wanted)))]
    }

    fn type_in(wanted: Wanted) -> Vec<Effect> {
        vec![Effect::Open(boxed(Typed::new(wanted)))]
    }

    fn body(&self, columns: usize, theme: &Theme) -> (Lines, Option<(usize, usize)>) {
        let (mut body, mut focus, mut number) = (Lines::new(), None, 0);
        let links = [("LEADS HERE", &self.view.up), ("LEADS TO", &self.view.down)];
        let mut take = |body: &mut Lines, lines: Lines, chosen: bool| {
            if chosen {
                focus = Some((body.len(), body.len() + lines.len()));
            }
            body.extend(lines);
        };
        for (head, rows) in links.into_iter().filter(|(_, rows)| !rows.is_empty()) {
            body.push(line(head, theme.heading));
            for row in rows {
                let chosen = number == self.at;
                let mut told = link_lines(row, chosen, (columns, theme));
                if chosen {
                    told.extend(hanging(("   ", theme.text), (&row.rests_on, theme.dim), columns));
                }
                take(&mut body, told, chosen);
                number += 1;
            }
        }
        body.push(line(&format!("FIELDS, as they stand in {}:{}", self.view.file, self.view.line), theme.heading));
        for row in &self.view.fields {
            let chosen = number == self.at;
            take(&mut body, list_row(&format!("{}: {}", row.field, row.text), "", chosen, (columns, theme)), chosen);
            number += 1;
        }
        if !self.view.beside.is_empty() {
            body.push(line("NAMED HERE, OR NAMES THIS", theme.heading));
        }
        for (id, name) in &self.view.beside {
            let chosen = number == self.at;
            take(&mut body, list_row(name, id, chosen, (columns, theme)), chosen);
            number += 1;
        }
        (body, focus)
    }
}

/// Name, words, number and bar of a link, in one line; in two where that is too narrow.
fn link_lines(row: &LinkRow, chosen: bool, (columns, theme): (usize, &Theme)) -> Lines {
    if columns < NARROW {
        let mut lines = list_row(&row.name, "", chosen, (columns, theme));
        let mut spans = vec![
            span("    ", theme.text),
            span(
                &format!("{} ", cut_with(&row.words, columns.saturating_sub(4 + 6 + BAR), theme.marks.cut)),
                theme.text,
            ),
            span(&format!("{:.2} ", row.strength), theme.strong),
        ];
        spans.extend(bar((row.strength, 1.0), BAR, theme));
        lines.push(Line::from(spans));
        return lines;
    }
    let style = if chosen { theme.chosen } else { theme.text };
    let mark = if chosen { theme.marks.chosen } else { " " };
    let words = WORDS.min(columns / 3);
    let room = columns.saturating_sub(2 + 1 + words + 5 + 1 + BAR);
    let mut spans = vec![
        span(&format!("{mark} "), style),
        span(&cell(&row.name, room, theme.marks.cut), style),
        span(&format!(" {}", cell(&row.words, words, theme.marks.cut)), theme.text),
        span(&format!("{:.2} ", row.strength), theme.strong),
    ];
    spans.extend(bar((row.strength, 1.0), BAR, theme));
    vec![Line::from(spans)]
}

impl Page for EntryPage {
    fn hints(&self, _world: &World) -> Vec<Hint> {
        self.tables().into_iter().flat_map(hints).collect()
    }

    fn sheet(&self, world: &World) -> Sheet {
        let (body, focus) = self.body(Columns::of(world.size.0).full, &world.theme);
        let title = format!("{} ({}, {})", self.view.name, self.view.id, self.view.kind.name());
        Sheet { place: "ENTRY", title, body, focus, ..Sheet::default() }
    }

    fn press(&mut self, key: KeyEvent, world: &World) -> Vec<Effect> {
        let (kind, id) = (self.view.kind, self.view.id.clone());
        match self.tables().into_iter().find_map(|table| find(table, key.code)) {
            Some(Act::Follow) => return self.follow(),
            Some(Act::Change) => return self.change(),
            Some(Act::Set) => return Self::type_in(Wanted::Field { kind, id }),
            Some(Act::Link) => return Self::type_in(Wanted::Link { kind, id }),
            Some(Act::Retire) => return Self::type_in(Wanted::Retire { kind, id }),
            Some(Act::Draw) => return vec![Effect::Open(boxed(Drawn::new(&id, world)))],
            Some(Act::Undo) => return vec![Effect::Undo],
            Some(Act::Back) => return vec![Effect::Close],
            Some(Act::Help) => return vec![Effect::Help],
            Some(Act::Down) => self.at = next(self.at, self.rows().len()),
            Some(Act::Up) => self.at = self.at.saturating_sub(1),
            None => {}
        }
        Vec::new()
    }

    fn refresh(&mut self, world: &World) -> bool {
        let Some(view) = EntryView::of(&world.knowledge, &self.view.id) else { return false };
        self.view = view;
        self.at = self.at.min(self.rows().len().saturating_sub(1));
        true
    }
}
