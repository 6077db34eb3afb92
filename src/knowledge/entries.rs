//! Turns many knowledge files into one: every entry of every kind, and where it stands.

use super::load::SourceText;
use super::outline::{LineIndex, Node, Outline, Span};
use super::problem::{Problem, Severity};
use super::schema::{Basis, Id, KnowledgeFile, Link};
use indexmap::IndexMap;

/// Kinds of entry, by the name of their list in the files.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// Pump families.
    Families,
    /// Sources.
    Sources,
    /// Causes.
    Causes,
    /// Conditions.
    Conditions,
    /// Damage.
    Damage,
    /// Findings.
    Findings,
    /// Readings.
    Readings,
    /// Openings.
    Openings,
    /// Checks.
    Checks,
    /// Remedies.
    Remedies,
    /// Procedures.
    Procedures,
    /// Lines of the return-to-service list.
    Service,
    /// Cautions.
    Cautions,
    /// Stop rules.
    StopRules,
    /// Exclusion groups.
    Excludes,
    /// Groups that observe the same thing.
    SameObservation,
    /// Questions of the first minute.
    FirstMinute,
    /// Causes that no check tells apart.
    Inseparable,
    /// Cases.
    Cases,
    /// Lessons.
    Lessons,
    /// Codes offered at close.
    Codes,
    /// Ids that are used no more.
    Retired,
}

impl Kind {
    /// All kinds, in the order of the schema.
    pub const ALL: [Self; 22] = [
        Self::Families,
        Self::Sources,
        Self::Causes,
        Self::Conditions,
        Self::Damage,
        Self::Findings,
        Self::Readings,
        Self::Openings,
        Self::Checks,
        Self::Remedies,
        Self::Procedures,
        Self::Service,
        Self::Cautions,
        Self::StopRules,
        Self::Excludes,
        Self::SameObservation,
        Self::FirstMinute,
        Self::Inseparable,
        Self::Cases,
        Self::Lessons,
        Self::Codes,
        Self::Retired,
    ];

    /// Name of the list in the files and on the command line.
    pub fn name(self) -> &'static str {
        match self {
            Self::Families => "families",
            Self::Sources => "sources",
            Self::Causes => "causes",
            Self::Conditions => "conditions",
            Self::Damage => "damage",
            Self::Findings => "findings",
            Self::Readings => "readings",
            Self::Openings => "openings",
            Self::Checks => "checks",
            Self::Remedies => "remedies",
            Self::Procedures => "procedures",
            Self::Service => "service",
            Self::Cautions => "cautions",
            Self::StopRules => "stop_rules",
            Self::Excludes => "excludes",
            Self::SameObservation => "same_observation",
            Self::FirstMinute => "first_minute",
            Self::Inseparable => "inseparable",
            Self::Cases => "cases",
            Self::Lessons => "lessons",
            Self::Codes => "codes",
            Self::Retired => "retired",
        }
    }

    /// The kind with this name.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }

    /// Ids of this kind in one file.
    pub fn ids(self, file: &KnowledgeFile) -> Vec<&Id> {
        match self {
            Self::Families => file.families.keys().collect(),
            Self::Sources => file.sources.keys().collect(),
            Self::Causes => file.causes.keys().collect(),
            Self::Conditions => file.conditions.keys().collect(),
            Self::Damage => file.damage.keys().collect(),
            Self::Findings => file.findings.keys().collect(),
            Self::Readings => file.readings.keys().collect(),
            Self::Openings => file.openings.keys().collect(),
            Self::Checks => file.checks.keys().collect(),
            Self::Remedies => file.remedies.keys().collect(),
            Self::Procedures => file.procedures.keys().collect(),
            Self::Service => file.service.keys().collect(),
            Self::Cautions => file.cautions.keys().collect(),
            Self::StopRules => file.stop_rules.keys().collect(),
            Self::Excludes => file.excludes.keys().collect(),
            Self::SameObservation => file.same_observation.keys().collect(),
            Self::FirstMinute => file.first_minute.keys().collect(),
            Self::Inseparable => file.inseparable.keys().collect(),
            Self::Cases => file.cases.keys().collect(),
            Self::Lessons => file.lessons.keys().collect(),
            Self::Codes => file.codes.keys().collect(),
            Self::Retired => file.retired.keys().collect(),
        }
    }
}

