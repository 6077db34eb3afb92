//! Turns a try after a repair, and the return-to-service list, into lines.

use super::answers;
use super::console::Halt;
use super::session::{Session, Wants};
use crate::job::{Event, Outcome, ServiceLineView, ServiceView, TryView};

impl Session<'_> {
    /// What came of what was changed.
    pub(super) fn try_out(&mut self, view: &TryView) -> Result<(), Halt> {
        self.say("")?;
        for changed in &view.changed {
            self.say(&format!("To be tried: {changed}"))?;
        }
        self.say_part("The complaint was", &view.complaint.join("; "))?;
        self.say("Run the pump at its duty. What came of it?")?;
        let lines = ["no effect", "better, not well", "the complaint is gone"].map(str::to_owned);
        let Some(at) = self.choose_one(&lines, "One number; empty line: not tried yet.")? else {
            return self.say("It waits to be tried. `leave` stops here; all is saved.");
        };
        let outcome = [Outcome::Same, Outcome::Better, Outcome::Well][at.min(2)];
        if self.keep(Event::Tried { outcome, words: String::new() })? {
            self.say(match outcome {
                Outcome::Well => "Saved. It counts as proof once the readings are back where they belong.",
                _ => "Saved: that speaks against it. What hung on it may be asked again.",
            })?;
            self.brief()?;
        }
        Ok(())
    }

    /// The `service` order: the list from its first line on.
    pub(super) fn service(&mut self) -> Result<(), Halt> {
        let view = self.sitting.service();
        if view.lines.is_empty() {
            return self.say("The knowledge holds no return-to-service list.");
        }
        self.return_to_service(&view)
    }

    /// The list: every line that is still open, then the decision.
    pub(super) fn return_to_service(&mut self, view: &ServiceView) -> Result<(), Halt> {
        self.say("")?;
        self.say("Return to service: same gauge, place and running state as the usual values.")?;
        for line in view.lines.iter().filter(|line| !matches!(line.said, Some((_, Some(true))))) {
            self.service_line(line)?;
        }
        self.decide()
    }

    fn service_line(&mut self, line: &ServiceLineView) -> Result<(), Halt> {
        let must = if line.must { " (needed)" } else { "" };
        self.say(&format!("{}{must}", line.ask))?;
        self.say_part("How", &line.how)?;
        if let Some((_, band)) = &line.number {
            self.say(&format!("Passes: {band}"))?;
        }
        loop {
            let prompt = match &line.number {
                Some((unit, _)) => format!("Number and unit, for example in {unit}; empty line: not now."),
                None => "y, or n with what was seen; empty line: not now.".to_owned(),
            };
            let typed = self.hear(&prompt, Wants::Choice)?;
            let event = match typed {
                None => self.sitting.prove_seen(&line.id, None, ""),
                Some(typed) if line.number.is_none() => {
                    let (first, rest) = typed.split_once([',', ' ']).unwrap_or((&typed, ""));
                    let Some(passed) = answers::yes_or_no(first) else {
                        self.not_understood(&typed, &["yes", "no"])?;
                        continue;
                    };
                    self.sitting.prove_seen(&line.id, Some(passed), rest)
                }
                Some(typed) => match self.sitting.prove(&line.id, &typed) {
                    Ok((event, echo, doubts)) => {
                        self.say(&format!("Understood as {echo}."))?;
                        if !self.stands(&doubts)? {
                            continue;
                        }
                        event
                    }
                    Err(refused) => {
                        self.say(&format!("Not taken: {refused}"))?;
                        continue;
                    }
                },
            };
            let word = verdict(&event);
            if self.keep(event)? {
                self.say(&format!("Saved: {}: {word}.", line.name))?;
            }
            return Ok(());
        }
    }

    /// True if nothing is doubtful about a number, or the person lets it stand.
    fn stands(&mut self, doubts: &[String]) -> Result<bool, Halt> {
        for doubt in doubts {
            self.say(&format!("Doubtful: {doubt}"))?;
        }
        if doubts.is_empty() {
            return Ok(true);
        }
        let typed = self.hear("Let it stand? y or n.", Wants::Choice)?;
        Ok(typed.is_some_and(|typed| answers::yes_or_no(&typed) == Some(true)))
    }

    fn decide(&mut self) -> Result<(), Halt> {
        let view = self.sitting.service();
        for off in &view.off {
            self.say(&format!("Off: {off}."))?;
        }
        self.say_part("Still needed", &view.open.join(", "))?;
        let (passes, prompt) = if view.passes {
            ("passes", "Who decides, and when is it rechecked after running in? Empty line: not decided yet.")
        } else {
            ("not yet", "Who notes \"not yet\", and what happens now? Empty line: not decided yet.")
        };
        self.say(&format!("Return to service: {passes}."))?;
        let Some(words) = self.hear(prompt, Wants::Words)? else {
            return self.say("Not decided. `service` goes on with the list, `leave` stops here; all is saved.");
        };
        let event = self.sitting.returned(&words);
        if self.keep(event)? {
            self.say(if view.passes {
                "Saved: back in service. Its readings are this pump's usual values from now on."
            } else {
                "Saved: not yet. Nothing counts as repaired before it is back at its usual values."
            })?;
            self.keep_usual(view.passes)?;
        }
        Ok(())
    }

    /// Stores the good values for the next job of this pump.
    fn keep_usual(&mut self, passes: bool) -> Result<(), Halt> {
        let values = self.sitting.good_values();
        let Some(pump) = self.sitting.job.pump.as_ref().map(|pump| pump.name.clone()) else { return Ok(()) };
        if !passes || values.is_empty() {
            return Ok(());
        }
        match self.archive.keep_usual(&pump, &values) {
            Ok(place) if place.is_empty() => Ok(()),
            Ok(place) => self.say(&format!("Kept for the next job of this pump in {place}.")),
            Err(why) => self.say(&format!("Not kept for the next job: {why}")),
        }
    }
}

fn verdict(event: &Event) -> &'static str {
    match event {
        Event::ProofLine { passed: Some(true), .. } => "passes",
        Event::ProofLine { passed: Some(false), .. } => "off",
        Event::ProofLine { si: Some(_), .. } => "noted; it becomes the usual value",
        _ => "left out",
    }
}
