//! Turns the journal of a job into what it can teach: the confirmed cause, and what was said, asked or volunteered.

use crate::evidence::{Answer, Facts};
use crate::job::{ConfirmedBy, Ending, Entry, Event, Given, Job, JobSummary, Outcome, Where, confirmed_by};
use crate::knowledge::schema::{FirstQuestion, Id};
use crate::knowledge::{Graph, Knowledge};
use indexmap::{IndexMap, IndexSet};
use jiff::Timestamp;
use serde::Serialize;
use thiserror::Error;

/// What a job tells.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// The job's id.
    pub id: String,
    /// Id it began with: the same for copies that went different ways.
    pub root: String,
    /// Family.
    pub family: Id,
    /// Hash of the knowledge it was opened with.
    pub knowledge: String,
    /// When it was opened.
    pub opened: Timestamp,
    /// When it was closed last; none while it is open.
    pub closed: Option<Timestamp>,
    /// The confirmed cause, or why the job teaches nothing.
    pub confirmed: Result<Confirmed, Untaught>,
    /// True if all answers are about the same pump: nothing was changed on it that left it unwell.
    pub one_pump: bool,
    /// What was said and measured before anything was put right, in the order first given.
    pub observations: Vec<Observation>,
    /// The same for belief.
    pub facts: Facts,
}

/// A cause by the project's own rule: closed as confirmed, and seen or proved in the journal.
#[derive(Debug, Clone, PartialEq)]
pub struct Confirmed {
    /// Cause.
    pub cause: Id,
    /// How.
    pub by: ConfirmedBy,
}

/// Why a job teaches nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum Untaught {
    /// It is open.
    #[error("still open")]
    Open,
    /// It was closed without a confirmed cause.
    #[error("closed without a confirmed cause")]
    Unconfirmed,
    /// It says confirmed, but neither a direct look nor a proved repair stands in its journal.
    #[error("closed as confirmed, but neither a direct look nor a proved repair of that cause is in its journal")]
    WithoutProof,
    /// The confirmed cause is not in this knowledge, or not possible in this family.
    #[error("its cause is not in this knowledge")]
    UnknownCause,
}

/// How something came to be said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Said {
    /// It was asked: "no" would have been kept as well as "yes".
    Asked,
    /// Chosen in the first minute from answers that do not all speak of it: only what is there gets said.
    Chosen,
    /// Told unasked.
    Volunteered,
    /// The complaint itself.
    Complaint,
}

/// One answer or number.
#[derive(Debug, Clone, PartialEq)]
pub struct Observation {
    /// Finding, or reading with its running state.
    pub id: Id,
    /// What was given.
    pub given: Given,
    /// How it came to be said first.
    pub said: Said,
    /// True if another finding or reading had told the same observation before: it says nothing new.
    pub again: bool,
}

impl Observation {
    /// The plain answer, if it is one and was asked: what counts.
    pub fn counted(&self) -> Option<bool> {
        match (&self.given, self.said, self.again) {
            (Given::Answer(Answer::Yes), Said::Asked, false) => Some(true),
            (Given::Answer(Answer::No), Said::Asked, false) => Some(false),
            _ => None,
        }
    }
}

impl Told {
    /// What the entries of a journal tell; `graph` is that of the job's family. None if they begin without an opening.
    pub fn of(knowledge: &Knowledge, graph: &Graph, first_line: &str, entries: &[Entry]) -> Option<Self> {
        let summary = JobSummary::of(first_line, entries)?;
        let mut job = Job::default();
        for entry in entries {
            job.apply(entry.clone());
        }
        let closing = entries.iter().rev().find(|entry| matches!(entry.event, Event::Closed { .. }));
        let said = first_said(knowledge, entries);
        let before = job.work.before.as_ref().unwrap_or(&job.given);
        let again = told_again(knowledge, before.iter().filter(|(_, (given, ..))| speaks(given)).map(|(id, _)| id));
        let observations = before.iter().map(|(id, (given, _, from))| {
            let said = said.get(id).copied().unwrap_or(plain(from));
            Observation { said, again: again.contains(id), id: id.clone(), given: given.clone() }
        });
        let mut facts = job.facts(knowledge);
        facts.forget(&again);
        let unwell = |outcome: Option<Outcome>| matches!(outcome, Some(Outcome::Same | Outcome::Better));
        Some(Self {
            confirmed: confirmed(knowledge, graph, &job),
            one_pump: !job.work.repairs.iter().any(|repair| unwell(repair.outcome)),
            observations: observations.collect(),
            facts,
            closed: closing.map(|entry| entry.at).filter(|_| job.closed.is_some()),
            knowledge: job.knowledge.1,
            id: summary.id,
            root: summary.root,
            family: summary.family,
            opened: summary.opened,
        })
    }
}

