//! The shape of the RON knowledge files, one to one; nothing is resolved or checked here.
//!
//! Any file may hold any kind of entry. Ids are `[a-z0-9_]` and unique over all kinds and files, so that a link,
//! a facts file and a record can name an entry by its id alone. Quantities stand as text with a unit.
//! Unknown fields are errors: a misspelt field must never be silently ignored.

use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

/// Newest schema version this program reads.
pub const VERSION: u32 = 1;

/// An id as written in a file.
pub type Id = String;

/// One knowledge file.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KnowledgeFile {
    /// Schema version, first in the file.
    pub version: u32,
    /// Release of the knowledge as a whole, stamped into records; one file says it.
    #[serde(default)]
    pub release: Option<String>,
    /// Pump families.
    #[serde(default)]
    pub families: IndexMap<Id, Family>,
    /// What the numbers rest on.
    #[serde(default)]
    pub sources: IndexMap<Id, Source>,
    /// What someone can remove or put right.
    #[serde(default)]
    pub causes: IndexMap<Id, Cause>,
    /// What the machine is then doing.
    #[serde(default)]
    pub conditions: IndexMap<Id, Condition>,
    /// Parts harmed.
    #[serde(default)]
    pub damage: IndexMap<Id, Condition>,
    /// Yes/no observables.
    #[serde(default)]
    pub findings: IndexMap<Id, Finding>,
    /// Numbers read off an instrument.
    #[serde(default)]
    pub readings: IndexMap<Id, Reading>,
    /// What has to be opened before a check, paid once.
    #[serde(default)]
    pub openings: IndexMap<Id, Opening>,
    /// What a person does to get findings and readings.
    #[serde(default)]
    pub checks: IndexMap<Id, Check>,
    /// What removes a cause or puts a part right.
    #[serde(default)]
    pub remedies: IndexMap<Id, Remedy>,
    /// Rebuild sheets, step by step.
    #[serde(default)]
    pub procedures: IndexMap<Id, Procedure>,
    /// The return-to-service list, in order.
    #[serde(default)]
    pub service: IndexMap<Id, ServiceLine>,
    /// Warnings shown before a step.
    #[serde(default)]
    pub cautions: IndexMap<Id, Caution>,
    /// What stops the pump before anything else is asked.
    #[serde(default)]
    pub stop_rules: IndexMap<Id, StopRule>,
    /// Groups of causes, conditions or damage of which at most one can hold.
    #[serde(default)]
    pub excludes: IndexMap<Id, Vec<Id>>,
    /// Groups of findings and readings that observe the same thing: only the first answered in this order counts.
    #[serde(default)]
    pub same_observation: IndexMap<Id, Vec<Id>>,
    /// The two questions of the first minute, with answers to choose from.
    #[serde(default)]
    pub first_minute: IndexMap<Id, FirstQuestion>,
    /// Causes that are put right differently and that no check tells apart, with the reason.
    #[serde(default)]
    pub inseparable: IndexMap<Id, Inseparable>,
    /// Jobs whose true cause is known: the graph is tried on them.
    #[serde(default)]
    pub cases: IndexMap<Id, Case>,
    /// Pumps with hidden faults, to practise on.
    #[serde(default)]
    pub lessons: IndexMap<Id, Lesson>,
    /// Codes offered when a job is closed.
    #[serde(default)]
    pub codes: IndexMap<Id, Code>,
    /// Ids that are used no more, and what took their place.
    #[serde(default)]
    pub retired: IndexMap<Id, Retired>,
    /// Trade terms in plain words.
    #[serde(default)]
    pub glossary: IndexMap<String, String>,
}

/// A pump family: what applies to which.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Family {
    /// Name as a technician says it.
    pub name: String,
    /// How to recognise it.
    pub recognise: String,
}

/// What a number or a statement rests on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Title, or the words "common practice, no source".
    pub title: String,
    /// What kind of source it is.
    pub kind: SourceKind,
    /// Where in it.
    #[serde(default)]
    pub place: Option<String>,
}

