//! Turns a job into one plain view of all that its record tells; every format is written from this and nothing else.

use super::beliefs::{self, Beliefs};
use super::readings::{self, Again, ReadingRow};
use super::sources;
use super::work;
use crate::job::{Entry, Event, Given, ResultCause, Sitting, Where, stamp};
use crate::knowledge::schema::Id;
use crate::text::capital;
use serde::Serialize;

/// Version of the JSON record.
pub const RECORD_VERSION: u32 = 1;

/// Causes listed.
const LISTED: usize = 6;
/// Causes told with all that belongs to them.
const TOLD: usize = 2;

/// All that the record of a job tells. Times are in UTC, so that the same journal gives the same record everywhere.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RecordView {
    /// Version of this shape.
    pub version: u32,
    /// The pump, as people call it.
    pub pump: String,
    /// Its family.
    pub family: String,
    /// What the record rests on.
    pub made_with: MadeWith,
    /// First and last entry.
    pub opened: String,
    /// Last entry.
    pub last: String,
    /// Minutes between the two.
    pub minutes: i64,
    /// How it ended, in one line; none while it is open.
    pub ended: Option<String>,
    /// Initials and role of who closed or handed over last.
    pub signed: Option<String>,
    /// The day on which somebody looks again.
    pub follow_up: Option<String>,
    /// What the failure was coded as: kind, code and name.
    pub codes: Vec<(&'static str, String)>,
    /// The pump sheet: label and value.
    pub sheet: Vec<(String, String)>,
    /// The complaint, verbatim.
    pub complaint: Vec<String>,
    /// What it was taken for.
    pub named: Vec<String>,
    /// Questions of the first minute and what was said.
    pub first_minute: Vec<(String, String)>,
    /// Likely causes at the last entry.
    pub likely: Vec<LikelyCause>,
    /// The leading causes in full.
    pub causes: Vec<CauseTold>,
    /// Parts found harmed, and why they broke: a heading, and its lines.
    pub why_broke: Vec<(String, Vec<String>)>,
    /// What stays open.
    pub open: Vec<String>,
    /// What was said, seen and measured, as it counts at the end.
    pub trail: Vec<TrailTold>,
    /// Every number, as entered and normalised, in the order taken.
    pub readings: Vec<ReadingRow>,
    /// Readings taken again after the pump was opened.
    pub after_work: Vec<Again>,
    /// The list of causes after each entry that moved it.
    pub beliefs: Beliefs,
    /// Isolation, stops, checks not possible, changed answers and remarks: time and text.
    pub decisions: Vec<(String, String)>,
    /// What the statements above rest on.
    pub sources: Vec<String>,
}

/// Program and knowledge behind a record.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MadeWith {
    /// Program version that opened the job.
    pub program: String,
    /// Release of the knowledge the job was opened with.
    pub release: String,
    /// Hash of that knowledge.
    pub hash: String,
    /// Release and hash of the knowledge read for this record, where it is not the same.
    pub read_with: Option<String>,
}

/// One likely cause.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LikelyCause {
    /// Id.
    pub id: Id,
    /// Name.
    pub name: String,
    /// Probability, to six digits.
    pub probability: f64,
    /// Of 20 jobs like this, in so many.
    pub of_20: u32,
    /// Frequency word.
    pub word: &'static str,
    /// Status word.
    pub status: &'static str,
}

/// A leading cause with all that belongs to it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CauseTold {
    /// Id.
    pub id: Id,
    /// Name.
    pub name: String,
    /// Status word.
    pub status: &'static str,
    /// From the cause to the symptom: kind and name.
    pub chain: Vec<(&'static str, String)>,
    /// Who or what usually lets it happen.
    pub lets_it_happen: String,
    /// What would confirm it or speak for it, and whether the pump may run on with it until a planned stop.
    pub proofs: Vec<String>,
    /// Remedy: kind, name, minutes.
    pub remedy: Option<String>,
    /// Steps of the remedy.
    pub remedy_steps: Vec<String>,
    /// What proves the remedy.
    pub remedy_proof: Vec<String>,
}

