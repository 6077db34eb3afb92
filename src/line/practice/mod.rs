//! Turns practice into lines: choose a lesson, ask the pump, name what it is, hear what there is to learn.
//!
//! As in real work lines are only appended, every move is saved before it is made, and the end of the input leaves a
//! job behind that can be taken up again.

mod choose;
mod orders;
mod play;
mod told;

use super::LineError;
use super::console::{Console, Halt};
use crate::knowledge::Knowledge;
use crate::practice::{PracticeBook, PracticeChoice, Room};
use std::io::{BufRead, Write};
use std::rc::Rc;

pub use orders::practice_words;

/// Runs practice by lines. The end of the input counts as success.
pub fn practise(
    book: &mut dyn PracticeBook,
    knowledge: &Rc<Knowledge>,
    input: &mut dyn BufRead,
    out: &mut dyn Write,
    choice: PracticeChoice,
) -> Result<(), LineError> {
    let mut practice = Practice { room: Room::new(book, knowledge), console: Console::new(input, out) };
    let done = practice.run(choice).or_else(|halt| match halt {
        Halt::Fault(error) => Err(error),
        _ => Ok(()),
    });
    match practice.console.flush() {
        Err(Halt::Fault(error)) => done.and(Err(error)),
        _ => done,
    }
}

/// Practice at work.
struct Practice<'a> {
    room: Room<'a>,
    console: Console<'a>,
}

impl Practice<'_> {
    fn say(&mut self, text: &str) -> Result<(), Halt> {
        self.console.say(text)
    }

    fn say_all<'t>(&mut self, lines: impl IntoIterator<Item = &'t String>) -> Result<(), Halt> {
        lines.into_iter().try_for_each(|line| self.console.say(line))
    }

    /// One line typed; the end of the input ends practice.
    fn read(&mut self) -> Result<String, Halt> {
        self.console.read()?.ok_or(Halt::Over)
    }

    /// Shows numbered lines.
    fn numbered(&mut self, lines: &[String]) -> Result<(), Halt> {
        lines.iter().enumerate().try_for_each(|(at, line)| self.say(&format!("  {}. {line}", at + 1)))
    }

    /// Asks for one of several by number; nothing for an empty line.
    fn pick(&mut self, count: usize) -> Result<Option<usize>, Halt> {
        loop {
            let typed = self.read()?;
            if typed.is_empty() {
                return Ok(None);
            }
            match typed.parse::<usize>() {
                Ok(number) if (1..=count).contains(&number) => return Ok(Some(number - 1)),
                _ => self.say(&format!("Type a number from 1 to {count}, or nothing for none of them."))?,
            }
        }
    }
}
