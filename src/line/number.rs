//! Turns a typed number into a reading: echoed in two units, questioned where it is doubtful, saved.

use super::answers;
use super::console::Halt;
use super::session::{Session, Wants};
use crate::evidence::Answer;
use crate::job::{AskView, Entered, Event, NumberView, Refused};
use crate::knowledge::schema::Id;

/// Which number is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Which {
    /// What the instrument shows now.
    Now,
    /// What it shows as a rule on this pump.
    Usual,
}

/// What became of a typed line.
enum Typed {
    /// A number that stands.
    Stands(Box<Entered>),
    /// Left out.
    Skipped,
    /// Ask again.
    Again,
    /// Another line was typed instead.
    Instead(String),
}

impl Session<'_> {
    /// Asks for a reading; an empty line puts it off.
    pub(super) fn put_number(&mut self, ask: &AskView, number: &NumberView, check: Option<&str>) -> Result<(), Halt> {
        self.say(&ask.question)?;
        self.say_part("Instrument", &ask.how)?;
        self.say_part("Pump state for this reading", &number.running_state)?;
        self.say_part("Healthy", &number.healthy)?;
        self.say_part("Usual on this pump", number.usual.as_deref().unwrap_or_default())?;
        let key = match &number.state {
            Some(state) => self.hear_state(&ask.id, state)?,
            None => ask.id.clone(),
        };
        self.say_dial(&key)?;
        let prompt = format!("Number and unit, for example in {}; not now: . or empty line.", number.unit);
        let Some(entered) = self.hear_number(&key, &prompt, check, Which::Now)? else {
            self.later.insert(ask.id.clone());
            return self.say("Put off.");
        };
        let place = self.place_on_dial(&entered.event);
        if !self.keep(entered.event)? {
            return Ok(());
        }
        self.say(&format!("Saved: {}: {}.", self.sitting.name_of(&key), entered.echo))?;
        self.say_part("Beside what is expected", &place)?;
        if number.needs_usual {
            self.put_usual(ask)?;
        }
        self.brief()
    }

    /// The running state of the coming number, in the key of the reading; an empty line takes the usual one.
    fn hear_state(&mut self, reading: &str, state: &str) -> Result<Id, Halt> {
        self.say(&format!("Running state: {state}."))?;
        loop {
            let prompt = "Right? Empty line: yes; else words such as half, flooded, open, shut, cold, known.";
            let Some(typed) = self.hear(prompt, Wants::Choice)? else { return Ok(reading.to_owned()) };
            if answers::yes_or_no(&typed) == Some(true) {
                return Ok(reading.to_owned());
            }
            match self.sitting.in_state(reading, &typed) {
                Ok(key) => return Ok(key),
                Err(refused) => self.say(&sentence(&refused.to_string()))?,
            }
        }
    }

    /// What the reading should show on this pump, healthy and with each leading suspect.
    fn say_dial(&mut self, key: &str) -> Result<(), Halt> {
        let Some(dial) = self.sitting.dial(key) else { return Ok(()) };
        self.say(&format!("Expected on this pump ({}): {}.", dial.basis, dial.healthy.words))?;
        for suspect in &dial.suspects {
            self.say(&format!("  if {}: {}", suspect.name, suspect.words))?;
        }
        Ok(())
    }

    /// The number beside what is expected, in words.
    fn place_on_dial(&self, event: &Event) -> String {
        let Event::Measured { reading, si, .. } = event else { return String::new() };
        self.sitting.on_dial(reading, *si).map_or_else(String::new, |on| on.words)
    }

    /// Asks what a reading shows as a rule, without which its number says nothing.
    fn put_usual(&mut self, ask: &AskView) -> Result<(), Halt> {
        self.say("This number counts only beside the usual one of this pump.")?;
        let prompt = "Usual number and unit; empty line: not known.";
        let Some(entered) = self.hear_number(&ask.id, prompt, None, Which::Usual)? else {
            return self.say("Kept in the record; it does not count without the usual one.");
        };
        if self.keep(entered.event)? {
            self.say(&format!("Saved as usual: {}.", entered.echo))?;
        }
        Ok(())
    }

    /// Until a number stands or is left out.
    fn hear_number(
        &mut self,
        reading: &str,
        prompt: &str,
        check: Option<&str>,
        which: Which,
    ) -> Result<Option<Entered>, Halt> {
        let mut instead: Option<String> = None;
        loop {
            let typed = match instead.take() {
                Some(typed) => Some(typed),
                None => self.hear(prompt, Wants::Choice)?,
            };
            let Some(typed) = typed.filter(|typed| !puts_off(typed)) else { return Ok(None) };
            let entered = match which {
                Which::Now => self.sitting.measure(reading, &typed, check),
                Which::Usual => self.sitting.usual(reading, &typed),
            };
            match self.settle(entered, &typed)? {
                Typed::Stands(entered) => return Ok(Some(*entered)),
                Typed::Skipped => return Ok(None),
                Typed::Again => {}
                Typed::Instead(line) => instead = Some(line),
            }
        }
    }

    /// A number with doubts counts once the person lets it stand.
    fn settle(&mut self, entered: Result<Entered, Refused>, typed: &str) -> Result<Typed, Halt> {
        let entered = match entered {
            Ok(entered) => entered,
            Err(refused) => {
                self.refuse(&refused, typed)?;
                return Ok(Typed::Again);
            }
        };
        if entered.doubts.is_empty() {
            return Ok(Typed::Stands(Box::new(entered)));
        }
        self.say(&format!("Understood as {}.", entered.echo))?;
        for doubt in &entered.doubts {
            self.say(&sentence(&format!("Doubtful: {doubt}")))?;
        }
        let prompt = "Let it stand? y, or a new number; empty line: not now.";
        Ok(match self.hear(prompt, Wants::Choice)? {
            None => Typed::Skipped,
            Some(line) => match answers::yes_or_no(&line) {
                Some(true) => Typed::Stands(Box::new(entered)),
                Some(false) => Typed::Again,
                None => Typed::Instead(line),
            },
        })
    }

    fn refuse(&mut self, refused: &Refused, typed: &str) -> Result<(), Halt> {
        if typed.contains(|character: char| character.is_ascii_digit()) {
            return self.say(&sentence(&format!("Not taken: {refused}")));
        }
        self.not_understood(typed, &["not now"])?;
        self.say(&sentence(&format!("Hint: {refused}")))
    }
}

fn sentence(text: &str) -> String {
    if text.ends_with(['.', '?', '!']) { text.to_owned() } else { format!("{text}.") }
}

/// A reading has no yes or no: whatever is no number of those puts it off.
fn puts_off(typed: &str) -> bool {
    matches!(answers::answer(typed), Some(Answer::CantCheck | Answer::CantTell | Answer::NotApplicable))
}
