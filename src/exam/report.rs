//! Turns the marks of many jobs into the figures of a report.

use super::disagree::Disagreement;
use super::figure::Figure;
use super::marks::{AFTER, Effort, JobMarks, Stand, calibration_error};
use crate::knowledge::schema::Id;
use indexmap::IndexMap;
use serde::Serialize;

/// Answers after which the list is judged where one number has to do.
pub const TOP: usize = 10;

/// The figures of an examination; shares are 0 to 1.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Report {
    /// Jobs played.
    pub jobs: usize,
    /// Pumps that showed nothing to complain of and were drawn again.
    pub redrawn: usize,
    /// By answers given: a fault stands first.
    pub top1: IndexMap<String, Figure>,
    /// By answers given: a fault is among the first three.
    pub top3: IndexMap<String, Figure>,
    /// By answers given: every fault is among the first five.
    pub all_in_top5: IndexMap<String, Figure>,
    /// Jobs in which every fault was found.
    pub solved: Figure,
    /// Minutes until every fault was found.
    pub minutes_mean: Figure,
    /// The same in a fixed order of direct looks.
    pub minutes_mean_fixed_order: Figure,
    /// The first over the second.
    pub minutes_ratio_fixed_order: Figure,
    /// Jobs solved in the fixed order.
    pub solved_fixed_order: Figure,
    /// Answers in the middle job.
    pub questions_median: Figure,
    /// Openings a job.
    pub openings_mean: Figure,
    /// Jobs in which something was confirmed that is not there.
    pub wrong_confirmations: Figure,
    /// The same in the fixed order.
    pub wrong_confirmations_fixed_order: Figure,
    /// Distance between belief and truth after ten answers, in ten bins.
    pub calibration_error: Figure,
    /// Halved Brier score after ten answers.
    pub brier: Figure,
    /// Faults outside the graph: "something not in this graph" is among the first three after ten answers.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outside_top3: Option<Figure>,
    /// What stood first after ten answers instead of the truth, commonest first.
    pub confusions: Vec<Confusion>,
    /// Links on which graph and simulation part.
    pub disagreements: Vec<Disagreement>,
    /// Jobs also played by the rule of the screen.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub paired: Option<Paired>,
}

/// A fault and what stood first instead.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Confusion {
    /// The faults that were there.
    pub truth: Vec<Id>,
    /// What stood first.
    pub first: Id,
    /// In so many jobs.
    pub count: usize,
}

/// The same jobs by the rule of the screen, less the base rule.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Paired {
    /// Minutes more.
    pub minutes_more: Figure,
    /// Answers more.
    pub answers_more: Figure,
    /// Jobs solved by the rule of the screen.
    pub solved: Figure,
    /// The same jobs solved by the base rule.
    pub solved_base_rule: Figure,
}

/// The figures of these jobs; with the efforts by the rule of the screen of the first ones.
pub fn report(jobs: &[JobMarks], outside: bool, full: &[Effort], disagreements: Vec<Disagreement>) -> Report {
    let inside: &[JobMarks] = if outside { &[] } else { jobs };
    let fixed: Vec<Effort> = inside.iter().filter_map(|job| job.fixed).collect();
    let minutes = |efforts: &[Effort]| Figure::mean(&of(efforts, |effort| effort.minutes));
    let planned: Vec<Effort> = inside.iter().map(|job| job.planned).collect();
    let pairs: Vec<(f64, f64)> = planned.iter().zip(&fixed).map(|(ours, list)| (ours.minutes, list.minutes)).collect();
    let answers: Vec<f64> = jobs.iter().map(|job| job.planned.answers as f64).collect();
    Report {
        jobs: jobs.len(),
        redrawn: jobs.iter().map(|job| job.redrawn).sum(),
        top1: by_answers(jobs, |stand| stand.best() <= 1),
        top3: by_answers(jobs, |stand| stand.best() <= 3),
        all_in_top5: by_answers(jobs, |stand| stand.worst() <= 5),
        solved: Figure::share_of(&planned, |effort| effort.solved),
        minutes_mean: minutes(&planned),
        minutes_mean_fixed_order: minutes(&fixed),
        minutes_ratio_fixed_order: Figure::ratio(&pairs),
        solved_fixed_order: Figure::share_of(&fixed, |effort| effort.solved),
        questions_median: Figure::median(&answers),
        openings_mean: Figure::mean(&of(&planned, |effort| effort.openings as f64)),
        wrong_confirmations: Figure::share_of(&planned, |effort| 0 < effort.wrong),
        wrong_confirmations_fixed_order: Figure::share_of(&fixed, |effort| 0 < effort.wrong),
        calibration_error: Figure::drawn(jobs, |drawn| {
            calibration_error(drawn.iter().flat_map(|job| &job.believed.classes))
        }),
        brier: Figure::mean(&jobs.iter().map(|job| job.believed.brier).collect::<Vec<_>>()),
        outside_top3: outside.then(|| Figure::share_of(jobs, |job| stand(job, TOP).is_some_and(|one| one.best() <= 3))),
        confusions: confusions(jobs),
        disagreements,
        paired: (!full.is_empty()).then(|| paired(&planned, full)),
    }
}

fn of(efforts: &[Effort], what: impl Fn(&Effort) -> f64) -> Vec<f64> {
    efforts.iter().map(what).collect()
}

fn stand(job: &JobMarks, answers: usize) -> Option<&Stand> {
    job.stands.iter().find(|stand| stand.answers == answers)
}

fn by_answers(jobs: &[JobMarks], holds: impl Fn(&Stand) -> bool) -> IndexMap<String, Figure> {
    let share = |answers| Figure::share_of(jobs, |job| stand(job, answers).is_some_and(&holds));
    AFTER.into_iter().map(|answers| (answers.to_string(), share(answers))).collect()
}

fn confusions(jobs: &[JobMarks]) -> Vec<Confusion> {
    let mut counts: IndexMap<(Vec<Id>, Id), usize> = IndexMap::new();
    for job in jobs {
        if let Some(stand) = stand(job, TOP).filter(|stand| 1 < stand.best()) {
            *counts.entry((job.truth.clone(), stand.first.clone())).or_default() += 1;
        }
    }
    counts.sort_by(|a, na, b, nb| nb.cmp(na).then_with(|| a.cmp(b)));
    counts.into_iter().map(|((truth, first), count)| Confusion { truth, first, count }).collect()
}

fn paired(base: &[Effort], full: &[Effort]) -> Paired {
    let base = &base[..full.len().min(base.len())];
    let more = |what: fn(&Effort) -> f64| {
        Figure::mean(&full.iter().zip(base).map(|(full, base)| what(full) - what(base)).collect::<Vec<_>>())
    };
    Paired {
        minutes_more: more(|effort| effort.minutes),
        answers_more: more(|effort| effort.answers as f64),
        solved: Figure::share_of(full, |effort| effort.solved),
        solved_base_rule: Figure::share_of(base, |effort| effort.solved),
    }
}
