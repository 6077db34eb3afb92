//! Turns reasons into lines: why this question, why this cause.

use super::console::Halt;
use super::session::Session;
use super::step::minutes;
use crate::job::{AnswerWeight, WhyCause, WhyStep};

impl Session<'_> {
    /// What each answer to the open question would mean.
    pub(super) fn why(&mut self) -> Result<(), Halt> {
        let Some(id) = self.asking.id.clone() else {
            return self.say("No question of a check is open here. `why cause 1` tells about a cause.");
        };
        match self.sitting.why_ask(&id) {
            Some(why) => self.say_why(&why),
            None => self.say("Nothing hangs on this question alone."),
        }
    }

    fn say_why(&mut self, why: &WhyStep) -> Result<(), Halt> {
        let (takes, saves) = (minutes(why.minutes), minutes(why.saves));
        self.say(&format!("It takes {takes} and shortens the rest by {saves} on average."))?;
        for answer in &why.answers {
            let causes: Vec<String> = answer.likely.iter().map(|(name, p)| format!("{name} {}", of_20(*p))).collect();
            self.say(&format!("  If {} ({}): {}", answer.words, of_20(answer.probability), causes.join(", ")))?;
        }
        Ok(())
    }

    /// Why the cause at this place of the list stands there.
    pub(super) fn why_cause(&mut self, number: usize) -> Result<(), Halt> {
        let rows = self.sitting.likely(usize::MAX);
        let Some(row) = number.checked_sub(1).and_then(|at| rows.get(at)) else {
            return self.say(&format!("There is no cause number {number}; the list has 1 to {}.", rows.len()));
        };
        match self.sitting.why_cause(&row.id) {
            Some(why) => self.say_why_cause(&why, &super::show::likely_line(row)),
            None => self.say("No reasons can be given while the answers do not fit together."),
        }
    }

    fn say_why_cause(&mut self, why: &WhyCause, row: &str) -> Result<(), Halt> {
        self.say(row)?;
        self.say(&format!("Before anything is known: {:.0} of 1000 jobs. Source: {}.", why.per_1000, why.source))?;
        self.say_weights("Speaks for it", &why.favouring)?;
        self.say_weights("Speaks against it", &why.opposing)?;
        if why.favouring.is_empty() && why.opposing.is_empty() {
            self.say("No answer speaks for or against it yet.")?;
        }
        self.say_part("What usually lets it happen", &why.lets_it_happen)
    }

    /// Answers with their weights.
    pub(super) fn say_weights(&mut self, head: &str, weights: &[AnswerWeight]) -> Result<(), Halt> {
        for weight in weights {
            let AnswerWeight { name, word, decibans, when_given, .. } = weight;
            self.say(&format!("  {head}: {name} ({word}, {decibans:+.0} decibans; {when_given:+.0} when given)"))?;
        }
        Ok(())
    }
}

/// A share as people weigh it; how it is written, not how it is found.
fn of_20(share: f64) -> String {
    format!("{:.0} of 20", share * 20.0)
}