/// One answer or number as it counts at the end.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrailTold {
    /// When.
    pub at: String,
    /// Finding or reading.
    pub id: Id,
    /// Short statement or name.
    pub what: String,
    /// The answer in words, or the number in two units.
    pub answer: String,
    /// Why it does not count, if it does not.
    pub set_aside: Option<String>,
    /// Where it came from.
    pub from: &'static str,
}

impl RecordView {
    /// The view of a job.
    pub fn of(sitting: &Sitting) -> Self {
        let header = sitting.header();
        let job = &sitting.job;
        Self {
            version: RECORD_VERSION,
            made_with: made_with(sitting),
            opened: job.opened.map(stamp).unwrap_or_default(),
            last: job.last.map(stamp).unwrap_or_default(),
            minutes: header.minutes,
            ended: ended(sitting),
            signed: job.signed.clone(),
            follow_up: job.follow_up.map(|on| on.to_string()),
            codes: sitting.codes_given(),
            sheet: job.pump.as_ref().map(|pump| pump.lines.clone()).unwrap_or_default(),
            complaint: job.words.clone(),
            named: named(sitting),
            first_minute: first_minute(sitting),
            likely: sitting.likely(LISTED).iter().map(likely).collect(),
            causes: sitting.results(TOLD).causes.iter().map(told).collect(),
            why_broke: work::broke(sitting),
            open: open_ends(sitting),
            trail: trail(sitting),
            readings: readings::rows(sitting),
            after_work: readings::after_work(sitting),
            beliefs: beliefs::of(sitting),
            decisions: decisions(sitting),
            sources: sources::of(sitting, TOLD),
            pump: header.pump,
            family: header.family,
        }
    }
}

/// A probability to six digits: more is noise, and the text of a record must not hang on it.
pub(super) fn rounded(probability: f64) -> f64 {
    (probability * 1e6).round() / 1e6
}

fn made_with(sitting: &Sitting) -> MadeWith {
    let (release, hash) = sitting.job.knowledge.clone();
    let now = &sitting.knowledge;
    let read_with = (now.hash != hash).then(|| format!("{} ({})", now.release, now.hash));
    MadeWith { program: sitting.job.program.clone(), release, hash, read_with }
}

fn ended(sitting: &Sitting) -> Option<String> {
    let (ending, cause, words) = sitting.job.closed.as_ref()?;
    let cause = cause.as_ref().map(|id| format!(": {}", sitting.name_of(id))).unwrap_or_default();
    let words = if words.is_empty() { String::new() } else { format!(" ({words})") };
    Some(format!("{}{cause}{words}", ending.words()))
}

fn named(sitting: &Sitting) -> Vec<String> {
    let given = sitting.job.given.iter();
    let said = given.filter(|(_, (given, _, from))| *from == Where::Complaint && matches!(given, Given::Answer(_)));
    said.map(|(id, _)| sitting.name_of(id)).collect()
}

fn first_minute(sitting: &Sitting) -> Vec<(String, String)> {
    let questions = &sitting.knowledge.all.first_minute;
    let asked = |id: &Id| questions.get(id).map_or_else(|| id.clone(), |question| question.question.clone());
    sitting.job.first_minute.iter().map(|(id, said)| (asked(id), said.clone())).collect()
}

fn likely(row: &crate::job::LikelyRow) -> LikelyCause {
    LikelyCause {
        id: row.id.clone(),
        name: row.name.clone(),
        probability: rounded(row.probability),
        of_20: row.of_20,
        word: row.word,
        status: row.status.word(),
    }
}

fn told(cause: &ResultCause) -> CauseTold {
    let remedy = cause.remedy.as_ref();
    CauseTold {
        id: cause.row.id.clone(),
        name: cause.row.name.clone(),
        status: cause.row.status.word(),
        chain: cause.chain.iter().map(|link| (link.kind, link.name.clone())).collect(),
        lets_it_happen: cause.lets_it_happen.clone(),
        proofs: proofs(cause),
        remedy: remedy.map(|remedy| format!("{}: {} ({:.0} min)", capital(remedy.kind), remedy.name, remedy.minutes)),
        remedy_steps: remedy.map(|remedy| remedy.steps.clone()).unwrap_or_default(),
        remedy_proof: remedy.map(|remedy| remedy.proof.clone()).unwrap_or_default(),
    }
}