/// Kinds of source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SourceKind {
    /// A published standard.
    Standard,
    /// A public-domain text.
    PublicDomain,
    /// A published book or paper under copyright: cited, not copied.
    Published,
    /// Derived from physics with a named formula.
    Derived,
    /// Common practice of the trade, no source.
    CommonPractice,
    /// Recalled from a named text, not checked.
    FromMemory,
}

/// What the number itself rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Counted on real pumps.
    Measured,
    /// Taken from a published text.
    Published,
    /// Judged by someone of the trade.
    Expert,
    /// Nobody measured it; a first number to be bettered.
    Guess,
}

/// How often something follows when only this is present: a word of the seven-step scale, or a number.
///
/// Words after the seven-step verbal scale of Renooij and Witteman (1999), anchors from memory and moved off 0 and 1.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Strength {
    /// 0.02
    AlmostNever,
    /// 0.10
    Rarely,
    /// 0.25
    Sometimes,
    /// 0.50
    Half,
    /// 0.75
    Often,
    /// 0.90
    Usually,
    /// 0.98
    NearlyAlways,
    /// A probability between 0 and 1.
    Share(f64),
    /// Of 20 pumps with only this, so many show it.
    #[serde(rename = "of_20")]
    Of20(f64),
}

impl Strength {
    /// The number behind the word: a probability, not yet checked.
    pub fn number(self) -> f64 {
        match self {
            Self::AlmostNever => 0.02,
            Self::Rarely => 0.10,
            Self::Sometimes => 0.25,
            Self::Half => 0.50,
            Self::Often => 0.75,
            Self::Usually => 0.90,
            Self::NearlyAlways => 0.98,
            Self::Share(share) => share,
            Self::Of20(count) => count / 20.0,
        }
    }

    /// The nearest word of the scale.
    pub fn word(self) -> &'static str {
        match self.number() {
            n if n < 0.05 => "almost never",
            n if n < 0.17 => "rarely",
            n if n < 0.37 => "sometimes",
            n if n < 0.62 => "half the time",
            n if n < 0.82 => "often",
            n if n < 0.95 => "usually",
            _ => "nearly always",
        }
    }
}

/// A link from one node to another or to a finding.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Link {
    /// With only this present, how often does that follow by the time somebody calls.
    pub strength: Strength,
    /// What the number rests on.
    pub basis: Basis,
    /// Id of the source of the mechanism.
    #[serde(default)]
    pub source: Option<Id>,
    /// When it was last looked at, `YYYY-MM`.
    #[serde(default)]
    pub reviewed: Option<String>,
    /// Two judgements differ; both are told here.
    #[serde(default)]
    pub disputed: Option<String>,
}

/// A root condition that someone can remove.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cause {
    /// Name as shown in the list of likely causes.
    pub name: String,
    /// Where on the installation.
    pub place: String,
    /// Share of jobs in which it is found, per 1,000 jobs, by family; absent family = does not occur.
    pub shares: IndexMap<Id, f64>,
    /// What the share rests on.
    pub basis: Basis,
    /// Source of the share.
    #[serde(default)]
    pub source: Option<Id>,
    /// When the share was last looked at, `YYYY-MM`.
    #[serde(default)]
    pub reviewed: Option<String>,
    /// Equipment that must be fitted for this to be possible (`belt`, `damper`, …); none = always possible.
    #[serde(default)]
    pub fitted: Option<String>,
    /// Who or what usually lets it happen.
    #[serde(default)]
    pub lets_it_happen: String,
    /// Conditions and damage it leads to.
    #[serde(default)]
    pub leads_to: IndexMap<Id, Link>,
    /// What removes it.
    #[serde(default)]
    pub remedy: Option<Id>,
    /// Everyday words for it, for "I think it is …".
    #[serde(default)]
    pub aliases: Vec<String>,
    /// This one stands for everything the graph does not hold.
    #[serde(default)]
    pub stands_for_unknown: bool,
}

