//! Turns text into pieces that fit a number of terminal columns.
//!
//! The unit is the grapheme, what a reader takes for one character: a cut never parts a letter from its accent, and
//! a piece is as wide as the sum of its graphemes, just as the screen draws them.

use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// Says that something was cut off.
pub const ELLIPSIS: &str = "…";
/// The same on a terminal that shows ASCII only.
pub const ASCII_ELLIPSIS: &str = "..";

/// Columns this text takes.
pub fn width(text: &str) -> usize {
    text.graphemes(true).map(UnicodeWidthStr::width).sum()
}

/// The text, shortened to at most `columns` with a final `…` when it is too long.
pub fn cut(text: &str, columns: usize) -> String {
    cut_with(text, columns, ELLIPSIS)
}

/// As [`cut`], with another mark for what is missing ([`ASCII_ELLIPSIS`]).
pub fn cut_with(text: &str, columns: usize, mark: &str) -> String {
    if width(text) <= columns {
        return text.to_owned();
    }
    let mark = start(mark, columns);
    let kept = start(text, columns - width(mark));
    format!("{}{mark}", kept.trim_end())
}

/// The text in exactly `columns`: shortened with `mark`, or filled with blanks on the right.
pub fn fit(text: &str, columns: usize, mark: &str) -> String {
    pad(&cut_with(text, columns, mark), columns)
}

/// The text with blanks on its right up to `columns`; longer text stays as it is.
pub fn pad(text: &str, columns: usize) -> String {
    let blanks = columns.saturating_sub(width(text));
    format!("{text}{:blanks$}", "")
}

/// The text with blanks on its left up to `columns`, for numbers; longer text stays as it is.
pub fn pad_left(text: &str, columns: usize) -> String {
    let blanks = columns.saturating_sub(width(text));
    format!("{:blanks$}{text}", "")
}

/// Lines of at most `columns`, broken at blanks, or inside a word that is longer than a line.
///
/// Line breaks in the text stay, runs of blanks become one, and a no-break space holds its words together.
/// There is at least one line. Only a grapheme wider than `columns` itself still sticks out.
pub fn wrap(text: &str, columns: usize) -> Vec<String> {
    let mut lines: Vec<_> = text.lines().flat_map(|line| wrap_line(line, columns.max(1))).collect();
    if lines.is_empty() {
        lines.push(String::new());
    }
    lines
}

fn wrap_line(text: &str, columns: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split_ascii_whitespace() {
        let fits = width(&line) + 1 + width(word) <= columns;
        if !line.is_empty() && fits {
            line.push(' ');
        } else if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        let mut pieces = break_word(word, columns);
        line.push_str(pieces.pop().unwrap_or_default());
        lines.extend(pieces.into_iter().map(str::to_owned));
    }
    lines.push(line);
    lines
}

/// Pieces of a word that each fit a line; one piece for most words.
fn break_word(word: &str, columns: usize) -> Vec<&str> {
    let mut pieces = Vec::new();
    let mut rest = word;
    while columns < width(rest) {
        let first = rest.graphemes(true).next().map_or(0, str::len);
        let (piece, after) = rest.split_at(start(rest, columns).len().max(first));
        pieces.push(piece);
        rest = after;
    }
    if !rest.is_empty() {
        pieces.push(rest);
    }
    pieces
}

/// The longest beginning that fits.
fn start(text: &str, columns: usize) -> &str {
    let mut used = 0;
    let mut end = 0;
    for grapheme in text.graphemes(true) {
        used += grapheme.width();
        if columns < used {
            break;
        }
        end += grapheme.len();
    }
    text.get(..end).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::{any, proptest};

    use super::{ASCII_ELLIPSIS, cut, cut_with, fit, pad, pad_left, width, wrap};

    #[test]
    fn width_counts_columns_not_characters() {
        assert_eq!(width("pump"), 4);
        assert_eq!(width("e\u{301}"), 1);
        assert_eq!(width("压力"), 4);
    }

    #[test]
    fn text_that_fits_is_not_cut() {
        assert_eq!(cut("pump", 4), "pump");
        assert_eq!(cut("", 0), "");
    }

    #[test]
    fn a_cut_is_marked_and_parts_no_grapheme() {
        assert_eq!(cut("pressure", 5), "pres…");
        assert_eq!(cut("ve\u{301}lo rouge", 3), "ve\u{301}…");
        assert_eq!(cut("压力低", 4), "压…");
        assert_eq!(cut("low flow", 5), "low…");
        assert_eq!(cut_with("pressure", 5, ASCII_ELLIPSIS), "pre..");
    }

    #[test]
    fn no_room_is_no_trouble() {
        assert_eq!(cut("pump", 0), "");
        assert_eq!(cut("pump", 1), "…");
        assert_eq!(cut_with("pump", 1, ASCII_ELLIPSIS), ".");
        assert_eq!(cut("压力", 1), "…");
    }

    #[test]
    fn padding_fills_columns() {
        assert_eq!(pad("压", 4), "压  ");
        assert_eq!(pad_left("9.5", 5), "  9.5");
        assert_eq!(pad("pressure", 3), "pressure");
        assert_eq!(fit("压力低", 4, "…"), "压… ");
    }

    #[test]
    fn words_are_wrapped_and_blank_lines_kept() {
        let text = "Listen at  the refill valve.\n\nIt ticks.";
        assert_eq!(wrap(text, 12), ["Listen at", "the refill", "valve.", "", "It ticks."]);
        assert_eq!(wrap("", 10), [""]);
    }

    #[test]
    fn numbers_stay_with_their_unit() {
        assert_eq!(wrap("set 120\u{a0}psi", 8), ["set", "120\u{a0}psi"]);
    }

    #[test]
    fn long_words_are_broken_by_grapheme() {
        assert_eq!(wrap("a diaphragm b", 4), ["a", "diap", "hrag", "m b"]);
        assert_eq!(wrap("压力低", 5), ["压力", "低"]);
        assert_eq!(wrap("压力", 1), ["压", "力"]);
        assert_eq!(wrap("ab", 0), ["a", "b"]);
    }

    proptest! {
        #[test]
        fn pieces_fit_and_no_letter_is_lost(text in any::<String>(), words in "[a-z 压é]{0,40}", columns in 2_usize..20) {
            for text in [text, words] {
                assert!(width(&cut(&text, columns)) <= columns);
                assert_eq!(width(&fit(&text, columns, "..")), columns);
                let lines = wrap(&text, columns);
                let letters = |text: &str| text.replace(|c: char| c.is_ascii_whitespace(), "");
                assert_eq!(letters(&lines.concat()), letters(&text));
            }
        }

        #[test]
        fn wrapped_lines_fit(text in "[a-z 压é\u{1f468}\u{200d}]{0,40}", columns in 2_usize..20) {
            assert!(wrap(&text, columns).iter().all(|line| width(line) <= columns));
        }
    }
}
