//! Turns a gate into lines, asked one by one: an empty line or a "no" means not possible now, and is saved as that.

use super::answers;
use super::console::Halt;
use super::session::{Session, Wants};
use crate::job::{GateKind, GateLine, GateView, Said, Takes, is_answered};

/// What became of a line.
enum Heard {
    /// It is answered.
    Answer(Said),
    /// It is not, with the reason if one was given.
    Not(String),
}

/// The reason behind a plain "no", which may be empty; nothing for other words.
fn refusal(typed: &str) -> Option<String> {
    let (first, why) = typed.split_once(',').unwrap_or((typed, ""));
    let said = first.trim().to_lowercase();
    matches!(said.as_str(), "n" | "no").then(|| why.trim().to_owned())
}

impl Session<'_> {
    /// The gate before a step. True once it is passed.
    pub(super) fn gate(&mut self, gate: &GateView) -> Result<bool, Halt> {
        self.asking.check = gate.step.as_ref().map(|step| step.check.clone());
        self.asking.printed = None;
        self.say("")?;
        if let Some(step) = &gate.step {
            self.say(&format!("The next check is: {}", step.name))?;
            self.say_part("It opens", step.opens.as_deref().unwrap_or_default())?;
        } else if !gate.before.is_empty() {
            self.say(&format!("Next: {}", gate.before))?;
        }
        for caution in &gate.cautions {
            self.say_caution(caution)?;
        }
        if let Some(again) = &gate.again {
            self.say(again)?;
        }
        match gate.kind {
            GateKind::Isolation => {
                self.say("Isolation comes first, by the site isolation procedure, local codes, licensed practice:")?;
                self.say("  shut down, isolate, lock and tag, relieve, then prove zero twice: gauge and open drain.")?;
                self.say("  Warm liquid shut in on the inlet side: leave it a way out.")?;
            }
            GateKind::FirstRun => self.say("Before the first turn under power, every line needs a yes:")?,
        }
        self.gate_lines(gate)
    }

    /// The order that asks a gate again.
    pub(super) fn gate_again(&mut self, kind: GateKind) -> Result<(), Halt> {
        let gate = self.sitting.gate(kind);
        self.gate(&gate).map(|_| ())
    }

    fn gate_lines(&mut self, gate: &GateView) -> Result<bool, Halt> {
        let mut said: Vec<Said> = Vec::new();
        for line in &gate.lines {
            match self.gate_line(line)? {
                Heard::Not(why) => {
                    let why = if why.is_empty() { format!("not answered with yes: {}", line.id) } else { why };
                    return self.not_passed(gate, &why);
                }
                Heard::Answer(answer) => said.push(answer),
            }
        }
        for event in gate.events(&said) {
            if !self.keep(event)? {
                return Ok(false);
            }
        }
        self.told(gate.kind, true)?;
        Ok(true)
    }

    fn gate_line(&mut self, line: &GateLine) -> Result<Heard, Halt> {
        loop {
            let prompt = match (line.takes, &line.was) {
                (Takes::Yes, _) => format!("{} y, or n with a reason; empty line: not now.", line.ask),
                (Takes::Words, None) => format!("{} Empty line: not now.", line.ask),
                (Takes::Words, Some(was)) => format!("{} Empty line: not now; `same`: {was}.", line.ask),
            };
            let wants = if line.takes == Takes::Yes { Wants::Choice } else { Wants::Words };
            let Some(typed) = self.hear(&prompt, wants)? else { return Ok(Heard::Not(String::new())) };
            if let Some(why) = refusal(&typed) {
                return Ok(Heard::Not(why));
            }
            let said = match (line.takes, &line.was) {
                (Takes::Words, Some(was)) if typed.eq_ignore_ascii_case("same") => Said::Words(was.clone()),
                (Takes::Words, _) => Said::Words(typed),
                (Takes::Yes, _) if answers::yes_or_no(&typed) == Some(true) => Said::Yes,
                (Takes::Yes, _) => {
                    self.not_understood(&typed, &["yes", "no"])?;
                    continue;
                }
            };
            if is_answered(line, Some(&said)) {
                return Ok(Heard::Answer(said));
            }
            self.say(match line.id {
                "liquid" => "An unknown liquid is not opened. Name it, or leave an empty line.",
                "who" => "Somebody must be named.",
                _ => "A few words are needed.",
            })?;
        }
    }

    fn not_passed(&mut self, gate: &GateView, why: &str) -> Result<bool, Halt> {
        if self.keep(gate.refused(why))? {
            self.told(gate.kind, false)?;
        }
        Ok(false)
    }

    fn told(&mut self, kind: GateKind, passed: bool) -> Result<(), Halt> {
        self.say(match (kind, passed) {
            (GateKind::Isolation, true) => "Saved. Prove zero again whenever pressure may have come back.",
            (GateKind::Isolation, false) => "Saved. Nothing that must be opened is asked now; `isolate` asks again.",
            (GateKind::FirstRun, true) => "Saved. Stand clear of covers and hose ends at the start.",
            (GateKind::FirstRun, false) => "Saved. No start is offered now; `start` asks again.",
        })
    }
}
