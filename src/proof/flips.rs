//! Turns cases played before and after into those that flip, and into means before and after.

use crate::editing::{Change, between, compare};
use crate::knowledge::schema::Id;
use crate::knowledge::{Knowledge, Loaded, Problem};
use crate::trial::{Mark, Outcome, outcome};
use serde::Serialize;
use std::rc::Rc;

/// One case before and after; none = the case is not there. Why it could not be played, in words.
#[derive(Debug, Clone, PartialEq)]
pub struct Played {
    /// Case.
    pub id: Id,
    /// With the old knowledge.
    pub before: Option<Result<Outcome, String>>,
    /// With the new one.
    pub after: Option<Result<Outcome, String>>,
}

/// Plays one case with both states of the knowledge, each by its own words for the case.
pub fn play(old: &Rc<Knowledge>, new: &Rc<Knowledge>, id: &str, ask: bool) -> Played {
    let one = |knowledge: &Rc<Knowledge>| {
        let case = knowledge.all.cases.get(id)?;
        Some(outcome(knowledge, case, ask).map_err(|error| error.to_string()))
    };
    Played { id: id.to_owned(), before: one(old), after: one(new) }
}

/// Which way a case went.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Turn {
    /// The truth stands lower, or something forbidden is advised first now.
    Worse,
    /// The truth stands higher, or nothing forbidden is advised any more.
    Better,
    /// The case is new or gone.
    Other,
}

/// A case that came out otherwise, in one of the two ways of playing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Flip {
    /// Case.
    pub case: Id,
    /// Which way.
    pub turn: Turn,
    /// True if it was asked step by step; false if all facts were given.
    pub asked: bool,
    /// Rank of the truth before; none = it could not be played, or was not there.
    pub before: Option<usize>,
    /// Rank after.
    pub after: Option<usize>,
    /// The cause that stood first before.
    pub first_before: Option<Id>,
    /// The cause that stands first now.
    pub first_after: Option<Id>,
    /// Forbidden advice that is new.
    pub forbidden: Vec<Id>,
    /// Why it cannot be played any more.
    pub trouble: Option<String>,
}

/// Means over the cases that could be played before and after. Fractions are 0 to 1.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize)]
pub struct Standing {
    /// Halved Brier score, 0 to 1; lower is better.
    pub brier: f64,
    /// Share of cases with the truth first, all facts given.
    pub top1: f64,
    /// Among the first three.
    pub top3: f64,
    /// The same two, asked; none = not asked.
    pub asked: Option<(f64, f64)>,
}

/// What an edit does, told before it is saved.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Proof {
    /// Every change.
    pub changes: Vec<Change>,
    /// Problems that are new.
    pub new_problems: Vec<Problem>,
    /// Problems that are gone.
    pub gone_problems: Vec<Problem>,
    /// Cases that were played.
    pub played: usize,
    /// Cases of the new knowledge.
    pub cases: usize,
    /// Those that flip, worse ones first, else in the order of the files.
    pub flips: Vec<Flip>,
    /// Before.
    pub before: Standing,
    /// After.
    pub after: Standing,
}

impl Proof {
    /// The proof of an edit from its two states and the cases played.
    pub fn of(old: &Loaded, new: &Loaded, played: &[Played]) -> Self {
        let (new_problems, gone) = between(&old.problems, &new.problems);
        let mut flips: Vec<Flip> = played.iter().flat_map(flips).collect();
        flips.sort_by_key(|flip| flip.turn != Turn::Worse);
        Self {
            changes: compare(&old.knowledge, &new.knowledge),
            new_problems: new_problems.into_iter().cloned().collect(),
            gone_problems: gone.into_iter().cloned().collect(),
            played: played.len(),
            cases: new.knowledge.all.cases.len(),
            flips,
            before: standing(played, |played| (&played.before, &played.after)),
            after: standing(played, |played| (&played.after, &played.before)),
        }
    }

    /// The cases that get worse, each once.
    pub fn worse(&self) -> Vec<&str> {
        let mut worse: Vec<&str> = Vec::new();
        for flip in self.flips.iter().filter(|flip| flip.turn == Turn::Worse) {
            if !worse.contains(&flip.case.as_str()) {
                worse.push(&flip.case);
            }
        }
        worse
    }

