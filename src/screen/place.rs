//! Turns a sheet, the size of the screen and a scroll into rows: cautions and answer keys find theirs first.
//!
//! A pure function, so that the same rows are found when a key scrolls and when the page is drawn. Where rows are few, the
//! head, the place and the ways elsewhere go before a caution does, and the gravest caution goes last of all.

use super::lines::{Lines, blank};
use super::sheet::{Around, Columns, Sheet};
use ratatui::layout::Rect;

/// Rows below which a screen is small.
const SMALL: usize = 16;
/// Rows the body keeps, and keeps beside the gravest caution.
const LEAST_BODY: (usize, usize) = (3, 2);

/// Rows by part, from above.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Rows {
    pub header: usize,
    pub place: usize,
    pub above: usize,
    pub body: usize,
    pub foot: usize,
    pub entry: usize,
    pub message: usize,
    pub answers: usize,
    pub ways: usize,
}

/// The sheet with its body as it is scrolled, and how many rows it has.
pub(super) struct Placed {
    /// Rows by part.
    pub rows: Rows,
    /// Cautions, and what is pinned below them.
    pub above: Lines,
    /// Cautions for which there was no room above; they stand in the body.
    pub late: usize,
    /// All lines of the body.
    pub body: Lines,
    /// The first of them that is seen.
    pub top: usize,
}

/// True for a screen of few rows.
pub(super) fn is_small((_, rows): (u16, u16)) -> bool {
    usize::from(rows) < SMALL
}

/// Rows not yet taken.
struct Left(usize);

impl Left {
    /// Takes so many, as far as there are.
    fn take(&mut self, wanted: usize) -> usize {
        let taken = wanted.min(self.0);
        self.0 -= taken;
        taken
    }

    /// Takes so many, but leaves others; where there are fewer than these, half of what is left.
    fn take_beside(&mut self, wanted: usize, others: usize) -> usize {
        let most = self.0.saturating_sub(others).max(self.0 / 2);
        self.take(wanted.min(most))
    }

    /// Takes so many, or none unless others stay free.
    fn take_whole(&mut self, wanted: usize, others: usize) -> usize {
        if wanted + others <= self.0 { self.take(wanted) } else { 0 }
    }
}

/// Finds rows for every part.
pub(super) fn place(sheet: &Sheet, around: &Around, area: Rect, scroll: usize) -> Placed {
    let (columns, height) = (Columns::of(area.width), usize::from(area.height));
    let is_small = height < SMALL;
    let mut left = Left(height);
    let answers = left.take(around.answers.len().min(height.div_ceil(2)));
    let entry = left.take(sheet.entry.len());
    let gravest = left.take_beside(sheet.cautions.first().map_or(0, Vec::len), LEAST_BODY.1);
    // On a small screen the first row of a message makes room for cautions.
    let told = if !is_small {
        4
    } else if sheet.cautions.is_empty() {
        2
    } else {
        1
    };
    let message = left.take_beside(around.message.len().min(told), LEAST_BODY.1);
    let shown = whole_cautions(sheet, &mut left);
    let pinned = left.take_beside(sheet.pinned.len(), LEAST_BODY.0);
    let least = LEAST_BODY.0;
    let ways = (1..=around.ways.len()).rev().find_map(|rows| Some(left.take_whole(rows, least)).filter(|had| 0 < *had));
    // On a small screen what was just saved, or was not, stands where the place stood.
    let place = left.take_whole(usize::from(!is_small || around.message.is_empty()), least);
    let header = left.take_whole(1, least);
    let split = Split { gravest, shown, pinned, hollow: if is_small { leading_blanks(sheet) } else { 0 } };
    let (above, body) = (split.above(sheet), split.body(sheet, columns));
    let left = left.0;
    let least_foot = if 9 <= left { 3 } else { 0 };
    let foot = left.saturating_sub(body.len().max(side_rows(sheet, columns))).max(least_foot).min(sheet.foot.len());
    let ways = ways.unwrap_or(0);
    let rows = Rows { header, place, above: above.len(), body: left - foot, foot, entry, message, answers, ways };
    let focus = sheet.focus.map(|(first, end)| (split.shifted(first, sheet), split.shifted(end, sheet)));
    let late = sheet.cautions.len().saturating_sub(1 + shown);
    Placed { top: top(body.len(), rows.body, scroll, focus), rows, above, late, body }
}

/// How many cautions behind the gravest find room whole.
fn whole_cautions(sheet: &Sheet, left: &mut Left) -> usize {
    let behind = sheet.cautions.iter().skip(1);
    behind.take_while(|caution| left.take_whole(caution.len(), LEAST_BODY.0) == caution.len()).count()
}

/// What of a sheet stands above its body, and what is left for the body.
struct Split {
    /// Rows of the gravest caution above.
    gravest: usize,
    /// Cautions behind it, whole.
    shown: usize,
    /// Pinned rows.
    pinned: usize,
    /// Blank rows at the head of the body for which there is no room.
    hollow: usize,
}

