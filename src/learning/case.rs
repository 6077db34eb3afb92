//! Turns the journal of a confirmed job into a case, to be tried with every later state of the knowledge.
//!
//! The direct look at the true cause is left out: it is how the truth is known, not what it has to be found by.

use super::told::{Told, Untaught};
use crate::evidence::Answer;
use crate::job::{Entry, Event, Given, Job, Where};
use crate::knowledge::schema::{Case, Fact, FirstQuestion, Id};
use crate::knowledge::{Knowledge, dimension_named};
use crate::quantity::{Quantity, in_unit, parse};
use std::fmt::Write as _;
use thiserror::Error;

/// Where such cases come from.
pub const OWN_LOG: &str = "own log";

/// A case of one's own.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnCase {
    /// Its id, made of the job's: the same from whatever laptop.
    pub id: Id,
    /// The case.
    pub case: Case,
    /// What was said or measured and has no place in a case, each with the reason.
    pub left_out: Vec<String>,
}

/// Why a job makes no case.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum NoCase {
    /// Its cause is not confirmed.
    #[error("{0}")]
    Untaught(Untaught),
    /// The complaint was taken for no finding that is in the knowledge.
    #[error("its complaint names no finding of this knowledge")]
    NoComplaint,
}

/// The case of a job: what was told and found before anything was put right, and the confirmed cause.
///
/// # Errors
/// A job without a confirmed cause, or without a complaint that the knowledge knows.
pub fn own_case(knowledge: &Knowledge, told: &Told, entries: &[Entry]) -> Result<OwnCase, NoCase> {
    let confirmed = told.confirmed.as_ref().map_err(|why| NoCase::Untaught(*why))?;
    let mut job = Job::default();
    for entry in entries {
        job.apply(entry.clone());
    }
    let mut draft = Draft { knowledge, left_out: Vec::new(), case: empty(told, &confirmed.cause) };
    for entry in entries {
        draft.opening(&entry.event);
    }
    let before = job.work.before.as_ref().unwrap_or(&job.given);
    let holds = |id: &Id| before.iter().any(|(known, (given, ..))| knowledge.current(known) == id && is_yes(given));
    draft.case.complaint.retain(holds);
    for (id, (given, _, from)) in before {
        draft.said(id, given, from);
    }
    for (id, (text, si)) in &job.usual {
        if let Some(text) = draft.number(id, text, *si) {
            draft.case.usual.insert(id.clone(), text);
        }
    }
    if draft.case.complaint.is_empty() {
        return Err(NoCase::NoComplaint);
    }
    Ok(OwnCase { id: format!("case_job_{}", told.id), case: draft.case, left_out: draft.left_out })
}

fn empty(told: &Told, cause: &Id) -> Case {
    Case {
        family: told.family.clone(),
        told: String::new(),
        source: OWN_LOG.to_owned(),
        complaint: Vec::new(),
        first_minute: indexmap::IndexMap::new(),
        facts: indexmap::IndexMap::new(),
        readings: indexmap::IndexMap::new(),
        usual: indexmap::IndexMap::new(),
        cant_tell: Vec::new(),
        truth: vec![cause.clone()],
        rank: 1,
        forbidden: Vec::new(),
        note: String::new(),
    }
}

fn is_yes(given: &Given) -> bool {
    matches!(given, Given::Answer(Answer::Yes | Answer::ProbablyYes))
}

/// A case as it grows.
struct Draft<'k> {
    knowledge: &'k Knowledge,
    case: Case,
    left_out: Vec<String>,
}