/// What the machine is then doing, or a part harmed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Condition {
    /// Name as shown on screen.
    pub name: String,
    /// Present without any listed parent, as a probability.
    pub leak: f64,
    /// Conditions and damage it leads to.
    #[serde(default)]
    pub leads_to: IndexMap<Id, Link>,
    /// What puts the part right (damage only).
    #[serde(default)]
    pub remedy: Option<Id>,
    /// Families in which it can occur; none named = all.
    #[serde(default)]
    pub families: Vec<Id>,
    /// Whether the pump may run on with it until a planned stop.
    #[serde(default)]
    pub run_on: Option<RunOn>,
    /// What it does to a pump, or to a gauge.
    #[serde(default)]
    pub physics: Option<Physics>,
}

/// What a condition does to what is read.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Physics {
    /// It moves parts of the pump, all by one severity.
    Moves(Vec<PartMove>),
    /// It makes a gauge show a wrong value: readings by name, and how far off they are, as one standard deviation: with a
    /// unit, or as a share of the value.
    Misreads(Vec<String>, String),
}

/// One part of the pump moved.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PartMove {
    /// Name of the part, as in the table of the physics.
    pub what: String,
    /// From slight to grave.
    pub by: Amount,
    /// Severities lie evenly between the logarithms of the two ends.
    #[serde(default)]
    pub log: bool,
}

/// How far a part is moved, from slight to grave.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Amount {
    /// Multiplied.
    Times(f64, f64),
    /// Added, with units.
    Add(String, String),
    /// Set, with units.
    To(String, String),
}

/// What a reading shows of the pump.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReadingPhysics {
    /// Name of the reading in the table of the physics.
    pub shows: String,
    /// Words of the running state it is taken in, parted by commas; what is not named is the usual: full speed, working
    /// outlet, inlet as found, oil warm, orifice fitted.
    #[serde(default)]
    pub state: String,
    /// Told as a share of what this pump shows when healthy.
    #[serde(default)]
    pub of_healthy: bool,
}

/// Whether the pump may run on with something until a planned stop.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RunOn {
    /// Whether, and how long.
    pub may: MayRun,
    /// What to watch meanwhile.
    #[serde(default)]
    pub watch: String,
    /// What ends it.
    #[serde(default)]
    pub ends: String,
}

/// How long the pump may run on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MayRun {
    /// Not at all.
    No,
    /// Hours: as long as it takes to plan the stop.
    Hours,
    /// Until the planned stop.
    UntilPlanned,
}

impl MayRun {
    /// As shown.
    pub fn words(self) -> &'static str {
        match self {
            Self::No => "do not run on",
            Self::Hours => "only as long as it takes to plan the stop",
            Self::UntilPlanned => "may run on until the planned stop",
        }
    }
}

/// A yes/no observable.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Finding {
    /// A short statement, as it stands in the trail when the answer is yes.
    pub name: String,
    /// The question, answered by yes or no.
    pub question: String,
    /// What people say instead; a finding with aliases can be a complaint.
    #[serde(default)]
    pub aliases: Vec<String>,
    /// How to find out, one line.
    #[serde(default)]
    pub how: String,
    /// The pump's state while looking.
    #[serde(default)]
    pub state: PumpState,
    /// Yes although absent, no although present; 0.03 each if not given.
    #[serde(default)]
    pub error: AnswerError,
    /// Seen without any listed parent, as a probability.
    #[serde(default)]
    pub leak: f64,
    /// What shows itself this way, and how often.
    #[serde(default)]
    pub shown_by: IndexMap<Id, Link>,
    /// A direct look at this cause, condition or damage: the answer is a verdict on it.
    #[serde(default)]
    pub verdict_on: Option<Id>,
    /// What it is confused with.
    #[serde(default)]
    pub look_alike: String,
    /// Findings and readings that need no asking once this was answered yes.
    #[serde(default)]
    pub if_yes_skip: Vec<Id>,
    /// Findings and readings that need no asking once this was answered no.
    #[serde(default)]
    pub if_no_skip: Vec<Id>,
    /// Families it applies to; none named = all.
    #[serde(default)]
    pub families: Vec<Id>,
}