fn confirmed(knowledge: &Knowledge, graph: &Graph, job: &Job) -> Result<Confirmed, Untaught> {
    let (ending, cause, _) = job.closed.as_ref().ok_or(Untaught::Open)?;
    let cause = cause.as_ref().filter(|_| *ending == Ending::Confirmed).ok_or(Untaught::Unconfirmed)?;
    let node = graph.node(cause).filter(|_| knowledge.all.causes.contains_key(cause)).ok_or(Untaught::UnknownCause)?;
    let by = confirmed_by(knowledge, graph, job, node).ok_or(Untaught::WithoutProof)?;
    Ok(Confirmed { cause: cause.clone(), by })
}

/// How each finding or reading was said the first time it said anything. What was told unasked stays so when it is asked
/// again: the answer was known before.
fn first_said(knowledge: &Knowledge, entries: &[Entry]) -> IndexMap<Id, Said> {
    let mut first: IndexMap<Id, Said> = IndexMap::new();
    let mut say = |id: &Id, said: Said| {
        first.entry(id.clone()).or_insert(said);
    };
    let asked = |check: &Option<Id>| if check.is_some() { Said::Asked } else { Said::Volunteered };
    for entry in entries {
        match &entry.event {
            Event::Complaint { findings, .. } => findings.iter().for_each(|id| say(id, Said::Complaint)),
            Event::FirstMinute { question, yes, no, .. } => {
                let question = knowledge.all.first_minute.get(question);
                for id in yes.iter().chain(no) {
                    say(id, if question.is_some_and(|q| decides(q, id)) { Said::Asked } else { Said::Chosen });
                }
            }
            Event::Answered { finding, answer, check } if answer.speaks() => say(finding, asked(check)),
            Event::Measured { reading, check, .. } => say(reading, asked(check)),
            _ => {}
        }
    }
    first
}

fn speaks(given: &Given) -> bool {
    match given {
        Given::Answer(answer) => answer.speaks(),
        Given::Number(..) => true,
    }
}

/// Those of these ids, in the order given, that another word for the same observation had come before. Whichever came first
/// counts, whatever it said: to prefer a "yes" would raise the counts.
fn told_again<'a>(knowledge: &Knowledge, ids: impl Iterator<Item = &'a Id>) -> IndexSet<Id> {
    let (mut before, mut again): (Vec<&Id>, IndexSet<Id>) = (Vec::new(), IndexSet::new());
    for id in ids {
        let with_it = knowledge.all.same_observation.values().filter(|group| group.contains(id));
        if with_it.into_iter().any(|group| group.iter().any(|other| before.contains(&other))) {
            again.insert(id.clone());
        } else {
            before.push(id);
        }
    }
    again
}

/// True if every choice of the question that says anything speaks of the finding.
fn decides(question: &FirstQuestion, id: &Id) -> bool {
    let mut speaking = question.choices.iter().filter(|choice| !(choice.yes.is_empty() && choice.no.is_empty()));
    speaking.all(|choice| choice.yes.contains(id) || choice.no.contains(id))
}

fn plain(from: &Where) -> Said {
    match from {
        Where::Complaint => Said::Complaint,
        Where::FirstMinute => Said::Chosen,
        Where::Check(_) => Said::Asked,
        Where::Volunteered => Said::Volunteered,
    }
}
