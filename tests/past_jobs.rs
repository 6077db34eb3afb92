//! Past jobs as the program lists, searches and merges them, with damaged files and without an index.

#![allow(clippy::unwrap_used)]

use jiff::{SignedDuration, Timestamp};
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;
use weephole::job::{Ending, Entry, Event, PumpNote};
use weephole::store::{Journal, create_job, list_jobs, read_events};

fn weephole(data: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_weephole")).arg("--data-dir").arg(data).args(arguments).output().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn err(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn jobs(data: &Path, arguments: &[&str]) -> Value {
    let output = weephole(data, &[&["jobs", "--json"], arguments].concat());
    assert!(output.status.success(), "{}", err(&output));
    serde_json::from_slice(&output.stdout).unwrap()
}

fn numbers(data: &Path, arguments: &[&str]) -> Vec<u64> {
    let listed = jobs(data, arguments);
    listed["jobs"].as_array().unwrap().iter().map(|job| job["number"].as_u64().unwrap()).collect()
}

fn events(pump: &str, words: &str, finding: &str, cause: Option<&str>) -> Vec<Event> {
    let note = PumpNote { name: pump.to_owned(), ..PumpNote::default() };
    let mut events = vec![
        Event::opened("oil_backed", ("2026.11", "0"), Some(note)),
        Event::Complaint { words: words.to_owned(), findings: vec![finding.to_owned()] },
    ];
    if let Some(cause) = cause {
        let cause = Some(cause.to_owned());
        events.push(Event::Closed { ending: Ending::Confirmed, cause, words: String::new() });
    }
    events
}

/// Lines of a job opened so many days after the start of 2026, an entry each minute.
fn lines(day: i64, events: &[Event]) -> Vec<String> {
    let start: Timestamp = "2026-01-01T08:00:00Z".parse().unwrap();
    let at = |minute: usize| start + SignedDuration::from_mins(day * 1440 + i64::try_from(minute).unwrap());
    let entry = |(minute, event): (usize, &Event)| Entry { at: at(minute), event: event.clone() };
    events.iter().enumerate().map(entry).map(|entry| serde_json::to_string(&entry).unwrap()).collect()
}

fn keep(data: &Path, lines: &[String]) -> PathBuf {
    let mut journal = create_job(data, "job").unwrap();
    for line in lines {
        journal.append(line).unwrap();
    }
    journal.path().to_owned()
}

fn note(text: &str) -> Event {
    Event::Note { text: text.to_owned() }
}

/// Three jobs on two pumps; the second repeats the first.
fn shelf() -> TempDir {
    let data = TempDir::new().unwrap();
    keep(
        data.path(),
        &lines(0, &events("Fog pump 2", "rattles like gravel", "crackle_noise", Some("strainer_clogged"))),
    );
    keep(data.path(), &lines(40, &events("Fog pump 2", "rattles again", "crackle_noise", None)));
    keep(data.path(), &lines(41, &events("=Wash pump", "oil is milky", "oil_milky", Some("strainer_clogged"))));
    data
}

#[test]
fn jobs_are_listed_searched_and_flagged() {
    let data = shelf();
    assert_eq!(numbers(data.path(), &[]), [3, 2, 1]);
    assert_eq!(numbers(data.path(), &["rattels"]), [1, 2]);
    assert_eq!(numbers(data.path(), &["strainer", "wash"]), [3]);
    assert_eq!(numbers(data.path(), &["--pump", "fog PUMP"]), [2, 1]);
    assert_eq!(numbers(data.path(), &["--open"]), [2]);
    assert_eq!(numbers(data.path(), &["--came-back"]), [2]);
    assert!(numbers(data.path(), &["--came-back", "--within", "30"]).is_empty());
    let back = &jobs(data.path(), &["--came-back"])["jobs"][0]["came_back"];
    assert_eq!((back["of"].as_u64(), back["days"].as_i64()), (Some(1), Some(39)));
    let said = out(&weephole(data.path(), &["jobs"]));
    assert!(said.contains("came back after 39 days (same complaint, job 1)"), "{said}");
    assert!(said.contains("inlet strainer or filter element clogged"), "{said}");
    assert!(out(&weephole(data.path(), &["jobs", "diaphragm"])).contains("No job fits"));
    let table = out(&weephole(data.path(), &["jobs", "--csv"]));
    assert_eq!(table.lines().count(), 4);
    assert!(table.contains(",'=Wash pump,"), "{table}");
}

#[test]
fn a_damaged_file_is_named_skipped_and_left_alone() {
    let data = shelf();
    let path = list_jobs(data.path()).unwrap()[1].path.clone();
    let harmed = fs::read_to_string(&path).unwrap().replacen("rattles again", "rattles agaim", 1) + "00000000 {}\n";
    fs::write(&path, &harmed).unwrap();
    for _ in 0..2 {
        let output = weephole(data.path(), &["jobs"]);
        assert!(output.status.success());
        assert!(
            err(&output).contains("job 2 is skipped") && err(&output).contains("damaged in line 2"),
            "{}",
            err(&output)
        );
        let listed = jobs(data.path(), &[]);
        assert_eq!(listed["skipped"][0]["number"], 2);
        assert_eq!(numbers(data.path(), &[]), [3, 1]);
    }
    assert_eq!(fs::read_to_string(&path).unwrap(), harmed);
    let merged = weephole(TempDir::new().unwrap().path(), &["jobs", "merge", data.path().to_str().unwrap()]);
    assert_eq!(merged.status.code(), Some(1));
    assert!(err(&merged).contains("damaged in line 2") && out(&merged).matches("new here").count() == 2);
    assert_eq!(fs::read_to_string(&path).unwrap(), harmed);
}

