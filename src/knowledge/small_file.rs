//! Collects the problems of a small file (a pump sheet, a facts file), each at its place.

use super::load::SourceText;
use super::outline::Outline;
use super::problem::{Problem, Severity, did_you_mean};
use crate::text::clean;

/// Most problems told about one file: each is looked up in the whole of it.
const MOST_TOLD: usize = 200;

/// A small file being read.
#[derive(Debug)]
pub struct SmallFile<'a> {
    source: &'a SourceText,
    outline: Option<Outline>,
    /// Problems so far.
    pub problems: Vec<Problem>,
}

impl<'a> SmallFile<'a> {
    /// Outlines the text, which RON has accepted; keys that stand twice are problems.
    pub fn read(source: &'a SourceText) -> Self {
        let mut file = Self { source, outline: None, problems: Vec::new() };
        match Outline::read(&source.text) {
            Ok(outline) => {
                for twice in outline.duplicates().into_iter().take(MOST_TOLD) {
                    let message = format!("`{}` stands twice; only the last would count", clean(twice.key()));
                    let range = (twice.again.start, twice.again.end);
                    file.at(range, "key_twice", message, "remove one of the two".to_owned());
                }
                file.outline = Some(outline);
            }
            Err(error) => {
                let at = error.offset.min(source.text.len());
                file.at((at, at), "unreadable", clean(&error.message), "write it in the plain form".to_owned());
            }
        }
        file
    }

    /// A problem at the value or entry that the path leads to.
    pub fn add(&mut self, path: &[&str], rule: &'static str, message: String, hint: String) {
        if MOST_TOLD <= self.problems.len() {
            return;
        }
        let span = self.outline.as_ref().and_then(|outline| outline.find(path)).map_or((0, 0), |node| {
            let span = node.entry();
            (span.start, span.end)
        });
        self.at(span, rule, message, hint);
    }

    /// A word that is not one of the known ones, with the nearest that is.
    pub fn unknown<'k>(&mut self, path: &[&str], word: &str, what: &str, known: impl IntoIterator<Item = &'k str>) {
        if MOST_TOLD <= self.problems.len() {
            return;
        }
        let known: Vec<&str> = known.into_iter().collect();
        let hint = match did_you_mean(word, known.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None if known.len() <= 20 => format!("known: {}", known.join(", ")),
            None => "see `weephole knowledge list`".to_owned(),
        };
        self.add(path, "unknown_id", format!("`{}` is not {what}", clean(word)), hint);
    }

    fn at(&mut self, range: (usize, usize), rule: &'static str, message: String, hint: String) {
        self.problems.push(self.source.problem(Severity::Error, rule, range, message, hint));
    }
}
