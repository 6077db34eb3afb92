//! Runs the supervisor's commands as a supervisor does: unpack, set, add, retire, undo, compare, draw, pack and open.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use serde_json::Value;
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use tempfile::TempDir;

fn run(arguments: &[&str], input: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_weephole"))
        .arg("knowledge")
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // A program that refused at once has closed its end already.
    let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    child.wait_with_output().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn err(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn done(arguments: &[&str]) -> String {
    let output = run(arguments, "");
    assert_eq!(output.status.code(), Some(0), "{arguments:?}: {}", err(&output));
    out(&output)
}

fn refused(arguments: &[&str], input: &str, code: i32) -> String {
    let output = run(arguments, input);
    assert_eq!(output.status.code(), Some(code), "{arguments:?}: {}{}", out(&output), err(&output));
    err(&output)
}

/// The built-in knowledge in a folder.
fn folder() -> (TempDir, PathBuf) {
    let base = TempDir::new().unwrap();
    let folder = base.path().join("graph");
    done(&["unpack", folder.to_str().unwrap()]);
    (base, folder)
}

/// Every file with its text.
fn texts(folder: &Path) -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() && path.file_name().unwrap() != "backups" {
            found.extend(texts(&path));
        } else if path.is_file() {
            found.push((path.clone(), fs::read_to_string(&path).unwrap()));
        }
    }
    found.sort();
    found
}

#[test]
fn a_strength_is_changed_told_compared_and_taken_back() {
    let (_base, folder) = folder();
    let dir = folder.to_str().unwrap();
    let before = texts(&folder);
    let path = "findings.low_flow.shown_by.valves_worn.strength";
    let said = done(&["set", path, "18 of 20", "--knowledge", dir]);
    assert!(said.contains(": often (0.75) → usually (0.9)\nIn findings/delivery.ron.\n"), "{said}");
    assert!(said.contains("Saved as edit 1; `weephole knowledge undo` takes it back."), "{said}");
    let after = texts(&folder);
    let changed: Vec<usize> = (0..before.len()).filter(|&at| before[at] != after[at]).collect();
    let [at] = changed.as_slice() else { panic!("{changed:?}") };
    let lines = before[*at].1.lines().zip(after[*at].1.lines()).filter(|(old, new)| old != new).count();
    assert_eq!((lines, before[*at].1.lines().count()), (1, after[*at].1.lines().count()));

    let told = done(&["changes", "built-in", dir]);
    assert!(told.contains(": often (0.75) → usually (0.9)\n") && told.contains("1 values changed"), "{told}");
    let json: Value = serde_json::from_str(&done(&["changes", "built-in", dir, "--json"])).unwrap();
    let change = &json["changes"][0];
    assert_eq!((change["kind"].as_str(), change["id"].as_str()), (Some("findings"), Some("low_flow")));
    assert_eq!(change["field"], "shown_by.valves_worn.strength");
    assert_eq!((change["safety"].as_bool(), json["changes"].as_array().unwrap().len()), (Some(false), 1));

    let said = done(&["undo", "--knowledge", dir]);
    assert!(said.contains(": usually (0.9) → often (0.75)\nEdit 1 is taken back."), "{said}");
    assert_eq!(texts(&folder), before);
    assert!(refused(&["undo", "--knowledge", dir], "", 1).contains("there is no edit to take back"));
    assert_eq!(
        done(&["changes", "built-in", dir]),
        "0 added, 0 retired, 0 gone, 0 values changed; 0 of all about safety\n"
    );
}

#[test]
fn a_change_of_a_caution_is_marked_and_stands_first() {
    let (_base, folder) = folder();
    let dir = folder.to_str().unwrap();
    done(&["set", "low_flow.how", "look at the log", "--knowledge", dir]);
    let alone = ["set", "cautions.c_tank_entry.word", "notice", "--knowledge", dir];
    assert!(refused(&alone, "", 2).contains("two people look at that"));
    let by_name = [&alone[..], &["--second", "Rolf Kramer"]].concat();
    assert!(refused(&by_name, "", 2).contains("--second: Initials and role only"));
    let said = done(&[&alone[..], &["--second", "R.K., supervisor"]].concat());
    let kept = fs::read_to_string(folder.join("backups/0002.edit.json")).unwrap();
    assert_eq!(serde_json::from_str::<Value>(&kept).unwrap()["second"], "R.K., supervisor");
    assert!(said.starts_with("SAFETY  Bad air in tank or pit., word: \"danger\" → \"notice\""), "{said}");
    let told = done(&["changes", "built-in", dir]);
    assert!(told.starts_with("SAFETY  ") && told.contains("1 of all about safety"), "{told}");
}

