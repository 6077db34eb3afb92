//! Turns a sheet, the size of the screen and a scroll into rows: cautions and answer keys find theirs first.
//!
//! A pure function, so that the same rows are found when a key scrolls and when the page is drawn.

use super::lines::{Lines, blank};
use super::sheet::{Around, Columns, Sheet};
use ratatui::layout::Rect;

/// Rows below which a screen is small.
const SMALL: usize = 16;
/// Rows the body keeps beside cautions.
const LEAST_BODY: usize = 3;

/// Rows by part, from above.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Rows {
    pub header: usize,
    pub place: usize,
    pub pinned: usize,
    pub body: usize,
    pub foot: usize,
    pub entry: usize,
    pub message: usize,
    pub bar: usize,
}

/// The sheet with its body as it is scrolled, and how many rows it has.
pub(super) struct Placed {
    /// Rows by part.
    pub rows: Rows,
    /// All lines of the body.
    pub body: Lines,
    /// The first of them that is seen.
    pub top: usize,
}

/// Finds rows for every part.
pub(super) fn place(sheet: &Sheet, around: &Around, area: Rect, scroll: usize) -> Placed {
    let (columns, height) = (Columns::of(area.width), usize::from(area.height));
    let bar = around.bar.len().min(height.div_ceil(2));
    let header = usize::from(8 <= height);
    // On a small screen what was just saved, or was not, stands where the place stood.
    let is_small = height < SMALL;
    let place = usize::from(5 <= height && (!is_small || around.message.is_empty()));
    let mut left = height - bar - header.min(height - bar);
    left = left.saturating_sub(place);
    let mut take = |wanted: usize| {
        let taken = wanted.min(left);
        left -= taken;
        taken
    };
    let entry = take(sheet.entry.len());
    let message = take(around.message.len().min(if is_small { 2 } else { 4 }));
    let most = left.saturating_sub(LEAST_BODY.min(left / 2));
    let pinned = sheet.pinned.len().min(most);
    left -= pinned;
    let hollow = if is_small { leading_blanks(sheet) } else { 0 };
    let body = body_of(sheet, columns, pinned, hollow);
    let least_foot = if 9 <= left { 3 } else { 0 };
    let foot = left.saturating_sub(body.len().max(side_rows(sheet, columns))).max(least_foot).min(sheet.foot.len());
    let rows = Rows { header, place, pinned, body: left - foot, foot, entry, message, bar };
    let shifted = |row: usize| (row + sheet.pinned.len() - pinned).saturating_sub(hollow);
    let focus = sheet.focus.map(|(first, end)| (shifted(first), shifted(end)));
    Placed { top: top(body.len(), rows.body, scroll, focus), rows, body }
}

/// Blank rows at the head of the body, for which a small screen has no room.
fn leading_blanks(sheet: &Sheet) -> usize {
    sheet.body.iter().take_while(|line| line.width() == 0).count()
}

/// Rows the side would like.
fn side_rows(sheet: &Sheet, columns: Columns) -> usize {
    if columns.are_two() { sheet.side.iter().map(Vec::len).sum() } else { 0 }
}

/// The body, with what found no room above it, and, on a narrow screen, the side behind it.
fn body_of(sheet: &Sheet, columns: Columns, pinned: usize, hollow: usize) -> Lines {
    let mut body: Lines = sheet.pinned.iter().skip(pinned).cloned().collect();
    body.extend(sheet.body.iter().skip(hollow).cloned());
    if !columns.are_two() && !sheet.side.is_empty() {
        body.push(blank());
        body.extend(sheet.side.iter().flatten().cloned());
    }
    body
}

/// First row shown: as scrolled, but never past the end, and so that the focus is seen, its first row before all.
fn top(length: usize, rows: usize, scroll: usize, focus: Option<(usize, usize)>) -> usize {
    let last = length.saturating_sub(rows);
    let top = scroll.min(last);
    let Some((first, end)) = focus else { return top };
    // One row may be taken by the mark that says that more follows.
    let seen = rows.saturating_sub(usize::from(end < length && 1 < rows));
    let lowest = end.saturating_sub(seen).min(first).min(last);
    if first < top { first } else { top.max(lowest) }
}

/// Where scrolling by so many rows ends up; a whole page is nearly all rows of the body.
pub(super) fn scrolled(sheet: &Sheet, around: &Around, area: Rect, scroll: usize, by: Scroll) -> usize {
    let placed = place(sheet, around, area, scroll);
    let page = placed.rows.body.saturating_sub(2).max(1);
    let last = placed.body.len().saturating_sub(placed.rows.body);
    match by {
        Scroll::Up => placed.top.saturating_sub(1),
        Scroll::Down => (placed.top + 1).min(last),
        Scroll::PageUp => placed.top.saturating_sub(page),
        Scroll::PageDown => (placed.top + page).min(last),
    }
}

/// Ways to scroll.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Scroll {
    /// One row up.
    Up,
    /// One row down.
    Down,
    /// A page up.
    PageUp,
    /// A page down.
    PageDown,
}

#[cfg(test)]
mod tests {
    use super::{Around, Rect, Scroll, Sheet, place, scrolled, top};
    use crate::screen::lines::{Lines, line};
    use ratatui::style::Style;
    use ratatui::text::Line;

    fn lines(many: usize) -> Lines {
        (0..many).map(|at| line(&at.to_string(), Style::new())).collect()
    }

    fn around() -> Around {
        Around { header: Line::default(), message: Vec::new(), bar: lines(3) }
    }

    #[test]
    fn no_size_loses_a_row_or_has_one_too_many() {
        let sheet = Sheet { pinned: lines(4), body: lines(30), foot: lines(5), entry: lines(2), ..Sheet::default() };
        for height in 0..60 {
            let rows = place(&sheet, &around(), Rect::new(0, 0, 40, height), 0).rows;
            let sum =
                rows.header + rows.place + rows.pinned + rows.body + rows.foot + rows.entry + rows.message + rows.bar;
            assert_eq!(sum, usize::from(height), "{rows:?}");
        }
    }

    #[test]
    fn cautions_and_answers_are_seen_on_a_small_screen() {
        let sheet = Sheet { pinned: lines(2), body: lines(30), ..Sheet::default() };
        let rows = place(&sheet, &around(), Rect::new(0, 0, 40, 12), 0).rows;
        assert_eq!((rows.pinned, rows.bar), (2, 3));
        assert!(LEAST <= rows.body);
    }

    const LEAST: usize = super::LEAST_BODY;

    #[test]
    fn scrolling_ends_at_both_ends() {
        let sheet = Sheet { body: lines(30), ..Sheet::default() };
        let area = Rect::new(0, 0, 80, 15);
        let rows = place(&sheet, &around(), area, 0).rows.body;
        assert_eq!(scrolled(&sheet, &around(), area, 0, Scroll::Up), 0);
        assert_eq!(scrolled(&sheet, &around(), area, 999, Scroll::PageDown), 30 - rows);
    }

    #[test]
    fn the_focus_is_always_seen() {
        for focus in 0..28 {
            let first = top(30, 8, 0, Some((focus, focus + 2)));
            assert!(first <= focus && focus + 2 <= first + 8, "{focus}");
        }
        assert_eq!(top(30, 1, 0, Some((4, 7))), 4);
        assert_eq!(top(5, 8, 3, None), 0);
    }
}