/// How often an answer is wrong.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AnswerError {
    /// Share of "yes" where it is absent.
    pub false_yes: f64,
    /// Share of "no" where it is present.
    pub missed: f64,
}

impl Default for AnswerError {
    /// 0.03 each: a human answer is never surer than that.
    fn default() -> Self {
        Self { false_yes: 0.03, missed: 0.03 }
    }
}

/// State of the pump a check or finding needs.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PumpState {
    /// Running at its duty.
    Running,
    /// Stopped, not isolated.
    Stopped,
    /// Stopped, isolated and proved.
    Isolated,
    /// Opened.
    Opened,
    /// Does not matter.
    #[default]
    Any,
}

/// A number read off an instrument.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Short name.
    pub name: String,
    /// What to read, as a question.
    pub question: String,
    /// Everyday words for it.
    #[serde(default)]
    pub aliases: Vec<String>,
    /// Where and with what instrument.
    pub instrument: String,
    /// Running state it is taken in.
    pub running_state: String,
    /// Kind of quantity, a name of the quantity table.
    pub quantity: String,
    /// Unit shown first.
    pub unit: String,
    /// The band of a healthy pump.
    pub healthy: Band,
    /// Lowest and highest value the instrument could show.
    pub scale: (String, String),
    /// Standard deviation of what the instrument shows, same quantity (or a difference of it).
    pub gauge_error: String,
    /// Out of the healthy band, below or above, without any listed parent.
    #[serde(default)]
    pub leak: PullLeak,
    /// What moves it, which way, how often out of the healthy band.
    #[serde(default)]
    pub moved_by: IndexMap<Id, Pull>,
    /// What it shows of the pump, if the physics knows it.
    #[serde(default)]
    pub physics: Option<ReadingPhysics>,
    /// Source of the band.
    #[serde(default)]
    pub source: Option<Id>,
    /// Families it applies to; none named = all.
    #[serde(default)]
    pub families: Vec<Id>,
}

/// A healthy band.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Band {
    /// Between two values with units.
    Between(String, String),
    /// Between two shares of this pump's usual value.
    OfUsual(f64, f64),
}

/// How often a reading is out of its band for no listed reason.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PullLeak {
    /// Below the band.
    pub down: f64,
    /// Above the band.
    pub up: f64,
}

impl Default for PullLeak {
    fn default() -> Self {
        Self { down: 0.02, up: 0.02 }
    }
}

/// A link from a node to a reading.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pull {
    /// Which way it moves the reading.
    pub way: Way,
    /// With only this present, how often the reading leaves its band that way.
    pub strength: Strength,
    /// What the number rests on.
    pub basis: Basis,
    /// Id of the source of the mechanism.
    #[serde(default)]
    pub source: Option<Id>,
    /// When it was last looked at, `YYYY-MM`.
    #[serde(default)]
    pub reviewed: Option<String>,
}

/// Direction of a pull.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// Below the healthy band.
    Down,
    /// Above the healthy band.
    Up,
    /// Out of it, either way, half and half.
    Either,
}

/// What has to be opened before a check; its minutes are paid once.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Opening {
    /// Name as shown on screen.
    pub name: String,
    /// Minutes, paid once.
    pub minutes: f64,
    /// Openings that come first.
    #[serde(default)]
    pub needs: Vec<Id>,
}

/// What a person does to get findings and readings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Check {
    /// Name, an instruction in few words.
    pub name: String,
    /// Findings and readings it yields.
    pub yields: Vec<Id>,
    /// Minutes, without the opening.
    pub minutes: f64,
    /// What has to be opened first.
    #[serde(default)]
    pub opening: Option<Id>,
    /// The pump's state during the check.
    #[serde(default)]
    pub state: PumpState,
    /// The isolation gate must be answered first.
    #[serde(default)]
    pub needs_isolation: bool,
    /// Tools.
    #[serde(default)]
    pub tools: Vec<String>,
    /// Cautions, gravest first.
    #[serde(default)]
    pub cautions: Vec<Id>,
    /// How to do it, step by step.
    pub steps: Vec<String>,
    /// Equipment that must be fitted.
    #[serde(default)]
    pub fitted: Option<String>,
    /// Families it applies to; none named = all.
    #[serde(default)]
    pub families: Vec<Id>,
    /// Source of the way it is done.
    #[serde(default)]
    pub source: Option<Id>,
}