#[test]
fn what_would_break_the_knowledge_is_not_saved() {
    let (_base, folder) = folder();
    let dir = folder.to_str().unwrap();
    let before = texts(&folder);
    for (path, value, told) in [
        ("low_flow.shown_by.valves_worn.strength", "share(1.0)", "nothing was saved"),
        ("low_flow.shown_by.valves_worn.basis", "rumour", "did you mean"),
        ("strainer_clogged.remedy", "no_such_remedy", "there is no `no_such_remedy` among remedies"),
        ("listen_chambers.minutes", "-5", "nothing was saved"),
        ("listen_chambers.minuts", "5", "`minuts` is not a field"),
        ("low_flow.shown_by.valves_worn.strength", "mostly", "is not a strength"),
    ] {
        let said = refused(&["set", path, value, "--knowledge", dir], "", 2);
        assert!(said.contains(told) || (told == "did you mean" && said.contains("allowed:")), "{path}: {said}");
    }
    let bad = refused(&["set", "low_flow.state", "runing", "--knowledge", dir], "", 2);
    assert!(bad.contains("findings/delivery.ron:") && bad.contains("did you mean `running`?"), "{bad}");
    assert!(refused(&["set", "low_flow.leak", "0.1"], "", 2).contains("unpack DIR"));
    for snippet in ["(name: \"x\"", "", "(name: \"x\u{1b}\", question: \"Is it?\")", "(nane: \"x\")", "){}("] {
        refused(&["add", "findings", "new_one", "--knowledge", dir], snippet, 2);
    }
    refused(&["add", "findings", "low_flow", "name=x", "question=Is it?", "--knowledge", dir], "", 2);
    refused(&["retire", "causes", "strainer_clogged", "--use", "low_flow", "--knowledge", dir], "", 2);
    assert_eq!(texts(&folder), before);
    assert!(!folder.join("backups").exists());
}

#[test]
fn an_entry_from_standard_input_and_a_link_from_fields_are_added() {
    let (_base, folder) = folder();
    let dir = folder.to_str().unwrap();
    let entry =
        "// seen at two sites\n\"hum_new\": (\n    name: \"pump hums\",\n    question: \"Does the pump hum?\",\n),\n";
    let added = run(&["add", "findings", "hum_new", "--knowledge", dir], entry);
    assert_eq!(added.status.code(), Some(0), "{}", err(&added));
    let said = out(&added);
    assert!(said.starts_with("new finding \"pump hums\" (hum_new)\n") && said.contains("New problem:"), "{said}");
    let link =
        ["add", "link", "valves_worn", "hum_new", "strength=of 20 pumps with this 5", "basis=guess", "source=practice"];
    let said = done(&[&link[..], &["--knowledge", dir]].concat());
    assert!(said.contains("→ pump hums: sometimes (0.25), guess\n"), "{said}");
    assert!(said.contains("No longer a problem:"), "{said}");
    let again = refused(&[&link[..], &["--knowledge", dir]].concat(), "", 2);
    assert!(again.contains("are linked already"), "{again}");
    let check = [
        "add",
        "checks",
        "hear_hum",
        "name=listen for a hum",
        "yields=[\"hum_new\"]",
        "minutes=4",
        "steps=[\"Listen.\"]",
    ];
    let said = done(&[&check[..], &["source=practice", "--knowledge", dir]].concat());
    assert!(said.contains("No longer a problem:") && !said.contains("New problem:"), "{said}");
    let problems: Value = serde_json::from_str(&done(&["check", "--json", "--knowledge", dir])).unwrap();
    assert_eq!(problems["problems"], Value::Array(Vec::new()));
    // Three edits are taken back one by one.
    for number in [3, 2, 1] {
        assert!(done(&["undo", "--knowledge", dir]).contains(&format!("Edit {number} is taken back.")));
    }
    assert!(done(&["changes", "built-in", dir]).starts_with("0 added, 0 retired, 0 gone, 0 values"));
}

#[test]
fn a_retired_cause_is_named_nowhere_and_comes_back_whole() {
    let (_base, folder) = folder();
    let dir = folder.to_str().unwrap();
    let before = texts(&folder);
    let (old, other) = ("debris_under_inlet_valve", "debris_under_outlet_valve");
    let said = done(&["retire", "causes", old, "--use", other, "--knowledge", dir]);
    assert!(said.contains("is retired;") && said.contains(&format!("now names `{other}`")), "{said}");
    assert!(fs::read_to_string(folder.join("retired.ron")).unwrap().contains(old));
    let add = ["add", "sources", old, "title=x", "kind=standard", "--knowledge", dir];
    assert!(refused(&add, "", 2).contains("is taken"));
    done(&["undo", "--knowledge", dir]);
    assert_eq!(texts(&folder), before);
}

