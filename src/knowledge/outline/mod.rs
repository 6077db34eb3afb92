//! Turns a RON text into a tree of byte spans: values, keys, commas and comments.
//!
//! `ron` gives the values but forgets where they stood and drops the first of two equal keys.
//! The outline is read from the same text afterwards and answers "where": for the line and
//! column of a problem in the meaning, for keys given twice, and for edits that keep comments.
//! It holds no text. It is laxer than `ron` and relies on `ron` having accepted the text, but
//! it ends with an outline or an error on any text at all. One slip of `ron` it does not follow:
//! where `Some` may be left out, `ron` also takes `Some 1` without brackets.

mod keys;
mod lines;
mod path;
mod read;

pub use lines::{LineIndex, LineMap, Position};
pub use path::Duplicate;

use std::borrow::Cow;
use std::fmt;

/// Values inside more brackets than this are refused. `ron` itself stops no later.
pub const MAX_DEPTH: usize = 128;

/// A stretch of the text, in bytes; `end` is the first byte behind it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// First byte.
    pub start: usize,
    /// First byte behind it.
    pub end: usize,
}

impl Span {
    /// The span from `start` up to, not including, `end`.
    pub const fn new(start: usize, end: usize) -> Self {
        Self { start, end }
    }

    /// The part of `text` it covers; empty if `text` is another text and the span does not fit.
    pub fn of(self, text: &str) -> &str {
        text.get(self.start..self.end).unwrap_or_default()
    }

    /// The same stretch as a range, as `String::replace_range` wants it.
    pub const fn range(self) -> std::ops::Range<usize> {
        self.start..self.end
    }

    /// Whether the byte at `offset` lies inside.
    pub const fn contains(self, offset: usize) -> bool {
        self.start <= offset && offset < self.end
    }
}

/// What a value is, as far as its spelling tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// `{ key: value }`
    Map,
    /// `[ value ]`
    List,
    /// `( field: value )`, with or without a name before it
    Fields,
    /// `( value )` or `()`, with or without a name before it; `Some(value)` too
    Tuple,
    /// A bare word: a unit variant, `true`, `None`
    Word,
    /// `3`, `0x1F`, `-1.5e3`, `3u8`, `b'a'`, `inf`, `NaN`
    Number,
    /// `1..5`, `..=3`, `..`
    Range,
    /// `"text"`, `r#"text"#`
    Text,
    /// `b"bytes"`, `br#"bytes"#`
    Bytes,
    /// `'c'`
    Char,
}

/// The key of a map entry or the name of a field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Key {
    /// Where it stands, with its quotes.
    pub span: Span,
    /// How it is spelled; always [`Kind::Word`] for a field.
    pub kind: Kind,
    /// What it says: escapes decoded, `r#` gone, numbers in their shortest spelling, brackets
    /// without blanks and comments.
    pub text: String,
}

/// One value and, if it is an entry of a map or a field, its key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Node {
    /// What it is.
    pub kind: Kind,
    /// The whole value from its name or first bracket to its last character, without key and comma.
    pub span: Span,
    /// The name before the brackets: `Between` in `Between(lo: 1)`.
    pub name: Option<Span>,
    /// What lies between the brackets, if it has any.
    pub body: Option<Span>,
    /// The key or field name.
    pub key: Option<Key>,
    /// Where the comma behind it is, if there is one.
    pub comma: Option<usize>,
    /// The values inside, in the order of the text.
    pub children: Vec<Node>,
}

impl Node {
    fn leaf(kind: Kind, span: Span) -> Self {
        Self { kind, span, name: None, body: None, key: None, comma: None, children: Vec::new() }
    }

    /// From the first character of the key, or else of the value, to the last of the value.
    pub fn entry(&self) -> Span {
        let start = self.key.as_ref().map_or(self.span.start, |key| key.span.start);
        Span::new(start, self.span.end)
    }

    /// The children that have keys, with their keys.
    pub fn entries(&self) -> impl Iterator<Item = (&Key, &Node)> {
        self.children.iter().filter_map(|child| child.key.as_ref().map(|key| (key, child)))
    }

    /// The name before the brackets as it stands in `text`, without `r#`.
    pub fn name_in<'t>(&self, text: &'t str) -> Option<&'t str> {
        self.name.map(|span| keys::bare_word(span.of(text)))
    }

    /// What a [`Kind::Text`], [`Kind::Char`] or [`Kind::Word`] says; none for other kinds.
    pub fn said_in<'t>(&self, text: &'t str) -> Option<Cow<'t, str>> {
        keys::said(self.kind, self.span.of(text))
    }
}

/// One comment, without the line end behind it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Comment {
    /// Where it stands, with its slashes.
    pub span: Span,
    /// Whether it is `/* */` rather than `//`.
    pub block: bool,
}

/// The outline of one RON text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outline {
    /// The one value the text holds.
    pub root: Node,
    /// All comments in the order of the text.
    pub comments: Vec<Comment>,
    /// The `#![...]` lines at the top.
    pub attributes: Vec<Span>,
}

impl Outline {
    /// Reads the outline of `text`.
    pub fn read(text: &str) -> Result<Self, OutlineError> {
        read::read(text)
    }

    /// The comments that lie wholly inside `span`, such as the gap before an entry.
    pub fn comments_in(&self, span: Span) -> &[Comment] {
        let first = self.comments.partition_point(|c| c.span.start < span.start);
        let last = self.comments.partition_point(|c| c.span.end <= span.end);
        self.comments.get(first..last).unwrap_or_default()
    }
}

/// Why a text has no outline.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OutlineError {
    /// The byte where reading stopped.
    pub offset: usize,
    /// What is wrong there.
    pub message: String,
}

impl fmt::Display for OutlineError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "byte {}: {}", self.offset, self.message)
    }
}

impl std::error::Error for OutlineError {}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests;
