//! Turns a stop rule into the page that overrides every question.

use super::answers;
use super::console::Halt;
use super::session::{Session, Wants};
use crate::job::{Event, StopView};

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
}
