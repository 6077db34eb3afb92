//! Turns a case into a job: all its facts entered at once, or the planner's questions answered from it.

use crate::evidence::Answer;
use crate::job::{Entry, Event, Next, Refused, Sitting, SittingError, StepView};
use crate::knowledge::Knowledge;
use crate::knowledge::schema::{Case, Fact, Id};
use crate::planning::Rule;
use jiff::Timestamp;
use std::rc::Rc;
use thiserror::Error;

/// Answers after which asking ends, can't-tells counted.
pub const MOST_ANSWERS: usize = 12;
/// Things done without an answer (a stop, an isolation) after which a job that asks nothing is given up.
const MOST_GATES: usize = 40;

/// Why a case could not be played.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum TrialError {
    /// There is no such case.
    #[error("there is no case `{0}`")]
    NoSuchCase(Id),
    /// The job could not be opened.
    #[error(transparent)]
    Sitting(#[from] SittingError),
    /// Something in the case was not taken.
    #[error(transparent)]
    Refused(#[from] Refused),
    /// No true cause is in the graph of the family.
    #[error("no true cause of this case is in the graph of its family")]
    NoTruth,
}

/// The job with complaint, first minute, usual values and all facts, numbers and can't-tells of the case entered.
pub fn given(knowledge: &Rc<Knowledge>, case: &Case) -> Result<Sitting, TrialError> {
    let empty = opened(knowledge, case, Vec::new())?;
    let mut events = beginning(&empty, case)?;
    for (id, fact) in &case.facts {
        events.push(empty.answer(id, answer(*fact), None)?);
    }
    for (id, text) in &case.readings {
        events.push(empty.measure(id, text, None)?.event);
    }
    for id in &case.cant_tell {
        events.push(empty.answer(id, Answer::CantTell, None)?);
    }
    opened(knowledge, case, events)
}

/// A job that was asked.
pub struct AskedJob {
    /// As it stands at the end.
    pub sitting: Sitting,
    /// Answers given, can't-tells counted.
    pub answers: usize,
    /// The check proposed first.
    pub first_check: Option<Id>,
}

/// The job told complaint, first minute and usual values; then the planner asks by its base rule, what the case does not
/// hold, in these or other words for the same thing, is answered by can't-tell, stops are obeyed and isolation is proved. Ends with the asking or after
/// [`MOST_ANSWERS`].
pub fn asked(knowledge: &Rc<Knowledge>, case: &Case) -> Result<AskedJob, TrialError> {
    let empty = opened(knowledge, case, Vec::new())?;
    let mut job =
        AskedJob { sitting: opened(knowledge, case, beginning(&empty, case)?)?, answers: 0, first_check: None };
    for _ in 0..MOST_ANSWERS + MOST_GATES {
        if MOST_ANSWERS <= job.answers {
            break;
        }
        let event = match job.sitting.next() {
            Next::Stop(stop) => Event::StopAnswered { rule: stop.rule, stopped: true, words: "shut down".to_owned() },
            Next::Gate(gate) => {
                if let Some(step) = &gate.step {
                    job.first_check.get_or_insert(step.check.clone());
                }
                for event in gate.all_yes("R.K., fitter") {
                    job.sitting.apply(entry(event));
                }
                continue;
            }
            Next::Ask(step) => {
                let Some(event) = reply(&job.sitting, case, &step)? else { break };
                job.first_check.get_or_insert(step.check);
                job.answers += 1;
                event
            }
            Next::Sheet(_) | Next::Try(_) | Next::Return(_) | Next::Ended(_) => break,
        };
        job.sitting.apply(entry(event));
    }
    Ok(job)
}

/// What the case says to the first thing a step asks: the fact or number itself; else what it knows of the same
/// observation in other words; else can't-tell.
fn reply(sitting: &Sitting, case: &Case, step: &StepView) -> Result<Option<Event>, TrialError> {
    let Some(ask) = step.asks.first() else { return Ok(None) };
    let known = |id: &Id| case.facts.contains_key(id) || case.readings.contains_key(id);
    let open = |id: &Id| known(id) && !sitting.job.given.contains_key(id);
    let groups = sitting.knowledge.all.same_observation.values().filter(|group| group.contains(&ask.id));
    let told = std::iter::once(&ask.id).chain(groups.flatten()).find(|id| open(id)).unwrap_or(&ask.id);
    let check = Some(step.check.as_str());
    if let Some(text) = case.readings.get(told) {
        return Ok(Some(sitting.measure(told, text, check)?.event));
    }
    let answer = case.facts.get(told).map_or(Answer::CantTell, |fact| answer(*fact));
    Ok(Some(sitting.answer(told, answer, check)?))
}

fn opened(knowledge: &Rc<Knowledge>, case: &Case, events: Vec<Event>) -> Result<Sitting, TrialError> {
    let first = Event::opened(&case.family, (&knowledge.release, &knowledge.hash), None);
    let entries = std::iter::once(first).chain(events).map(entry).collect();
    let base_rule = Rule { end_game: f64::INFINITY, ..Rule::default() };
    Ok(Sitting::new(Rc::clone(knowledge), entries)?.choosing_by(base_rule))
}

fn beginning(empty: &Sitting, case: &Case) -> Result<Vec<Event>, TrialError> {
    let mut events = vec![empty.complaint(&case.told, &case.complaint)];
    events.extend(case.first_minute.iter().filter_map(|(question, choice)| empty.first_minute(question, *choice)));
    for (id, text) in &case.usual {
        events.push(empty.usual(id, text)?.event);
    }
    Ok(events)
}

fn entry(event: Event) -> Entry {
    Entry { at: Timestamp::UNIX_EPOCH, event }
}

fn answer(fact: Fact) -> Answer {
    match fact {
        Fact::Yes => Answer::Yes,
        Fact::ProbablyYes => Answer::ProbablyYes,
        Fact::ProbablyNo => Answer::ProbablyNo,
        Fact::No => Answer::No,
    }
}