impl Draft<'_> {
    /// Takes the complaint and the first minute.
    fn opening(&mut self, event: &Event) {
        let knowledge = self.knowledge;
        match event {
            Event::Complaint { words, findings } => {
                let words = words.trim();
                let gap = if self.case.told.is_empty() || words.is_empty() { "" } else { " " };
                self.case.told = format!("{}{gap}{words}", self.case.told);
                for id in findings.iter().map(|id| knowledge.current(id)) {
                    if knowledge.all.findings.contains_key(id) && !self.case.complaint.iter().any(|known| known == id) {
                        self.case.complaint.push(id.to_owned());
                    }
                }
            }
            Event::FirstMinute { question, say, yes, no } => {
                let entry = knowledge.all.first_minute.get(question);
                match entry.and_then(|entry| choice(entry, say, (yes, no))) {
                    Some(at) => drop(self.case.first_minute.insert(question.clone(), at)),
                    None => self.left_out.push(format!("{question}: this answer is no longer among the choices")),
                }
            }
            _ => {}
        }
    }

    /// Takes an answer or a number that came after.
    fn said(&mut self, id: &Id, given: &Given, from: &Where) {
        if matches!(from, Where::Complaint | Where::FirstMinute) {
            return;
        }
        let now = self.knowledge.current(id).to_owned();
        if self.case.complaint.contains(&now) {
            return;
        }
        match given {
            Given::Number(text, si) => {
                if let Some(text) = self.number(&now, text, *si) {
                    self.case.readings.insert(now, text);
                }
            }
            Given::Answer(answer) => self.answered(now, *answer),
        }
    }

    fn answered(&mut self, id: Id, answer: Answer) {
        let finding = self.knowledge.all.findings.get(&id);
        let is_reading = self.knowledge.all.readings.contains_key(&id);
        if finding.is_none() && !is_reading {
            self.left_out.push(format!("{id}: not in this knowledge"));
            return;
        }
        let looks_at_truth =
            finding.is_some_and(|finding| finding.verdict_on.as_ref().is_some_and(|on| self.case.truth.contains(on)));
        if looks_at_truth {
            self.left_out.push(format!("{id}: the look that confirmed the cause"));
            return;
        }
        let fact = match answer {
            Answer::Yes => Fact::Yes,
            Answer::ProbablyYes => Fact::ProbablyYes,
            Answer::ProbablyNo => Fact::ProbablyNo,
            Answer::No => Fact::No,
            Answer::CantTell | Answer::CantCheck => return self.case.cant_tell.push(id),
            Answer::NotApplicable => return self.left_out.push(format!("{id}: does not apply to this pump")),
        };
        self.case.facts.insert(id, fact);
    }

    /// A number as a case holds it: with its unit, taken in the reading's own running state.
    fn number(&mut self, id: &str, text: &str, si: f64) -> Option<String> {
        let reading = self.knowledge.all.readings.get(id);
        let Some(dimension) = reading.and_then(|reading| dimension_named(&reading.quantity)) else {
            let why = if id.contains('@') { "taken in another running state" } else { "not in this knowledge" };
            self.left_out.push(format!("{id}: {why}"));
            return None;
        };
        if parse(text, dimension, None).is_ok() {
            return Some(text.to_owned());
        }
        // Typed without its unit, because the prompt showed it.
        let quantity = Quantity::new(dimension, si).ok()?;
        dimension.units().first().map(|unit| in_unit(quantity, unit))
    }
}

/// The choice with these words, or, where the words were changed since, the one that says the same.
fn choice(question: &FirstQuestion, say: &str, (yes, no): (&[Id], &[Id])) -> Option<usize> {
    let by_words = question.choices.iter().position(|choice| choice.say == say);
    let speaks = !(yes.is_empty() && no.is_empty());
    by_words.or_else(|| question.choices.iter().position(|choice| speaks && choice.yes == yes && choice.no == no))
}

/// A case as it stands in a file, without its id: `( … )`, one field a line, empty ones left out.
pub fn case_entry(case: &Case) -> String {
    let mut text = String::from("(\n");
    let mut line = |field: &str, value: String| {
        let _ = writeln!(text, "    {field}: {value},");
    };
    line("family", quoted(&case.family));
    line("told", quoted(&case.told));
    line("source", quoted(&case.source));
    line("complaint", list(&case.complaint));
    let pairs = |pairs: Vec<(&Id, String)>| {
        let pairs: Vec<String> = pairs.into_iter().map(|(id, value)| format!("{}: {value}", quoted(id))).collect();
        format!("{{{}}}", pairs.join(", "))
    };
    let numbers = |map: &indexmap::IndexMap<Id, String>| {
        (!map.is_empty()).then(|| pairs(map.iter().map(|(id, text)| (id, quoted(text))).collect()))
    };
    if !case.first_minute.is_empty() {
        line("first_minute", pairs(case.first_minute.iter().map(|(id, at)| (id, at.to_string())).collect()));
    }
    if !case.facts.is_empty() {
        line("facts", pairs(case.facts.iter().map(|(id, fact)| (id, word(*fact).to_owned())).collect()));
    }
    if let Some(readings) = numbers(&case.readings) {
        line("readings", readings);
    }
    if let Some(usual) = numbers(&case.usual) {
        line("usual", usual);
    }
    if !case.cant_tell.is_empty() {
        line("cant_tell", list(&case.cant_tell));
    }
    line("truth", list(&case.truth));
    line("rank", case.rank.to_string());
    if !case.forbidden.is_empty() {
        line("forbidden", list(&case.forbidden));
    }
    if !case.note.is_empty() {
        line("note", quoted(&case.note));
    }
    text.push(')');
    text
}

fn list(ids: &[Id]) -> String {
    let ids: Vec<String> = ids.iter().map(|id| quoted(id)).collect();
    format!("[{}]", ids.join(", "))
}

fn word(fact: Fact) -> &'static str {
    match fact {
        Fact::Yes => "yes",
        Fact::ProbablyYes => "probably_yes",
        Fact::ProbablyNo => "probably_no",
        Fact::No => "no",
    }
}

/// A text as it stands in a file.
fn quoted(text: &str) -> String {
    ron::to_string(text).unwrap_or_default()
}
