//! `weephole knowledge learn`: what confirmed jobs say about the numbers of the knowledge, as proposals; what is decided about
//! them is kept beside the knowledge. Only with `--write` what is accepted is written into it, as an ordinary edit.

use super::arguments::{Arguments, Learn};
use super::desk::Desk;
use super::diagnose::data_dir;
use super::shelf::{Shelf, lines, shown};
use super::{Failure, archive, bring, print};
use crate::editing;
use crate::job::{Ending, initials_and_role};
use crate::knowledge::schema::{Basis, Strength};
use crate::knowledge::{Knowledge, did_you_mean};
use crate::learning::{Decision, Edit, Fading, Lessons, Proposal, Reader, Target, Untaught, Verdict, proposals};
use crate::store;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The audit beside the knowledge.
const AUDIT: &str = "learned.jsonl";
/// Most bytes of it.
const AUDIT_LIMIT: u64 = 64 * 1024 * 1024;

/// What the data folder taught.
struct School {
    lessons: Lessons,
    /// Jobs that teach nothing, by why.
    untaught: BTreeMap<String, usize>,
    skipped: Vec<String>,
}

/// Lists the proposals, or keeps what is decided about some.
pub fn run(arguments: &Arguments, learn: &Learn) -> Result<(), Failure> {
    let knowledge = if learn.json { bring::knowledge_or_json(arguments)? } else { bring::knowledge(arguments)? };
    let school = attend(arguments, &knowledge)?;
    let fading = Fading { now: store::now(), half_life: learn.half_life };
    let audit = arguments.knowledge.as_ref().map(|folder| folder.join(AUDIT));
    let decisions = audit.as_deref().map_or_else(|| Ok(Vec::new()), read_audit)?;
    let undone = undone(arguments)?;
    let all = proposals(&knowledge, &school.lessons, fading, &Decision::accepted(&decisions, &undone));
    if !(learn.accept.is_empty() && learn.reject.is_empty()) {
        return decide((arguments, learn), &knowledge, &all, (audit, decisions.len()));
    }
    if learn.json {
        let listed = listed(&all, learn, &decisions).into_iter();
        let listed: Vec<Value> = listed.map(|(proposal, rejected)| as_json(proposal, rejected)).collect();
        print::json(&json!({
            "knowledge": knowledge.hash,
            "jobs": school.lessons.len(),
            "untaught": school.untaught,
            "skipped": school.skipped,
            "half_life_days": learn.half_life,
            "proposals": listed,
        }));
        return Ok(());
    }
    for why in &school.skipped {
        print::error(why);
    }
    print::out(&told(&knowledge, &school, &listed(&all, learn, &decisions)));
    Ok(())
}

/// Reads the jobs that are closed as confirmed; the others are only counted.
fn attend(arguments: &Arguments, knowledge: &Knowledge) -> Result<School, Failure> {
    let folder = data_dir(arguments)?;
    let index = store::index_path(arguments.data_dir.as_deref(), &folder);
    let shelf = Shelf::of(&folder, &index).map_err(Failure::Could)?;
    let mut school = School { lessons: Lessons::default(), untaught: BTreeMap::new(), skipped: Vec::new() };
    school.skipped.extend(shelf.skipped.iter().map(|(number, _, why)| format!("job {number} is skipped: {why}")));
    let mut reader = Reader::new(knowledge);
    for job in &shelf.jobs {
        let why = match job.summary.ending {
            None => Some(Untaught::Open),
            Some(Ending::Confirmed) => None,
            Some(_) => Some(Untaught::Unconfirmed),
        };
        if let Some(why) = why {
            *school.untaught.entry(why.to_string()).or_default() += 1;
            continue;
        }
        let read = lines(&job.path).and_then(|lines| Ok((archive::entries(&job.path, &lines)?, lines)));
        match read {
            Ok((entries, lines)) => {
                let first = lines.first().map(String::as_str).unwrap_or_default();
                let Some(taught) = reader.read(first, &entries) else { continue };
                if let Err(why) = &taught.told.confirmed {
                    *school.untaught.entry(why.to_string()).or_default() += 1;
                }
                school.lessons.add(taught);
            }
            Err(why) => school.skipped.push(format!("job {} is skipped: {why}", job.number)),
        }
    }
    Ok(school)
}

