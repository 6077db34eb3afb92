//! Turns the text of knowledge files into [`Knowledge`] and every problem in it.

use super::entries::{Kind as EntryKind, Knowledge, Placed};
use super::outline::{Kind, LineMap, Node, Outline, Position};
use super::problem::{Problem, Severity};
use super::rules;
use super::schema::{KnowledgeFile, VERSION};
use super::translate;
use crate::text::{clean, fingerprint, is_clean};
use indexmap::IndexMap;

/// Digits of the hash that are told.
const HASH_DIGITS: usize = 12;

/// Most entries of all kinds in all files together, ten times the built-in ones: rules and lists compare entries with each
/// other, and a file that holds a hundred thousand of them would keep the program busy for hours.
const MOST_ENTRIES: usize = 20_000;
/// Most problems of one kind told about one file while it is read.
const MOST_TOLD: usize = 200;

/// A file as handed in: a name to show, and its text.
#[derive(Debug, Clone, PartialEq)]
pub struct SourceText {
    /// Name to show.
    pub name: String,
    /// Text.
    pub text: String,
}

impl SourceText {
    /// A problem at a byte range of this file.
    pub fn problem(
        &self,
        severity: Severity,
        rule: &'static str,
        range: (usize, usize),
        message: String,
        hint: String,
    ) -> Problem {
        let place = LineMap::new(&self.text).position(range.0);
        self.problem_at(place, severity, rule, range, (message, hint))
    }

    /// The same where line and column are known: counting the lines of a long file for each of many problems takes long.
    pub(super) fn problem_at(
        &self,
        place: Position,
        severity: Severity,
        rule: &'static str,
        range: (usize, usize),
        (message, hint): (String, String),
    ) -> Problem {
        let (line, column) = (place.line, place.column);
        // What a problem quotes goes to terminals and into JSON as it is.
        let (message, hint) = (cleaned(message), cleaned(hint));
        Problem { severity, rule, file: self.name.clone(), line, column, message, hint, range }
    }
}

fn cleaned(text: String) -> String {
    if is_clean(&text) { text } else { clean(&text) }
}

/// What loading yields: the knowledge as far as it could be read, and all problems.
#[derive(Debug, Clone)]
pub struct Loaded {
    /// The knowledge.
    pub knowledge: Knowledge,
    /// Problems, in order of file and line.
    pub problems: Vec<Problem>,
}

impl Loaded {
    /// True if the knowledge must not be used.
    pub fn is_broken(&self) -> bool {
        self.problems.iter().any(|problem| problem.severity == Severity::Error)
    }
}

/// How RON is read everywhere in this project.
pub fn ron_options() -> ron::Options {
    use ron::extensions::Extensions;
    ron::Options::default().with_default_extension(
        Extensions::IMPLICIT_SOME | Extensions::UNWRAP_NEWTYPES | Extensions::UNWRAP_VARIANT_NEWTYPES,
    )
}

/// Reads all files, merges them and applies every rule. Never fails: what cannot be read is a problem.
pub fn load(sources: Vec<SourceText>) -> Loaded {
    let mut sources = sources;
    sources.sort_by(|a, b| a.name.cmp(&b.name));
    let mut knowledge = Knowledge { release: "unnamed".to_owned(), ..Knowledge::default() };
    let mut counted = Vec::new();
    let mut problems = Vec::new();
    let mut unread = false;
    let mut entries = 0;
    for (number, source) in sources.into_iter().enumerate() {
        let found = read(&source, &mut problems);
        counted.push(!found.as_ref().is_some_and(|(file, _)| only_beside_the_job(file)));
        if let Some((file, outline)) = found {
            entries += count(&file);
            knowledge.files.push(Placed::new(source, Some(outline)));
            if MOST_ENTRIES < entries {
                problems.push(too_many(&knowledge, number));
                unread = true;
                break;
            }
            knowledge.merge(file, number, &mut problems);
        } else {
            unread = true;
            knowledge.files.push(Placed::new(source, None));
        }
    }
    let files = knowledge.files.iter().zip(counted).filter(|(_, counts)| *counts).map(|(placed, _)| &placed.source);
    knowledge.hash = fingerprint(files.flat_map(|source| [source.name.as_str(), source.text.as_str()]));
    knowledge.hash.truncate(HASH_DIGITS);
    if knowledge.all.causes.is_empty() && !unread {
        problems.push(nothing_there(&knowledge));
    } else {
        for rule in rules::ALL {
            // With a file missing, every link into it would be one more complaint about the same thing.
            if !(unread && rule.needs_all_files) {
                (rule.check)(&knowledge, &mut problems);
            }
        }
    }
    problems.sort_by(|a, b| (&a.file, a.line, a.column).cmp(&(&b.file, b.line, b.column)));
    Loaded { knowledge, problems }
}

