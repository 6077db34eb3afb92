//! `knowledge learn`, `jobs export` and `knowledge blind-spots` as scripts use them: the whole program on a data folder.

#![allow(clippy::unwrap_used, clippy::panic)]

#[path = "bench/learn/mod.rs"]
mod bench;
mod common;

use bench::draw::{Draw, End, lines};
use serde_json::Value;
use std::collections::BTreeSet;
use std::path::Path;
use std::process::{Command, Output};
use tempfile::TempDir;
use weephole::job::Entry;
use weephole::knowledge::Graph;

const FINDING: &str = "level_falls_while_running";
const CAUSE: &str = "float_valve_stuck";
const PATH: &str = "findings.level_falls_while_running.shown_by.float_valve_stuck.strength";

/// Jobs with a confirmed cause.
const CONFIRMED: usize = 400;

fn weephole(data: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_weephole")).arg("--data-dir").arg(data).args(arguments).output().unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{error}: {}", text(&output.stdout)))
}

fn keep(data: &Path, number: usize, job: &[Entry]) {
    let jobs = data.join("jobs");
    std::fs::create_dir_all(&jobs).unwrap();
    let frame = |line: String| format!("{:08x} {line}\n", crc32fast::hash(line.as_bytes()));
    let text: String = lines(job).into_iter().map(frame).collect();
    std::fs::write(jobs.join(format!("{number:04}-job.journal")), text).unwrap();
}

/// Jobs of one cause whose sign shows much more rarely than the knowledge says, two that are not confirmed.
fn folder() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    let knowledge = common::shipped().knowledge;
    let mut truth = Graph::new(&knowledge, "oil_backed", None);
    let cause = truth.node(CAUSE).unwrap();
    truth.findings[FINDING].parents.iter_mut().find(|(at, _)| *at == cause).unwrap().1 = 0.1;
    let draw = Draw::new(&knowledge, &truth);
    let confirmed = (1..).filter_map(|n| draw.job_with(cause, n, End::Confirmed)).take(CONFIRMED);
    let others = (100_000..).filter_map(|n| draw.job_with(cause, n, End::Unconfirmed)).take(2);
    for (at, job) in confirmed.chain(others).enumerate() {
        keep(folder.path(), at + 1, &job);
    }
    folder
}

#[test]
fn a_number_is_proposed_decided_and_kept() {
    let folder = folder();
    let own = folder.path().join("own");
    std::fs::create_dir(&own).unwrap();
    let families = std::fs::read_to_string(common::root().join("knowledge/families.ron")).unwrap();
    std::fs::write(own.join("families.ron"), families).unwrap();
    let knowledge = own.to_str().unwrap();
    let learn = |more: &[&str]| {
        let words: Vec<&str> = ["knowledge", "learn", "--knowledge", knowledge].iter().chain(more).copied().collect();
        weephole(folder.path(), &words)
    };
    let found = json(&learn(&["--json"]));
    assert_eq!((found["jobs"].as_u64(), found["untaught"].as_object().unwrap().len()), (Some(CONFIRMED as u64), 1));
    let proposed = |found: &Value| found["proposals"].as_array().unwrap().iter().find(|p| p["path"] == PATH).cloned();
    let proposal = proposed(&found).unwrap();
    assert!(
        proposal["new"].as_f64() < proposal["old"].as_f64() && proposal["high"].as_f64() < proposal["old"].as_f64()
    );
    let said = text(&learn(&[]).stdout);
    assert!(
        said.starts_with("400 confirmed jobs teach.\n2 teach nothing: closed without a confirmed cause."),
        "{said}"
    );
    assert!(said.contains(PATH) && said.contains("usually (0.90) ->"), "{said}");

    assert_eq!(learn(&["--accept", PATH]).status.code(), Some(2));
    let nobody = learn(&["--accept", "findings.no.strength", "--by", "R.K., fitter"]);
    assert!(text(&nobody.stderr).contains("no job says anything about `findings.no.strength`"));
    let rejected = learn(&["--reject", PATH, "--by", "R.K., fitter"]);
    assert_eq!(rejected.status.code(), Some(0), "{}", text(&rejected.stderr));
    assert!(proposed(&json(&learn(&["--json"]))).is_none());
    assert_eq!(proposed(&json(&learn(&["--json", "--all"]))).unwrap()["rejected"]["who"], "R.K., fitter");
    let accepted = json(&learn(&["--accept", PATH, "--by", "R.K., fitter", "--json"]));
    assert_eq!(accepted["edits"][0]["path"], PATH);
    assert_eq!(accepted["edits"][0]["value"], proposal["value"]);

    // The jobs are in the accepted number now: they count for it no more.
    assert!(proposed(&json(&learn(&["--json", "--all"]))).is_none());

    let audit = own.join("learned.jsonl");
    let kept = std::fs::read_to_string(&audit).unwrap();
    let kept: Vec<Value> = kept.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    let verdicts: Vec<&str> = kept.iter().map(|line| line["verdict"].as_str().unwrap()).collect();
    assert_eq!(verdicts, ["rejected", "accepted"]);
    assert_eq!(kept[1]["new"], proposal["new"]);
    assert_eq!(kept[1]["asked"], proposal["counts"]["asked"]);
    std::fs::write(&audit, "{}\n").unwrap();
    let broken = learn(&[]);
    assert_eq!(broken.status.code(), Some(2));
    assert!(text(&broken.stderr).contains("learned.jsonl:1: this is not a decision"), "{}", text(&broken.stderr));
}