fn read_audit(path: &Path) -> Result<Vec<Decision>, Failure> {
    if !path.exists() {
        return Ok(Vec::new());
    }
    let text = store::read_text(path, AUDIT_LIMIT).map_err(|error| Failure::Bad(error.to_string()))?;
    Decision::read(&text).map_err(|(line, why)| {
        let hint = "mend that line, or put the file away to begin a new one";
        Failure::Bad(format!("{}:{line}: this is not a decision about a number: {why}; {hint}", shown(path)))
    })
}

/// Numbers of the edits of the folder that were taken back.
fn undone(arguments: &Arguments) -> Result<Vec<u32>, Failure> {
    let Some(folder) = &arguments.knowledge else { return Ok(Vec::new()) };
    store::undone_edits(folder).map_err(|error| Failure::Could(error.to_string()))
}

/// The proposals to show, each with the rejection that still stands: those due, or all.
fn listed<'a>(
    all: &'a [Proposal],
    learn: &Learn,
    decisions: &'a [Decision],
) -> Vec<(&'a Proposal, Option<&'a Decision>)> {
    let rejected = |proposal: &Proposal| decisions.iter().rev().find(|decision| decision.still_rejects(proposal));
    let rows = all.iter().map(|proposal| (proposal, rejected(proposal)));
    rows.filter(|(proposal, rejected)| learn.all || (proposal.due && rejected.is_none())).collect()
}

/// Keeps what is decided and says what has to be written.
fn decide(
    (arguments, learn): (&Arguments, &Learn),
    knowledge: &Knowledge,
    all: &[Proposal],
    (audit, known): (Option<PathBuf>, usize),
) -> Result<(), Failure> {
    let audit = audit.ok_or_else(|| {
        let hint = "name the folder of your own knowledge with --knowledge";
        Failure::Bad(format!(
            "what is decided is kept beside the knowledge, and the built-in one has no place for it; {hint}"
        ))
    })?;
    let who = learn.by.as_deref().unwrap_or_default();
    let who = initials_and_role(who).map_err(|why| Failure::Bad(format!("--by: {why}")))?;
    let at = store::now();
    let accepted = chosen(&learn.accept, all)?;
    let rejected = chosen(&learn.reject, all)?;
    let month = store::local(at).strftime("%Y-%m").to_string();
    let edits: Vec<Edit> = accepted.iter().flat_map(|proposal| proposal.edits(&month)).collect();
    let edit = if learn.write { write(arguments, learn, &edits)? } else { None };
    if learn.write && edit.is_none() {
        return Ok(());
    }
    let of = |verdict| move |proposal: &&Proposal| Decision::of(proposal, verdict, (at, who.as_str()), &knowledge.hash);
    let written = |decision| Decision { edit, ..decision };
    let accepted_lines = accepted.iter().map(of.clone()(Verdict::Accepted)).map(written);
    let new = accepted_lines.chain(rejected.iter().map(of(Verdict::Rejected)));
    let mut text = if known == 0 { String::new() } else { read_kept(&audit)? };
    for decision in new {
        text += &serde_json::to_string(&decision).map_err(|error| Failure::Could(error.to_string()))?;
        text.push('\n');
    }
    store::write_atomic(&audit, &text).map_err(|error| Failure::Could(error.to_string()))?;
    if learn.json {
        print::json(
            &json!({ "kept_in": shown(&audit), "accepted": learn.accept, "rejected": learn.reject, "edits": edits }),
        );
        return Ok(());
    }
    print::out(&format!("Kept in {}: {} accepted, {} rejected.", shown(&audit), accepted.len(), rejected.len()));
    if !edits.is_empty() && !learn.write {
        print::out("To be written in the knowledge, path and value:");
        let lines: Vec<String> = edits.iter().map(|edit| format!("    {} {}", edit.path, edit.value)).collect();
        print::out(&lines.join("\n"));
    }
    Ok(())
}

/// Writes what is accepted into the folder as one edit and gives its number; none if nothing was to be saved.
fn write(arguments: &Arguments, learn: &Learn, edits: &[Edit]) -> Result<Option<u32>, Failure> {
    let set = |edit: &Edit| editing::Edit::Set { path: edit.path.clone(), value: edit.value.clone() };
    let edits: Vec<editing::Edit> = edits.iter().map(set).collect();
    Desk::open(arguments)?.make(&edits, &learn.proving)
}

fn read_kept(path: &Path) -> Result<String, Failure> {
    let mut text = store::read_text(path, AUDIT_LIMIT).map_err(|error| Failure::Could(error.to_string()))?;
    if !text.is_empty() && !text.ends_with('\n') {
        text.push('\n');
    }
    Ok(text)
}

