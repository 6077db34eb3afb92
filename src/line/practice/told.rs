//! Turns a practice job, its debrief and the trends into lines.

use super::{Halt, Practice};
use crate::practice::{Debrief, Exercise, Progress, Score};

/// Columns of the longest bar.
const BAR: f64 = 20.0;

impl Practice<'_> {
    /// The story a job begins with.
    pub(super) fn story(&mut self, exercise: &Exercise) -> Result<(), Halt> {
        let lesson = &exercise.lesson.1;
        self.say("")?;
        self.say(&format!("{} (seed {}, help: {})", lesson.name, exercise.seed, exercise.help.word()))?;
        self.say(&format!("The operator says: \"{}\"", lesson.told))?;
        for reason in lesson.unavailable.values() {
            self.say(&format!("  Not possible on this job: {reason}"))?;
        }
        Ok(())
    }

    /// What was found so far.
    pub(super) fn found(&mut self, exercise: &Exercise) -> Result<(), Halt> {
        for done in &exercise.done {
            self.say(&format!("{}: {:.0} min", done.name, done.minutes))?;
            for found in &done.found {
                self.say(&format!("  {}: {}", found.name, found.words))?;
            }
        }
        self.say(&format!("{} checks, {:.0} min so far.", exercise.done.len(), exercise.minutes()))
    }

    /// What there is to learn.
    pub(super) fn debriefed(&mut self, told: &Debrief, marks: &Score) -> Result<(), Halt> {
        self.say("")?;
        self.say(&format!("It was: {}.", told.truth.join("; ")))?;
        let named: Vec<String> = told.named.iter().map(|(name, sure)| format!("{name} ({sure:.0} %)")).collect();
        self.say(&format!("You named: {}.", if named.is_empty() { "nothing".to_owned() } else { named.join("; ") }))?;
        self.say(if marks.passed() { "Passed." } else { "Not passed." })?;
        self.say_all(&told.remarks)?;
        for (what, instead) in &told.unsafe_moves {
            self.say(&format!("Unsafe: {what}. {instead}."))?;
        }
        self.say("")?;
        self.say("Your checks; minutes saved per minute (#) against the best open then (.):")?;
        for row in &told.steps {
            let best = row.best.as_ref().map_or(String::new(), |best| format!("; better: {best}"));
            let idle = if row.idle { "; could tell next to nothing" } else { "" };
            self.say(&format!("  {} {}, {:.0} min{idle}{best}", bar(row.rates), row.name, row.minutes))?;
        }
        self.say(&format!(
            "The planner on the same pump, {:.0} min against your {:.0}:",
            told.minutes.1, told.minutes.0
        ))?;
        for (name, minutes) in &told.planner {
            self.say(&format!("  {name}, {minutes:.0} min"))?;
        }
        self.say("")?;
        self.say(&format!("To do better: {}", told.better))?;
        self.say(&told.teaches)?;
        if let Some((words, cause)) = &told.related {
            self.say(&format!("A real one: \"{words}\" It was: {cause}."))?;
        }
        Ok(())
    }

    /// The trends.
    pub(super) fn progress(&mut self, trend: &Progress) -> Result<(), Halt> {
        if trend.jobs == 0 {
            return self.say("No job has ended yet.");
        }
        let percent = |share: f64| format!("{:.0} %", 100.0 * share);
        self.say(&format!("{} jobs; in brackets the last ten.", trend.jobs))?;
        self.say(&format!("Passed: {} ({}).", percent(trend.passed.0), percent(trend.passed.1)))?;
        self.say(&format!(
            "Minutes over the planner's: {:.1} times ({:.1}).",
            trend.over_planner.0, trend.over_planner.1
        ))?;
        let (all, last) = trend.share_of_best;
        self.say(&format!("Told per minute, of the best possible: {} ({}).", percent(all), percent(last)))?;
        self.say(&format!("Unsafe moves: {} ({}).", trend.unsafe_moves.0, trend.unsafe_moves.1))?;
        for (said, right, count) in &trend.sure {
            self.say(&format!("When {} sure: right {} of the time ({count} times).", percent(*said), percent(*right)))?;
        }
        let course: String = trend.course.iter().map(|(share, passed)| mark(*share, *passed)).collect();
        self.say(&format!("Job by job (tenths of the best; capital X = not passed): {course}"))
    }
}

/// One sign for a job.
fn mark(share: f64, passed: bool) -> char {
    if passed { char::from_digit(tenths(share), 10).unwrap_or('9') } else { 'X' }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 9")]
fn tenths(share: f64) -> u32 {
    (share * 10.0).clamp(0.0, 9.0) as u32
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to the length of the bar")]
fn bar((rate, best): (f64, f64)) -> String {
    let full = if 0.0 < best { BAR * (rate / best).clamp(0.0, 1.0) } else { BAR } as usize;
    format!("[{}{}]", "#".repeat(full), ".".repeat(BAR as usize - full))
}
