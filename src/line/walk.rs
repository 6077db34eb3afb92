//! Turns the looks worth most from outside into a walk round the pump, one look after the other.

use super::answers::{self, ACCEPTED};
use super::console::Halt;
use super::session::{Phase, Session, Wants};
use crate::evidence::Answer;
use crate::job::LookRow;
use crate::knowledge::schema::PumpState;
use std::collections::VecDeque;

/// Looks of one round at most.
const LOOKS: usize = 8;

impl Session<'_> {
    /// Prints the round as a whole, so that it can be walked in one go.
    pub(super) fn begin_round(&mut self) -> Result<(), Halt> {
        let looks = self.sitting.walk_round(LOOKS);
        if !looks.is_empty() {
            self.say("")?;
            self.say("Walk round the pump with these looks. Nothing is opened.")?;
            let lines: Vec<String> = looks.iter().map(|look| with_how(&look.question, &look.how)).collect();
            self.say_numbered(&lines)?;
            self.say(&format!("For each: {ACCEPTED}."))?;
        }
        self.phase = Phase::Walk(looks.into());
        Ok(())
    }

    /// Asks the next look that is still open, or ends the round.
    pub(super) fn walk(&mut self, mut looks: VecDeque<LookRow>) -> Result<(), Halt> {
        while looks.front().is_some_and(|look| !self.still_open(look)) {
            looks.pop_front();
        }
        let Some(look) = looks.front().cloned() else { return self.end_round() };
        self.phase = Phase::Walk(looks);
        self.asking.id = Some(look.id.clone());
        self.asking.check = Some(look.check.clone());
        self.say("")?;
        if let Some(caution) = &look.caution {
            self.say_caution(caution)?;
        }
        self.say(&with_how(&look.question, &look.how))?;
        self.hear_look(&look)
    }

    /// Not answered meanwhile, its check not barred, and no running pump needed where none may run.
    fn still_open(&self, look: &LookRow) -> bool {
        let check = self.sitting.knowledge.all.checks.get(&look.check);
        let runs = check.is_some_and(|check| check.state == PumpState::Running);
        let barred = self.sitting.job.barred.contains_key(&look.check);
        !barred && (!runs || self.sitting.allowed().running) && !self.sitting.settled().contains(&look.id)
    }

    fn hear_look(&mut self, look: &LookRow) -> Result<(), Halt> {
        loop {
            let Some(typed) = self.hear("Answer; empty line: not now; `done` ends the round.", Wants::Choice)? else {
                return self.save_answer(&look.id, Answer::CantCheck, Some(&look.check));
            };
            if typed.eq_ignore_ascii_case("done") {
                return self.end_round();
            }
            if let Some(answer) = answers::answer(&typed) {
                return self.save_answer(&look.id, answer, Some(&look.check));
            }
            let mut near = answers::suggestions();
            near.push("done");
            self.not_understood(&typed, &near)?;
            self.say(&format!("Accepted: {ACCEPTED}, done."))?;
        }
    }

    fn end_round(&mut self) -> Result<(), Halt> {
        self.phase = Phase::Steps;
        self.say("")?;
        self.say("The round is over.")?;
        if self.listed == self.sitting.job.entries.len() { Ok(()) } else { self.likely() }
    }
}

fn with_how(question: &str, how: &str) -> String {
    if how.is_empty() { question.to_owned() } else { format!("{question} ({how})") }
}
