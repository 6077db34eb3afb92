//! Turns a practice job that has ended into what there is to learn from it.

use super::exercise::{Done, Exercise};
use super::moves::Move;
use super::score::{Score, Slip};
use crate::knowledge::schema::Id;

/// What there is to learn.
#[derive(Debug, Clone, PartialEq)]
pub struct Debrief {
    /// What was the matter: name of each fault.
    pub truth: Vec<String>,
    /// What was named, each with how sure in percent; empty if it was given up.
    pub named: Vec<(String, f64)>,
    /// The checks done, beside the best one open at each.
    pub steps: Vec<StepRow>,
    /// The planner's checks on the same pump, each with its minutes.
    pub planner: Vec<(String, f64)>,
    /// Minutes: done, planner.
    pub minutes: (f64, f64),
    /// Unsafe moves: what, and what should have come before.
    pub unsafe_moves: Vec<(String, String)>,
    /// What was good and what was not, a sentence each.
    pub remarks: Vec<String>,
    /// The one thing to do better next time.
    pub better: String,
    /// What the lesson teaches.
    pub teaches: String,
    /// A case of the same kind: its words and what was the matter.
    pub related: Option<(String, String)>,
}

/// One check of the path.
#[derive(Debug, Clone, PartialEq)]
pub struct StepRow {
    /// Name of the check.
    pub name: String,
    /// Minutes it took.
    pub minutes: f64,
    /// Minutes saved per minute, and the best that was open.
    pub rates: (f64, f64),
    /// Name of the best check open then, if another.
    pub best: Option<String>,
    /// True if it could tell next to nothing.
    pub idle: bool,
}

/// What there is to learn from a practice job; `planner` is the same lesson on the same pump, played by the planner.
pub fn debrief(exercise: &Exercise, planner: &Exercise, score: &Score) -> Debrief {
    let sitting = &exercise.sitting;
    let name = |id: &Id| name_of(exercise, id);
    let related = exercise.lesson.1.related.as_ref().and_then(|id| sitting.knowledge.all.cases.get(id));
    Debrief {
        truth: exercise.lesson.1.faults.keys().map(name).collect(),
        named: exercise.named.iter().flatten().map(|(id, sure)| (name(id), 100.0 * sure)).collect(),
        steps: exercise.done.iter().map(|done| row(exercise, done)).collect(),
        planner: planner.done.iter().map(|done| (done.name.clone(), done.minutes)).collect(),
        minutes: (score.minutes, score.planner_minutes),
        unsafe_moves: exercise.misses.iter().map(|miss| (miss.what.clone(), miss.instead.0.clone())).collect(),
        remarks: remarks(exercise, score),
        better: better(exercise, score),
        teaches: exercise.lesson.1.teaches.clone(),
        related: related.map(|case| (case.told.clone(), case.truth.iter().map(name).collect::<Vec<_>>().join("; "))),
    }
}

fn name_of(exercise: &Exercise, id: &Id) -> String {
    let known = exercise.sitting.knowledge.kind_of(id).is_some();
    if known { exercise.sitting.name_of(id) } else { format!("{} (not in the graph)", id.replace('_', " ")) }
}

fn row(exercise: &Exercise, done: &Done) -> StepRow {
    let best = done.best.as_ref().filter(|(id, ..)| *id != done.check && done.rate() < done.best_rate());
    StepRow {
        name: done.name.clone(),
        minutes: done.minutes,
        rates: (done.rate(), done.best_rate()),
        best: best.and_then(|(id, ..)| exercise.sitting.knowledge.all.checks.get(id)).map(|check| check.name.clone()),
        idle: done.is_idle(),
    }
}

fn remarks(exercise: &Exercise, score: &Score) -> Vec<String> {
    let mut said = Vec::new();
    said.push(match (score.right, exercise.named.as_ref().is_some_and(Vec::is_empty)) {
        (true, _) => "You found what was the matter.".to_owned(),
        (false, true) => "You gave it up.".to_owned(),
        (false, false) => "What you named was not the matter, or not all of it.".to_owned(),
    });
    if score.slips.contains(&Slip::DamageForCause) {
        said.push("You named what the fault did, not why: the part put in would break again.".to_owned());
    }
    if score.slips.contains(&Slip::TooEarly) {
        said.push("You named it while it was still less likely than not and more could be asked.".to_owned());
    }
    if score.slips.contains(&Slip::Unproved) {
        said.push("You would have put a part in before anything proved it.".to_owned());
    }
    if 0 < score.idle {
        said.push(format!("{} of your checks could tell next to nothing for what they took.", score.idle));
    }
    for (sure, right) in &score.sure {
        match (*right, *sure) {
            (false, sure) if 0.8 <= sure => {
                said.push(format!("You were {:.0} % sure of something wrong.", 100.0 * sure));
            }
            (true, sure) if sure <= 0.4 => said.push(format!("You were only {:.0} % sure, and right.", 100.0 * sure)),
            _ => {}
        }
    }
    let first = exercise.thoughts.first();
    if let Some((_, node)) = first.filter(|(done, _)| *done == 0) {
        said.push(format!("Before the first check you thought of: {}.", name_of(exercise, node)));
    }
    said
}

/// The gravest first; one thing alone.
fn better(exercise: &Exercise, score: &Score) -> String {
    if let Some(miss) = exercise.misses.first() {
        return format!("Safety first: {}.", miss.instead.0);
    }
    let worst = exercise.done.iter().max_by(|a, b| (a.best_rate() - a.rate()).total_cmp(&(b.best_rate() - b.rate())));
    if score.slips.contains(&Slip::DamageForCause) {
        "Ask why the part broke before you name it.".to_owned()
    } else if score.slips.contains(&Slip::TooEarly) {
        "Ask one more telling question before you settle on a cause.".to_owned()
    } else if score.slips.contains(&Slip::Unproved) {
        "Look at the part, or measure, before you put a new one in.".to_owned()
    } else if !score.right {
        "Write down what else would show the same, and find the check that parts them.".to_owned()
    } else if let Some((done, (best, ..))) =
        worst.filter(|done| done.rate() < 0.5 * done.best_rate()).and_then(|done| Some((done, done.best.as_ref()?)))
    {
        let best = exercise.sitting.knowledge.all.checks.get(best).map_or(best.as_str(), |check| check.name.as_str());
        format!("In place of “{}”, “{best}” would have told more for its minutes.", done.name)
    } else {
        "Nothing: do it again on another pump.".to_owned()
    }
}

impl Exercise {
    /// Plays the lesson to its end by the planner, at most `most` moves; each move is handed out before it is made.
    pub fn play_out(&mut self, most: usize, mut before: impl FnMut(&Self, &Move)) {
        for _ in 0..most {
            let made = self.planned();
            before(self, &made);
            if self.make(&made).is_err() || made.ends() {
                break;
            }
        }
        if self.named.is_none() {
            self.named = Some(Vec::new());
        }
    }
}
