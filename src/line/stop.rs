//! Turns what overrides the questions into its page: stop rules, and the gate of isolation before anything is opened.

use super::answers;
use super::console::Halt;
use super::session::{Session, Wants};
use crate::job::{Event, StepView, StopView};

/// Empty lines at a stop page before the job is left.
const PASSES: usize = 2;

impl Session<'_> {
    /// A stop rule: an empty line never answers it, and the second one leaves the job where it is.
    pub(super) fn stop_page(&mut self, stop: &StopView) -> Result<(), Halt> {
        self.say("")?;
        self.say(&format!("STOP: {}", stop.name))?;
        self.say(&stop.why)?;
        for caution in &stop.cautions {
            self.say_caution(caution)?;
        }
        self.say("Do this now:")?;
        self.say_numbered(&stop.act)?;
        let prompt = "Is the pump stopped? y, or n if the site decided to run on; empty line: not answered.";
        let Some(typed) = self.hear(prompt, Wants::Choice)? else { return self.pass() };
        match answers::yes_or_no(&typed) {
            Some(stopped) => self.stop_answered(stop, stopped),
            None => self.not_understood(&typed, &["yes", "no"]),
        }
    }

    fn pass(&mut self) -> Result<(), Halt> {
        self.passed += 1;
        if PASSES <= self.passed {
            return Err(Halt::Leave);
        }
        self.say("This comes before any question. One more empty line leaves the job here.")
    }

    fn stop_answered(&mut self, stop: &StopView, stopped: bool) -> Result<(), Halt> {
        let prompt =
            if stopped { "Who stopped it, and when? Empty line: not said." } else { "Who decided to run on, and why?" };
        let words = self.hear(prompt, Wants::Words)?.unwrap_or_default();
        if !stopped && words.is_empty() {
            self.say("Running on needs a name and a reason for the record.")?;
            return self.pass();
        }
        if self.keep(Event::StopAnswered { rule: stop.rule.clone(), stopped, words })? {
            self.passed = 0;
            let goes_on = if stopped { "Saved. The questions go on with the pump stopped." } else { "Saved." };
            self.say(goes_on)?;
        }
        Ok(())
    }

    /// The gate before a check that opens something.
    pub(super) fn isolate(&mut self, step: &StepView) -> Result<(), Halt> {
        self.asking.check = Some(step.check.clone());
        self.asking.printed = None;
        self.say("")?;
        self.say(&format!("The next check is: {}", step.name))?;
        self.say_part("It opens", step.opens.as_deref().unwrap_or_default())?;
        for caution in &step.cautions {
            self.say_caution(caution)?;
        }
        self.gate()
    }

    /// The `isolate` order.
    pub(super) fn isolate_again(&mut self) -> Result<(), Halt> {
        self.say("")?;
        self.gate()
    }

    /// Asks whether zero energy was proved. An empty line means not now.
    fn gate(&mut self) -> Result<(), Halt> {
        self.say("Isolation comes first, by the site procedure and local code:")?;
        self.say("  shut down, isolate, lock and tag, relieve, then prove zero twice: gauge and open drain.")?;
        let prompt = "Is zero proved? y with who and how; n: not possible now (also an empty line).";
        let Some(typed) = self.hear(prompt, Wants::Choice)? else { return self.not_isolated("not now") };
        let (first, rest) = typed.split_once([' ', ',']).unwrap_or((&typed, ""));
        match answers::yes_or_no(first) {
            Some(true) => self.isolated(rest.trim()),
            Some(false) if rest.trim().is_empty() => self.not_isolated("not possible now"),
            Some(false) => self.not_isolated(rest.trim()),
            None => self.not_understood(&typed, &["yes", "no"]),
        }
    }

    fn isolated(&mut self, said: &str) -> Result<(), Halt> {
        let words = if said.is_empty() {
            self.hear("Who proved it, and how?", Wants::Words)?.unwrap_or_default()
        } else {
            said.to_owned()
        };
        if words.is_empty() {
            self.say("Without who and how it does not count as proved.")?;
            return self.not_isolated("nobody named who proved it");
        }
        if self.keep(Event::Isolation { proved: true, words })? {
            self.say("Saved. Prove zero again whenever pressure may have come back.")?;
        }
        Ok(())
    }

    fn not_isolated(&mut self, words: &str) -> Result<(), Halt> {
        if self.keep(Event::Isolation { proved: false, words: words.to_owned() })? {
            self.say("Saved. Nothing that must be opened is asked now; `isolate` asks again.")?;
        }
        Ok(())
    }
}
