//! Turns something the person wants to tell into the finding or reading it is, and its answer.

use super::console::Halt;
use super::find::with_alias;
use super::session::{Session, Wants};

impl Session<'_> {
    /// Volunteered findings and readings.
    pub(super) fn tell(&mut self, words: String) -> Result<(), Halt> {
        let words = if words.is_empty() {
            self.hear("What do you want to tell? A few words; empty line: nothing.", Wants::Words)?
        } else {
            Some(words)
        };
        let Some(words) = words else { return Ok(()) };
        let hits = self.observables(&words);
        if hits.is_empty() {
            return self.say("No finding or reading is called like that. `note` keeps it as a remark.");
        }
        let lines: Vec<String> =
            hits.iter().map(|hit| with_alias(&self.sitting.name_of(&hit.id), &hit.matched)).collect();
        let Some(at) = self.choose_one(&lines, "Which one? One number; empty line: none.")? else { return Ok(()) };
        let Some(ask) = hits.get(at).and_then(|hit| self.sitting.ask_view(&hit.id)) else { return Ok(()) };
        self.say("")?;
        self.put(&ask, None)
    }
}
