//! Turns a numbered list and what is typed below it into what was chosen.

use super::answers;
use super::console::Halt;
use super::session::{Session, Wants};

impl Session<'_> {
    /// Positions in a numbered list, from 0; none for an empty line.
    pub(super) fn choose_some(&mut self, lines: &[String]) -> Result<Vec<usize>, Halt> {
        self.say_numbered(lines)?;
        loop {
            let prompt = "Numbers of those that fit, for example 1 3; empty line: none.";
            let Some(typed) = self.hear(prompt, Wants::Choice)? else { return Ok(Vec::new()) };
            if let Some(chosen) = answers::numbers(&typed, lines.len()) {
                return Ok(chosen.into_iter().map(|number| number - 1).collect());
            }
            self.not_in_list(&typed, lines.len())?;
        }
    }

    /// A position in a numbered list, from 0.
    pub(super) fn choose_one(&mut self, lines: &[String], prompt: &str) -> Result<Option<usize>, Halt> {
        self.say_numbered(lines)?;
        loop {
            let Some(typed) = self.hear(prompt, Wants::Choice)? else { return Ok(None) };
            if let Some(number) = answers::number(&typed, lines.len()) {
                return Ok(Some(number - 1));
            }
            self.not_in_list(&typed, lines.len())?;
        }
    }

    fn not_in_list(&mut self, typed: &str, most: usize) -> Result<(), Halt> {
        self.not_understood(typed, &[])?;
        self.say(&format!("The list has the numbers 1 to {most}."))
    }
}