    /// True if warnings, stop rules or gates change: a second person looks at that.
    pub fn touches_safety(&self) -> bool {
        self.changes.iter().any(|change| change.safety)
    }
}

/// The flips of one case: given, and asked where both were.
fn flips(played: &Played) -> Vec<Flip> {
    let of = |came: &Option<Result<Outcome, String>>| came.as_ref().and_then(|came| came.as_ref().ok()).cloned();
    let (before, after) = (of(&played.before), of(&played.after));
    let trouble = played.after.as_ref().and_then(|after| after.as_ref().err()).cloned();
    let given = |outcome: &Option<Outcome>| outcome.as_ref().map(|outcome| outcome.given.clone());
    let asked = |outcome: &Option<Outcome>| outcome.as_ref().and_then(|o| o.asked.clone()).map(|(mark, _)| mark);
    let mut found = Vec::new();
    found.extend(flip(played, false, (given(&before), given(&after)), trouble.as_ref()));
    if let (Some(before), Some(after)) = (asked(&before), asked(&after)) {
        found.extend(flip(played, true, (Some(before), Some(after)), None));
    }
    found
}

fn flip(
    played: &Played,
    asked: bool,
    (before, after): (Option<Mark>, Option<Mark>),
    trouble: Option<&String>,
) -> Option<Flip> {
    let bad = |mark: &Option<Mark>| mark.as_ref().map(|mark| mark.forbidden.clone()).unwrap_or_default();
    let (bad_before, bad_after) = (bad(&before), bad(&after));
    let fresh: Vec<Id> = bad_after.iter().filter(|id| !bad_before.contains(id)).cloned().collect();
    let rank = |mark: &Option<Mark>| mark.as_ref().map(|mark| mark.rank);
    let (was, is) = (rank(&before), rank(&after));
    let turn = match (was, is) {
        _ if played.before.is_none() || played.after.is_none() => Turn::Other,
        (Some(_), None) => Turn::Worse,
        (None, Some(_)) => Turn::Better,
        (None, None) => return None,
        (Some(was), Some(is)) if was < is || (was == is && !fresh.is_empty()) => Turn::Worse,
        (Some(was), Some(is)) if is < was && fresh.is_empty() => Turn::Better,
        // Higher up, yet with forbidden advice that is new: the harm counts.
        (Some(was), Some(is)) if is < was => Turn::Worse,
        _ if bad_after.len() < bad_before.len() => Turn::Better,
        _ => return None,
    };
    Some(Flip {
        case: played.id.clone(),
        turn,
        asked,
        before: was,
        after: is,
        first_before: before.map(|mark| mark.first),
        first_after: after.map(|mark| mark.first),
        forbidden: fresh,
        trouble: trouble.cloned(),
    })
}

type Came = Option<Result<Outcome, String>>;

/// Means of one side, over the cases that both sides could play.
fn standing(played: &[Played], sides: impl Fn(&Played) -> (&Came, &Came)) -> Standing {
    let both = played.iter().filter_map(|played| match sides(played) {
        (Some(Ok(this)), Some(Ok(_))) => Some(this),
        _ => None,
    });
    let outcomes: Vec<&Outcome> = both.collect();
    let mean = |value: &dyn Fn(&Outcome) -> f64| {
        outcomes.iter().map(|outcome| value(outcome)).sum::<f64>() / outcomes.len().max(1) as f64
    };
    let within = |rank: usize, most: usize| if rank <= most { 1.0 } else { 0.0 };
    let asked_rank = |outcome: &Outcome| outcome.asked.as_ref().map_or(usize::MAX, |(mark, _)| mark.rank);
    let asked = !outcomes.is_empty() && outcomes.iter().all(|outcome| outcome.asked.is_some());
    Standing {
        brier: mean(&|outcome| outcome.brier),
        top1: mean(&|outcome| within(outcome.given.rank, 1)),
        top3: mean(&|outcome| within(outcome.given.rank, 3)),
        asked: asked.then(|| {
            (mean(&|outcome| within(asked_rank(outcome), 1)), mean(&|outcome| within(asked_rank(outcome), 3)))
        }),
    }
}
