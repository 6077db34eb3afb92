//! Turns one prompt after the other into a job: the main loop, saving, and listening.

use super::LineError;
use super::complaint::Heard;
use super::console::{Console, Halt};
use super::opening::Opened;
use super::orders::{self, Order, Read};
use crate::job::{Archive, Event, GateKind, IDLE_MINUTES, Keeper, LookRow, Sitting};
use crate::knowledge::schema::Id;
use crate::text::cut_with;
use indexmap::IndexSet;
use std::collections::VecDeque;

/// How much of a line that was not understood is said back, in columns.
const SAID_BACK: usize = 40;

/// Where the job stands.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Phase {
    /// What does the operator complain of?
    Complaint(Heard),
    /// The questions of the first minute, from this one on.
    FirstMinute(usize),
    /// About to print the walk-round.
    Round,
    /// The looks still to be asked.
    Walk(VecDeque<LookRow>),
    /// Step by step.
    Steps,
}

/// What is being asked just now.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Asking {
    /// Finding or reading.
    pub(super) id: Option<Id>,
    /// Check.
    pub(super) check: Option<Id>,
    /// Check whose page was printed last.
    pub(super) printed: Option<Id>,
}

/// What may be typed at a prompt.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wants {
    /// One of a few answers.
    Choice,
    /// Free words: only what is an order through and through counts as one.
    Words,
}

/// A job at work, by lines.
pub(super) struct Session<'a> {
    pub(super) console: Console<'a>,
    pub(super) archive: &'a mut dyn Archive,
    pub(super) keeper: Box<dyn Keeper>,
    pub(super) sitting: Sitting,
    pub(super) record: fn(&Sitting) -> String,
    pub(super) phase: Phase,
    pub(super) asking: Asking,
    /// Readings that were put off; they have no answer to save, so this lasts for the sitting only.
    pub(super) later: IndexSet<Id>,
    /// Empty lines typed at a stop page.
    pub(super) passed: usize,
    /// Number of events when the ending was printed.
    pub(super) ended: Option<usize>,
    /// Number of events when the list of likely causes was printed.
    pub(super) listed: usize,
    /// True if the last entry could not be saved.
    pub(super) unsaved: bool,
}

impl<'a> Session<'a> {
    /// Takes up a job that was opened.
    pub(super) fn new(
        opened: Opened,
        archive: &'a mut dyn Archive,
        console: Console<'a>,
        record: fn(&Sitting) -> String,
    ) -> Self {
        Self {
            console,
            archive,
            keeper: opened.keeper,
            sitting: opened.sitting,
            record,
            phase: opened.phase,
            asking: Asking::default(),
            later: IndexSet::new(),
            passed: 0,
            ended: None,
            listed: 0,
            unsaved: false,
        }
    }

    /// Until someone leaves, the job is closed, or the input ends.
    pub(super) fn run(mut self) -> Result<(), LineError> {
        loop {
            let mut turn = self.turn();
            while let Err(Halt::Order(order)) = turn {
                turn = self.obey(order);
            }
            match turn {
                Ok(()) | Err(Halt::Again) => {}
                Err(halt) => return self.finish(halt),
            }
        }
    }

    /// One question and its answer.
    fn turn(&mut self) -> Result<(), Halt> {
        self.asking.id = None;
        self.asking.check = None;
        if let Some(stop) = self.sitting.stop() {
            return self.stop_page(&stop);
        }
        match self.phase.clone() {
            Phase::Complaint(heard) => self.complaint(&heard),
            Phase::FirstMinute(at) => self.first_minute(at),
            Phase::Round => self.begin_round(),
            Phase::Walk(looks) => self.walk(looks),
            Phase::Steps => self.step(),
        }
    }

