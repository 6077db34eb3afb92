//! Turns the next step into its page and its question; ends where the asking has ended.

use super::console::Halt;
use super::session::Session;
use crate::job::{AskView, Event, Isolation, Next, StepView};
use crate::knowledge::schema::PumpState;

impl Session<'_> {
    /// What comes next in the job.
    pub(super) fn step(&mut self) -> Result<(), Halt> {
        match self.sitting.next() {
            Next::Stop(stop) => self.stop_page(&stop),
            Next::Gate(gate) => self.gate(&gate).map(|_| ()),
            Next::Ask(step) => self.ask(&step),
            Next::Sheet(step) => self.sheet_step(&step),
            Next::Try(view) => self.try_out(&view),
            Next::Return(view) => self.return_to_service(&view),
            Next::Ended(ending) => self.ended(ending),
        }
    }

    /// Asks the most telling open question of a check.
    pub(super) fn ask(&mut self, step: &StepView) -> Result<(), Halt> {
        let Some(ask) = self.pick(step) else {
            // Everything it could tell was put off: the check as a whole is not possible now.
            let event = Event::Barred { check: step.check.clone(), reason: "not now".to_owned() };
            return self.keep_unasked(event);
        };
        self.asking.check = Some(step.check.clone());
        self.say("")?;
        if self.asking.printed.as_ref() == Some(&step.check) {
            self.say(&format!("Still at: {}", step.name))?;
        } else {
            self.asking.printed = Some(step.check.clone());
            self.page(step)?;
        }
        self.put(&ask, Some(&step.check))
    }

    /// The first question that was not put off. Behind one that was, only what would save minutes by itself.
    fn pick(&self, step: &StepView) -> Option<AskView> {
        let put_off = step.asks.first().is_some_and(|first| self.later.contains(&first.id));
        let saves = |id: &str| self.sitting.plan().saves.get(id).is_some_and(|minutes| 0.0 < *minutes);
        let mut asks = step.asks.iter().filter(|ask| !self.later.contains(&ask.id));
        asks.find(|ask| !put_off || saves(&ask.id)).cloned()
    }

    /// All that must be known before a check is begun; cautions first.
    pub(super) fn page(&mut self, step: &StepView) -> Result<(), Halt> {
        self.say(&format!("Check: {}", step.name))?;
        for caution in &step.cautions {
            self.say_caution(caution)?;
        }
        self.say(&format!("Takes: {}", minutes(step.minutes)))?;
        self.say_part("Open first", step.opens.as_deref().unwrap_or("nothing"))?;
        self.say_part("Pump", state(step.state))?;
        self.say_part("Isolation", &self.isolation_note(step))?;
        self.say_part("Tools", &step.tools.join(", "))?;
        if !step.steps.is_empty() {
            self.say("Steps:")?;
            self.say_numbered(&step.steps)?;
        }
        Ok(())
    }

    /// What an isolation proved earlier means for this check: it does not last by itself.
    fn isolation_note(&self, step: &StepView) -> String {
        match &self.sitting.gates().isolation {
            Isolation::Proved(words, at) if step.needs_isolation => {
                let at = at.strftime("%H:%M UTC");
                format!("proved {at} ({words}). Prove zero again before you reach in.")
            }
            Isolation::Proved(..) if step.state == PumpState::Running => {
                "end it by the site procedure before the pump runs.".to_owned()
            }
            _ => String::new(),
        }
    }
}

/// Minutes as said.
pub(super) fn minutes(minutes: f64) -> String {
    if minutes < 1.0 { "less than a minute".to_owned() } else { format!("{minutes:.0} min") }
}

fn state(state: PumpState) -> &'static str {
    match state {
        PumpState::Running => "running",
        PumpState::Stopped => "stopped",
        PumpState::Isolated => "stopped, isolated, proved",
        PumpState::Opened => "stopped, isolated, opened",
        PumpState::Any => "",
    }
}
