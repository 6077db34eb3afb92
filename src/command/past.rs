//! `weephole jobs`: past jobs listed, searched, by pump, with those that came back; as lines, JSON or CSV; merged, exported, made cases.

use super::arguments::{Arguments, Jobs, JobsWork};
use super::diagnose::data_dir;
use super::shelf::{Shelf, Shelved, shown};
use super::{Failure, bring, merge, own_case, print, rows};
use crate::job::{CameBack, JobSummary, came_back, find};
use crate::knowledge::Knowledge;
use crate::store;
use crate::text::{clean, csv_cell, fold};
use jiff::civil::Date;
use serde_json::{Value, json};

/// One job as listed.
struct Row<'a> {
    job: &'a Shelved,
    cause: Option<String>,
    came_back: Option<(u32, CameBack)>,
}

/// Lists jobs, or merges those of another folder.
pub fn run(arguments: &Arguments, jobs: &Jobs) -> Result<(), Failure> {
    let folder = data_dir(arguments)?;
    let index = store::index_path(arguments.data_dir.as_deref(), &folder);
    match &jobs.work {
        Some(JobsWork::Merge { folder: other }) => return merge::run(&folder, &index, other),
        Some(JobsWork::Export(export)) => return rows::run(arguments, &folder, export),
        Some(JobsWork::Case(part)) => return own_case::run(arguments, &folder, part),
        None => {}
    }
    let shelf = Shelf::of(&folder, &index).map_err(Failure::Could)?;
    let knowledge = bring::knowledge(arguments)?;
    let rows = rows_of(&shelf, jobs, &knowledge);
    if jobs.json {
        let skipped =
            shelf.skipped.iter().map(|(number, path, why)| json!({"number": number, "file": shown(path), "why": why}));
        print::json(&json!({
            "jobs": rows.iter().map(as_json).collect::<Vec<Value>>(),
            "skipped": skipped.collect::<Vec<Value>>(),
        }));
        return Ok(());
    }
    for (number, _, why) in &shelf.skipped {
        print::error(&format!("job {number} is skipped: {why}"));
    }
    if jobs.csv {
        print::out(table(&rows).trim_end());
    } else {
        print::out(&listed(&rows, jobs, shelf.jobs.len()));
    }
    Ok(())
}

/// The jobs asked for: those that fit the words best first, else the newest first.
fn rows_of<'a>(shelf: &'a Shelf, jobs: &Jobs, knowledge: &Knowledge) -> Vec<Row<'a>> {
    let name = |id: &str| knowledge.all.causes.get(id).map_or_else(|| id.to_owned(), |cause| cause.name.clone());
    let summaries: Vec<&JobSummary> = shelf.jobs.iter().map(|job| &job.summary).collect();
    let flags = came_back(&summaries, jobs.within);
    let today = store::local(store::now()).date();
    let wanted = |at: &usize| {
        let job = summaries[*at];
        (!jobs.open || job.is_open())
            && (!jobs.came_back || flags[*at].is_some())
            && (!jobs.due || job.follow_up.is_some_and(|on| on <= today))
            && jobs.pump.as_ref().is_none_or(|pump| fold(&job.pump).contains(&fold(pump.trim())))
    };
    let order: Vec<usize> = if jobs.words.is_empty() {
        (0..summaries.len()).rev().collect()
    } else {
        let numbered: Vec<(u32, &JobSummary)> = shelf.jobs.iter().map(|job| (job.number, &job.summary)).collect();
        find(&jobs.words.join(" "), &numbered, name)
    };
    let row = |at: usize| Row {
        job: &shelf.jobs[at],
        cause: summaries[at].cause.as_deref().map(name),
        came_back: flags[at].clone().map(|flag| (shelf.jobs[flag.of].number, flag)),
    };
    order.into_iter().filter(wanted).map(row).collect()
}

fn state(row: &Row) -> &'static str {
    row.job.summary.ending.map_or("open", |ending| ending.words())
}

fn back_words(row: &Row) -> Option<String> {
    let (number, flag) = row.came_back.as_ref()?;
    Some(format!("came back after {} days ({}, job {number})", flag.days, flag.why))
}

/// Two lines per job, at most as many jobs as asked for.
fn listed(rows: &[Row], jobs: &Jobs, all: usize) -> String {
    if all == 0 {
        return "There are no jobs yet.".to_owned();
    }
    if rows.is_empty() {
        return "No job fits. Try fewer words; without words all are listed.".to_owned();
    }
    let most = if jobs.most == 0 { rows.len() } else { jobs.most };
    let mut lines: Vec<String> = rows.iter().take(most).flat_map(lines).collect();
    if most < rows.len() {
        lines.push(format!("{} more; --most 0 lists all.", rows.len() - most));
    }
    lines.join("\n")
}

fn lines(row: &Row) -> Vec<String> {
    let job = &row.job.summary;
    let opened = store::local(job.opened).strftime("%Y-%m-%d %H:%M").to_string();
    let pump = if job.pump.is_empty() { job.family.replace('_', " ") } else { job.pump.clone() };
    let cause = row.cause.as_ref().map(|cause| format!(": {cause}")).unwrap_or_default();
    let mut second = vec![format!("\"{}\"", job.complaint), format!("{}{cause}", state(row))];
    second.extend(back_words(row));
    second.extend(job.follow_up.map(|on| format!("look again on {on}")));
    vec![clean(&format!("{}  {opened}  {pump}", row.job.number)), clean(&format!("    {}", second.join("; ")))]
}

fn as_json(row: &Row) -> Value {
    let job = &row.job.summary;
    json!({
        "number": row.job.number,
        "id": job.id,
        "file": shown(&row.job.path),
        "pump": job.pump,
        "family": job.family,
        "opened": job.opened,
        "last": job.last,
        "open": job.is_open(),
        "complaint": job.complaint,
        "findings": job.findings,
        "ended": job.ending,
        "cause": job.cause,
        "cause_name": row.cause,
        "remark": job.remark,
        "follow_up": job.follow_up,
        "came_back": row.came_back.as_ref().map(|(of, flag)| json!({"of": of, "days": flag.days, "why": flag.why})),
        "entries": job.entries,
    })
}

const HEAD: &[&str] = &[
    "number",
    "id",
    "opened",
    "last",
    "pump",
    "family",
    "complaint",
    "state",
    "cause",
    "remark",
    "came back of",
    "days since",
    "follow-up",
    "entries",
];

fn table(rows: &[Row]) -> String {
    let line = |cells: Vec<String>| {
        let cells: Vec<String> = cells.iter().map(|cell| csv_cell(&clean(cell))).collect();
        cells.join(",") + "\n"
    };
    let mut text = line(HEAD.iter().map(|&name| name.to_owned()).collect());
    for row in rows {
        let job = &row.job.summary;
        let back = row.came_back.as_ref();
        text += &line(vec![
            row.job.number.to_string(),
            job.id.clone(),
            job.opened.to_string(),
            job.last.to_string(),
            job.pump.clone(),
            job.family.clone(),
            job.complaint.clone(),
            state(row).to_owned(),
            row.cause.clone().unwrap_or_default(),
            job.remark.clone(),
            back.map(|(of, _)| of.to_string()).unwrap_or_default(),
            back.map(|(_, flag)| flag.days.to_string()).unwrap_or_default(),
            job.follow_up.map(|on: Date| on.to_string()).unwrap_or_default(),
            job.entries.to_string(),
        ]);
    }
    text
}
