//! Turns what a job told into flat rows for other programs: one per observation, per confirmed cause, per witness.
//!
//! Nothing anybody typed is in them: no words, no names, no pump. DEVELOPERS.md tells every field.

use super::reader::Taught;
use super::told::Said;
use crate::evidence::Answer;
use crate::job::{ConfirmedBy, Given};
use serde::Serialize;

/// Version of the rows: raised when a field changes its meaning or goes; a new field does not raise it.
pub const ROWS_VERSION: u32 = 1;

/// A row: what every row has, then its own part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Row<'a> {
    /// Version of the rows.
    pub schema: u32,
    /// Id of the job.
    pub job: &'a str,
    /// Id it began with; of rows with the same one, those of the job closed last count.
    pub root: &'a str,
    /// Family.
    pub family: &'a str,
    /// Hash of the knowledge the job was opened with.
    pub knowledge: &'a str,
    /// When it was closed, in seconds since 1970; null while it is open.
    pub closed: Option<i64>,
    /// What the row tells.
    #[serde(flatten)]
    pub part: Part<'a>,
}

/// The part of a row that is its own.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "row", rename_all = "snake_case")]
pub enum Part<'a> {
    /// A confirmed cause.
    Cause {
        /// Cause.
        cause: &'a str,
        /// By a direct look or a proved repair.
        by: ConfirmedBy,
    },
    /// Something said or measured.
    Observation {
        /// Finding, or reading with its running state behind `@`.
        observed: &'a str,
        /// The answer; null for a number.
        answer: Option<Answer>,
        /// The number in SI; null for an answer.
        si: Option<f64>,
        /// How it came to be said.
        said: Said,
        /// True if another word for the same observation came before.
        again: bool,
        /// True if a cause of this job is confirmed.
        confirmed: bool,
        /// True if the answer counts.
        counts: bool,
    },
    /// What an asked answer says about one link.
    Witness {
        /// Finding.
        finding: &'a str,
        /// Parent.
        parent: &'a str,
        /// The answer.
        yes: bool,
        /// Chance that the parent was there, from everything but this answer.
        present: f64,
        /// Chance of the likeliest other parent.
        rival: f64,
        /// Chance of a "yes" without this parent.
        others: f64,
        /// Share of people who notice what is there.
        noticed: f64,
        /// The number of the link.
        strength: f64,
    },
}

/// All rows of a job.
pub fn rows(taught: &Taught) -> Vec<Row<'_>> {
    let told = &taught.told;
    let row = |part| Row {
        schema: ROWS_VERSION,
        job: &told.id,
        root: &told.root,
        family: &told.family,
        knowledge: &told.knowledge,
        closed: told.closed.map(jiff::Timestamp::as_second),
        part,
    };
    let causes = told.confirmed.iter().map(|confirmed| Part::Cause { cause: &confirmed.cause, by: confirmed.by });
    let observations = told.observations.iter().map(|seen| {
        let (answer, si) = match &seen.given {
            Given::Answer(answer) => (Some(*answer), None),
            Given::Number(_, si) => (None, Some(*si)),
        };
        let confirmed = told.confirmed.is_ok();
        let counts = confirmed && told.one_pump && seen.counted().is_some();
        Part::Observation { observed: &seen.id, answer, si, said: seen.said, again: seen.again, confirmed, counts }
    });
    let witnesses = taught.witnesses.iter().map(|seen| Part::Witness {
        finding: &seen.finding,
        parent: &seen.parent,
        yes: seen.yes,
        present: seen.present,
        rival: seen.rival,
        others: seen.others,
        noticed: seen.noticed,
        strength: seen.strength,
    });
    causes.chain(observations).chain(witnesses).map(row).collect()
}