/// The proposals with these paths.
fn chosen<'a>(paths: &[String], all: &'a [Proposal]) -> Result<Vec<&'a Proposal>, Failure> {
    let find = |path: &String| {
        all.iter().find(|proposal| proposal.target.path() == *path).ok_or_else(|| {
            let known: Vec<String> = all.iter().map(|proposal| proposal.target.path()).collect();
            let near = did_you_mean(path, known.iter().map(String::as_str));
            let near = near.map(|near| format!("did you mean `{near}`? ")).unwrap_or_default();
            Failure::Bad(format!(
                "no job says anything about `{path}`; {near}--all lists every number that was counted"
            ))
        })
    };
    paths.iter().map(find).collect()
}

fn as_json(proposal: &Proposal, rejected: Option<&Decision>) -> Value {
    let (learned, counts) = (proposal.learned, proposal.counts);
    json!({
        "path": proposal.target.path(),
        "target": proposal.target,
        "basis": proposal.basis,
        "old": proposal.old,
        "new": learned.new,
        "low": learned.low,
        "high": learned.high,
        "value": proposal.value(),
        "worth": learned.worth,
        "counts": counts,
        "due": proposal.due,
        "rejected": rejected,
    })
}

fn told(knowledge: &Knowledge, school: &School, listed: &[(&Proposal, Option<&Decision>)]) -> String {
    let mut text = vec![format!("{} confirmed jobs teach.", school.lessons.len())];
    text.extend(school.untaught.iter().map(|(why, jobs)| format!("{jobs} teach nothing: {why}.")));
    if listed.is_empty() {
        text.push("No number needs a change. --all lists every number that was counted.".to_owned());
    }
    for (proposal, rejected) in listed {
        text.push(String::new());
        text.push(proposal.target.path());
        text.extend(lines_of(knowledge, proposal).into_iter().map(|line| format!("    {line}")));
        text.extend(rejected.map(|decision| {
            format!("    rejected on {} by {}", store::local(decision.at).strftime("%Y-%m-%d"), decision.who)
        }));
    }
    if !listed.is_empty() {
        text.push(String::new());
        text.push("Decide with --accept PATH or --reject PATH, and --by INITIALS.".to_owned());
    }
    text.join("\n")
}

fn lines_of(knowledge: &Knowledge, proposal: &Proposal) -> Vec<String> {
    let (learned, counts) = (proposal.learned, proposal.counts);
    let name = |id: &str| name_of(knowledge, id).to_owned();
    let rests = format!("stood for {:.0} ({})", crate::learning::cases_of(proposal.basis), basis_word(proposal.basis));
    match &proposal.target {
        Target::Link { finding, parent } => vec![
            format!("{}: {}", name(parent), name(finding)),
            format!(
                "{} ({:.2}) -> {} ({:.2}; 95 %: {:.2} to {:.2})",
                Strength::Share(proposal.old).word(),
                proposal.old,
                Strength::Share(learned.new).word(),
                learned.new,
                learned.low,
                learned.high
            ),
            format!(
                "asked {}, yes {}; clear: yes {}, no {}; worth {:.1} cases; {rests}",
                counts.asked, counts.yes, counts.clear_yes, counts.clear_no, learned.worth
            ),
        ],
        Target::Share { family, cause } => vec![
            format!("{} ({family})", name(cause)),
            format!(
                "{:.2} of 1,000 jobs -> {:.2} (95 %: {:.2} to {:.2})",
                proposal.old * 1e3,
                learned.new * 1e3,
                learned.low * 1e3,
                learned.high * 1e3
            ),
            format!("confirmed in {} of {} jobs; {rests}", counts.yes, counts.asked),
        ],
    }
}

fn name_of<'k>(knowledge: &'k Knowledge, id: &'k str) -> &'k str {
    let all = &knowledge.all;
    let inner = || all.conditions.get(id).or_else(|| all.damage.get(id)).map(|entry| entry.name.as_str());
    let cause = all.causes.get(id).map(|entry| entry.name.as_str());
    cause.or_else(inner).or_else(|| all.findings.get(id).map(|entry| entry.name.as_str())).unwrap_or(id)
}

fn basis_word(basis: Basis) -> &'static str {
    match basis {
        Basis::Measured => "measured",
        Basis::Published => "published",
        Basis::Expert => "expert",
        Basis::Guess => "guess",
    }
}
