//! Turns text into styled lines of a width. All text on the screen comes through here and is cleaned here.

use crate::text::{capital, clean, cut_with, pad, width, wrap};
use ratatui::style::Style;
use ratatui::text::{Line, Span};

/// Styled lines.
pub(super) type Lines = Vec<Line<'static>>;

/// A clean span.
pub(super) fn span(text: &str, style: Style) -> Span<'static> {
    Span::styled(clean(text), style)
}

/// One line, not cut.
pub(super) fn line(text: &str, style: Style) -> Line<'static> {
    Line::from(span(text, style))
}

/// An empty line.
pub(super) fn blank() -> Line<'static> {
    Line::default()
}

/// A paragraph.
pub(super) fn para(text: &str, columns: usize, style: Style) -> Lines {
    wrap(&clean(text), columns).into_iter().map(|text| line(&text, style)).collect()
}

/// Pieces of different styles, flowing into one paragraph.
pub(super) fn flow(pieces: &[(&str, Style)], columns: usize) -> Lines {
    let mut lines: Lines = Vec::new();
    let (mut spans, mut used) = (Vec::new(), 0);
    for (text, style) in pieces {
        for word in words_of(text, columns) {
            let wide = width(&word);
            if 0 < used && columns < used + 1 + wide {
                lines.push(Line::from(std::mem::take(&mut spans)));
                used = 0;
            }
            if 0 < used {
                spans.push(Span::styled(" ", in_between(&spans, *style)));
                used += 1;
            }
            used += wide;
            spans.push(Span::styled(word, *style));
        }
    }
    lines.push(Line::from(spans));
    lines
}

/// A blank between two words is of their style if both have the same.
fn in_between(spans: &[Span<'static>], next: Style) -> Style {
    match spans.last() {
        Some(last) if last.style == next => next,
        _ => Style::new(),
    }
}

/// Words, each short enough for a line.
fn words_of(text: &str, columns: usize) -> Vec<String> {
    clean(text).split_ascii_whitespace().flat_map(|word| wrap(word, columns.max(1))).collect()
}

/// A label and a text that keeps its left edge behind it; below it where the label leaves no room.
pub(super) fn hanging(label: (&str, Style), text: (&str, Style), columns: usize) -> Lines {
    let indent = width(label.0) + 1;
    if columns < indent + 16 {
        return flow(&[label, text], columns);
    }
    let wrapped = wrap(&clean(text.0), columns - indent);
    let lead = |at: usize| if at == 0 { pad(&clean(label.0), indent) } else { " ".repeat(indent) };
    wrapped
        .into_iter()
        .enumerate()
        .map(|(at, piece)| Line::from(vec![Span::styled(lead(at), label.1), Span::styled(piece, text.1)]))
        .collect()
}

/// Numbered lines.
pub(super) fn numbered(texts: &[String], columns: usize, style: Style) -> Lines {
    let label = |at: usize| format!("{}.", at + 1);
    texts.iter().enumerate().flat_map(|(at, text)| hanging((&label(at), style), (text, style), columns)).collect()
}

/// A text in exactly so many columns, cut with the mark if need be.
pub(super) fn cell(text: &str, columns: usize, mark: &str) -> String {
    pad(&cut_with(&clean(text), columns, mark), columns)
}

/// A left and a right end of one line; the left one is cut first.
pub(super) fn two_ends(left: (&str, Style), right: (&str, Style), columns: usize, mark: &str) -> Line<'static> {
    let ending = cut_with(&clean(right.0), columns, mark);
    let room = columns.saturating_sub(width(&ending) + usize::from(!ending.is_empty()) * 2);
    let gap = columns.saturating_sub(room + width(&ending));
    Line::from(vec![
        Span::styled(cell(left.0, room, mark), left.1),
        Span::styled(" ".repeat(gap), left.1),
        Span::styled(ending, right.1),
    ])
}

/// With a full stop, unless it ends like a sentence.
pub(super) fn sentence(text: &str) -> String {
    let text = capital(text.trim());
    if text.ends_with(['.', '?', '!']) { text } else { format!("{text}.") }
}

/// Minutes as said.
pub(super) fn minutes(minutes: f64) -> String {
    if minutes < 1.0 { "less than a minute".to_owned() } else { format!("{minutes:.0} min") }
}

#[cfg(test)]
mod tests {
    use super::{flow, hanging, sentence, two_ends};
    use ratatui::style::Style;
    use ratatui::text::Line;

    fn texts(lines: &[Line<'static>]) -> Vec<String> {
        lines.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn pieces_flow_on_one_line_and_over_its_end() {
        let style = Style::new();
        assert_eq!(texts(&flow(&[("NOTICE", style), ("Oil is hot.", style)], 12)), ["NOTICE Oil", "is hot."]);
        assert_eq!(texts(&flow(&[], 12)), [""]);
    }

    #[test]
    fn a_label_keeps_its_text_behind_it() {
        let style = Style::new();
        let lines = hanging(("How:", style), ("look along the hose at full speed", style), 24);
        assert_eq!(texts(&lines), ["How: look along the hose", "     at full speed"]);
        let narrow = hanging(("Look at:", style), ("the hose", style), 12);
        assert_eq!(texts(&narrow), ["Look at: the", "hose"]);
    }

    #[test]
    fn the_right_end_is_cut_last() {
        let style = Style::new();
        assert_eq!(two_ends(("pressure low", style), ("yes", style), 12, "…").to_string(), "pressu…  yes");
        assert_eq!(two_ends(("a", style), ("", style), 3, "…").to_string(), "a  ");
    }

    #[test]
    fn sentences_end() {
        assert_eq!(sentence("the unit is missing"), "The unit is missing.");
        assert_eq!(sentence("Did you mean psi?"), "Did you mean psi?");
    }
}
