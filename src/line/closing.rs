//! Turns the end of a sitting into its last lines: the named ending, closing, the record, where the job is saved.

use super::LineError;
use super::console::Halt;
use super::session::{Session, Wants};
use crate::job::{Ending, Event, Status};
use crate::knowledge::schema::Id;

/// A way to end, as offered.
struct Way {
    says: String,
    closes: Option<(Ending, Option<Id>)>,
}

impl Session<'_> {
    /// The asking has ended: says so once, then offers what is left. An empty line leaves the job open.
    pub(super) fn ended(&mut self, ending: Ending) -> Result<(), Halt> {
        let events = self.sitting.job.entries.len();
        if self.ended != Some(events) {
            self.ended = Some(events);
            self.say("")?;
            self.say(&format!("The questions end here: {}.", ending.words()))?;
            self.results()?;
        }
        let prompt = "Now: `tell WORDS`, `change N`, `end` to close, `leave`; empty line: leave, saved.";
        match self.hear(prompt, Wants::Choice)? {
            None => Err(Halt::Leave),
            Some(typed) => self.not_understood(&typed, &[]),
        }
    }

    /// The `end` order.
    pub(super) fn end(&mut self) -> Result<(), Halt> {
        let ways = self.ways();
        let lines: Vec<String> = ways.iter().map(|way| way.says.clone()).collect();
        self.say("")?;
        self.say("How does this job end?")?;
        let Some(at) = self.choose_one(&lines, "One number; empty line: go on with the job.")? else { return Ok(()) };
        let Some(way) = ways.into_iter().nth(at) else { return Ok(()) };
        if let Some((ending, cause)) = way.closes {
            return self.close(ending, cause);
        }
        self.write_record()?;
        Err(Halt::Leave)
    }

    /// One way per confirmed cause, then the ending the asking came to, handing over, and leaving it open.
    fn ways(&self) -> Vec<Way> {
        let rows = self.sitting.likely(usize::MAX);
        let confirmed = rows.into_iter().filter(|row| row.status == Status::Confirmed);
        let mut ways: Vec<Way> = confirmed
            .map(|row| Way {
                says: format!("cause confirmed: {}", row.name),
                closes: Some((Ending::Confirmed, Some(row.id))),
            })
            .collect();
        if let crate::job::Next::Ended(ending) = self.sitting.next()
            && ending != Ending::Confirmed
        {
            ways.push(Way { says: format!("closed: {}", ending.words()), closes: Some((ending, None)) });
        }
        let harmed = self.sitting.broke().into_iter().filter(|broke| broke.because.is_none());
        ways.extend(harmed.map(|broke| Way {
            says: format!("{} put right; why it broke stays open", broke.name),
            closes: Some((Ending::DamageOnly, None)),
        }));
        ways.push(Way { says: "handed over to someone else".to_owned(), closes: Some((Ending::HandedOver, None)) });
        ways.push(Way { says: "left open, to be taken up again".to_owned(), closes: None });
        ways
    }

    fn close(&mut self, ending: Ending, cause: Option<Id>) -> Result<(), Halt> {
        if ending != Ending::HandedOver {
            self.second_thoughts(cause.as_deref())?;
        }
        let prompt = if self.sitting.needs_reason(ending) {
            "It is not known why this broke. State the reason for closing; empty line: not closed."
        } else {
            "Any words for the record? Empty line: none."
        };
        let words = self.hear(prompt, Wants::Words)?.unwrap_or_default();
        let event = match self.sitting.close(ending, cause, &words) {
            Ok(event) => event,
            Err(refused) => return self.say(&format!("Not closed: {refused}.")),
        };
        if !self.keep(event)? {
            return Ok(());
        }
        self.say(&format!("Closed: {}.", ending.words()))?;
        self.for_the_record(ending)?;
        self.write_record()?;
        self.saved()?;
        Err(Halt::Done)
    }

    /// Three short questions before closing; an empty line skips one, and that is kept too.
    fn second_thoughts(&mut self, cause: Option<&str>) -> Result<(), Halt> {
        for (id, question, hint) in self.sitting.second_thoughts(cause).questions {
            self.say_part("Think of", &hint)?;
            let words = self.hear(&format!("{question} Empty line: skipped."), Wants::Words)?.unwrap_or_default();
            if !self.keep(Event::SecondThought { question: id.to_owned(), words })? {
                return Ok(());
            }
        }
        Ok(())
    }

    fn write_record(&mut self) -> Result<(), Halt> {
        let text = (self.record)(&self.sitting);
        match self.archive.write_record(self.keeper.number(), &text) {
            Ok(place) => self.say(&format!("The record is in {place}.")),
            Err(why) => self.say(&format!("The record was not written: {why}")),
        }
    }

    /// Last lines. Words not settled yet are saved first, whatever ended the sitting.
    pub(super) fn finish(&mut self, halt: Halt) -> Result<(), LineError> {
        self.save_heard();
        let said = match halt {
            Halt::Over => self.input_ended(),
            Halt::Leave => self.saved(),
            other => Err(other),
        };
        match said.and_then(|()| self.console.flush()) {
            Err(Halt::Fault(error)) => Err(error),
            _ => Ok(()),
        }
    }

    fn input_ended(&mut self) -> Result<(), Halt> {
        self.say("")?;
        self.say("The input has ended. What is known so far:")?;
        self.likely()?;
        self.results()?;
        self.saved()
    }

    fn saved(&mut self) -> Result<(), Halt> {
        if self.unsaved {
            self.say("The last entry could not be saved. Everything before it is.")?;
        }
        self.say(&format!("Job {} is saved in {}.", self.keeper.number(), self.keeper.place()))
    }
}