impl Check {
    /// True if something is opened or hands go in: isolation comes first.
    pub fn opens(&self) -> bool {
        self.needs_isolation || self.opening.is_some() || matches!(self.state, PumpState::Isolated | PumpState::Opened)
    }
}

/// What removes a cause, puts a part right, or neither.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Remedy {
    /// Name, an instruction in few words.
    pub name: String,
    /// Remedy, repair or temporary measure.
    pub kind: RemedyKind,
    /// Hands-on minutes, without the opening.
    pub minutes: f64,
    /// Price of parts, in minutes of work it is worth.
    #[serde(default)]
    pub part_minutes: f64,
    /// What has to be opened first.
    #[serde(default)]
    pub opening: Option<Id>,
    /// Steps.
    pub steps: Vec<String>,
    /// Parts by function; no part numbers.
    #[serde(default)]
    pub parts: Vec<String>,
    /// Settings used.
    #[serde(default)]
    pub settings: Vec<String>,
    /// What proves it afterwards.
    pub proof: Vec<String>,
    /// Rebuild sheets it needs.
    #[serde(default)]
    pub procedures: Vec<Id>,
    /// Cautions.
    #[serde(default)]
    pub cautions: Vec<Id>,
    /// Source.
    #[serde(default)]
    pub source: Option<Id>,
}

/// Kinds of remedy (EN 13306 words).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RemedyKind {
    /// Removes the cause.
    Remedy,
    /// Puts the part right.
    Repair,
    /// Neither: keeps it running for now.
    Temporary,
}

/// A rebuild sheet.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Procedure {
    /// Name.
    pub name: String,
    /// Usual minutes, lowest and highest.
    pub minutes: (f64, f64),
    /// Steps in order, numbered from 1.
    pub steps: Vec<ProcedureStep>,
    /// What proves it afterwards.
    #[serde(default)]
    pub proof: Vec<String>,
    /// Source.
    #[serde(default)]
    pub source: Option<Id>,
}

/// One step of a rebuild sheet.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ProcedureStep {
    /// What to do.
    pub act: String,
    /// Parts by function.
    #[serde(default)]
    pub parts: Vec<String>,
    /// Cautions.
    #[serde(default)]
    pub cautions: Vec<Id>,
    /// What must be seen, felt or measured before going on.
    #[serde(default)]
    pub hold_point: Option<String>,
    /// Accept value with its source, where there is one.
    #[serde(default)]
    pub accept: Option<String>,
    /// Step to go back to when the hold point fails, from 1.
    #[serde(default)]
    pub fails_to: Option<u32>,
    /// What may go back in.
    #[serde(default)]
    pub renewal: Vec<Renewal>,
    /// True for some builds only.
    #[serde(default)]
    pub by_design: bool,
    /// The pump's state during the step: isolated unless it says otherwise; `running` asks the first-run gate.
    #[serde(default = "isolated")]
    pub state: PumpState,
    /// A number that is entered and judged at the hold point.
    #[serde(default)]
    pub measure: Option<Accepted>,
    /// The finding that a failed hold point answers with yes.
    #[serde(default)]
    pub fails_shows: Option<Id>,
}

fn isolated() -> PumpState {
    PumpState::Isolated
}

/// A number that passes a hold point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Accepted {
    /// Kind of quantity, a name of the quantity table.
    pub quantity: String,
    /// Unit shown first.
    pub unit: String,
    /// Lowest that passes.
    #[serde(default)]
    pub low: Option<String>,
    /// Highest that passes.
    #[serde(default)]
    pub high: Option<String>,
    /// True if this is what such pumps have, not what this one must have: its own sheet goes first.
    #[serde(default)]
    pub typical: bool,
}