    /// Orders that start something of their own.
    fn obey(&mut self, order: Order) -> Result<(), Halt> {
        let check = self.asking.check.take().filter(|_| order == Order::Skip);
        // Whoever comes back from somewhere else sees the page with its cautions again.
        self.asking = Asking { check, ..Asking::default() };
        match order {
            Order::Change(number) => self.change(number),
            Order::Withdraw(number) => self.withdraw(number),
            Order::Tell(words) => self.tell(words),
            Order::Think(words) => self.think(words),
            Order::Skip => self.skip(),
            Order::Isolate => self.gate_again(GateKind::Isolation),
            Order::Start => self.gate_again(GateKind::FirstRun),
            Order::Fix => self.fix(),
            Order::Changed(words) => self.changed(words),
            Order::Service => self.service(),
            Order::Aside => self.aside(),
            Order::End => self.end(),
            Order::Leave => Err(Halt::Leave),
            shown => self.show(&shown),
        }
    }

    /// Says the prompt and reads the answer; `None` for an empty line. Orders that only show something are obeyed here.
    pub(super) fn hear(&mut self, prompt: &str, wants: Wants) -> Result<Option<String>, Halt> {
        loop {
            self.say(prompt)?;
            let Some(line) = self.console.read()? else { return Err(Halt::Over) };
            self.notice_pause()?;
            match orders::read(&line) {
                _ if line.is_empty() => return Ok(None),
                Read::Order(order) if order.only_shows() => self.show(&order)?,
                Read::Order(order) => return Err(Halt::Order(order)),
                Read::Nearly(form) if wants == Wants::Choice => self.say(&format!("Write it like this: {form}"))?,
                _ => return Ok(Some(line)),
            }
        }
    }

    /// After a pause what was proved counts no more: the line was meant for a page that is out of date.
    fn notice_pause(&mut self) -> Result<(), Halt> {
        if !self.keeper.now().is_some_and(|now| self.sitting.was_idle(now)) {
            return Ok(());
        }
        if self.keep(Event::Back)? {
            self.say(&format!(
                "Nothing was entered for over {IDLE_MINUTES} minutes, so that line does not count. Prove zero again."
            ))?;
        }
        Err(Halt::Again)
    }

    /// Says that something was not understood and what was perhaps meant; the prompt says what is accepted.
    pub(super) fn not_understood(&mut self, typed: &str, near: &[&str]) -> Result<(), Halt> {
        let typed = cut_with(typed, SAID_BACK, "...");
        let near = orders::nearest(&typed, near).map_or(String::new(), |near| format!(" Did you mean `{near}`?"));
        self.say(&format!("`{typed}` is not understood here.{near} `help` lists the words that always work."))
    }

    /// Saves an event, and only then applies it. False if it could not be saved: nothing has changed then.
    pub(super) fn keep(&mut self, event: Event) -> Result<bool, Halt> {
        match self.keeper.keep(event) {
            Ok(entry) => {
                self.sitting.apply(entry);
                self.unsaved = false;
                Ok(true)
            }
            Err(why) => {
                self.unsaved = true;
                self.say(&format!("Not saved, so it does not count: {why}"))?;
                Ok(false)
            }
        }
    }

    /// As [`Session::keep`], for what nobody typed: waits for a line before anything is tried again.
    pub(super) fn keep_unasked(&mut self, event: Event) -> Result<(), Halt> {
        if !self.keep(event)? {
            self.hear("An empty line tries again; `leave` stops here.", Wants::Words)?;
        }
        Ok(())
    }

    /// Writes one line.
    pub(super) fn say(&mut self, text: &str) -> Result<(), Halt> {
        self.console.say(text)
    }

    /// Writes lines numbered from 1.
    pub(super) fn say_numbered(&mut self, lines: &[String]) -> Result<(), Halt> {
        for (at, line) in lines.iter().enumerate() {
            self.say(&format!("  {}. {line}", at + 1))?;
        }
        Ok(())
    }
}

impl Order {
    /// True if it changes nothing and asks nothing, or can be done without leaving the prompt.
    fn only_shows(&self) -> bool {
        !matches!(
            self,
            Self::Change(_)
                | Self::Withdraw(_)
                | Self::Tell(_)
                | Self::Think(_)
                | Self::Skip
                | Self::Isolate
                | Self::Start
                | Self::Fix
                | Self::Changed(_)
                | Self::Service
                | Self::Aside
                | Self::End
                | Self::Leave
        )
    }
}
