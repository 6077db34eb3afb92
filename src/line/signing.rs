//! Turns the last questions of a closed job into its codes, follow-up day and initials; each may stay empty.

use super::console::Halt;
use super::session::{Session, Wants};
use crate::job::{CodeRow, Ending, Event, follow_up_day, initials_and_role};
use crate::knowledge::schema::CodeOf;
use jiff::tz::TimeZone;

/// Codes listed before the whole list.
const FIRST: usize = 5;
/// Said below every list of codes.
const LEFT_OUT: &str = "One number; empty line: left out.";

impl Session<'_> {
    /// Asks what only the record needs. Nothing here keeps a job from being closed: it is closed already, and whatever
    /// ends the asking ends only that.
    pub(super) fn for_the_record(&mut self, ending: Ending) -> Result<(), Halt> {
        match self.ask_for_the_record(ending) {
            Err(halt @ (Halt::Fault(_) | Halt::Gone)) => Err(halt),
            _ => Ok(()),
        }
    }

    fn ask_for_the_record(&mut self, ending: Ending) -> Result<(), Halt> {
        if ending == Ending::Confirmed {
            for of in CodeOf::ALL {
                self.code(of)?;
            }
            self.follow_up()?;
        }
        self.sign()
    }

    /// One code: of those that suit this job, else of all.
    fn code(&mut self, of: CodeOf) -> Result<(), Halt> {
        let all = self.sitting.codes(of);
        let few: Vec<CodeRow> = all.iter().filter(|row| row.suits).take(FIRST).cloned().collect();
        if all.is_empty() {
            return Ok(());
        }
        self.say("")?;
        self.say(&format!("The {}, in the manner of ISO 14224, from memory:", of.words()))?;
        if !few.is_empty() {
            let mut lines = says(&few);
            lines.push("another one".to_owned());
            match self.choose_one(&lines, LEFT_OUT)? {
                None => return Ok(()),
                Some(at) if at < few.len() => return self.keep_code(&few[at]),
                Some(_) => {}
            }
        }
        match self.choose_one(&says(&all), LEFT_OUT)? {
            Some(at) => self.keep_code(&all[at]),
            None => Ok(()),
        }
    }

    fn keep_code(&mut self, row: &CodeRow) -> Result<(), Halt> {
        self.keep(Event::Coded { code: row.id.clone() }).map(|_| ())
    }

    fn follow_up(&mut self) -> Result<(), Halt> {
        let Some(last) = self.sitting.job.last else { return Ok(()) };
        let today = last.to_zoned_datetime(TimeZone::UTC).date();
        while let Some(typed) =
            self.hear("When should somebody look again? 2026-12-01; empty line: left out.", Wants::Words)?
        {
            match follow_up_day(&typed, today) {
                Ok(on) => return self.keep(Event::FollowUp { on }).map(|_| ()),
                Err(why) => self.say(&why)?,
            }
        }
        Ok(())
    }

    fn sign(&mut self) -> Result<(), Halt> {
        while let Some(typed) = self.hear("Your initials and role, no name; empty line: left out.", Wants::Words)? {
            match initials_and_role(&typed) {
                Ok(who) => return self.keep(Event::Signed { who }).map(|_| ()),
                Err(why) => self.say(&why)?,
            }
        }
        Ok(())
    }
}

fn says(rows: &[CodeRow]) -> Vec<String> {
    rows.iter().map(|row| row.says.clone()).collect()
}