#[test]
fn a_file_changed_by_hand_is_never_overwritten() {
    let (_base, folder) = folder();
    let dir = folder.to_str().unwrap();
    done(&["set", "low_flow.how", "look", "--knowledge", dir]);
    let file = folder.join("findings/delivery.ron");
    let by_hand = format!("// mine\n{}", fs::read_to_string(&file).unwrap());
    fs::write(&file, &by_hand).unwrap();
    let said = refused(&["undo", "--knowledge", dir], "", 1);
    assert!(said.contains("was changed after edit 1") && said.contains("findings_delivery.0001.ron.old"), "{said}");
    assert_eq!(fs::read_to_string(&file).unwrap(), by_hand);
    // An edit on top keeps what was written by hand.
    done(&["set", "low_flow.how", "look twice", "--knowledge", dir]);
    assert!(fs::read_to_string(&file).unwrap().starts_with("// mine\n"));
}

#[test]
fn only_files_of_the_folder_are_edited() {
    let base = TempDir::new().unwrap();
    let dir = base.path().to_str().unwrap();
    fs::write(base.path().join("own.ron"), "(version: 1)\n").unwrap();
    let said = refused(&["set", "low_flow.how", "look", "--knowledge", dir], "", 2);
    assert!(said.contains("findings/delivery.ron is not in the folder"), "{said}");
    done(&["add", "sources", "own_log", "title=our own log", "kind=published", "--knowledge", dir]);
    assert!(fs::read_to_string(base.path().join("own_sources.ron")).unwrap().contains("our own log"));
}

#[test]
fn pictures_and_wall_tables_are_printed() {
    let graph = done(&["picture", "--format", "dot"]);
    assert!(graph.starts_with("digraph ") && graph.contains("\"valves_worn\" -> \"low_flow\""));
    let around = done(&["picture", "--format", "dot", "--around", "valves_worn", "--steps", "1"]);
    assert!(around.starts_with("digraph ") && around.lines().count() < graph.lines().count());
    let drawn = done(&["picture", "--format", "svg", "--around", "low_flow"]);
    assert!(drawn.starts_with("<svg xmlns=") && !drawn.contains("href"));
    scraper::Html::parse_fragment(&drawn);
    assert!(
        refused(&["picture", "--format", "svg", "--around", "low_flou"], "", 2).contains("did you mean `low_flow`?")
    );
    let one = done(&["wall", "low_flow"]);
    assert_eq!(one.matches("\n## ").count(), 1);
    let page = done(&["wall", "--html"]);
    assert!(page.starts_with("<!DOCTYPE html>") && 20 < page.matches("<table>").count());
    assert!(scraper::Html::parse_document(&page).errors.is_empty());
    assert!(refused(&["wall", "low_flou"], "", 2).contains("did you mean `low_flow`?"));
}

#[test]
fn a_packed_file_opens_as_it_was_and_never_over_anything() {
    let (base, folder) = folder();
    let (dir, file) = (folder.to_str().unwrap(), base.path().join("graph.pack"));
    let (file, fresh) = (file.to_str().unwrap(), base.path().join("fresh"));
    done(&["pack", file, "--knowledge", dir]);
    assert!(refused(&["pack", file], "", 1).contains("nothing is overwritten"));
    done(&["open", file, fresh.to_str().unwrap()]);
    let relative = |folder: &Path| -> Vec<(PathBuf, String)> {
        texts(folder).into_iter().map(|(path, text)| (path.strip_prefix(folder).unwrap().to_owned(), text)).collect()
    };
    assert_eq!(relative(&fresh), relative(&folder));
    assert!(refused(&["open", file, dir], "", 1).contains("nothing is overwritten"));
    let text = fs::read_to_string(file).unwrap();
    let changed = base.path().join("changed.pack");
    fs::write(&changed, text.replacen("often", "rarely", 1)).unwrap();
    let place = base.path().join("none");
    let said = refused(&["open", changed.to_str().unwrap(), place.to_str().unwrap()], "", 2);
    assert!(said.contains("the hash does not fit"), "{said}");
    assert!(!place.exists());
}

/// Old facts files and journals name ids that were retired since: they still mean the entry in their place.
#[test]
fn an_answer_under_a_retired_id_counts_for_the_one_in_its_place() {
    let (base, folder) = folder();
    let dir = folder.to_str().unwrap();
    let (old, other) = ("bearing_rumbles", "power_end_grinds");
    done(&["retire", "findings", old, "--use", other, "--knowledge", dir]);
    let rank = |id: &str| {
        let facts = base.path().join(format!("{id}.ron"));
        let text = format!("(family: \"oil_backed\", complaint: [\"low_flow\"], findings: {{\"{id}\": yes}})");
        fs::write(&facts, text).unwrap();
        let program = Command::new(env!("CARGO_BIN_EXE_weephole"))
            .args(["rank", facts.to_str().unwrap(), "--json", "--knowledge", dir])
            .output()
            .unwrap();
        assert_eq!(program.status.code(), Some(0), "{}", out(&program));
        serde_json::from_slice::<Value>(&program.stdout).unwrap()["causes"].clone()
    };
    assert_eq!(rank(old), rank(other));
}