#[test]
fn the_built_in_knowledge_has_no_place_for_decisions() {
    let folder = folder();
    let output = weephole(folder.path(), &["knowledge", "learn", "--accept", PATH, "--by", "R.K., fitter"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(text(&output.stderr).contains("--knowledge"), "{}", text(&output.stderr));
}

/// The fields of every kind of row as DEVELOPERS.md tells them.
#[test]
fn rows_keep_their_schema_and_no_words() {
    let folder = folder();
    let output = weephole(folder.path(), &["jobs", "export", "--format", "jsonl"]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    let all = text(&output.stdout);
    let rows: Vec<Value> = all.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    let guide = std::fs::read_to_string(common::root().join("DEVELOPERS.md")).unwrap();
    let common_fields = ["schema", "row", "job", "root", "family", "knowledge", "closed"];
    for (kind, own) in [
        ("cause", vec!["cause", "by"]),
        ("observation", vec!["observed", "answer", "si", "said", "again", "confirmed", "counts"]),
        ("witness", vec!["finding", "parent", "yes", "present", "rival", "others", "noticed", "strength"]),
    ] {
        let of_kind: Vec<&Value> = rows.iter().filter(|row| row["row"] == kind).collect();
        let expected: BTreeSet<&str> = common_fields.into_iter().chain(own.iter().copied()).collect();
        assert!(!of_kind.is_empty(), "{kind}");
        for row in of_kind {
            let fields: BTreeSet<&str> = row.as_object().unwrap().keys().map(String::as_str).collect();
            assert_eq!(fields, expected);
            assert_eq!(row["schema"], 1);
        }
        assert!(own.iter().all(|field| guide.contains(&format!("`{field}`"))), "{kind}");
    }
    assert_eq!(rows.iter().filter(|row| row["row"] == "cause").count(), CONFIRMED);
    let jobs: BTreeSet<&str> = rows.iter().map(|row| row["job"].as_str().unwrap()).collect();
    assert_eq!(jobs.len(), CONFIRMED + 2);
    let file = folder.path().join("rows.jsonl");
    let written = weephole(folder.path(), &["jobs", "export", "--out", file.to_str().unwrap()]);
    assert_eq!(written.status.code(), Some(0));
    assert_eq!(std::fs::read_to_string(file).unwrap(), all);
}

#[test]
fn a_damaged_journal_is_named_and_the_rest_exported() {
    let folder = folder();
    let path = folder.path().join("jobs/0002-job.journal");
    let broken = std::fs::read_to_string(&path).unwrap().replacen("complaint", "complaunt", 1);
    std::fs::write(&path, broken).unwrap();
    let output = weephole(folder.path(), &["jobs", "export"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(text(&output.stderr).contains("job 2 is skipped"), "{}", text(&output.stderr));
    let taught = weephole(folder.path(), &["knowledge", "learn", "--json"]);
    let taught = json(&taught);
    assert_eq!((taught["jobs"].as_u64(), taught["skipped"].as_array().unwrap().len()), (Some(CONFIRMED as u64 - 1), 1));
}

/// On the shipped knowledge: the closest pairs first, what is in dispute is what the files say, every link is counted once.
#[test]
fn blind_spots_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let apart = |by: &str| json(&weephole(folder.path(), &["knowledge", "blind-spots", "--json", "--apart", by]));
    let (found, closer) = (apart("0.7"), apart("0.6"));
    let knowledge = common::shipped().knowledge;
    let width = |pair: &Value| {
        let chance = |at: usize| pair["best"]["chances"][at].as_f64().unwrap_or_default();
        (chance(0) - chance(1)).abs()
    };
    let (pairs, closest) = (found["together"].as_array().unwrap(), closer["together"].as_array().unwrap());
    assert!(closest.len() < pairs.len() && pairs.iter().all(|pair| width(pair) < 0.7));
    assert!(pairs.windows(2).all(|two| width(&two[0]) <= width(&two[1])));
    assert_eq!(pairs[..closest.len()], closest[..]);
    let files = found["rests"].as_object().unwrap().values();
    let links: u64 = files.map(|file| file["links"].as_u64().unwrap()).sum();
    assert_eq!(links, u64::try_from(knowledge.links().count()).unwrap());
    let all = &knowledge.all;
    let node_links = all.causes.values().map(|entry| &entry.leads_to);
    let node_links = node_links.chain(all.conditions.values().chain(all.damage.values()).map(|entry| &entry.leads_to));
    let links = node_links.chain(all.findings.values().map(|entry| &entry.shown_by)).flat_map(|links| links.values());
    let disputed = links.filter(|link| link.disputed.is_some()).count();
    assert!(0 < disputed && found["disputed"].as_array().unwrap().len() == disputed);
    let said = text(&weephole(folder.path(), &["knowledge", "blind-spots", "--stale", "0", "--most", "3"]).stdout);
    assert!(said.contains("Links in dispute: ") && said.contains("--most 0 lists all."), "{said}");
}
