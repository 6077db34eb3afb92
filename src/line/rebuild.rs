//! Turns the rebuild sheets into lines, one step after the other, each kept when it is answered.

use super::answers;
use super::console::Halt;
use super::session::{Phase, Session, Wants};
use super::step::minutes;
use crate::job::{Event, Judged, RemedyPlan, SheetView};
use crate::knowledge::schema::Id;

/// Things to put right that are offered without being asked for.
const OFFERED: usize = 6;

/// What was typed at a step.
enum Typed {
    /// Passed or failed, with words and a number.
    Answered(bool, String, Option<(String, f64)>),
    /// Asked again.
    Again,
}

impl Session<'_> {
    /// The `fix` order: what a remedy takes, then its sheets, or said to be done.
    pub(super) fn fix(&mut self) -> Result<(), Halt> {
        if self.sitting.stop().is_some() {
            return self.say("The stop comes first.");
        }
        let ids = self.sitting.to_put_right(OFFERED);
        if ids.is_empty() {
            return self.say("Nothing is likely enough yet to be put right. `changed WORDS` tells what was changed.");
        }
        let names: Vec<String> = ids.iter().map(|id| self.sitting.name_of(id)).collect();
        self.say("What is to be put right?")?;
        let Some(at) = self.choose_one(&names, "One number; empty line: nothing.")? else { return Ok(()) };
        match ids.get(at).and_then(|id| self.sitting.remedy_plan(id)) {
            Some(plan) => self.remedy_plan(&plan),
            None => Ok(()),
        }
    }

    fn remedy_plan(&mut self, plan: &RemedyPlan) -> Result<(), Halt> {
        self.say("")?;
        self.say(&format!("{}: {}", plan.remedy.kind, plan.remedy.name))?;
        for caution in &plan.cautions {
            self.say_caution(caution)?;
        }
        let opens =
            plan.opens.as_ref().map_or(String::new(), |(name, takes)| format!("; open: {name}, {}", minutes(*takes)));
        self.say(&format!("Takes: {} hands-on{opens}", minutes(plan.remedy.minutes)))?;
        self.say("Have at hand before anything is opened:")?;
        self.say_numbered(&plan.parts)?;
        self.say_part("Settings", &plan.settings.join(", "))?;
        self.say("Steps:")?;
        self.say_numbered(&plan.remedy.steps)?;
        for (_, name, (low, high)) in &plan.sheets {
            self.say(&format!("Rebuild sheet: {name}, {low:.0} to {high:.0} min"))?;
        }
        self.say_part("Proved by", &plan.remedy.proof.join("; "))?;
        let done = "It is done: say so and try the pump".to_owned();
        let sheets = (!plan.sheets.is_empty()).then(|| "Play the rebuild sheets step by step".to_owned());
        let ways: Vec<String> = sheets.iter().cloned().chain([done]).collect();
        let Some(at) = self.choose_one(&ways, "One number; empty line: not now.")? else { return Ok(()) };
        if at == 0 && sheets.is_some() {
            let event = self.sitting.begin_sheets(plan);
            if self.keep(event)? {
                self.phase = Phase::Steps;
            }
            return Ok(());
        }
        self.keep_change(&plan.node.clone())
    }

    /// The `changed` order: anything that was changed, by its words.
    pub(super) fn changed(&mut self, words: String) -> Result<(), Halt> {
        let words = if words.is_empty() {
            self.hear("What was changed or put right? A few words; empty line: nothing.", Wants::Words)?
        } else {
            Some(words)
        };
        let Some(words) = words else { return Ok(()) };
        let hits = self.sitting.changeable(&words, OFFERED);
        if hits.is_empty() {
            return self.say("No cause or part is called like that. `note WORDS` keeps it as a remark.");
        }
        let names: Vec<String> = hits.iter().map(|hit| self.sitting.name_of(&hit.id)).collect();
        let Some(at) = self.choose_one(&names, "Which one does it put right? One number; empty line: none.")? else {
            return Ok(());
        };
        match hits.get(at) {
            Some(hit) => self.keep_change(&hit.id.clone()),
            None => Ok(()),
        }
    }

    fn keep_change(&mut self, node: &Id) -> Result<(), Halt> {
        let words = self.hear("What was done, and by whom? Empty line: not said.", Wants::Words)?.unwrap_or_default();
        let event = self.sitting.changed(node, &words);
        if self.keep(event)? {
            self.phase = Phase::Steps;
            self.say("Saved. One change at a time: now try the pump.")?;
        }
        Ok(())
    }

    /// The `aside` order.
    pub(super) fn aside(&mut self) -> Result<(), Halt> {
        if self.sitting.job.work.sheets.is_none() {
            return self.say("No rebuild sheet is open.");
        }
        let Some(words) = self.hear("Why is the sheet put aside? Empty line: go on with it.", Wants::Words)? else {
            return Ok(());
        };
        if self.keep(Event::SheetsLeft { words })? {
            self.say("Saved. The questions go on; `fix` begins the sheets again.")?;
        }
        Ok(())
    }

    /// One step of a sheet.
    pub(super) fn sheet_step(&mut self, step: &SheetView) -> Result<(), Halt> {
        self.say_sheet_step(step)?;
        match self.hear_step(step)? {
            Typed::Again => Ok(()),
            Typed::Answered(passed, words, value) => {
                for event in self.sitting.sheet_events(step, passed, &words, value) {
                    if !self.keep(event)? {
                        return Ok(());
                    }
                }
                if passed {
                    self.say("Saved.")
                } else {
                    self.say(&format!("Saved: it does not hold. Back to step {}.", step.back_to.0))
                }
            }
        }
    }

    fn say_sheet_step(&mut self, step: &SheetView) -> Result<(), Halt> {
        let (place, at) = (step.place, step.step);
        self.say("")?;
        self.say(&format!("Sheet {} of {}: {}, step {} of {}", place.0, place.1, step.name, at.0, at.1))?;
        for caution in &step.cautions {
            self.say_caution(caution)?;
        }
        self.say(&format!("Do: {}", step.act))?;
        self.say_part("Parts", &step.parts.join(", "))?;
        for rule in &step.renewal {
            self.say_part("Renewal", rule)?;
        }
        self.say_part("Hold point", step.hold_point.as_deref().unwrap_or_default())?;
        self.say_part("Accept", step.accept.as_deref().unwrap_or_default())?;
        if let Some((_, band, typical)) = &step.number {
            let typical = if *typical { "; typical, not yours: your sheet goes first" } else { "" };
            self.say(&format!("To be entered: {band}{typical}"))?;
        }
        if step.hold_point.is_some() {
            self.say(&format!("If it fails: back to step {}: {}", step.back_to.0, step.back_to.1))?;
        }
        if 0 < step.failed {
            self.say(&format!("Times it failed so far: {}.", step.failed))?;
        }
        Ok(())
    }

    fn hear_step(&mut self, step: &SheetView) -> Result<Typed, Halt> {
        let by_design = if step.by_design { " x: not on this design;" } else { "" };
        let prompt = match &step.number {
            Some((unit, ..)) => format!(
                "Number and unit, for example in {unit}; n with what was seen: it fails;{by_design} empty line: not now."
            ),
            None if step.hold_point.is_some() => {
                format!("Does the hold point hold? y, or n with what was seen;{by_design} empty line: not now.")
            }
            None => format!("Done? y;{by_design} empty line: not now."),
        };
        let Some(typed) = self.hear(&prompt, Wants::Choice)? else {
            self.say("The sheet waits here. `aside` goes on with the questions, `leave` stops; all is saved.")?;
            return Ok(Typed::Again);
        };
        let (first, rest) = typed.split_once([',', ' ']).unwrap_or((&typed, ""));
        match answers::answer(first) {
            Some(crate::evidence::Answer::No) => return Ok(Typed::Answered(false, rest.trim().to_owned(), None)),
            Some(crate::evidence::Answer::NotApplicable) if step.by_design => {
                return Ok(Typed::Answered(true, "not on this design".to_owned(), None));
            }
            Some(crate::evidence::Answer::Yes) if step.number.is_none() => {
                return Ok(Typed::Answered(true, rest.trim().to_owned(), None));
            }
            _ if step.number.is_some() => {}
            _ => {
                self.not_understood(&typed, &["yes", "no"])?;
                return Ok(Typed::Again);
            }
        }
        match self.sitting.judge_step(step, &typed) {
            Ok(judged) => self.judged(step, judged),
            Err(refused) => {
                self.say(&format!("Not taken: {refused}"))?;
                Ok(Typed::Again)
            }
        }
    }

    fn judged(&mut self, step: &SheetView, judged: Judged) -> Result<Typed, Halt> {
        self.say(&format!("{}.", judged.words))?;
        if judged.is_in {
            return Ok(Typed::Answered(true, judged.words, Some(judged.value)));
        }
        let is_typical = step.number.as_ref().is_some_and(|(.., typical)| *typical);
        if is_typical {
            let prompt = "Does this pump's own sheet allow it? What does it say? Empty line: no.";
            if let Some(said) = self.hear(prompt, Wants::Words)? {
                let words = format!("{}; own sheet: {said}", judged.words);
                return Ok(Typed::Answered(true, words, Some(judged.value)));
            }
        }
        Ok(Typed::Answered(false, judged.words, Some(judged.value)))
    }
}