/// One file with its outline.
#[derive(Debug, Clone)]
pub(super) struct Placed {
    pub source: SourceText,
    pub outline: Option<Outline>,
    lines: LineIndex,
}

impl Placed {
    pub(super) fn new(source: SourceText, outline: Option<Outline>) -> Self {
        let lines = LineIndex::new(&source.text);
        Self { source, outline, lines }
    }
}

/// All entries of all files.
#[derive(Debug, Clone, Default)]
pub struct Knowledge {
    /// Every entry, merged.
    pub all: KnowledgeFile,
    /// Release of the knowledge, or "unnamed".
    pub release: String,
    /// First twelve hex digits of the SHA-256 over all files in order of name, but for files of nothing but cases
    /// or lessons: those change nothing that is said in a job.
    pub hash: String,
    pub(super) files: Vec<Placed>,
    pub(super) home: IndexMap<Id, (Kind, usize)>,
}

impl Knowledge {
    /// The kind of entry an id belongs to.
    pub fn kind_of(&self, id: &str) -> Option<Kind> {
        self.home.get(id).map(|(kind, _)| *kind)
    }

    /// Every id of every kind.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        self.home.keys().map(String::as_str)
    }

    /// The files in order of name, each with its outline if it could be read.
    pub fn files(&self) -> impl Iterator<Item = (&SourceText, Option<&Outline>)> {
        self.files.iter().map(|placed| (&placed.source, placed.outline.as_ref()))
    }

    /// The file that holds an entry.
    pub fn file_of(&self, id: &str) -> Option<&SourceText> {
        let (_, number) = self.home.get(id)?;
        self.files.get(*number).map(|placed| &placed.source)
    }

    /// Takes over one file's entries; an id given before is a problem.
    pub(super) fn merge(&mut self, mut file: KnowledgeFile, number: usize, problems: &mut Vec<Problem>) {
        for kind in Kind::ALL {
            for id in kind.ids(&file) {
                if let Some((other_kind, other)) = self.home.get(id) {
                    let message =
                        format!("the id `{id}` stands again; it is already in {}", self.place(*other, *other_kind, id));
                    let hint = "ids are unique over all files and kinds: rename one of them".to_owned();
                    problems.push(self.problem_in(
                        number,
                        Severity::Error,
                        "id_twice",
                        &[kind.name(), id],
                        message,
                        hint,
                    ));
                } else {
                    self.home.insert(id.clone(), (kind, number));
                }
            }
        }
        if let Some(release) = file.release.take() {
            self.release = release;
        }
        extend(&mut self.all, file);
    }

    fn place(&self, file: usize, kind: Kind, id: &str) -> String {
        let placed = &self.files[file];
        let line = self
            .range(file, &[kind.name(), id])
            .map_or(1, |range| placed.lines.position(&placed.source.text, range.start).line);
        format!("{}:{line}", placed.source.name)
    }

    /// A problem at the entry `id`, or deeper inside it along `path`.
    pub fn problem(
        &self,
        severity: Severity,
        rule: &'static str,
        id: &str,
        path: &[&str],
        (message, hint): (String, String),
    ) -> Problem {
        let (kind, file) = self.home.get(id).copied().unwrap_or((Kind::Families, 0));
        let full: Vec<&str> = [kind.name(), id].into_iter().chain(path.iter().copied()).collect();
        self.problem_in(file, severity, rule, &full, message, hint)
    }

    pub(super) fn problem_in(
        &self,
        file: usize,
        severity: Severity,
        rule: &'static str,
        path: &[&str],
        message: String,
        hint: String,
    ) -> Problem {
        let Some(placed) = self.files.get(file) else {
            return Problem {
                severity,
                rule,
                file: "(knowledge)".to_owned(),
                line: 1,
                column: 1,
                message,
                hint,
                range: (0, 0),
            };
        };
        let span = self.range(file, path).unwrap_or(Span::new(0, 0));
        let place = placed.lines.position(&placed.source.text, span.start);
        placed.source.problem_at(place, severity, rule, (span.start, span.end), (message, hint))
    }

    /// Where the deepest part of the path that exists stands: the value of a field, the key of an entry.
    fn range(&self, file: usize, path: &[&str]) -> Option<Span> {
        let outline = self.files.get(file)?.outline.as_ref()?;
        let mut node = &outline.root;
        for step in path {
            match node.get(step) {
                Some(next) => node = next,
                None => break,
            }
        }
        Some(mark(node))
    }
}

