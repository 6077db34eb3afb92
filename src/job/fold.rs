//! Turns a journal's events into the state of the job.

use super::event::{Ending, Entry, Event, Outcome, PumpNote};
use super::work::Work;
use crate::evidence::{Answer, Facts, Measured, quantity_of};
use crate::knowledge::Knowledge;
use crate::knowledge::schema::Id;
use indexmap::{IndexMap, IndexSet};
use jiff::Timestamp;
use jiff::civil::Date;

/// Where an answer came from.
#[derive(Debug, Clone, PartialEq)]
pub enum Where {
    /// Said by the operator as the complaint.
    Complaint,
    /// A question of the first minute.
    FirstMinute,
    /// Asked within a check.
    Check(Id),
    /// Volunteered.
    Volunteered,
}

/// What was given: an answer or a number.
#[derive(Debug, Clone, PartialEq)]
pub enum Given {
    /// One of the seven answers.
    Answer(Answer),
    /// A number as typed, and in SI.
    Number(String, f64),
}

/// The state of a job: a fold of its events.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Job {
    /// Family id.
    pub family: Id,
    /// Program version that opened it.
    pub program: String,
    /// Knowledge release and hash it was opened with.
    pub knowledge: (String, String),
    /// The pump.
    pub pump: Option<PumpNote>,
    /// When it was opened.
    pub opened: Option<Timestamp>,
    /// When the last event came.
    pub last: Option<Timestamp>,
    /// Complaint, verbatim.
    pub words: Vec<String>,
    /// Answers of the first minute: question and what was said.
    pub first_minute: IndexMap<Id, String>,
    /// What was given, in the order first given, with when and where it came from.
    pub given: IndexMap<Id, (Given, Timestamp, Where)>,
    /// Usual values: as typed and in SI.
    pub usual: IndexMap<Id, (String, f64)>,
    /// Checks that cannot be done now, with the reason.
    pub barred: IndexMap<Id, String>,
    /// Stop rules answered: stopped or run on, with the words.
    pub stops: IndexMap<Id, (bool, String)>,
    /// Remarks.
    pub notes: Vec<String>,
    /// What was changed and put right, and how far the return to service is.
    pub work: Work,
    /// Questions before closing, with what was said; empty = skipped.
    pub second_thoughts: IndexMap<String, String>,
    /// How it was closed.
    pub closed: Option<(Ending, Option<Id>, String)>,
    /// Codes given, in the order given.
    pub codes: IndexSet<Id>,
    /// Initials and role of who closed or handed over last.
    pub signed: Option<String>,
    /// The day on which somebody looks again.
    pub follow_up: Option<Date>,
    /// All entries, for the record and replay.
    pub entries: Vec<Entry>,
}

