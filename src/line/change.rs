//! Turns orders about what was given, or cannot be had, into events: change, withdraw, skip, note.

use super::console::Halt;
use super::session::{Session, Wants};
use crate::job::{Event, TrailRow, Where, photo_note};

impl Session<'_> {
    /// Asks for an entry of the trail anew.
    pub(super) fn change(&mut self, number: usize) -> Result<(), Halt> {
        let Some(row) = self.entry(number)? else { return Ok(()) };
        let Some(ask) = self.sitting.ask_view(&row.id) else {
            return self.say("The knowledge no longer holds this question. `withdraw` takes it back.");
        };
        let check = match self.sitting.job.given.get(&row.id) {
            Some((_, _, Where::Check(check))) => Some(check.clone()),
            _ => None,
        };
        self.say("")?;
        self.say(&format!("So far: {}: {}.", row.name, row.answer))?;
        self.put(&ask, check.as_deref())
    }

    /// Takes an entry of the trail back.
    pub(super) fn withdraw(&mut self, number: usize) -> Result<(), Halt> {
        let Some(row) = self.entry(number)? else { return Ok(()) };
        match self.sitting.withdraw(&row.id) {
            Ok(event) => {
                if self.keep(event)? {
                    self.later.shift_remove(&row.id);
                    self.say(&format!("Taken back: {}.", row.name))?;
                    self.brief()?;
                }
                Ok(())
            }
            Err(refused) => self.say(&refused.to_string()),
        }
    }

    fn entry(&mut self, number: usize) -> Result<Option<TrailRow>, Halt> {
        let trail = self.sitting.trail();
        let row = number.checked_sub(1).and_then(|at| trail.get(at)).cloned();
        if row.is_none() {
            let hint = if trail.is_empty() { "the trail is empty".to_owned() } else { range(trail.len()) };
            self.say(&format!("There is no number {number}: {hint}."))?;
        }
        Ok(row)
    }

    /// Bars the whole check of the open question.
    pub(super) fn skip(&mut self) -> Result<(), Halt> {
        let Some(check) = self.asking.check.clone() else { return self.say("No check is open here.") };
        let name = self.sitting.name_of(&check);
        let prompt = format!("Why can this not be done now: {name}? Empty line: not said.");
        let reason = self.hear(&prompt, Wants::Words)?.unwrap_or_else(|| "not now".to_owned());
        if self.keep(Event::Barred { check, reason })? {
            self.say(&format!("Saved: not now: {name}."))?;
        }
        Ok(())
    }

    /// Keeps the name of a photo as a remark.
    pub(super) fn photo(&mut self, typed: &str) -> Result<(), Halt> {
        match photo_note(typed) {
            Some(text) => self.note(&text),
            None => self.say("Write it like this: photo IMG_1234.jpg what it shows"),
        }
    }

    /// Keeps a remark.
    pub(super) fn note(&mut self, text: &str) -> Result<(), Halt> {
        if text.is_empty() {
            return self.say("Write it like this: note WORDS");
        }
        if self.keep(Event::Note { text: text.to_owned() })? {
            self.say("Saved as a remark.")?;
        }
        Ok(())
    }
}

fn range(most: usize) -> String {
    if most == 1 { "the trail has only number 1".to_owned() } else { format!("the trail has 1 to {most}") }
}
