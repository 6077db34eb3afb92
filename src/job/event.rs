//! What happens in a job, one event per line of its journal.

use crate::evidence::{Answer, PumpData};
use crate::knowledge::schema::Id;
use crate::knowledge::sheet::Sheet;
use jiff::Timestamp;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// Version of the journal's lines.
pub const JOURNAL_VERSION: u32 = 2;

/// An event with its time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// When.
    pub at: Timestamp,
    /// What.
    #[serde(flatten)]
    pub event: Event,
}

/// The pump a job is about, as far as a sheet says.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct PumpNote {
    /// What people on site call it.
    pub name: String,
    /// Lines of the sheet as shown: label and value.
    pub lines: Vec<(String, String)>,
    /// Equipment fitted, if known.
    #[serde(default)]
    pub fitted: Option<Vec<String>>,
    /// Usual values in SI, by reading.
    #[serde(default)]
    pub usual: Vec<(Id, String, f64)>,
    /// The numbers of the sheet.
    #[serde(default)]
    pub data: PumpData,
    /// The sheet as written.
    #[serde(default)]
    pub sheet: Sheet,
}

/// Zero energy, proved twice: the gauge fell to zero, and the open drain has no flow.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ZeroProof {
    /// Who isolated, as said.
    pub who: String,
    /// What was isolated and relieved, as said.
    pub isolated: String,
}

impl ZeroProof {
    /// In one line.
    pub fn words(&self) -> String {
        format!("{}: {}; gauge fell to zero, open drain without flow", self.who, self.isolated)
    }
}

/// Something that happened.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "what", rename_all = "snake_case")]
pub enum Event {
    /// The job was opened; always first.
    Opened {
        /// Journal version.
        version: u32,
        /// Program version.
        program: String,
        /// Family id.
        family: Id,
        /// Release of the knowledge.
        release: String,
        /// Hash of the knowledge.
        hash: String,
        /// The pump, if a sheet was given.
        #[serde(default)]
        pump: Option<Box<PumpNote>>,
    },
    /// What the operator said, verbatim, and the findings it names.
    Complaint {
        /// Verbatim.
        words: String,
        /// Findings.
        findings: Vec<Id>,
    },
    /// An answer to one of the questions of the first minute.
    FirstMinute {
        /// Question.
        question: Id,
        /// As said.
        say: String,
        /// Findings answered yes by it.
        yes: Vec<Id>,
        /// Findings answered no by it.
        no: Vec<Id>,
    },
    /// A finding was answered.
    Answered {
        /// Finding.
        finding: Id,
        /// Answer.
        answer: Answer,
        /// The check it came from, if asked.
        #[serde(default)]
        check: Option<Id>,
    },
    /// A reading was taken.
    Measured {
        /// Reading; with the running state behind `@` where it is not the reading's own.
        reading: Id,
        /// As typed.
        text: String,
        /// In SI.
        si: f64,
        /// The check it came from, if asked.
        #[serde(default)]
        check: Option<Id>,
    },
    /// The usual value of a reading on this pump became known.
    Usual {
        /// Reading.
        reading: Id,
        /// As typed.
        text: String,
        /// In SI.
        si: f64,
    },
    /// The pump's sheet was filled in or changed. What is fitted counts from the next job on.
    Sheet {
        /// The pump as the sheet says now.
        pump: Box<PumpNote>,
    },
    /// An answer or number was taken back: as if never given.
    Withdrawn {
        /// Finding or reading.
        id: Id,
    },
    /// A check cannot be done now.
    Barred {
        /// Check.
        check: Id,
        /// Why.
        reason: String,
    },
    /// What is in the pump was named, before anything was opened.
    Liquid {
        /// Name and what it does, as said.
        name: String,
    },
    /// Zero energy was proved twice.
    ZeroProved(ZeroProof),
    /// Isolation is not possible now. Journals of version 1 say with it that zero was proved, too.
    Isolation {
        /// True if zero energy was proved.
        proved: bool,
        /// Who and how, or why not, as said.
        words: String,
    },
    /// The gate before the first start after work on the pump was answered.
    FirstRun {
        /// Who starts, as said.
        who: String,
        /// Lines that were not answered with yes; none = the pump may be started.
        open: Vec<String>,
    },
    /// Somebody came back to the job after a pause in which nothing was entered.
    Back,
    /// A stop rule was answered.
    StopAnswered {
        /// Rule.
        rule: Id,
        /// True if the pump was stopped; false if the site decided to run on.
        stopped: bool,
        /// Who decided, as said.
        words: String,
    },
    /// Something was changed or put right; the pump was not tried yet.
    Changed {
        /// Cause, condition or damage.
        node: Id,
        /// Remedy, if the knowledge has one.
        #[serde(default)]
        remedy: Option<Id>,
        /// What was done, as said.
        words: String,
    },
    /// The pump was tried after what was changed.
    Tried {
        /// What came of it.
        outcome: Outcome,
        /// As said.
        #[serde(default)]
        words: String,
    },
    /// Rebuild sheets were begun, to be played in this order.
    SheetsBegun {
        /// What is put right with them.
        node: Id,
        /// Remedy they belong to.
        #[serde(default)]
        remedy: Option<Id>,
        /// Procedures.
        sheets: Vec<Id>,
    },
    /// A step of a rebuild sheet was answered.
    SheetStep {
        /// Procedure.
        sheet: Id,
        /// Step, from 1.
        step: u32,
        /// True if its hold point holds.
        passed: bool,
        /// The step that comes next; none = the sheet is done.
        next: Option<u32>,
        /// As said.
        #[serde(default)]
        words: String,
        /// The number entered, as typed and in SI.
        #[serde(default)]
        value: Option<(String, f64)>,
    },
    /// The rebuild sheets were put aside: the questions go on.
    SheetsLeft {
        /// Why.
        words: String,
    },
    /// A line of the return-to-service list was answered.
    ProofLine {
        /// Line.
        line: Id,
        /// Reading it takes, if it is a number.
        #[serde(default)]
        reading: Option<Id>,
        /// As typed, or why it is left out.
        text: String,
        /// In SI.
        #[serde(default)]
        si: Option<f64>,
        /// Passed, off, or left out.
        #[serde(default)]
        passed: Option<bool>,
    },
    /// The return to service was decided.
    Returned {
        /// True if it passed; false = not yet.
        passed: bool,
        /// Lines that are off or still open.
        off: Vec<Id>,
        /// Who, and when it is looked at again, as said.
        words: String,
    },
    /// One of the three questions before closing was answered; without words it was skipped.
    SecondThought {
        /// Question.
        question: String,
        /// As said.
        words: String,
    },
    /// A remark.
    Note {
        /// Text.
        text: String,
    },
    /// The job was closed.
    Closed {
        /// How it ended.
        ending: Ending,
        /// The cause named, if any.
        #[serde(default)]
        cause: Option<Id>,
        /// Remark.
        #[serde(default)]
        words: String,
    },
    /// The job was taken up again.
    Reopened,
    /// A code for the record; a later one of the same kind takes its place.
    Coded {
        /// Code.
        code: Id,
    },
    /// Who closes or hands over: initials and role, never a name.
    Signed {
        /// Initials and role.
        who: String,
    },
    /// The day on which somebody looks at the pump again.
    FollowUp {
        /// The day.
        on: Date,
    },
    /// This file is a copy that went another way than the job it began as; entries before this one are common to both.
    Branched {
        /// Id of that job.
        from: String,
        /// Id of this one from here on.
        id: String,
    },
}

