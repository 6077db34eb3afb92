//! Runs the program as scripts and shells do: exit codes, JSON, bad files, a kill and a resume.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use serde_json::Value;
use std::fs;
use std::io::{BufRead as _, BufReader, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use tempfile::TempDir;

fn weephole(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_weephole")).args(arguments).stdin(Stdio::null()).output().unwrap()
}

fn piped(arguments: &[&str], input: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_weephole"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    stdin.write_all(input.as_bytes()).unwrap();
    drop(stdin);
    child.wait_with_output().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn err(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn code(output: &Output) -> i32 {
    output.status.code().unwrap_or(-1)
}

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout).unwrap_or_else(|e| panic!("not one JSON value ({e}): {}", out(output)))
}

fn file(folder: &Path, name: &str, text: &str) -> PathBuf {
    let path = folder.join(name);
    std::fs::write(&path, text).unwrap();
    path
}

fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

/// The only journal in a data folder.
fn journal(data: &Path) -> PathBuf {
    let jobs = std::fs::read_dir(data.join("jobs")).unwrap().map(|entry| entry.unwrap().path());
    jobs.into_iter().find(|path| path.extension().is_some_and(|e| e == "journal")).unwrap()
}

#[test]
fn the_shipped_knowledge_has_no_problem_and_counts_what_it_holds() {
    let output = weephole(&["knowledge", "check", "--json"]);
    assert_eq!(code(&output), 0, "{}", out(&output));
    let value = json(&output);
    assert_eq!(value["problems"], Value::Array(Vec::new()));
    // Counts asked of the first release.
    let least = [
        ("causes", 40),
        ("conditions", 12),
        ("damage", 14),
        ("findings", 70),
        ("readings", 16),
        ("checks", 45),
        ("remedies", 25),
    ];
    for (kind, count) in least {
        assert!(count <= value["counts"][kind].as_u64().unwrap(), "{kind}: {}", value["counts"][kind]);
    }
    assert_eq!(value["counts"]["links_without_source"], 0);
    assert!(value["counts"]["links"].as_u64() > value["counts"]["links_common_practice"].as_u64());
}

#[test]
fn every_kind_can_be_listed() {
    for kind in
        ["causes", "conditions", "damage", "findings", "readings", "checks", "remedies", "procedures", "families"]
    {
        let output = weephole(&["knowledge", "list", kind, "--json"]);
        let rows = json(&output);
        let rows = rows.as_array().unwrap();
        assert!(!rows.is_empty(), "{kind}");
        assert!(rows.iter().all(|row| row["id"].is_string() && row["name"].is_string() && row["aliases"].is_array()));
    }
    let families = json(&weephole(&["knowledge", "list", "families", "--json"]));
    let ids: Vec<&str> = families.as_array().unwrap().iter().filter_map(|row| row["id"].as_str()).collect();
    assert_eq!(ids, ["oil_backed", "packed_plunger", "metering"]);
    let wrong = weephole(&["knowledge", "list", "cause"]);
    assert!(code(&wrong) == 2 && err(&wrong).contains("did you mean `causes`?"), "{}", err(&wrong));
}

#[test]
fn rank_lists_every_cause_and_the_next_steps() {
    let folder = TempDir::new().unwrap();
    let facts = file(
        folder.path(),
        "facts.ron",
        "(family: \"oil_backed\", complaint: [\"crackle_noise\"], findings: {\"low_flow\": yes, \"oil_milky\": no, \"came_slowly\": cant_tell}, readings: {\"inlet_pressure_full\": \"13 inHg vac\"})",
    );
    let output = weephole(&["rank", text(&facts), "--json"]);
    assert_eq!(code(&output), 0, "{}", err(&output));
    let value = json(&output);
    let causes = value["causes"].as_array().unwrap();
    assert!(100 < causes.len());
    let chances: Vec<f64> = causes.iter().map(|cause| cause["probability"].as_f64().unwrap()).collect();
    assert!(chances.windows(2).all(|pair| pair[0] >= pair[1]) && chances.iter().all(|p| (0.0..=1.0).contains(p)));
    // A starved inlet with much vacuum and gravel noise: the strainer leads (common practice, no source).
    assert_eq!(causes[0]["id"], "strainer_clogged");
    assert!(causes.iter().all(|cause| cause["status"] != "confirmed"), "never confirmed by probability alone");
    let next = value["next"].as_array().unwrap();
    assert!(!next.is_empty());
    let worths: Vec<f64> = next.iter().map(|step| step["worth"].as_f64().unwrap()).collect();
    assert!(worths.windows(2).all(|pair| pair[0] >= pair[1]));
    for step in next {
        let asks: Vec<&str> = step["asks"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
        assert!(!asks.is_empty() && !asks.contains(&"crackle_noise") && !asks.contains(&"came_slowly"));
    }
    assert!(value["error_bound"].as_f64().unwrap() < 1e-9);
    assert!(value["conflict"]["value"].is_number() && value["knowledge"]["hash"].is_string());
}

#[test]
fn a_look_that_confirms_makes_a_cause_confirmed() {
    let folder = TempDir::new().unwrap();
    let facts = file(
        folder.path(),
        "facts.ron",
        "(family: \"oil_backed\", complaint: [\"crackle_noise\"], findings: {\"found_strainer_clogged\": yes, \"better_at_half_speed\": yes, \"came_slowly\": yes}, readings: {\"inlet_pressure_full\": \"-13 inHg\"})",
    );
    let value = json(&weephole(&["rank", text(&facts), "--json"]));
    assert_eq!(value["causes"][0]["id"], "strainer_clogged");
    assert_eq!(value["causes"][0]["status"], "confirmed");
}

#[test]
fn bad_facts_are_told_in_json_and_in_words() {
    let folder = TempDir::new().unwrap();
    let cases = [
        ("(family: \"oil_backed\", complaint: [\"crackle_nois\"])", "unknown_id", "did you mean `crackle_noise`?"),
        ("(family: \"oil_backed\", readings: {\"inlet_pressure_full\": \"13 rpm\"})", "bad_quantity", "rpm"),
        ("(family: \"oil_backed\", readings: {\"inlet_pressure_full\": \"-35 inHg\"})", "impossible", "vacuum"),
        ("(family: \"oil_backed\",", "unreadable", ""),
    ];
    for (facts, rule, words) in cases {
        let path = file(folder.path(), "facts.ron", facts);
        let output = weephole(&["rank", text(&path), "--json"]);
        assert_eq!(code(&output), 2, "{facts}");
        let problem = json(&output)["problems"][0].clone();
        assert_eq!(problem["rule"], rule, "{facts}");
        let told = format!("{} {}", problem["message"], problem["hint"]);
        assert!(told.contains(words), "{facts}: {told}");
        assert!(problem["line"].is_u64() && problem["column"].is_u64());
        let plain = weephole(&["rank", text(&path)]);
        assert!(code(&plain) == 2 && !err(&plain).is_empty());
    }
    for missing in ["/dev/zero", "/nowhere/facts.ron", text(folder.path())] {
        let output = weephole(&["rank", missing, "--json"]);
        assert_eq!(code(&output), 2, "{missing}");
        assert!(json(&output)["problems"][0]["message"].is_string());
    }
}

#[test]
fn a_pump_sheet_stays_in_the_folder_of_the_facts() {
    let folder = TempDir::new().unwrap();
    file(
        folder.path(),
        "fog.pump.ron",
        "(version: 1, name: \"Fog\", family: \"oil_backed\", usual: {\"delivered_flow_full\": \"30 L/min\"})",
    );
    let with = |pump: &str| {
        let facts = format!(
            "(family: \"oil_backed\", pump: \"{pump}\", complaint: [\"low_flow\"], readings: {{\"delivered_flow_full\": \"20 L/min\"}})"
        );
        let path = file(folder.path(), "facts.ron", &facts);
        weephole(&["rank", text(&path), "--json"])
    };
    assert_eq!(code(&with("fog.pump.ron")), 0, "{}", out(&with("fog.pump.ron")));
    for outside in ["../fog.pump.ron", "/etc/passwd", ""] {
        let output = with(outside);
        assert!(code(&output) == 2 && out(&output).contains("outside"), "{outside}: {}", out(&output));
    }
    file(
        folder.path(),
        "bad.pump.ron",
        "(version: 1, name: \"Fog\", family: \"oil_backed\", data: {\"pump_sped\": \"500 rpm\"})",
    );
    let bad = with("bad.pump.ron");
    assert!(code(&bad) == 2 && out(&bad).contains("did you mean `pump_speed`?"), "{}", out(&bad));
}

#[test]
fn broken_and_empty_knowledge_folders_are_refused_with_the_place() {
    let folder = TempDir::new().unwrap();
    let empty = weephole(&["--knowledge", text(folder.path()), "knowledge", "check"]);
    assert!(code(&empty) == 2 && err(&empty).contains("no knowledge file"), "{}", err(&empty));
    file(
        folder.path(),
        "conditions.ron",
        "(\n    version: 1,\n    conditions: {\n        \"starved\": (name: \"starved\", leek: 0.1),\n    },\n)\n",
    );
    let broken = weephole(&["knowledge", "check", "--knowledge", text(folder.path())]);
    assert!(
        code(&broken) == 2
            && out(&broken).contains("conditions.ron:4:")
            && out(&broken).contains("did you mean `leak`?"),
        "{}",
        out(&broken)
    );
    let checked = json(&weephole(&["knowledge", "check", "--json", "--knowledge", text(folder.path())]));
    assert_eq!(checked["problems"][0]["line"], 4);
    for words in [&["rank", "/nowhere.ron", "--json"][..], &["knowledge", "list", "causes", "--json"][..]] {
        let output = weephole(&[words, &["--knowledge", text(folder.path())][..]].concat());
        assert!(code(&output) == 2 && json(&output)["problems"][0]["line"] == 4, "{words:?}");
    }
    let none = weephole(&["knowledge", "list", "causes", "--json", "--knowledge", "/nowhere"]);
    assert!(code(&none) == 2 && json(&none)["problems"][0]["message"].is_string());
    let job = piped(&["--knowledge", text(folder.path()), "--data-dir", text(folder.path())], "low flow\n");
    assert!(code(&job) == 2 && err(&job).contains("cannot be used"), "{}", err(&job));
    assert!(!folder.path().join("jobs").exists(), "no job was begun");
}

#[test]
fn through_a_pipe_the_job_is_saved_and_the_record_tells_it() {
    let data = TempDir::new().unwrap();
    let output = piped(&["--data-dir", text(data.path())], "it rattles like gravel\n1\n\n\n\n");
    assert_eq!(code(&output), 0, "{}", err(&output));
    let said = out(&output);
    assert!(said.contains("saved") && said.contains(text(&journal(data.path()))), "{said}");
    assert!(!said.contains('\u{1b}'), "an escape byte");
    let record = weephole(&["--data-dir", text(data.path()), "record", "1"]);
    assert_eq!(code(&record), 0);
    assert!(
        out(&record).contains("> it rattles like gravel") && out(&record).contains("Likely causes"),
        "{}",
        out(&record)
    );
    let none = weephole(&["--data-dir", text(data.path()), "record", "7"]);
    assert!(code(&none) == 1 && err(&none).contains("there is no job 7"));
}

/// Kill -9 at a prompt: everything acknowledged is there again, and a torn tail is told and kept.
#[test]
fn a_killed_job_goes_on_where_it_was() {
    let data = TempDir::new().unwrap();
    let mut child = Command::new(env!("CARGO_BIN_EXE_weephole"))
        .args(["--plain", "--data-dir", text(data.path())])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
    let mut until = |words: &str| lines.by_ref().map_while(Result::ok).find(|line| line.contains(words)).expect(words);
    until("What does the operator complain of?");
    stdin.write_all(b"it rattles like gravel\n1\n").unwrap();
    until("Saved:");
    child.kill().unwrap();
    child.wait().unwrap();
    let path = journal(data.path());
    let saved = std::fs::read_to_string(&path).unwrap();
    assert!(saved.lines().count() == 2 && saved.contains("it rattles like gravel"), "{saved}");
    std::fs::write(&path, format!("{saved}0badc0de {{\"at\":\"20")).unwrap();
    let again = piped(&["job", "--plain", "--resume", "1", "--data-dir", text(data.path())], "trail\n");
    let said = out(&again);
    assert!(code(&again) == 0 && said.contains("cut short") && said.contains("gravel"), "{said}{}", err(&again));
    assert!(
        path.with_extension("journal.torn").exists()
            || std::fs::read_dir(path.parent().unwrap()).unwrap().any(|e| e
                .unwrap()
                .path()
                .to_string_lossy()
                .contains(".torn"))
    );
}

#[test]
fn a_second_program_is_refused_the_same_job() {
    let data = TempDir::new().unwrap();
    let mut child = Command::new(env!("CARGO_BIN_EXE_weephole"))
        .args(["--plain", "--data-dir", text(data.path())])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
    lines.by_ref().map_while(Result::ok).find(|line| line.contains("complain")).unwrap();
    let second = piped(&["job", "--resume", "1", "--data-dir", text(data.path())], "");
    assert!(code(&second) == 1 && err(&second).contains("open"), "{}{}", out(&second), err(&second));
    child.kill().unwrap();
    child.wait().unwrap();
}

#[test]
fn a_journal_that_is_a_device_is_refused() {
    for device in ["/dev/full", "/dev/zero", "/dev/null"] {
        let output = piped(&["job", "--journal", device], "");
        assert!(code(&output) == 1 && err(&output).contains(device), "{device}: {}{}", out(&output), err(&output));
    }
}

#[test]
fn bad_usage_is_exit_2() {
    assert_eq!(code(&weephole(&["diagnoze"])), 2);
    assert_eq!(code(&weephole(&["--help"])), 0);
    let family = piped(&["job", "--family", "windmill"], "");
    assert!(code(&family) == 2 && err(&family).contains("oil_backed"), "{}", err(&family));
}

/// The README's session: what is typed there gives the lines shown there, in that order.
#[test]
fn the_session_in_the_readme_is_true() {
    let readme = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap();
    let session = readme.split("```text").nth(1).unwrap().split("```").next().unwrap();
    let typed: Vec<&str> = session.lines().filter_map(|line| line.strip_prefix('>')).map(str::trim).collect();
    let typed = typed.join("\n") + "\n";
    let data = TempDir::new().unwrap();
    let output = piped(&["--data-dir", text(data.path())], &typed);
    assert_eq!(code(&output), 0, "{}", err(&output));
    let said = out(&output);
    let mut lines = said.lines();
    for shown in session.lines().filter(|line| !line.starts_with('>') && !line.trim().is_empty()) {
        assert!(lines.any(|line| line == shown), "the program does not say: {shown}\n{said}");
    }
}

#[test]
fn the_laws_are_listed_and_each_says_what_it_needs() {
    let output = weephole(&["reckon", "--json"]);
    assert_eq!(code(&output), 0, "{}", err(&output));
    let value = json(&output);
    let laws = value["laws"].as_array().unwrap();
    assert!(25 <= laws.len());
    for law in laws {
        assert!(["name", "formula", "range", "source"].iter().all(|key| !law[key].as_str().unwrap().is_empty()));
        for part in ["inputs", "outputs"] {
            let rows = law[part].as_array().unwrap();
            assert!(!rows.is_empty() && rows.iter().all(|row| row["name"].is_string() && row["unit"].is_string()));
        }
    }
    let plain = weephole(&["reckon"]);
    assert!(code(&plain) == 0 && out(&plain).contains("npsh_gauge"), "{}", out(&plain));
}

/// Esposito, example 8.4, p. 302 (textbook companion): 252 gpm.
#[test]
fn a_law_is_worked_out_with_typed_units() {
    let inputs = ["diameter=1 in", "drop=100psi", "density=0,9 g/cm3", "coefficient=0.8"];
    let mut arguments = vec!["reckon", "orifice_flow"];
    arguments.extend(inputs);
    let plain = weephole(&arguments);
    assert!(out(&plain).contains("flow = 952") && out(&plain).contains("source:"), "{}", out(&plain));
    arguments.push("--json");
    let value = json(&weephole(&arguments));
    assert_eq!(value["law"], "orifice_flow");
    assert_eq!(value["in_range"], true);
    assert!(value["source"].as_str().unwrap().contains("Esposito"));
    let flow = &value["result"][0];
    assert_eq!((flow["name"].as_str(), flow["unit"].as_str()), (Some("flow"), Some("L/min")));
    assert!((flow["value"].as_f64().unwrap() / 3.785_411_784 - 252.0).abs() < 1.0, "{flow}");
}

#[test]
fn a_law_says_what_is_wrong_with_its_inputs() {
    let wrong = |arguments: &[&str]| {
        let mut all = vec!["reckon"];
        all.extend(arguments);
        let output = weephole(&all);
        assert_eq!(code(&output), 2, "{arguments:?}");
        assert!(out(&output).is_empty(), "{}", out(&output));
        all.push("--json");
        let value = json(&weephole(&all));
        let problem = &value["problems"][0];
        assert!(problem["message"].is_string() && problem["rule"] == "bad_input", "{value}");
        err(&output)
    };
    for (arguments, told) in [
        (&["orifice_flaw"][..], "did you mean `orifice_flow`?"),
        (&["pressure_head", "difference=1 bar"], "`pressure_head` needs density (density of the liquid, kg/m3)"),
        (&["pressure_head", "diference=1 bar"], "did you mean `difference`?"),
        (&["pressure_head", "difference=1 rpm"], "`rpm` is a speed; this asks for a pressure difference"),
        (&["pressure_head", "difference=1 rpm"], "(accepted: bar, kPa, psi,"),
        (&["pressure_head", "difference=1"], "the unit is missing"),
        (&["pressure_head", "1 bar"], "write key=\"value unit\", as in difference=\"1 kPa\""),
        (&["barometer_at_altitude", "altitude=30 m", "altitude=40 m"], "`altitude` is given twice"),
        (&["barometer_at_altitude", "altitude=20 000 m"], "outside -5000 m to 11000 m: above 11 km"),
        (&["absolute_pressure", "barometer=90 kPa", "gauge=-28 inHg"], "no gauge can show more vacuum"),
        (&["relief_margin", "working=100 bar", "set=90 bar"], "set it above the working pressure"),
    ] {
        let said = wrong(arguments);
        assert!(said.contains(told), "{arguments:?}: {said}");
    }
}

#[test]
fn beyond_its_range_a_law_still_gives_the_value_and_says_so() {
    let arguments = ["reckon", "friction_laminar", "reynolds=3000"];
    let plain = weephole(&arguments);
    assert!(code(&plain) == 0 && out(&plain).contains("beyond what the source vouches for"), "{}", out(&plain));
    let value = json(&weephole(&[arguments.as_slice(), &["--json"]].concat()));
    assert_eq!(value["in_range"], false);
    assert!((value["result"][0]["value"].as_f64().unwrap() - 64.0 / 3000.0).abs() < 1e-12);
    // A bare 8 inHg could be a vacuum: told beside the answer, never taken in silence.
    let doubted = weephole(&["reckon", "absolute_pressure", "barometer=101 kPa", "gauge=8 inHg"]);
    assert!(code(&doubted) == 0 && err(&doubted).contains("above the atmosphere taken"), "{}", err(&doubted));
}

/// Every family's export has valid names, no table over more than five parents, rows that sum to one, and comes out
/// the same again.
#[test]
fn every_family_can_be_exported() {
    for family in ["oil_backed", "packed_plunger", "metering"] {
        let output = weephole(&["knowledge", "export", "--format", "bif", "--family", family]);
        assert_eq!(code(&output), 0, "{}", err(&output));
        let said = out(&output);
        assert!(said.starts_with("// ") && said.contains(&format!("\nnetwork {family} {{")), "{family}");
        let plain = |name: &str| name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_');
        let mut names: Vec<&str> = said.lines().filter_map(|line| line.strip_prefix("variable ")).collect();
        assert!(names.iter().all(|name| plain(name.trim_end_matches(" {"))), "{family}");
        let count = names.len();
        names.sort_unstable();
        names.dedup();
        assert!(names.len() == count && names.contains(&"given_at_least_one {"), "{family}");
        for line in said.lines() {
            if let Some((_, parents)) = line.split_once(" | ").filter(|_| line.starts_with("probability")) {
                assert!(parents.split(", ").count() <= 5, "{line}");
            }
            let numbers = line.strip_prefix("  (").and_then(|row| row.split_once(") ")).map(|row| row.1);
            if let Some(numbers) = numbers.or_else(|| line.strip_prefix("  table ")) {
                let numbers = numbers.trim_end_matches(';').split(", ").map(|number| number.parse::<f64>().unwrap());
                assert!((numbers.sum::<f64>() - 1.0).abs() <= 1e-12, "{line}");
            }
        }
        assert_eq!(said, out(&weephole(&["knowledge", "export", "--format", "bif", "--family", family])));
    }
    let format = weephole(&["knowledge", "export", "--format", "xml"]);
    assert!(code(&format) == 2 && err(&format).contains("bif"), "{}", err(&format));
    let family = weephole(&["knowledge", "export", "--format", "bif", "--family", "windmill"]);
    assert!(code(&family) == 2 && err(&family).contains("oil_backed"), "{}", err(&family));
}

/// Two certain looks at one part that cannot both be true: the odd one is named, the list leaves it out, nothing is NaN.
#[test]
fn answers_that_contradict_each_other_are_named() {
    let folder = TempDir::new().unwrap();
    let knowledge = folder.path().join("knowledge");
    fs::create_dir(&knowledge).unwrap();
    let look = |side: &str| {
        format!(
            "\"strainer_from_{side}\": (name: \"strainer clogged, from {side}\", question: \"Seen from {side}: clogged?\",
              state: opened, error: (false_yes: 0.0, missed: 0.0), verdict_on: \"strainer_clogged\"),"
        )
    };
    let text_of_it = format!(
        "(version: 1, release: \"two looks\", findings: {{{}{}}}, checks: {{\"both_sides\": (name: \"look at both sides\",
          yields: [\"strainer_from_above\", \"strainer_from_below\"], minutes: 5.0, steps: [\"Look.\"])}})",
        look("above"),
        look("below")
    );
    fs::write(knowledge.join("looks.ron"), text_of_it).unwrap();
    let facts = file(
        folder.path(),
        "facts.ron",
        "(family: \"oil_backed\", findings: {\"strainer_from_above\": yes, \"strainer_from_below\": no})",
    );
    let output = weephole(&["rank", text(&facts), "--knowledge", text(&knowledge), "--json"]);
    assert_eq!(code(&output), 0, "{}{}", err(&output), out(&output));
    let value = json(&output);
    assert!(value["trouble"].as_str().unwrap().contains("strainer clogged, from"), "{value}");
    assert_eq!(value["set_aside"].as_array().unwrap().len(), 1);
    assert!(value["causes"].as_array().unwrap().iter().all(|cause| cause["probability"].is_number()));
}

/// One case that the graph finds and one that it must not: the truth is a cause that nothing in the case speaks for.
#[test]
fn the_knowledge_is_tried_on_cases() {
    let folder = TempDir::new().unwrap();
    let case = |id: &str, truth: &str| {
        format!(
            "\"{id}\": (family: \"oil_backed\", told: \"rattles like gravel\", source: \"common practice, no source\",
             complaint: [\"crackle_noise\"], facts: {{\"strainer_dirty_seen\": yes}},
             readings: {{\"inlet_pressure_full\": \"-12 inHg\"}}, truth: [\"{truth}\"], rank: 1, forbidden: [\"strainer_clogged\"]),\n"
        )
    };
    let none = weephole(&["knowledge", "try", "--json", "--knowledge", "/nowhere"]);
    assert!(code(&none) == 2 && json(&none)["problems"][0]["message"].is_string());
    std::fs::create_dir(folder.path().join("cases")).unwrap();
    let (right, wrong) = (case("right_one", "strainer_clogged"), case("wrong_one", "belt_set_worn_out"));
    file(folder.path(), "cases/tried.ron", &format!("(version: 1, cases: {{\n{right}{wrong}}})\n"));
    let output = weephole(&["knowledge", "try", "--json", "--knowledge", text(folder.path())]);
    assert_eq!(code(&output), 0, "{}{}", out(&output), err(&output));
    let tried = json(&output);
    for (list, field) in [("given", "top1"), ("given", "top3"), ("asked", "top1"), ("asked", "top3")] {
        let share = tried[list][field].as_f64().unwrap();
        assert!((0.0..=1.0).contains(&share), "{list} {field}: {share}");
    }
    assert!(tried["cases"].as_u64().unwrap() >= 2 && tried["asked"]["mean_answers"].is_number(), "{tried}");
    assert!((0.0..=1.0).contains(&tried["brier"].as_f64().unwrap()));
    let failing = tried["failing"].as_array().unwrap();
    let of = |id: &str| failing.iter().find(|failing| failing["case"] == id).map(|failing| failing["why"].to_string());
    let why = of("right_one").unwrap();
    assert!(why.contains("forbidden") && !why.contains("rank"), "found, but forbidden: {why}");
    assert!(of("wrong_one").unwrap().contains("expected 1"), "{failing:?}");
    let plain = weephole(&["knowledge", "try", "--knowledge", text(folder.path())]);
    assert!(out(&plain).contains("wrong_one") && out(&plain).contains("rank"), "{}", out(&plain));
    file(folder.path(), "cases/tried.ron", &format!("(version: 1, cases: {{\n{}}})\n", case("one", "strainer_cloged")));
    let broken = weephole(&["knowledge", "try", "--json", "--knowledge", text(folder.path())]);
    let problem = json(&broken)["problems"][0].clone();
    assert!(code(&broken) == 2 && problem["file"] == "cases/tried.ron", "{problem}");
    assert!(problem["hint"].as_str().unwrap().contains("did you mean `strainer_clogged`"), "{problem}");
}

/// What shells and the manual expect comes from the words of the command line: every command is in it.
#[test]
fn completions_and_manual_name_every_command() {
    let commands = ["job", "knowledge", "rank", "reckon", "expect", "record", "jobs", "practice", "completions", "man"];
    for shell in ["bash", "zsh", "fish", "powershell"] {
        let output = weephole(&["completions", shell]);
        assert_eq!(code(&output), 0);
        for command in commands {
            assert!(out(&output).contains(command), "{shell}: no {command}");
        }
    }
    assert_eq!(code(&weephole(&["completions", "tcl"])), 2, "a shell that is not known");
    let page = out(&weephole(&["man"]));
    assert!(page.contains(".TH weephole 1") && page.contains("licensed practice"), "{page}");
    let folder = TempDir::new().unwrap();
    let pages = folder.path().join("pages");
    assert_eq!(code(&weephole(&["man", "--folder", text(&pages)])), 0);
    for command in commands {
        let page = fs::read_to_string(pages.join(format!("weephole-{command}.1"))).unwrap();
        assert!(page.contains(".SH SYNOPSIS"), "{command}");
    }
}