/// One line of the return-to-service list.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ServiceLine {
    /// What it is about.
    pub name: String,
    /// The question; yes passes. For a number, what to read.
    pub ask: String,
    /// The reading it takes; none = answered with yes or no.
    #[serde(default)]
    pub reading: Option<Id>,
    /// The band that passes, if it is not the reading's healthy one.
    #[serde(default)]
    pub band: Option<Band>,
    /// How to find out.
    #[serde(default)]
    pub how: String,
    /// Where to look first when it is off.
    pub off: String,
    /// The return to service does not pass without it.
    #[serde(default)]
    pub must: bool,
    /// Equipment that must be fitted.
    #[serde(default)]
    pub fitted: Option<String>,
    /// Families it applies to; none named = all.
    #[serde(default)]
    pub families: Vec<Id>,
    /// Source of the band.
    #[serde(default)]
    pub source: Option<Id>,
}

/// What happens to a part at rebuild.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Renewal {
    /// Part by function.
    pub part: String,
    /// The rule.
    pub rule: RenewalRule,
    /// When it applies, if not always.
    #[serde(default)]
    pub when: Option<String>,
}

/// Renewal rules.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RenewalRule {
    /// Never goes back.
    AlwaysNew,
    /// Renewed together with its like.
    AsASet,
    /// Looked at; goes back if it passes.
    Inspect,
    /// May go back.
    MayGoBack,
}

/// A warning shown before a step, at most three lines.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Caution {
    /// Signal word (ANSI Z535.4 / ISO 3864-2, from memory).
    pub word: SignalWord,
    /// The hazard.
    pub hazard: String,
    /// What it does.
    pub consequence: String,
    /// How to avoid it.
    pub avoid: String,
    /// Source.
    #[serde(default)]
    pub source: Option<Id>,
}

/// Signal words, gravest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SignalWord {
    /// Will kill or injure seriously.
    Danger,
    /// Could kill or injure seriously.
    Warning,
    /// Could injure lightly.
    Caution,
    /// Not about personal injury.
    Notice,
}

impl SignalWord {
    /// The word in capitals, as printed.
    pub fn word(self) -> &'static str {
        match self {
            Self::Danger => "DANGER",
            Self::Warning => "WARNING",
            Self::Caution => "CAUTION",
            Self::Notice => "NOTICE",
        }
    }
}

/// What stops the pump before anything else is asked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StopRule {
    /// What is going on, in one line.
    pub name: String,
    /// Findings of which a "yes" or "probably" triggers it.
    pub when_yes: Vec<Id>,
    /// Why.
    pub why: String,
    /// What to do now.
    pub act: Vec<String>,
    /// Cautions.
    #[serde(default)]
    pub cautions: Vec<Id>,
    /// Source.
    #[serde(default)]
    pub source: Option<Id>,
}

/// One of the two questions of the first minute.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FirstQuestion {
    /// The question.
    pub question: String,
    /// Answers to choose from.
    pub choices: Vec<FirstChoice>,
}

/// One answer to choose from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FirstChoice {
    /// As said.
    pub say: String,
    /// Findings it answers with yes.
    #[serde(default)]
    pub yes: Vec<Id>,
    /// Findings it answers with no.
    #[serde(default)]
    pub no: Vec<Id>,
}

/// Causes that no check tells apart.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Inseparable {
    /// The causes.
    pub causes: Vec<Id>,
    /// Why nothing tells them apart, and what to do then.
    pub reason: String,
}

