//! Turns byte offsets into lines and columns.

use std::fmt;

/// Characters are counted once per block of this many bytes, so that a column in a very long
/// line costs no more than one in a short line.
const BLOCK: usize = 1024;

/// A place in a text, both numbers from 1; columns count characters, as `ron` counts them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Position {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

impl fmt::Display for Position {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}", self.line, self.column)
    }
}

/// Where the lines of one text begin, without the text: counted once, asked often.
#[derive(Debug, Clone)]
pub struct LineIndex {
    starts: Vec<usize>,
    chars_before_block: Vec<usize>,
}

impl LineIndex {
    /// Counts the lines of `text`.
    pub fn new(text: &str) -> Self {
        let ends = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
        let starts = std::iter::once(0).chain(ends.map(|(at, _)| at + 1)).collect();
        let mut before = 0;
        let mut chars_before_block = vec![0];
        for block in text.as_bytes().chunks(BLOCK) {
            before += count_chars(block);
            chars_before_block.push(before);
        }
        Self { starts, chars_before_block }
    }

    /// Line and column of a byte of that same text; of its end for an offset behind it.
    pub fn position(&self, text: &str, offset: usize) -> Position {
        let offset = text.floor_char_boundary(offset);
        let line = self.starts.partition_point(|start| *start <= offset);
        let start = self.nth_start(line).unwrap_or_default();
        Position { line, column: self.chars_before(text, offset) - self.chars_before(text, start) + 1 }
    }

    fn nth_start(&self, line: usize) -> Option<usize> {
        self.starts.get(line.checked_sub(1)?).copied()
    }

    fn chars_before(&self, text: &str, offset: usize) -> usize {
        let block = offset / BLOCK;
        let before = self.chars_before_block.get(block).copied().unwrap_or_default();
        let rest = text.as_bytes().get(block * BLOCK..offset).unwrap_or_default();
        before + count_chars(rest)
    }
}

/// Where the lines of one text begin.
#[derive(Debug, Clone)]
pub struct LineMap<'t> {
    text: &'t str,
    index: LineIndex,
}

impl<'t> LineMap<'t> {
    /// Counts the lines of `text`.
    pub fn new(text: &'t str) -> Self {
        Self { text, index: LineIndex::new(text) }
    }

    /// Line and column of a byte; of the end of the text for an offset behind it.
    pub fn position(&self, offset: usize) -> Position {
        self.index.position(self.text, offset)
    }

    /// The text of a line, counted from 1, without its line end; empty if there is no such line.
    pub fn line(&self, line: usize) -> &'t str {
        let (Some(start), end) = (self.index.nth_start(line), self.index.nth_start(line + 1)) else {
            return "";
        };
        let end = end.unwrap_or(self.text.len());
        let with_end = self.text.get(start..end).unwrap_or_default();
        let bare = with_end.strip_suffix('\n').unwrap_or(with_end);
        bare.strip_suffix('\r').unwrap_or(bare)
    }

    /// How many lines there are; one behind the last line end counts.
    pub fn line_count(&self) -> usize {
        self.index.starts.len()
    }
}

/// Counts the bytes that begin a character.
fn count_chars(bytes: &[u8]) -> usize {
    bytes.iter().filter(|byte| **byte & 0xC0 != 0x80).count()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn at(text: &str, offset: usize) -> String {
        LineMap::new(text).position(offset).to_string()
    }

    #[test]
    fn counts_lines_and_columns_from_one() {
        let text = "ab\ncd\n\nef";
        let places = [(0, "1:1"), (2, "1:3"), (3, "2:1"), (6, "3:1"), (8, "4:2"), (9, "4:3")];
        for (offset, place) in places {
            assert_eq!(at(text, offset), place);
        }
        assert_eq!(at(text, 1000), "4:3");
        assert_eq!(at("", 0), "1:1");
        assert_eq!(at("\n", 1), "2:1");
    }

    #[test]
    fn columns_are_characters_not_bytes() {
        let text = "é\"Überdruck\": ⚠x\r\n\"🛢\": y";
        for (needle, place) in [("Ü", "1:3"), ("⚠", "1:15"), ("x", "1:16"), ("y", "2:6")] {
            assert_eq!(at(text, text.find(needle).unwrap()), place, "{needle}");
        }
        let inside_the_barrel = text.find('🛢').unwrap() + 2;
        assert_eq!(at(text, inside_the_barrel), "2:2");
    }

    #[test]
    fn lines_come_without_their_ends() {
        let map = LineMap::new("a\r\nb\n\nc");
        let lines: Vec<_> = (0..=5).map(|line| map.line(line)).collect();
        assert_eq!(lines, ["", "a", "b", "", "c", ""]);
        assert_eq!(map.line_count(), 4);
    }

    #[test]
    fn agrees_with_ron_about_the_place_of_an_error() {
        let text = "{\n  \"Öl\": 1,\n  \"ä🛢\": $,\n}";
        let error = ron::from_str::<ron::Value>(text).unwrap_err();
        let place = LineMap::new(text).position(text.find('$').unwrap());
        assert_eq!((place.line, place.column), (error.span.end.line, error.span.end.col));
    }

    proptest! {
        #[test]
        fn agrees_with_counting_by_hand(text in "([aé🛢\n\r]|[a-z]{40}){0,200}", share in 0.0..1.0_f64) {
            let places: Vec<usize> = text.char_indices().map(|(at, _)| at).chain([text.len()]).collect();
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let offset = places[(share * (places.len() as f64 - 1.0)) as usize];
            let before = &text[..offset];
            let place = LineMap::new(&text).position(offset);
            prop_assert_eq!(place.line, before.matches('\n').count() + 1);
            prop_assert_eq!(place.column, before.rsplit('\n').next().unwrap().chars().count() + 1);
        }
    }
}
