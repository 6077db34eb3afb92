//! Turns an error of the RON reader into a problem in our own words, with what to do.

use super::load::SourceText;
use super::problem::{Problem, Severity, did_you_mean};
use ron::error::{Error, SpannedError};

/// The problem behind a RON error.
pub fn problem(source: &SourceText, error: &SpannedError) -> Problem {
    let (message, hint) = explain(&error.code);
    let mut range = (offset(&source.text, error.span.start), offset(&source.text, error.span.end));
    if matches!(error.code, Error::ExpectedComma) {
        range = end_before(&source.text, range.0);
    }
    source.problem(Severity::Error, "unreadable", range, message, hint)
}

/// Message and hint for a RON error.
fn explain(error: &Error) -> (String, String) {
    match error {
        Error::ExpectedComma => {
            ("a comma is missing here".to_owned(), "put a comma at the end of this line".to_owned())
        }
        Error::NoSuchStructField { expected, found, outer } => {
            let of = outer.as_ref().map_or(String::new(), |outer| format!(" of `{outer}`"));
            (format!("`{found}` is not a field{of}"), one_of(found, expected))
        }
        Error::NoSuchEnumVariant { expected, found, .. } => {
            (format!("`{found}` is not one of the words allowed here"), one_of(found, expected))
        }
        Error::MissingStructField { field, outer } => {
            let of = outer.as_ref().map_or(String::new(), |outer| format!(" of `{outer}`"));
            (format!("the field `{field}`{of} is missing"), format!("add `{field}: …,` before the closing bracket"))
        }
        Error::DuplicateStructField { field, .. } => {
            (format!("the field `{field}` stands twice"), "remove one of the two".to_owned())
        }
        Error::ExpectedStringEnd => {
            ("this text has no closing quote".to_owned(), "close it with a double quote".to_owned())
        }
        Error::Eof => ("the file ends too early".to_owned(), "a closing bracket is missing".to_owned()),
        Error::ExceededRecursionLimit => ("brackets are nested too deeply".to_owned(), "write it flatter".to_owned()),
        other => (format!("cannot read this: {other}"), "compare with a neighbouring entry that works".to_owned()),
    }
}

fn one_of(found: &str, expected: &[&'static str]) -> String {
    let all = expected.join(", ");
    match did_you_mean(found, expected.iter().copied()) {
        Some(near) => format!("did you mean `{near}`? allowed: {all}"),
        None => format!("allowed: {all}"),
    }
}

/// Byte offset of a RON position (lines and columns in characters, from 1).
fn offset(text: &str, position: ron::error::Position) -> usize {
    let mut start = 0;
    for (number, line) in text.split_inclusive('\n').enumerate() {
        if number + 1 == position.line {
            let column = position.col.saturating_sub(1);
            return start + line.char_indices().nth(column).map_or(line.len(), |(at, _)| at);
        }
        start += line.len();
    }
    text.len()
}

/// The last character before the blank space in front of `at`.
fn end_before(text: &str, at: usize) -> (usize, usize) {
    let before = text.get(..at).unwrap_or(text).trim_end();
    let last = before.chars().next_back().map_or(0, char::len_utf8);
    (before.len() - last, before.len())
}
