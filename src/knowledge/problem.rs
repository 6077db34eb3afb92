//! Turns what is wrong with a knowledge file into one shape: severity, rule, place, message, hint.

use serde::Serialize;

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Severity {
    /// The knowledge cannot be used as written.
    Error,
    /// It can be used, but someone should look.
    Warning,
}

/// One problem in one place.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Problem {
    /// How bad it is.
    pub severity: Severity,
    /// Name of the rule that found it.
    pub rule: &'static str,
    /// File as named to the loader.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub hint: String,
    /// Byte range in the file, for a picture of the line.
    #[serde(skip)]
    pub range: (usize, usize),
}

/// The closest of the known words, if it is close enough to be a slip of the pen.
pub fn did_you_mean<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let limit = 1 + word.chars().count() / 4;
    known
        .into_iter()
        .map(|candidate| (strsim::osa_distance(word, candidate), candidate))
        .filter(|(distance, _)| *distance <= limit)
        .min()
        .map(|(_, candidate)| candidate)
}