/// What is listed never depends on the index.
#[test]
fn the_index_is_never_trusted_over_the_file() {
    let data = shelf();
    let index = data.path().join("cache/jobs.index");
    let before = jobs(data.path(), &[]);
    let kept = fs::read_to_string(&index).unwrap();
    assert!(kept.contains("rattles like gravel"));
    fs::remove_file(&index).unwrap();
    assert_eq!(jobs(data.path(), &[]), before);
    fs::write(&index, "nonsense").unwrap();
    assert_eq!(jobs(data.path(), &[]), before);
    // A row that lies, under a right check of the whole.
    let (head, body) = kept.split_once('\n').unwrap();
    let body = body.replace("rattles like gravel", "\u{1b}[31mlies");
    let head = format!("{}{:08x}", &head[..head.len() - 8], crc32fast::hash(body.as_bytes()));
    fs::write(&index, format!("{head}\n{body}")).unwrap();
    let mut journal = Journal::open(&list_jobs(data.path()).unwrap()[0].path).unwrap().0;
    let at: Timestamp = "2026-05-01T08:00:00Z".parse().unwrap();
    journal.append(&serde_json::to_string(&Entry { at, event: Event::Reopened }).unwrap()).unwrap();
    let after = jobs(data.path(), &[]);
    assert_eq!(after["jobs"][2]["complaint"], "rattles like gravel");
    assert_eq!(after["jobs"][2]["open"], true);
}

fn merge(here: &Path, from: &Path) -> String {
    let output = weephole(here, &["jobs", "merge", from.to_str().unwrap()]);
    assert!(output.status.success(), "{}{}", out(&output), err(&output));
    out(&output)
}

fn kept(data: &Path) -> Vec<Vec<String>> {
    list_jobs(data).unwrap().iter().map(|job| read_events(&job.path).unwrap().events).collect()
}

#[test]
fn laptops_merge_by_id_and_lose_nothing() {
    let (here, there) = (TempDir::new().unwrap(), TempDir::new().unwrap());
    let begun = events("Fog pump 2", "rattles", "crackle_noise", None);
    let with = |more: &[&str]| {
        let notes = more.iter().map(|text| note(text));
        lines(0, &begun.iter().cloned().chain(notes).collect::<Vec<_>>())
    };
    keep(here.path(), &lines(5, &events("Wash pump", "milky", "oil_milky", None)));
    keep(here.path(), &with(&["one"]));
    keep(there.path(), &with(&["one", "two"]));
    assert!(merge(here.path(), there.path()).contains("1 new entries for job 2"));
    assert_eq!(kept(here.path())[1], with(&["one", "two"]));
    assert!(merge(here.path(), there.path()).contains("nothing new for job 2"));
    assert!(merge(there.path(), here.path()).contains("new here: job 2"));
    assert_eq!(kept(there.path())[1], kept(here.path())[0]);

    // Each goes on by itself.
    let other = TempDir::new().unwrap();
    keep(other.path(), &with(&["one", "another"]));
    let said = merge(here.path(), other.path());
    assert!(said.contains("went another way than job 2; both are kept, this one as job 3"), "{said}");
    assert_eq!(kept(here.path())[1], with(&["one", "two"]));
    let listed = jobs(here.path(), &[]);
    let ids: Vec<&str> = listed["jobs"].as_array().unwrap().iter().map(|job| job["id"].as_str().unwrap()).collect();
    assert!(ids[0] != ids[1] && ids[1] != ids[2] && ids[0] != ids[2], "{ids:?}");
    assert!(merge(here.path(), other.path()).contains("nothing new for job 3"));
    let record = out(&weephole(here.path(), &["record", "3"]));
    assert!(record.contains("two laptops went on with job") && record.contains("remark: another"), "{record}");
}

#[test]
fn what_is_no_job_of_ours_is_named_and_the_rest_taken_in() {
    let (here, there) = (TempDir::new().unwrap(), shelf());
    let newer = events("P", "w", "low_flow", None).into_iter().map(|event| match event {
        Event::Opened { program, family, release, hash, pump, .. } => {
            Event::Opened { version: 999, program, family, release, hash, pump }
        }
        other => other,
    });
    keep(there.path(), &lines(1, &newer.collect::<Vec<_>>()));
    fs::write(there.path().join("letter.journal"), "Dear all,\n").unwrap();
    let output = weephole(here.path(), &["jobs", "merge", there.path().to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(1));
    assert!(err(&output).contains("version 999") && err(&output).contains("is not a job journal"), "{}", err(&output));
    assert_eq!(kept(here.path()).len(), 3);
    let missing = weephole(here.path(), &["jobs", "merge", "/nowhere"]);
    assert!(missing.status.code() == Some(1) && err(&missing).contains("/nowhere"));
}
