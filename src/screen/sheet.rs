//! Turns what a page wants to show into rows of the screen: what must always be seen is placed first.
//!
//! A page yields a [`Sheet`] and knows no coordinates.

use super::ascii;
use super::lines::{Lines, line, span};
use super::place::{Placed, place};
use super::theme::Theme;
use crate::text::{cut_with, width};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::text::Line;

/// Columns from which two stand side by side.
const TWO_COLUMNS: usize = 72;

/// What a page shows.
#[derive(Debug, Default)]
pub(super) struct Sheet {
    /// Where one is, in capitals.
    pub place: &'static str,
    /// What it is about.
    pub title: String,
    /// Cautions, gravest first. They find their rows before all else; where not all do, it is said how many follow.
    pub cautions: Vec<Lines>,
    /// Always seen, below the cautions: what is typed into, or a note.
    pub pinned: Lines,
    /// The rest, scrolled if need be.
    pub body: Lines,
    /// Rows of the body that stay above cautions without room: the question.
    pub lead: usize,
    /// Beside the body, or behind it where there is no room; a group is shown whole or not at all.
    pub side: Vec<Lines>,
    /// Below, as far as there is room.
    pub foot: Lines,
    /// Always seen, below: what is being typed.
    pub entry: Lines,
    /// Rows of the body that must be seen: the first, and the one behind the last.
    pub focus: Option<(usize, usize)>,
}

impl Sheet {
    /// Cautions as they are said.
    pub(super) fn said_cautions(&self) -> Vec<String> {
        let said = |lines: &Lines| lines.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
        self.cautions.iter().map(said).collect()
    }
}

/// Columns of the body and of what stands beside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Columns {
    /// All columns between the margins.
    pub full: usize,
    /// Body, where something stands beside it.
    pub body: usize,
    /// What stands beside it.
    pub side: usize,
}

impl Columns {
    /// For a screen of this width.
    pub(super) fn of(width: u16) -> Self {
        let full = usize::from(width).saturating_sub(2).max(1);
        if usize::from(width) < TWO_COLUMNS {
            return Self { full, body: full, side: full };
        }
        let side = (full * 45 / 100).clamp(34, 56);
        Self { full, body: full - side - 2, side }
    }

    /// True where something stands beside the body.
    pub(super) fn are_two(self) -> bool {
        self.body < self.full
    }
}

/// Everything around the sheet.
pub(super) struct Around {
    /// Head of the page.
    pub header: Line<'static>,
    /// What was saved, or what went wrong.
    pub message: Lines,
    /// Keys that answer or decide: always seen.
    pub answers: Lines,
    /// Keys that lead elsewhere.
    pub ways: Lines,
}

/// Draws a page.
pub(super) fn draw(sheet: &Sheet, around: &Around, scroll: usize, theme: &Theme, (area, buf): (Rect, &mut Buffer)) {
    buf.set_style(area, theme.text);
    let placed = place(sheet, around, area, scroll);
    let rows = placed.rows;
    let columns = Columns::of(area.width);
    let mut pen = Pen { area, row: 0, buf };
    if 0 < rows.header {
        pen.buf.set_style(Rect { height: 1.min(area.height), ..area }, theme.header);
    }
    pen.lines(std::slice::from_ref(&around.header), rows.header);
    pen.lines(&[place_line(sheet, columns.full, theme)], rows.place);
    pen.lines(&placed.above, rows.above);
    let first = pen.row;
    pen.lines(&window(&placed, theme), rows.body);
    if columns.are_two() {
        let (left, right) = (columns.body + 3, columns.side);
        pen.beside(&side_of(sheet, rows.body), first, (left, right));
    }
    pen.lines(&sheet.foot, rows.foot);
    pen.lines(&sheet.entry, rows.entry);
    pen.lines(&around.message, rows.message);
    pen.lines(&around.answers, rows.answers);
    pen.lines(&around.ways, rows.ways);
    if theme.is_ascii() {
        ascii::only(area, pen.buf);
    }
}

fn place_line(sheet: &Sheet, columns: usize, theme: &Theme) -> Line<'static> {
    let place = cut_with(sheet.place, columns, theme.marks.cut);
    let title = cut_with(&sheet.title, columns.saturating_sub(width(&place) + 2), theme.marks.cut);
    Line::from(vec![span(&place, theme.place), span(&format!("  {title}"), theme.strong)])
}

/// The rows of the body that are seen; the last one says if more follow.
fn window(placed: &Placed, theme: &Theme) -> Lines {
    let rows = placed.rows.body;
    let mut seen: Lines = placed.body.iter().skip(placed.top).take(rows).cloned().collect();
    let more = placed.body.len().saturating_sub(placed.top + rows);
    if 0 < more && 1 < rows {
        seen.pop();
        let text = format!("{} {} more rows{}: Down", theme.marks.cut, more + 1, late_words(placed.late));
        seen.push(line(&text, if placed.late == 0 { theme.dim } else { theme.trouble }));
    }
    seen
}

/// What is said of cautions that stand in the body.
fn late_words(late: usize) -> String {
    match late {
        0 => String::new(),
        1 => ", 1 CAUTION".to_owned(),
        many => format!(", {many} CAUTIONS"),
    }
}

fn side_of(sheet: &Sheet, rows: usize) -> Lines {
    let mut lines = Vec::new();
    for group in &sheet.side {
        if rows < lines.len() + group.len() {
            break;
        }
        lines.extend(group.iter().cloned());
    }
    lines
}

struct Pen<'a> {
    area: Rect,
    row: u16,
    buf: &'a mut Buffer,
}

impl Pen<'_> {
    /// Draws at most so many lines, and goes on below so many rows.
    fn lines(&mut self, lines: &[Line<'static>], rows: usize) {
        let first = usize::from(self.row);
        self.column(lines.get(..rows.min(lines.len())).unwrap_or_default(), first, (1, usize::from(self.area.width)));
        self.row = u16::try_from(first + rows).unwrap_or(u16::MAX);
    }

    fn beside(&mut self, lines: &[Line<'static>], first: u16, (left, width): (usize, usize)) {
        self.column(lines, usize::from(first), (left, width));
    }

    fn column(&mut self, lines: &[Line<'static>], first: usize, (left, width): (usize, usize)) {
        for (at, line) in lines.iter().enumerate() {
            let (Ok(row), Ok(left), Ok(width)) = (u16::try_from(first + at), u16::try_from(left), u16::try_from(width))
            else {
                return;
            };
            if self.area.height <= row || self.area.width <= left {
                return;
            }
            let room = width.min(self.area.width - left);
            self.buf.set_line(self.area.x + left, self.area.y + row, line, room);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Columns;

    #[test]
    fn columns_fill_the_width() {
        let wide = Columns::of(80);
        assert_eq!(wide.body + 2 + wide.side, wide.full);
        assert!(!Columns::of(40).are_two());
        assert_eq!(Columns::of(0).full, 1);
    }
}