impl Split {
    fn above(&self, sheet: &Sheet) -> Lines {
        let gravest = sheet.cautions.iter().take(1).flat_map(|lines| lines.iter().take(self.gravest));
        let behind = sheet.cautions.iter().skip(1).take(self.shown).flatten();
        gravest.chain(behind).chain(sheet.pinned.iter().take(self.pinned)).cloned().collect()
    }

    /// The rest of the gravest caution and of what is pinned: on tiny screens only.
    fn rest(&self, sheet: &Sheet) -> Lines {
        let gravest = sheet.cautions.iter().take(1).flat_map(|lines| lines.iter().skip(self.gravest));
        gravest.chain(sheet.pinned.iter().skip(self.pinned)).cloned().collect()
    }

    /// Cautions that found no room above.
    fn late(&self, sheet: &Sheet) -> Lines {
        sheet.cautions.iter().skip(1 + self.shown).flatten().cloned().collect()
    }

    /// The body with what found no room above it, and, on a narrow screen, the side behind it.
    fn body(&self, sheet: &Sheet, columns: Columns) -> Lines {
        let lead = sheet.lead.clamp(self.hollow, sheet.body.len().max(self.hollow));
        let mut body = self.rest(sheet);
        body.extend(sheet.body.iter().take(lead).skip(self.hollow).cloned());
        body.extend(self.late(sheet));
        body.extend(sheet.body.iter().skip(lead).cloned());
        if !columns.are_two() && !sheet.side.is_empty() {
            body.push(blank());
            body.extend(sheet.side.iter().flatten().cloned());
        }
        body
    }

    /// Where a row of the sheet's body stands.
    fn shifted(&self, row: usize, sheet: &Sheet) -> usize {
        let late = if sheet.lead.max(self.hollow) <= row { self.late(sheet).len() } else { 0 };
        (row + self.rest(sheet).len() + late).saturating_sub(self.hollow)
    }
}

/// Blank rows at the head of the body, for which a small screen has no room.
fn leading_blanks(sheet: &Sheet) -> usize {
    sheet.body.iter().take_while(|line| line.width() == 0).count()
}

/// Rows the side would like.
fn side_rows(sheet: &Sheet, columns: Columns) -> usize {
    if columns.are_two() { sheet.side.iter().map(Vec::len).sum() } else { 0 }
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

    fn around(message: usize) -> Around {
        Around { header: Line::default(), message: lines(message), answers: lines(3), ways: lines(1) }
    }

    #[test]
    fn no_size_loses_a_row_or_has_one_too_many() {
        let cautions = vec![lines(4), lines(2), lines(3)];
        let sheet = Sheet { cautions, pinned: lines(2), body: lines(30), lead: 3, foot: lines(5), ..Sheet::default() };
        let sheet = Sheet { entry: lines(2), ..sheet };
        for height in 0..60 {
            let rows = place(&sheet, &around(2), Rect::new(0, 0, 40, height), 0).rows;
            let ends = rows.answers + rows.ways + rows.foot + rows.entry + rows.message;
            assert_eq!(rows.header + rows.place + rows.above + rows.body + ends, usize::from(height), "{rows:?}");
        }
    }

    #[test]
    fn the_gravest_caution_the_question_and_the_answers_are_seen_on_a_small_screen() {
        let cautions = vec![lines(6), lines(4), lines(2)];
        let sheet = Sheet { cautions, body: lines(30), lead: 2, ..Sheet::default() };
        let placed = place(&sheet, &around(0), Rect::new(0, 0, 40, 12), 0);
        assert_eq!((placed.rows.above, placed.rows.body, placed.rows.answers, placed.late), (6, 3, 3, 2));
        assert_eq!(placed.body.len(), 30 + 4 + 2);
        assert_eq!(placed.body[2].to_string(), "0", "what found no room stands behind the question");
        let placed = place(&sheet, &around(1), Rect::new(0, 0, 40, 12), 0);
        assert_eq!((placed.rows.above, placed.rows.body, placed.rows.message), (6, 2, 1));
        let placed = place(&sheet, &around(0), Rect::new(0, 0, 40, 24), 0);
        assert_eq!((placed.rows.above, placed.late), (12, 0));
    }

    #[test]
    fn scrolling_ends_at_both_ends() {
        let sheet = Sheet { body: lines(30), ..Sheet::default() };
        let area = Rect::new(0, 0, 80, 15);
        let rows = place(&sheet, &around(0), area, 0).rows.body;
        assert_eq!(scrolled(&sheet, &around(0), area, 0, Scroll::Up), 0);
        assert_eq!(scrolled(&sheet, &around(0), area, 999, Scroll::PageDown), 30 - rows);
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
