//! What a screen needs from the world to keep jobs: implemented by the command layer on disk, in memory by tests.

use super::event::{Entry, Event};
use crate::knowledge::schema::Id;
use jiff::Timestamp;

/// Keeps the events of one job: saves first, stamps the time.
pub trait Keeper {
    /// Saves an event durably and returns it with its time. On an error nothing was saved and the event must not be
    /// applied; the text says what to do.
    fn keep(&mut self, event: Event) -> Result<Entry, String>;
    /// Where the job is saved, to show.
    fn place(&self) -> String;
    /// Number of the job.
    fn number(&self) -> u32;
    /// What the clock says, to notice a pause; `None` where nobody watches a clock.
    fn now(&self) -> Option<Timestamp> {
        None
    }
}

/// One job in the list of the start page.
#[derive(Debug, Clone, PartialEq)]
pub struct JobLine {
    /// Number.
    pub number: u32,
    /// The pump, or the family.
    pub pump: String,
    /// The complaint, verbatim, or empty.
    pub complaint: String,
    /// When it was last worked on, to show.
    pub last: String,
    /// True if it was not closed.
    pub open: bool,
    /// What is wrong with its file, if anything.
    pub trouble: Option<String>,
}

/// A job taken up: its keeper, its events, and what the person must be told first (a torn tail, say).
pub struct Taken {
    /// Keeper.
    pub keeper: Box<dyn Keeper>,
    /// Events so far.
    pub entries: Vec<Entry>,
    /// What to tell first.
    pub notices: Vec<String>,
}

/// All jobs of this machine.
pub trait Archive {
    /// Jobs, newest first.
    fn jobs(&self) -> Vec<JobLine>;
    /// Begins a job for a pump family: the opening event is saved.
    fn begin(&mut self, family: &str) -> Result<Taken, String>;
    /// Takes a job up again.
    fn resume(&mut self, number: u32) -> Result<Taken, String>;
    /// Writes a pump sheet, by the pump's name, and returns where.
    fn write_sheet(&mut self, _pump: &str, _text: &str) -> Result<String, String> {
        Err("there is no place for pump sheets here".to_owned())
    }
    /// Keeps a pump's usual values (reading, as typed, in SI) for its next job and returns where; empty where nothing is
    /// kept.
    fn keep_usual(&mut self, _pump: &str, _values: &[(Id, String, f64)]) -> Result<String, String> {
        Ok(String::new())
    }
    /// Writes the record of a job beside it and returns where.
    fn write_record(&mut self, number: u32, markdown: &str) -> Result<String, String>;
}
