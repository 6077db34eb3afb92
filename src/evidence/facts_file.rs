//! Turns the text of a facts file into facts, and everything wrong with it into problems.

use super::answer::Answer;
use super::facts::{Facts, Measured};
use crate::knowledge::schema::Id;
use crate::knowledge::sheet::SheetRead;
use crate::knowledge::{
    Knowledge, Problem, SmallFile, SourceText, dimension_named, plausible, ron_options, ron_problem,
};
use crate::quantity::{Quantity, Verdict, judge, parse};
use crate::text::clean;
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

/// A facts file as written.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FactsFile {
    /// Family id.
    pub family: Id,
    /// Pump sheet, relative to the facts file.
    #[serde(default)]
    pub pump: Option<String>,
    /// Findings complained of.
    #[serde(default)]
    pub complaint: Vec<Id>,
    /// Answers by finding.
    #[serde(default)]
    pub findings: IndexMap<Id, Answer>,
    /// Numbers with unit by reading.
    #[serde(default)]
    pub readings: IndexMap<Id, String>,
    /// Usual value on this pump by reading.
    #[serde(default)]
    pub usual: IndexMap<Id, String>,
}

/// A facts file read.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ReadFacts {
    /// As written.
    pub file: FactsFile,
    /// The facts.
    pub facts: Facts,
    /// Problems; with an error among them the facts must not be used.
    pub problems: Vec<Problem>,
}

/// Reads a facts file. Usual values of the pump sheet count where the file gives none.
pub fn read_facts(source: &SourceText, knowledge: &Knowledge) -> ReadFacts {
    let mut read = ReadFacts::default();
    match ron_options().from_str::<FactsFile>(&source.text) {
        Ok(file) => read.file = file,
        Err(error) => {
            read.problems.push(ron_problem(source, &error));
            return read;
        }
    }
    let mut reader = Reader { file: SmallFile::read(source), knowledge };
    reader.family(&read.file.family);
    read.facts = reader.facts(&read.file);
    read.problems = reader.file.problems;
    read
}

impl ReadFacts {
    /// Takes over the usual values of a pump sheet where the facts give none.
    #[must_use]
    pub fn with_sheet(mut self, sheet: &SheetRead) -> Self {
        for (id, quantity) in &sheet.usual {
            self.facts.usual.entry(id.clone()).or_insert(*quantity);
        }
        self
    }
}

struct Reader<'a> {
    file: SmallFile<'a>,
    knowledge: &'a Knowledge,
}

impl Reader<'_> {
    fn family(&mut self, family: &str) {
        let families = &self.knowledge.all.families;
        if !families.contains_key(family) {
            self.unknown(&["family"], family, "a pump family", families);
        }
    }

    fn facts(&mut self, file: &FactsFile) -> Facts {
        let knowledge = self.knowledge;
        let mut facts = Facts::default();
        for (at, id) in file.complaint.iter().enumerate() {
            // An old file may name an id that is retired.
            let now = knowledge.current(id);
            if knowledge.all.findings.contains_key(now) {
                facts.complaint.push(now.to_owned());
            } else {
                self.unknown(&["complaint", &at.to_string()], id, "a finding", &knowledge.all.findings);
            }
        }
        for (id, answer) in &file.findings {
            let now = knowledge.current(id);
            if knowledge.all.findings.contains_key(now) {
                if now == id || !file.findings.contains_key(now) {
                    facts.answers.insert(now.to_owned(), *answer);
                }
            } else {
                self.unknown(&["findings", id], id, "a finding", &knowledge.all.findings);
            }
        }
        for (id, text) in &file.readings {
            if let Some(quantity) = self.number("readings", id, text) {
                facts.numbers.insert(id.clone(), Measured { quantity, text: clean(text) });
            }
        }
        for (id, text) in &file.usual {
            if let Some(quantity) = self.number("usual", id, text) {
                facts.usual.insert(id.clone(), quantity);
            }
        }
        facts
    }

    fn number(&mut self, list: &str, id: &str, text: &str) -> Option<Quantity> {
        let knowledge = self.knowledge;
        let Some(reading) = knowledge.all.readings.get(id) else {
            self.unknown(&[list, id], id, "a reading", &knowledge.all.readings);
            return None;
        };
        let dimension = dimension_named(&reading.quantity)?;
        let parsed = match parse(text, dimension, None) {
            Ok(parsed) => parsed,
            Err(error) => {
                let hint = format!("`{id}` takes: {}", dimension.allowed_units());
                self.file.add(&[list, id], "bad_quantity", format!("`{}`: {error}", clean(text)), hint);
                return None;
            }
        };
        match judge(&parsed, plausible(reading).as_ref()) {
            Verdict::Plausible => Some(parsed.quantity),
            Verdict::Doubtful(doubt) => {
                let hint = "correct it, or leave the reading out".to_owned();
                self.file.add(&[list, id], "implausible", clean(&doubt.to_string()), hint);
                None
            }
            Verdict::Impossible(impossible) => {
                let hint = "read the gauge again, mind the unit and its zero".to_owned();
                self.file.add(&[list, id], "impossible", clean(&impossible.to_string()), hint);
                None
            }
        }
    }

    fn unknown(&mut self, path: &[&str], word: &str, what: &str, known: &IndexMap<Id, impl Sized>) {
        self.file.unknown(path, word, what, known.keys().map(String::as_str));
    }
}
