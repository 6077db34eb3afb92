//! Turns the marks of all cases into shares, means and the list of failing cases.

use super::marks::{CaseMarks, Mark};
use crate::knowledge::Knowledge;
use crate::knowledge::schema::{Case, Id};
use serde::Serialize;

/// When asked, the truth must stand among so many, or at its expected rank if that is lower down.
const AMONG: usize = 3;

/// The knowledge tried on all its cases. Fractions are 0 to 1.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Report {
    /// Number of cases.
    pub cases: usize,
    /// With all facts entered at once.
    pub given: Shares,
    /// With the planner asking.
    pub asked: Asked,
    /// Mean halved Brier score of the lists with all facts entered, 0 to 1; lower is better.
    pub brier: f64,
    /// Cases that came out worse than expected, in the order of the files.
    pub failing: Vec<Failing>,
}

/// Shares of cases by rank of the true cause's decision class.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Shares {
    /// First.
    pub top1: f64,
    /// Among the first three.
    pub top3: f64,
}

/// Shares, and what the asking took.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Asked {
    /// Shares by rank.
    #[serde(flatten)]
    pub shares: Shares,
    /// Mean number of answers, can't-tells counted.
    pub mean_answers: f64,
}

/// A case that came out worse than expected.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Failing {
    /// Case id.
    pub case: Id,
    /// Family id.
    pub family: Id,
    /// The true causes.
    pub truth: Vec<Id>,
    /// Expected rank.
    pub expected: usize,
    /// Rank with all facts entered.
    pub given_rank: usize,
    /// What stood first instead.
    pub given_first: Id,
    /// Rank with the planner asking.
    pub asked_rank: usize,
    /// What stood first then.
    pub asked_first: Id,
    /// Answers it took.
    pub answers: usize,
    /// What went wrong, in words.
    pub why: Vec<String>,
    /// What the case says about itself.
    pub note: String,
}

/// Sums up the marks of cases of this knowledge.
pub fn report(knowledge: &Knowledge, marks: &[CaseMarks]) -> Report {
    let failing = marks.iter().filter_map(|marks| failing(marks, knowledge.all.cases.get(&marks.id)?)).collect();
    Report {
        cases: marks.len(),
        given: shares(marks, |marks| &marks.given),
        asked: Asked {
            shares: shares(marks, |marks| &marks.asked),
            mean_answers: mean(marks, |marks| marks.answers as f64),
        },
        brier: mean(marks, |marks| marks.brier),
        failing,
    }
}

fn shares(marks: &[CaseMarks], of: impl Fn(&CaseMarks) -> &Mark) -> Shares {
    let within = |most: usize| mean(marks, |marks| if of(marks).rank <= most { 1.0 } else { 0.0 });
    Shares { top1: within(1), top3: within(3) }
}

fn mean(marks: &[CaseMarks], value: impl Fn(&CaseMarks) -> f64) -> f64 {
    marks.iter().map(value).sum::<f64>() / marks.len().max(1) as f64
}

fn failing(marks: &CaseMarks, case: &Case) -> Option<Failing> {
    let mut why = Vec::new();
    if case.rank < marks.given.rank {
        why.push(format!("all facts given: rank {}, expected {}", marks.given.rank, case.rank));
    }
    let limit = case.rank.max(AMONG);
    if limit < marks.asked.rank {
        why.push(format!("asked: rank {}, not among the first {limit}", marks.asked.rank));
    }
    for (mode, mark) in [("all facts given", &marks.given), ("asked", &marks.asked)] {
        why.extend(mark.forbidden.iter().map(|id| format!("{mode}: advises `{id}` first, which is forbidden")));
    }
    (!why.is_empty()).then(|| Failing {
        case: marks.id.clone(),
        family: case.family.clone(),
        truth: case.truth.clone(),
        expected: case.rank,
        given_rank: marks.given.rank,
        given_first: marks.given.first.clone(),
        asked_rank: marks.asked.rank,
        asked_first: marks.asked.first.clone(),
        answers: marks.answers,
        why,
        note: case.note.clone(),
    })
}