fn nothing_there(knowledge: &Knowledge) -> Problem {
    let hint = "put at least one file with `causes` there, or start without --knowledge to use the built-in knowledge";
    knowledge.problem_in(
        usize::MAX,
        Severity::Error,
        "no_causes",
        &[],
        "there is no cause in this knowledge".to_owned(),
        hint.to_owned(),
    )
}

fn count(file: &KnowledgeFile) -> usize {
    EntryKind::ALL.iter().map(|kind| kind.ids(file).len()).sum::<usize>() + file.glossary.len()
}

fn too_many(knowledge: &Knowledge, file: usize) -> Problem {
    let message = format!("there are more than {MOST_ENTRIES} entries up to this file");
    let hint = "check that it is the right file; leave out what is not used".to_owned();
    knowledge.problem_in(file, Severity::Error, "too_many", &[], message, hint)
}

/// One file: typed by ron, then outlined; both must succeed.
fn read(source: &SourceText, problems: &mut Vec<Problem>) -> Option<(KnowledgeFile, Outline)> {
    let file = match ron_options().from_str::<KnowledgeFile>(&source.text) {
        Ok(file) => file,
        Err(error) => {
            problems.push(translate::problem(source, &error));
            return None;
        }
    };
    let outline = match Outline::read(&source.text) {
        Ok(outline) => outline,
        Err(error) => {
            let hint = "write it in the plain form the other files use".to_owned();
            let range = (error.offset.min(source.text.len()), error.offset.min(source.text.len()));
            problems.push(source.problem(Severity::Error, "unreadable", range, error.message, hint));
            return None;
        }
    };
    if file.version == 0 || VERSION < file.version {
        let message = format!("version {} of the file format is not known here", file.version);
        let hint = format!("this program reads version {VERSION}; a newer program is needed for newer files");
        let at = outline.find(&["version"]).map_or((0, 0), |node| (node.span.start, node.span.end));
        problems.push(source.problem(Severity::Error, "newer_version", at, message, hint));
        return None;
    }
    let lines = LineMap::new(&source.text);
    same_key_twice(source, (&outline, &lines), problems);
    let mut numbers = Vec::new();
    not_finite(source, (&outline.root, &lines), &mut numbers);
    problems.extend(numbers);
    Some((file, outline))
}

fn same_key_twice(source: &SourceText, (outline, lines): (&Outline, &LineMap), problems: &mut Vec<Problem>) {
    for duplicate in outline.duplicates().into_iter().take(MOST_TOLD) {
        let first = lines.position(duplicate.first.start);
        let message = format!("`{}` stands twice, first at {first}; only the last would count", duplicate.key());
        let hint = "remove or rename one of the two".to_owned();
        let (place, range) = (lines.position(duplicate.again.start), (duplicate.again.start, duplicate.again.end));
        problems.push(source.problem_at(place, Severity::Error, "key_twice", range, (message, hint)));
    }
}

fn not_finite(source: &SourceText, (node, lines): (&Node, &LineMap), problems: &mut Vec<Problem>) {
    if node.kind == Kind::Number && problems.len() < MOST_TOLD {
        let said = node.span.of(&source.text).replace('_', "");
        let said = said.trim_end_matches("f32").trim_end_matches("f64");
        if said.parse::<f64>().is_ok_and(|number| !number.is_finite()) {
            let hint = "write an ordinary number".to_owned();
            let message = format!("`{said}` is not a finite number");
            let (place, range) = (lines.position(node.span.start), (node.span.start, node.span.end));
            problems.push(source.problem_at(place, Severity::Error, "not_finite", range, (message, hint)));
        }
    }
    for child in &node.children {
        not_finite(source, (child, lines), problems);
    }
}

/// True for a file of cases or lessons alone: they change nothing that is said in a job.
fn only_beside_the_job(file: &KnowledgeFile) -> bool {
    let rest = KnowledgeFile { cases: IndexMap::new(), lessons: IndexMap::new(), version: 0, ..file.clone() };
    !(file.cases.is_empty() && file.lessons.is_empty()) && rest == KnowledgeFile::default()
}
