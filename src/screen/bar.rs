//! Turns the keys that work just now into the key bar: answers in columns, ways elsewhere flowing behind.

use super::keys::{Hint, Role};
use super::lines::Lines;
use super::theme::Theme;
use crate::text::{cut_with, width};
use crossterm::event::KeyCode;
use ratatui::text::{Line, Span};

/// Blanks between two keys.
const GAP: usize = 2;

/// The bar, answers and ways elsewhere; the ways take at most so many rows, the way back and help are the last to go.
pub(super) fn bar(hints: &[Hint], columns: usize, way_rows: usize, theme: &Theme) -> (Lines, Lines) {
    let of = |role: Role| hints.iter().filter(move |hint| hint.role == role).collect::<Vec<_>>();
    let drawn = |rows: Vec<Row<'_>>| rows.into_iter().map(|row| draw(&row, columns, theme)).collect();
    (drawn(answers(&of(Role::Answer), columns)), drawn(ways(of(Role::Way), columns, way_rows)))
}

/// A row: keys, and the columns each takes.
type Row<'a> = Vec<(&'a Hint, usize)>;

fn answers<'a>(hints: &[&'a Hint], columns: usize) -> Vec<Row<'a>> {
    let widest = hints.iter().map(|hint| wide(hint)).max().unwrap_or(0) + GAP;
    let most = ((columns + GAP) / widest.max(1)).clamp(1, hints.len().max(1));
    let rows = hints.len().div_ceil(most);
    let flowing = flowing(hints, columns);
    if flowing.len() < rows || flowing.len() == 1 {
        return flowing;
    }
    let across = hints.len().div_ceil(rows.max(1)).max(1);
    hints.chunks(across).map(|row| row.iter().map(|hint| (*hint, widest)).collect()).collect()
}

fn ways(mut hints: Vec<&Hint>, columns: usize, most: usize) -> Vec<Row<'_>> {
    let is_help = |hint: &&Hint| hint.key == KeyCode::Char('h');
    let is_back = |hint: &&Hint| hint.key == KeyCode::Char('b');
    loop {
        let rows = flowing(&hints, columns);
        if rows.len() <= most {
            return rows;
        }
        let others = hints.iter().rposition(|hint| !is_help(hint) && !is_back(hint));
        let last = others.or_else(|| hints.iter().rposition(|hint| !is_help(hint)));
        match last {
            Some(at) => hints.remove(at),
            None => return rows.into_iter().take(most).collect(),
        };
    }
}

fn flowing<'a>(hints: &[&'a Hint], columns: usize) -> Vec<Row<'a>> {
    let mut rows: Vec<Row<'a>> = Vec::new();
    let mut used = 0;
    for hint in hints {
        let wide = wide(hint);
        if used == 0 || columns < used + wide {
            rows.push(Vec::new());
            used = 0;
        }
        used += wide + GAP;
        if let Some(row) = rows.last_mut() {
            row.push((hint, wide + GAP));
        }
    }
    rows
}

fn wide(hint: &Hint) -> usize {
    width(&hint.shown) + 1 + width(&hint.short)
}

fn draw(row: &Row<'_>, columns: usize, theme: &Theme) -> Line<'static> {
    let mut spans = Vec::new();
    for (hint, cell) in row {
        let room = columns.saturating_sub(width(&hint.shown) + 1);
        let short = cut_with(&hint.short, room, theme.marks.cut);
        let rest = cell.saturating_sub(width(&hint.shown) + 1 + width(&short));
        spans.push(Span::styled(hint.shown.clone(), theme.key));
        spans.push(Span::styled(format!(" {short}{:rest$}", ""), theme.text));
    }
    Line::from(spans)
}

#[cfg(test)]
mod tests {
    use super::{Hint, bar};
    use crate::screen::keys::{ANSWERS, COMMON, hints};
    use crate::screen::theme::Theme;

    fn texts(hints: &[Hint], columns: usize, rows: usize) -> Vec<String> {
        let (mut lines, ways) = bar(hints, columns, rows, &Theme::plain());
        lines.extend(ways);
        lines.iter().map(|line| line.to_string().trim_end().to_owned()).collect()
    }

    #[test]
    fn answers_stand_in_columns_where_there_is_room() {
        assert_eq!(
            texts(&hints(ANSWERS), 78, 1),
            [
                "y yes              p probably         ? can't tell       . can't check now",
                "n no               u probably not     x does not apply"
            ]
        );
        assert_eq!(texts(&hints(ANSWERS), 40, 1).len(), 3);
    }

    #[test]
    fn help_is_the_last_way_to_go() {
        assert_eq!(texts(&hints(COMMON), 20, 1), ["c cause  h help"]);
        assert_eq!(texts(&hints(COMMON), 7, 1), ["h help"]);
        assert!(texts(&hints(COMMON), 80, 0).is_empty());
    }
}
