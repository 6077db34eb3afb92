//! Turns one case into marks: the rank of the truth when told and when asked, and forbidden advice that came first.

use super::play::{TrialError, asked, given};
use super::ranking::Ranking;
use crate::job::{Next, Sitting};
use crate::knowledge::Knowledge;
use crate::knowledge::schema::{Case, Id};
use std::rc::Rc;

/// Where the truth stands in one list.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Rank of the best placed true cause's decision class, from 1.
    pub rank: usize,
    /// The cause that stands first.
    pub first: Id,
    /// What must not be advised first but was: the first cause, its remedy, or the first check.
    pub forbidden: Vec<Id>,
}

/// The marks of one case.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseMarks {
    /// Case id.
    pub id: Id,
    /// With all facts entered at once.
    pub given: Mark,
    /// Halved Brier score of that list, 0 to 1.
    pub brier: f64,
    /// With the planner asking.
    pub asked: Mark,
    /// Answers it took.
    pub answers: usize,
}

/// How one case came out.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// With all facts entered at once.
    pub given: Mark,
    /// Halved Brier score of that list, 0 to 1.
    pub brier: f64,
    /// With the planner asking, and the answers it took; none = not asked.
    pub asked: Option<(Mark, usize)>,
}

/// Plays a case told everything at once and, if wanted, asked too.
pub fn outcome(knowledge: &Rc<Knowledge>, case: &Case, ask: bool) -> Result<Outcome, TrialError> {
    let told = given(knowledge, case)?;
    let by_asking = || -> Result<(Mark, usize), TrialError> {
        let job = asked(knowledge, case)?;
        Ok((one(&job.sitting, case, job.first_check)?, job.answers))
    };
    Ok(Outcome {
        brier: Ranking::of(&told).brier(knowledge, &case.truth),
        given: one(&told, case, next_check(&told, case))?,
        asked: ask.then(by_asking).transpose()?,
    })
}

/// Plays a case both ways.
pub fn mark(knowledge: &Rc<Knowledge>, id: &str) -> Result<CaseMarks, TrialError> {
    let case = knowledge.all.cases.get(id).ok_or_else(|| TrialError::NoSuchCase(id.to_owned()))?;
    let Outcome { given, brier, asked } = outcome(knowledge, case, true)?;
    let (asked, answers) = asked.ok_or(TrialError::NoTruth)?;
    Ok(CaseMarks { id: id.to_owned(), given, brier, asked, answers })
}

fn one(sitting: &Sitting, case: &Case, check: Option<Id>) -> Result<Mark, TrialError> {
    let knowledge = &sitting.knowledge;
    let ranking = Ranking::of(sitting);
    let rank = ranking.rank(knowledge, &case.truth).ok_or(TrialError::NoTruth)?;
    let first = ranking.0.first().map(|class| class.first.clone()).ok_or(TrialError::NoTruth)?;
    let remedy = knowledge.all.causes.get(&first).and_then(|cause| cause.remedy.clone());
    let advice = [Some(first.clone()), remedy, check];
    let forbidden = advice.into_iter().flatten().filter(|id| case.forbidden.contains(id)).collect();
    Ok(Mark { rank, first, forbidden })
}

/// The check that would come next; not worked out where none is forbidden.
fn next_check(sitting: &Sitting, case: &Case) -> Option<Id> {
    if !case.forbidden.iter().any(|id| sitting.knowledge.all.checks.contains_key(id)) {
        return None;
    }
    match sitting.next() {
        Next::Ask(step) => Some(step.check),
        Next::Gate(gate) => gate.step.map(|step| step.check),
        Next::Stop(_) | Next::Sheet(_) | Next::Try(_) | Next::Return(_) | Next::Ended(_) => None,
    }
}