impl Event {
    /// The opening of a job for a family, with the release and hash of the knowledge.
    pub fn opened(family: &str, (release, hash): (&str, &str), pump: Option<PumpNote>) -> Self {
        Self::Opened {
            version: JOURNAL_VERSION,
            program: env!("CARGO_PKG_VERSION").to_owned(),
            family: family.to_owned(),
            release: release.to_owned(),
            hash: hash.to_owned(),
            pump: pump.map(Box::new),
        }
    }
}

/// What came of trying the pump after something was changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// No effect.
    Same,
    /// Better, not well.
    Better,
    /// The complaint is gone.
    Well,
}

impl Outcome {
    /// As shown.
    pub fn words(self) -> &'static str {
        match self {
            Self::Same => "no effect",
            Self::Better => "better, not well",
            Self::Well => "worked after it",
        }
    }
}

/// How a job, or the asking in it, ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Ending {
    /// A cause is confirmed.
    Confirmed,
    /// No open check is worth its minutes.
    NothingWorthAsking,
    /// A stop rule holds.
    StopRule,
    /// What is left cannot be done without opening, and that cannot be done now.
    UnsafeToGoOn,
    /// Handed over to someone else.
    HandedOver,
    /// A part was put right; why it broke stays open, with a stated reason.
    DamageOnly,
    /// It works after what was changed; no cause is confirmed.
    WorksAgain,
    /// Put right, but the pump cannot be started now.
    NotStarted,
    /// It works, but the return to service has not passed.
    NotYet,
}

impl Ending {
    /// As shown and recorded.
    pub fn words(self) -> &'static str {
        match self {
            Self::Confirmed => "cause confirmed",
            Self::NothingWorthAsking => "nothing left that is worth asking",
            Self::StopRule => "stopped by a stop rule",
            Self::UnsafeToGoOn => "cannot go on without opening, and that is not possible now",
            Self::HandedOver => "handed over",
            Self::DamageOnly => "part put right; why it broke stays open",
            Self::WorksAgain => "works after what was changed; no cause is confirmed",
            Self::NotStarted => "put right, but it cannot be started now",
            Self::NotYet => "it works, but the return to service has not passed yet",
        }
    }
}
