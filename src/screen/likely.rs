//! Turns the list of likely causes into rows with bars, words and numbers.

use super::lines::{Lines, cell, flow, line, span};
use super::theme::Theme;
use crate::job::{LikelyRow, Sitting, Status};
use crate::text::{cut_with, width};
use ratatui::style::Style;
use ratatui::text::Line;

/// Causes beside a question.
pub(super) const BESIDE: usize = 10;
/// Cells of the bar beside a question: one per job of 20 where there is room for that.
const CELLS: usize = 10;
/// Columns of the longest word for how often.
const WORD: usize = 13;
/// Columns of the longest status.
const STATUS: usize = 9;

/// The causes in groups of two rows each, under a heading.
pub(super) fn beside(sitting: &Sitting, columns: usize, theme: &Theme) -> Vec<Lines> {
    let mut groups = vec![vec![line("OF 20 JOBS LIKE THIS", theme.heading)]];
    if let Some(trouble) = trouble(sitting, columns, theme) {
        groups.push(trouble);
    }
    groups.extend(sitting.likely(BESIDE).iter().map(|row| group(row, columns, theme)));
    groups
}

fn group(row: &LikelyRow, columns: usize, theme: &Theme) -> Lines {
    let name = cut_with(&row.name, columns, theme.marks.cut);
    let mut spans = bar(row.of_20, CELLS, theme);
    spans.push(span(&format!(" {:>2} ", row.of_20), theme.text));
    spans.push(span(&in_words(row, columns), style_of(row.status, theme)));
    vec![line(&name, style_of(row.status, theme)), Line::from(spans)]
}

/// How often, and the status where it says more; the status alone where there is no room for both.
fn in_words(row: &LikelyRow, columns: usize) -> String {
    let both = format!("{}, {}", row.word, row.status.word());
    match row.status {
        Status::Possible => row.word.to_owned(),
        status if columns < CELLS + 4 + width(&both) => status.word().to_owned(),
        _ => both,
    }
}

/// The causes in one row each, over the full width; in two where that is too narrow.
pub(super) fn rows(sitting: &Sitting, most: usize, columns: usize, theme: &Theme) -> Lines {
    let narrow = columns < 2 * CELLS + WORD + STATUS + 26;
    let mut lines = vec![line("LIKELY CAUSES, OF 20 JOBS LIKE THIS", theme.heading)];
    lines.extend(trouble(sitting, columns, theme).unwrap_or_default());
    for row in sitting.likely(most) {
        if narrow {
            lines.extend(group(&row, columns, theme));
        } else {
            lines.push(wide(&row, columns, theme));
        }
    }
    lines
}

fn wide(row: &LikelyRow, columns: usize, theme: &Theme) -> Line<'static> {
    let name = columns.saturating_sub(CELLS + WORD + STATUS + 7);
    let style = style_of(row.status, theme);
    let mut spans = vec![span(&cell(&row.name, name, theme.marks.cut), style), span(" ", theme.text)];
    spans.extend(bar(row.of_20, CELLS, theme));
    spans.push(span(&format!(" {:>2} {:WORD$} ", row.of_20, row.word), theme.text));
    spans.push(span(row.status.word(), style));
    Line::from(spans)
}

fn bar(of_20: u32, cells: usize, theme: &Theme) -> Vec<ratatui::text::Span<'static>> {
    let halves = (usize::try_from(of_20).unwrap_or_default() * cells * 2).div_ceil(20).min(cells * 2);
    let half = if halves % 2 == 1 { theme.marks.half } else { "" };
    let empty = cells - halves.div_ceil(2);
    vec![
        span(&format!("{}{half}", theme.marks.full.repeat(halves / 2)), theme.bar),
        span(&theme.marks.empty.repeat(empty), theme.dim),
    ]
}

/// Style of a status; its word stands beside it.
pub(super) fn style_of(status: Status, theme: &Theme) -> Style {
    match status {
        Status::Confirmed | Status::Probable => theme.strong,
        Status::Possible => theme.text,
        Status::RuledOut => theme.dim,
    }
}

/// Says so when the answers cannot be weighed together.
fn trouble(sitting: &Sitting, columns: usize, theme: &Theme) -> Option<Lines> {
    let trouble = sitting.trouble()?;
    let text = format!("{trouble} Mend it in the trail: t.");
    Some(flow(&[(&text, theme.trouble)], columns))
}
