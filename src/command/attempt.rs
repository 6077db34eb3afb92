//! `weephole knowledge try`: the knowledge tried on its cases, several at once.

use super::arguments::Arguments;
use super::several::several;
use super::{Failure, bring, print};
use crate::knowledge::Knowledge;
use crate::knowledge::schema::Id;
use crate::trial::{CaseMarks, Failing, Report, TrialError, mark, report};
use serde_json::json;
use std::rc::Rc;
use std::sync::atomic::AtomicBool;

/// Runs `knowledge try`.
pub fn run(arguments: &Arguments, as_json: bool) -> Result<(), Failure> {
    let told = |failure: Failure| if as_json { bring::failure_as_json(&failure) } else { failure };
    let knowledge = if as_json { bring::knowledge_or_json(arguments)? } else { bring::knowledge(arguments)? };
    if knowledge.all.cases.is_empty() {
        return Err(told(Failure::Could("this knowledge has no cases (`cases` entries); nothing to try".to_owned())));
    }
    let marks = all_marks(&knowledge).map_err(told)?;
    let report = report(&knowledge, &marks);
    if as_json {
        print::json(&json!(report));
    } else {
        print::out(&as_text(&knowledge, &report));
    }
    Ok(())
}

/// The marks of every case, in the order of the files.
fn all_marks(knowledge: &Knowledge) -> Result<Vec<CaseMarks>, Failure> {
    let ids: Vec<&Id> = knowledge.all.cases.keys().collect();
    let marks = several(ids.len(), &AtomicBool::new(false), || {
        let (own, ids) = (Rc::new(knowledge.clone()), &ids);
        move |at: usize| (at, mark(&own, ids[at]))
    })?;
    let or_failure = |(at, marks): (usize, Result<CaseMarks, TrialError>)| {
        marks.map_err(|error| Failure::Could(format!("case `{}`: {error}", ids[at])))
    };
    marks.into_iter().map(or_failure).collect()
}

fn as_text(knowledge: &Knowledge, report: &Report) -> String {
    let percent = |share: f64| format!("{:.0} %", 100.0 * share);
    let (given, asked) = (report.given, report.asked.shares);
    let mut lines = vec![
        format!("{} cases; causes with the same remedy count as one.", report.cases),
        format!("All facts given: {} first, {} in the first three.", percent(given.top1), percent(given.top3)),
        format!(
            "Asked: {} first, {} in the first three, after {:.1} answers.",
            percent(asked.top1),
            percent(asked.top3),
            report.asked.mean_answers
        ),
        format!("Brier score, 0 to 1, lower is better: {:.3}.", report.brier),
    ];
    lines.push(match report.failing.len() {
        0 => "No case came out worse than expected.".to_owned(),
        count => format!("{count} cases came out worse than expected:"),
    });
    lines.extend(report.failing.iter().flat_map(|failing| told_failing(knowledge, failing)));
    lines.join("\n")
}

fn told_failing(knowledge: &Knowledge, failing: &Failing) -> Vec<String> {
    let truth: Vec<&str> = failing.truth.iter().map(|cause| name(knowledge, cause)).collect();
    let mut lines = vec![format!("  {} (true: {})", failing.case, truth.join("; "))];
    lines.extend(failing.why.iter().map(|why| format!("    {why}")));
    lines.push(format!(
        "    first: {} (given), {} (asked, {} answers)",
        name(knowledge, &failing.given_first),
        name(knowledge, &failing.asked_first),
        failing.answers
    ));
    if !failing.note.is_empty() {
        lines.push(format!("    note: {}", failing.note));
    }
    lines
}

fn name<'a>(knowledge: &'a Knowledge, cause: &'a Id) -> &'a str {
    knowledge.all.causes.get(cause).map_or(cause, |entry| &entry.name)
}