/// An entry with children is marked by its key, a plain value by itself.
fn mark(node: &Node) -> Span {
    match &node.key {
        Some(key) if !node.children.is_empty() || node.body.is_some() => key.span,
        _ => node.span,
    }
}

fn extend(all: &mut KnowledgeFile, file: KnowledgeFile) {
    all.version = all.version.max(file.version);
    keep_first(&mut all.families, file.families);
    keep_first(&mut all.sources, file.sources);
    keep_first(&mut all.causes, file.causes);
    keep_first(&mut all.conditions, file.conditions);
    keep_first(&mut all.damage, file.damage);
    keep_first(&mut all.findings, file.findings);
    keep_first(&mut all.readings, file.readings);
    keep_first(&mut all.openings, file.openings);
    keep_first(&mut all.checks, file.checks);
    keep_first(&mut all.remedies, file.remedies);
    keep_first(&mut all.procedures, file.procedures);
    keep_first(&mut all.service, file.service);
    keep_first(&mut all.cautions, file.cautions);
    keep_first(&mut all.stop_rules, file.stop_rules);
    keep_first(&mut all.excludes, file.excludes);
    keep_first(&mut all.same_observation, file.same_observation);
    keep_first(&mut all.first_minute, file.first_minute);
    keep_first(&mut all.inseparable, file.inseparable);
    keep_first(&mut all.cases, file.cases);
    keep_first(&mut all.lessons, file.lessons);
    keep_first(&mut all.codes, file.codes);
    keep_first(&mut all.retired, file.retired);
    keep_first(&mut all.glossary, file.glossary);
}

fn keep_first<T>(all: &mut IndexMap<Id, T>, more: IndexMap<Id, T>) {
    for (id, entry) in more {
        all.entry(id).or_insert(entry);
    }
}

/// One link between two entries, wherever it is written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinkAt<'a> {
    /// Entry that holds it.
    pub entry: &'a str,
    /// Field that holds it.
    pub field: &'static str,
    /// The other end.
    pub to: &'a str,
    /// What its number rests on.
    pub basis: Basis,
    /// Its source.
    pub source: Option<&'a str>,
    /// When it was last looked at, `YYYY-MM`.
    pub reviewed: Option<&'a str>,
    /// Two judgements differ.
    pub disputed: Option<&'a str>,
}

impl<'a> LinkAt<'a> {
    fn of((entry, field, to): (&'a str, &'static str, &'a str), link: &'a Link) -> Self {
        Self {
            entry,
            field,
            to,
            basis: link.basis,
            source: link.source.as_deref(),
            reviewed: link.reviewed.as_deref(),
            disputed: link.disputed.as_deref(),
        }
    }
}

impl Knowledge {
    /// Every link of the graph: node to node, node to finding, node to reading.
    pub fn links(&self) -> impl Iterator<Item = LinkAt<'_>> {
        let all = &self.all;
        let causes = all.causes.iter().map(|(id, cause)| (id, &cause.leads_to));
        let inner = all.conditions.iter().chain(&all.damage).map(|(id, condition)| (id, &condition.leads_to));
        let nodes = causes
            .chain(inner)
            .flat_map(|(id, links)| links.iter().map(move |(to, link)| LinkAt::of((id, "leads_to", to), link)));
        let findings = all.findings.iter().flat_map(|(id, finding)| {
            finding.shown_by.iter().map(move |(to, link)| LinkAt::of((id, "shown_by", to), link))
        });
        let readings = all.readings.iter().flat_map(|(id, reading)| {
            reading.moved_by.iter().map(move |(to, pull)| LinkAt {
                entry: id,
                field: "moved_by",
                to,
                basis: pull.basis,
                source: pull.source.as_deref(),
                reviewed: pull.reviewed.as_deref(),
                disputed: None,
            })
        });
        nodes.chain(findings).chain(readings)
    }

    /// True if a source stands for common practice or memory, not for a text that was read.
    pub fn rests_on_practice(&self, source: &str) -> bool {
        use super::schema::SourceKind::{CommonPractice, FromMemory};
        self.all.sources.get(source).is_some_and(|source| matches!(source.kind, CommonPractice | FromMemory))
    }
}
