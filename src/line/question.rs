//! Turns one finding or reading into its question, and what is typed into an event.

use super::answers::{self, ACCEPTED};
use super::console::Halt;
use super::session::{Session, Wants};
use crate::evidence::Answer;
use crate::job::{AskView, CautionView};

/// Causes in the one-line list.
const BRIEF: usize = 3;

impl Session<'_> {
    /// Asks for a finding by one of the seven answers, for a reading by a number.
    pub(super) fn put(&mut self, ask: &AskView, check: Option<&str>) -> Result<(), Halt> {
        self.asking.id = Some(ask.id.clone());
        match &ask.number {
            Some(number) => self.put_number(ask, number, check),
            None => self.put_finding(ask, check),
        }
    }

    fn put_finding(&mut self, ask: &AskView, check: Option<&str>) -> Result<(), Halt> {
        self.say(&ask.question)?;
        self.say_part("How", &ask.how)?;
        self.say_part("Not to be confused with", &ask.look_alike)?;
        let prompt = format!("Answer: {ACCEPTED}.");
        loop {
            let Some(typed) = self.hear(&prompt, Wants::Choice)? else {
                return self.save_answer(&ask.id, Answer::CantCheck, check);
            };
            if let Some(answer) = answers::answer(&typed) {
                return self.save_answer(&ask.id, answer, check);
            }
            self.not_understood(&typed, &answers::suggestions())?;
        }
    }

    /// Saves an answer, says so, and says what leads now.
    pub(super) fn save_answer(&mut self, finding: &str, answer: Answer, check: Option<&str>) -> Result<(), Halt> {
        let event = match self.sitting.answer(finding, answer, check) {
            Ok(event) => event,
            Err(refused) => return self.say(&refused.to_string()),
        };
        if !self.keep(event)? {
            return Ok(());
        }
        let name = self.sitting.name_of(finding);
        self.say(&format!("Saved: {name}: {}.", answer.words()))?;
        if answer.speaks() { self.brief() } else { Ok(()) }
    }

    /// The leading causes in one line.
    pub(super) fn brief(&mut self) -> Result<(), Halt> {
        let rows = self.sitting.likely(BRIEF);
        let rows: Vec<String> = rows.iter().map(|row| format!("{} {} of 20", row.name, row.of_20)).collect();
        self.say(&format!("Now: {}.", rows.join(", ")))
    }

    /// A line with a name, unless there is nothing to say.
    pub(super) fn say_part(&mut self, name: &str, text: &str) -> Result<(), Halt> {
        if text.is_empty() { Ok(()) } else { self.say(&format!("{name}: {text}")) }
    }

    /// A caution: signal word and hazard, what it does, how to avoid it.
    pub(super) fn say_caution(&mut self, caution: &CautionView) -> Result<(), Halt> {
        self.say(&format!("{}: {}", caution.word, caution.hazard))?;
        self.say(&format!("  {}", caution.consequence))?;
        self.say(&format!("  {}", caution.avoid))
    }
}