fn proofs(cause: &ResultCause) -> Vec<String> {
    let checks = cause.confirm.iter().take(3).map(|check| {
        let opens = check.opens.as_ref().map(|opens| format!(", {opens} first")).unwrap_or_default();
        let (name, minutes, finds) = (&check.name, check.minutes, check.finds_of_20);
        format!("Would confirm it: {name} ({minutes:.0} min{opens}); finds it in {finds:.0} of 20")
    });
    let readings = cause.readings.iter().map(|reading| {
        let (name, way, healthy) = (&reading.name, reading.way, &reading.healthy);
        format!("Would speak for it: {name} {way} {healthy} (in {:.0} of 20)", reading.of_20)
    });
    let run_on = cause.run_on.iter().map(|view| {
        let said = format!("Until a planned stop: {}: {}. {}", view.name, view.may.words(), view.limits);
        said.trim_end().to_owned()
    });
    checks.chain(readings).chain(run_on).collect()
}

fn open_ends(sitting: &Sitting) -> Vec<String> {
    let results = sitting.results(3);
    let unexplained = results.unexplained.iter();
    let mut open: Vec<String> =
        unexplained.map(|said| format!("Still improbable with the leading causes: {said}")).collect();
    open.push(format!("Something not in this graph: {:.0} %", 100.0 * results.not_in_graph));
    if !results.conflict.1.is_empty() {
        open.push(format!("Answers that fit badly, look again at: {}", results.conflict.1.join("; ")));
    }
    open.extend(sitting.trouble());
    open
}

fn trail(sitting: &Sitting) -> Vec<TrailTold> {
    let rows = sitting.trail().into_iter().map(|row| TrailTold {
        at: sitting.job.given.get(&row.id).map(|(_, at, _)| stamp(*at)).unwrap_or_default(),
        id: row.id,
        what: row.name,
        answer: row.answer,
        set_aside: row.set_aside,
        from: row.from,
    });
    rows.collect()
}

fn decisions(sitting: &Sitting) -> Vec<(String, String)> {
    let told = |entry: &Entry| Some((stamp(entry.at), decision(sitting, &entry.event)?));
    sitting.job.entries.iter().filter_map(told).collect()
}

/// What an entry decides or remarks, in words; answers and numbers stand in the trail.
fn decision(sitting: &Sitting, event: &Event) -> Option<String> {
    let name = |id: &Id| sitting.name_of(id);
    match event {
        Event::Isolation { proved: true, words } => Some(format!("isolated and proved: {words}")),
        Event::Isolation { proved: false, words } => Some(format!("isolation not possible now: {words}")),
        Event::StopAnswered { rule, stopped, words } => {
            let rule = sitting.knowledge.all.stop_rules.get(rule).map_or(rule.as_str(), |rule| rule.name.as_str());
            let what = if *stopped { "pump stopped" } else { "site decided to run on" };
            Some(format!("stop rule \"{rule}\": {what} {words}"))
        }
        Event::Barred { check, reason } => Some(format!("not done: {} ({reason})", name(check))),
        Event::Withdrawn { id } => Some(format!("taken back: {}", name(id))),
        Event::Usual { reading, text, .. } => Some(format!("usual value of {}: {text}", name(reading))),
        Event::Note { text } => Some(format!("remark: {text}")),
        Event::Sheet { .. } => Some("pump sheet filled in or changed".to_owned()),
        Event::Signed { who } => Some(format!("signed: {who}")),
        Event::Reopened => Some("taken up again".to_owned()),
        Event::FollowUp { on } => Some(format!("to be looked at again on {on}")),
        Event::Branched { from, id } => {
            Some(format!("from here on this is job {id}: two laptops went on with job {from}, each its own way"))
        }
        other => work::decision(sitting, other),
    }
}