/// A job whose true cause is known.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    /// Family id.
    pub family: Id,
    /// The words of whoever called.
    pub told: String,
    /// Author, title and page, or "common practice, no source".
    pub source: String,
    /// Findings that the words name, at least one.
    pub complaint: Vec<Id>,
    /// Choice, from 0, for questions of the first minute.
    #[serde(default)]
    pub first_minute: IndexMap<Id, usize>,
    /// What is known or can be found out.
    #[serde(default)]
    pub facts: IndexMap<Id, Fact>,
    /// Numbers that can be read, with unit.
    #[serde(default)]
    pub readings: IndexMap<Id, String>,
    /// What this pump usually shows, with unit.
    #[serde(default)]
    pub usual: IndexMap<Id, String>,
    /// What nobody can tell although it is asked.
    #[serde(default)]
    pub cant_tell: Vec<Id>,
    /// All true causes.
    pub truth: Vec<Id>,
    /// Expected rank, from 1, of the best placed true cause; causes with the same remedy count as one.
    pub rank: usize,
    /// Causes, remedies and checks that must not be the first advice.
    #[serde(default)]
    pub forbidden: Vec<Id>,
    /// Why it is hard, or why the rank is not 1.
    #[serde(default)]
    pub note: String,
}

/// A practice job: a pump with hidden faults for somebody who learns.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lesson {
    /// What the list shows; must not give the fault away.
    pub name: String,
    /// Family id.
    pub family: Id,
    /// The words of whoever called.
    pub told: String,
    /// Findings that the words name, at least one; the simulated pump need not show every one of them.
    pub complaint: Vec<Id>,
    /// Faults put into the simulated pump, by the simulation's names, each with its severity from 0 to 1.
    pub faults: IndexMap<Id, f64>,
    /// Group of faults that look alike: practised together, at growing intervals.
    pub alike: String,
    /// What it teaches, in a sentence; told afterwards.
    pub teaches: String,
    /// The most help that may be had.
    #[serde(default)]
    pub help: Help,
    /// Checks that cannot be done on this job, each with the reason.
    #[serde(default)]
    pub unavailable: IndexMap<Id, String>,
    /// A case of the same kind, named afterwards.
    #[serde(default)]
    pub related: Option<Id>,
    /// Author, title and page, or "common practice, no source".
    pub source: String,
}

/// Help in practice, from most to least.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Help {
    /// Watch the job being done, with reasons.
    #[default]
    Shown,
    /// Do it, with the likely causes in sight.
    Half,
    /// Do it alone.
    Alone,
}

impl Help {
    /// As shown and typed.
    pub fn word(self) -> &'static str {
        match self {
            Self::Shown => "shown",
            Self::Half => "half",
            Self::Alone => "alone",
        }
    }

    /// The help with this word.
    pub fn named(word: &str) -> Option<Self> {
        [Self::Shown, Self::Half, Self::Alone].into_iter().find(|help| help.word() == word)
    }
}

/// An answer that says something.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Fact {
    /// Yes.
    Yes,
    /// Probably.
    ProbablyYes,
    /// Probably not.
    ProbablyNo,
    /// No.
    No,
}

/// An entry that was taken out. Its id is never given again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Retired {
    /// What it was called.
    pub name: String,
    /// Id of the entry that took its place.
    pub instead: Id,
}

/// A code offered when a job is closed, in the manner of ISO 14224.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Code {
    /// What it tells of the failure.
    pub of: CodeOf,
    /// The code itself.
    pub code: String,
    /// What it stands for.
    pub name: String,
    /// Causes, conditions, damage, findings and checks that suggest it.
    #[serde(default)]
    pub suits: Vec<Id>,
    /// Source.
    #[serde(default)]
    pub source: Option<Id>,
}

/// What a code tells of a failure, in the order asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CodeOf {
    /// How it showed itself.
    Mode,
    /// What went on in the part.
    Mechanism,
    /// Why.
    Cause,
    /// How it was found.
    Detection,
}

impl CodeOf {
    /// All, in the order asked.
    pub const ALL: [Self; 4] = [Self::Mode, Self::Mechanism, Self::Cause, Self::Detection];

    /// As asked and recorded.
    pub fn words(self) -> &'static str {
        match self {
            Self::Mode => "failure mode",
            Self::Mechanism => "failure mechanism",
            Self::Cause => "failure cause",
            Self::Detection => "detection method",
        }
    }
}