impl Job {
    /// Adds one event.
    pub fn apply(&mut self, entry: Entry) {
        let at = entry.at;
        self.last = Some(at);
        self.work.apply(&entry, &self.given);
        match entry.event.clone() {
            Event::Opened { program, family, release, hash, pump, .. } => {
                self.opened = Some(at);
                (self.program, self.family, self.knowledge) = (program, family, (release, hash));
                let usual = pump.iter().flat_map(|note| note.usual.clone());
                self.usual.extend(usual.map(|(id, text, si)| (id, (text, si))));
                self.pump = pump.map(|pump| *pump);
            }
            Event::Complaint { words, findings } => {
                self.words.push(words);
                for id in findings {
                    self.give(id, Given::Answer(Answer::Yes), at, Where::Complaint);
                }
            }
            Event::FirstMinute { question, say, yes, no } => {
                self.first_minute.insert(question, say);
                for (ids, answer) in [(yes, Answer::Yes), (no, Answer::No)] {
                    for id in ids {
                        self.give(id, Given::Answer(answer), at, Where::FirstMinute);
                    }
                }
            }
            Event::Answered { finding, answer, check } => {
                self.give(finding, Given::Answer(answer), at, place(check));
            }
            Event::Measured { reading, text, si, check } => {
                self.give(reading, Given::Number(text, si), at, place(check));
            }
            Event::Usual { reading, text, si } => {
                self.usual.insert(reading, (text, si));
            }
            Event::Sheet { pump } => {
                self.usual.extend(pump.usual.iter().map(|(id, text, si)| (id.clone(), (text.clone(), *si))));
                self.pump = Some(*pump);
            }
            Event::Withdrawn { id } => {
                self.given.shift_remove(&id);
            }
            Event::Barred { check, reason } => {
                self.barred.insert(check, reason);
            }
            Event::Isolation { .. }
            | Event::ZeroProved(_)
            | Event::Liquid { .. }
            | Event::FirstRun { .. }
            | Event::Back
            | Event::Changed { .. }
            | Event::SheetsBegun { .. }
            | Event::SheetStep { .. }
            | Event::SheetsLeft { .. }
            | Event::ProofLine { .. }
            | Event::Branched { .. } => {}
            Event::Tried { outcome, .. } => self.tried(outcome, at),
            Event::Returned { passed, .. } => self.keep_good_values(passed),
            Event::SecondThought { question, words } => {
                self.second_thoughts.insert(question, words);
            }
            Event::StopAnswered { rule, stopped, words } => {
                self.stops.insert(rule, (stopped, words));
            }
            Event::Note { text } => self.notes.push(text),
            Event::Closed { ending, cause, words } => self.closed = Some((ending, cause, words)),
            Event::Reopened => self.closed = None,
            Event::Coded { code } => {
                self.codes.shift_remove(&code);
                self.codes.insert(code);
            }
            Event::Signed { who } => self.signed = Some(who),
            Event::FollowUp { on } => self.follow_up = Some(on),
        }
        self.entries.push(entry);
    }

    /// The pump was tried and is not well: the complaint holds as of now.
    fn tried(&mut self, outcome: Outcome, at: Timestamp) {
        if outcome == Outcome::Well {
            return;
        }
        for (_, given_at, from) in self.given.values_mut() {
            if *from == Where::Complaint {
                *given_at = at;
            }
        }
    }

    /// Readings of a passed return to service are this pump's usual values from now on.
    fn keep_good_values(&mut self, passed: bool) {
        let good = self.work.proof.values().filter(|line| passed && line.passed != Some(false));
        let good = good.filter_map(|line| Some((line.reading.clone()?, (line.text.clone(), line.si?))));
        self.usual.extend(good.collect::<Vec<_>>());
    }

    fn give(&mut self, id: Id, given: Given, at: Timestamp, from: Where) {
        self.given.insert(id, (given, at, from));
    }

    /// The facts of the job, for belief.
    pub fn facts(&self, knowledge: &Knowledge) -> Facts {
        let mut facts = Facts::default();
        let quantity = |id: &str, si: f64| quantity_of(knowledge, id, si);
        let given = self.work.before.as_ref().unwrap_or(&self.given);
        let given_itself = |id: &str| given.contains_key(id);
        for (said, (given, _, from)) in given {
            // What was said of a finding since retired stands for the one in its place, unless that was answered itself.
            let id = knowledge.current(said);
            if id != said && given_itself(id) {
                continue;
            }
            match given {
                Given::Answer(_) if *from == Where::Complaint => facts.complaint.push(id.to_owned()),
                Given::Answer(answer) => {
                    facts.answers.insert(id.to_owned(), *answer);
                }
                Given::Number(text, si) => {
                    if let Some(quantity) = quantity(id, *si) {
                        facts.numbers.insert(id.to_owned(), Measured { quantity, text: text.clone() });
                    }
                }
            }
        }
        let usual = self.usual.iter().filter_map(|(id, (_, si))| Some((id.clone(), quantity(id, *si)?)));
        facts.usual = usual.collect();
        facts
    }

    /// Checks from which something came.
    pub fn begun(&self) -> IndexSet<Id> {
        let checks = self.given.values().filter_map(|(_, _, from)| match from {
            Where::Check(check) => Some(check.clone()),
            _ => None,
        });
        checks.collect()
    }

    /// Minutes from the first to the last event.
    pub fn minutes(&self) -> i64 {
        match (self.opened, self.last) {
            (Some(from), Some(to)) => (to.as_second() - from.as_second()).max(0) / 60,
            _ => 0,
        }
    }
}

fn place(check: Option<Id>) -> Where {
    check.map_or(Where::Volunteered, Where::Check)
}
