//! Turns somebody's own idea of the cause, or of a check, into what the job says of it; the check can be begun from there.

use super::console::Halt;
use super::doubts::percent;
use super::find::with_alias;
use super::session::{Session, Wants};
use super::show::likely_line;
use super::step::minutes;
use crate::job::{AfterAnswer, IdeaOfCause, IdeaView, Look, StepView};

/// Matches listed at most.
const LISTED: usize = 8;

impl Session<'_> {
    /// The `think` order.
    pub(super) fn think(&mut self, words: String) -> Result<(), Halt> {
        if self.sitting.stop().is_some() {
            return self.say("The stop comes first.");
        }
        let words = if words.is_empty() {
            self.hear(
                "What do you think it is, or what would you check? A few words; empty line: nothing.",
                Wants::Words,
            )?
        } else {
            Some(words)
        };
        let Some(words) = words else { return Ok(()) };
        let hits = self.sitting.ideas(&words, LISTED);
        if hits.is_empty() {
            return self.say("No cause or check is called like that.");
        }
        let kind = |id: &str| if self.sitting.graph.node(id).is_some() { "cause" } else { "check" };
        let lines: Vec<String> = hits
            .iter()
            .map(|hit| format!("{}: {}", kind(&hit.id), with_alias(&self.sitting.name_of(&hit.id), &hit.matched)))
            .collect();
        let Some(at) = self.choose_one(&lines, "Which one? One number; empty line: none.")? else { return Ok(()) };
        let Some(idea) = hits.get(at).and_then(|hit| self.sitting.idea(&hit.id)) else { return Ok(()) };
        self.say("")?;
        self.say_idea(&idea)?;
        match &idea.look {
            Look::Ready { step, .. } => self.offer(step),
            _ => Ok(()),
        }
    }

    fn say_idea(&mut self, idea: &IdeaView) -> Result<(), Halt> {
        self.say(&format!("Your idea: {}", idea.name))?;
        if let Some(cause) = &idea.cause {
            self.say_idea_of_cause(cause)?;
        }
        match &idea.look {
            Look::Ready { step, answers, is_direct } => {
                let settles = match (idea.cause.is_some(), is_direct) {
                    (true, true) => "The cheapest look at it",
                    (true, false) => "Nothing looks at it directly. Most telling",
                    (false, _) => "The check",
                };
                self.say_look(settles, step)?;
                self.say(&format!("  {}", step.asks.first().map_or("", |ask| ask.question.as_str())))?;
                self.say_after(answers)?;
            }
            Look::NotNow { step, why } => {
                self.say(&format!("It would be settled by: {}. Not now: {why}.", step.name))?;
                for caution in &step.cautions {
                    self.say_caution(caution)?;
                }
            }
            Look::Nothing => self.say("Nothing that is still open would settle it.")?,
        }
        match &idea.proposed {
            Some(step) => self.say_look("Proposed instead", step),
            None => Ok(()),
        }
    }

    fn say_idea_of_cause(&mut self, cause: &IdeaOfCause) -> Result<(), Halt> {
        let (place, many) = cause.place;
        self.say(&format!("{}; number {place} of {many}", likely_line(&cause.row)))?;
        if let Some(why) = &cause.why {
            self.say_weights("Speaks for it", &why.favouring)?;
            self.say_weights("Speaks against it", &why.opposing)?;
        }
        if let Some((remedy, wrong, takes)) = &cause.at_once {
            let (wrong, takes) = (percent(*wrong), minutes(*takes));
            self.say(&format!(
                "If you put it right now ({remedy}): in {wrong} it is not the cause, at a cost of {takes}."
            ))?;
        }
        Ok(())
    }

    /// A check with its minutes and its worth.
    fn say_look(&mut self, head: &str, step: &StepView) -> Result<(), Halt> {
        let opens = step.opens.as_ref().map_or(String::new(), |opens| format!(", open first: {opens}"));
        self.say(&format!("{head}: {}, takes {}{opens}; {}", step.name, minutes(step.minutes), worth(step.worth)))
    }

    fn say_after(&mut self, answers: &[AfterAnswer]) -> Result<(), Halt> {
        for answer in answers {
            let causes: Vec<String> = answer.likely.iter().map(|(name, p)| format!("{name} {}", percent(*p))).collect();
            self.say(&format!("  If {} ({}): {}", answer.words, percent(answer.probability), causes.join(", ")))?;
        }
        Ok(())
    }

    /// Begins the check if that is wanted; its gate comes first as always.
    fn offer(&mut self, step: &StepView) -> Result<(), Halt> {
        loop {
            let typed = self.hear("Begin this check now? y or n (also an empty line).", Wants::Choice)?;
            match typed.as_deref().map(super::answers::yes_or_no) {
                None | Some(Some(false)) => return Ok(()),
                Some(Some(true)) => break,
                Some(None) => self.not_understood(typed.as_deref().unwrap_or_default(), &["yes", "no"])?,
            }
        }
        if let Some(gate) = self.sitting.gate_before(step)
            && !self.gate(&gate)?
        {
            return Ok(());
        }
        self.asking.printed = None;
        self.ask(step)
    }
}

/// What a check is worth, as said.
fn worth(worth: f64) -> String {
    if worth < 0.0 {
        format!("costs {} more than it saves", minutes(-worth))
    } else {
        format!("saves {} beyond that", minutes(worth))
    }
}
