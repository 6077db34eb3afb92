//! `weephole rank`: causes, conditions, damage and next steps from a file of facts.

use super::arguments::{Arguments, Rank};
use super::shelf::shown;
use super::{Failure, bring, print};
use crate::evidence::{Facts, ReadFacts, read_facts, read_pump_sheet};
use crate::job::{Entry, Event, PumpNote, Sitting};
use crate::knowledge::{Knowledge, NodeKind, Problem, SourceText};
use jiff::Timestamp;
use serde_json::{Value, json};
use std::path::{Component, Path};
use std::rc::Rc;

/// Steps listed.
const STEPS: usize = 40;

/// Runs `rank`.
pub fn run(arguments: &Arguments, rank: &Rank) -> Result<(), Failure> {
    let told = |failure: Failure| if rank.json { bring::failure_as_json(&failure) } else { failure };
    let knowledge = if rank.json { bring::knowledge_or_json(arguments)? } else { bring::knowledge(arguments)? };
    let source = bring::small_file(&rank.facts).map_err(told)?;
    let mut read = read_facts(&source, &knowledge);
    let mut sheet = None;
    if read.problems.is_empty()
        && let Some(pump) = read.file.pump.clone()
    {
        let path = beside(&rank.facts, &pump).map_err(told)?;
        let pump_source = bring::small_file(&path).map_err(told)?;
        let found = read_pump_sheet(&pump_source, &knowledge);
        if !found.problems.is_empty() {
            return Err(bad(&found.problems, &pump_source, rank.json));
        }
        read = read.with_sheet(&found);
        sheet = Some(found);
    }
    if !read.problems.is_empty() {
        return Err(bad(&read.problems, &source, rank.json));
    }
    let pump = sheet.as_ref().map(|sheet| PumpNote::of(sheet, &knowledge));
    let sitting = sitting(knowledge, &read, pump).map_err(told)?;
    if rank.json {
        print::json(&as_json(&sitting));
    } else {
        print::out(&as_text(&sitting));
    }
    Ok(())
}

fn bad(problems: &[Problem], source: &SourceText, as_json: bool) -> Failure {
    if as_json {
        print::json(&json!({ "problems": problems }));
    } else {
        bring::tell_problems(problems, source);
    }
    Failure::Told
}

/// A pump sheet named in a facts file: relative to it, and inside its folder.
fn beside(facts: &Path, pump: &str) -> Result<std::path::PathBuf, Failure> {
    let path = Path::new(pump);
    let inside = path.components().all(|part| matches!(part, Component::Normal(_) | Component::CurDir));
    if !inside || pump.is_empty() {
        let hint = "name a sheet in the folder of the facts file, or below it";
        return Err(Failure::Bad(format!("the pump sheet `{}` is outside; {hint}", crate::text::clean(pump))));
    }
    let folder = facts.parent().unwrap_or(Path::new("."));
    let full = folder.join(path);
    let real =
        |path: &Path| path.canonicalize().map_err(|e| Failure::Bad(format!("{}: {e}; check the name", shown(path))));
    let home = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    if !real(&full)?.starts_with(real(home)?) {
        return Err(Failure::Bad(format!("{}: a link leads out of the folder of the facts file", shown(&full))));
    }
    Ok(full)
}

/// The facts as a job that was entered at once.
fn sitting(knowledge: Knowledge, read: &ReadFacts, pump: Option<PumpNote>) -> Result<Sitting, Failure> {
    let opened = Event::opened(&read.file.family, (&knowledge.release, &knowledge.hash), pump);
    let entry = |event| Entry { at: Timestamp::UNIX_EPOCH, event };
    let mut entries = vec![entry(opened)];
    entries.extend(events(&read.facts).into_iter().map(entry));
    Sitting::new(Rc::new(knowledge), entries).map_err(|error| Failure::Could(error.to_string()))
}

fn events(facts: &Facts) -> Vec<Event> {
    let mut events = vec![Event::Complaint { words: String::new(), findings: facts.complaint.clone() }];
    events.extend(facts.usual.iter().map(|(id, quantity)| Event::Usual {
        reading: id.clone(),
        text: crate::quantity::exact_text(*quantity),
        si: quantity.si(),
    }));
    events.extend(facts.answers.iter().map(|(id, answer)| Event::Answered {
        finding: id.clone(),
        answer: *answer,
        check: None,
    }));
    events.extend(facts.numbers.iter().map(|(id, number)| Event::Measured {
        reading: id.clone(),
        text: number.text.clone(),
        si: number.quantity.si(),
        check: None,
    }));
    events
}

fn as_json(sitting: &Sitting) -> Value {
    let nodes = |kind: NodeKind| -> Vec<Value> {
        let mut nodes = sitting.graph.of_kind(kind);
        nodes.sort_by(|a, b| sitting.present(*b).total_cmp(&sitting.present(*a)).then(a.cmp(b)));
        let row = |node: usize| {
            let (entry, probability) = (&sitting.graph.nodes[node], sitting.present(node));
            match kind {
                NodeKind::Cause => json!({ "id": entry.id, "name": entry.name, "probability": probability,
                    "status": sitting.status(node) }),
                _ => json!({ "id": entry.id, "name": entry.name, "probability": probability }),
            }
        };
        nodes.into_iter().map(row).collect()
    };
    let steps: Vec<Value> = sitting
        .plan()
        .steps
        .iter()
        .take(STEPS)
        .map(|step| {
            json!({ "check": step.check, "asks": step.asks, "minutes": step.minutes, "worth": step.worth,
                    "opens": step.opens })
        })
        .collect();
    let (bits, recheck) = sitting.conflict();
    json!({
        "causes": nodes(NodeKind::Cause),
        "conditions": nodes(NodeKind::Condition),
        "damage": nodes(NodeKind::Damage),
        "next": steps,
        "conflict": { "value": bits, "recheck": recheck },
        "left_out": sitting.plan().left_out,
        "trouble": sitting.trouble(),
        "set_aside": set_aside(sitting),
        "by_cases": sitting.by_cases(),
        "estimated": sitting.estimated(),
        "error_bound": sitting.error_bound(),
        "knowledge": { "version": sitting.knowledge.release, "hash": sitting.knowledge.hash },
    })
}

/// What was said or measured but does not count.
fn set_aside(sitting: &Sitting) -> Vec<Value> {
    let rows = sitting.trail().into_iter();
    rows.filter_map(|row| Some(json!({ "id": row.id, "why": row.set_aside? }))).collect()
}

fn as_text(sitting: &Sitting) -> String {
    let mut lines: Vec<String> = sitting.trouble().into_iter().collect();
    let cases = sitting.by_cases();
    if !cases.is_empty() {
        lines.push(format!("Worked out case by case (exact, only slower) over: {}.", cases.join("; ")));
    }
    lines.extend(["Likely causes (of 20 jobs like this):".to_owned()]);
    for row in sitting.likely(8) {
        lines.push(format!("  {:>2}  {:<52} {:<12} {}", row.of_20, row.name, row.word, row.status.word()));
    }
    lines.push("Next checks (minutes they take, minutes they save beyond that):".to_owned());
    for step in sitting.plan().steps.iter().take(5) {
        lines.push(format!("  {:>4.0} {:>5.1}  {}", step.minutes, step.worth, sitting.name_of(&step.check)));
    }
    lines.join("\n")
}
