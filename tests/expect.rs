//! Runs `weephole expect` as scripts do: the shape of its JSON, running states, warnings on a design, bad sheets.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use serde_json::Value;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};
use tempfile::TempDir;

const TRIPLEX: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/fixtures/physics/triplex.pump.ron");

fn expect(arguments: &[&str]) -> Output {
    let all = ["expect"].iter().chain(arguments);
    Command::new(env!("CARGO_BIN_EXE_weephole")).args(all).stdin(Stdio::null()).output().unwrap()
}

fn json(output: &Output) -> Value {
    let text = String::from_utf8_lossy(&output.stdout);
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("not one JSON value ({error}): {text}"))
}

/// The triplex with lines of its sheet changed.
fn changed(folder: &TempDir, changes: &[(&str, &str)]) -> PathBuf {
    let mut text = std::fs::read_to_string(TRIPLEX).unwrap();
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    let path = folder.path().join("changed.pump.ron");
    std::fs::write(&path, text).unwrap();
    path
}

fn keys(value: &Value) -> Vec<&str> {
    let mut keys: Vec<&str> = value.as_object().unwrap().keys().map(String::as_str).collect();
    keys.sort_unstable();
    keys
}

fn row<'a>(rows: &'a Value, reading: &str) -> &'a Value {
    rows.as_array().unwrap().iter().find(|row| row["reading"] == reading).expect(reading)
}

#[test]
fn the_json_has_bands_margins_and_warnings() {
    let output = expect(&[TRIPLEX, "--json"]);
    assert_eq!(output.status.code(), Some(0), "a sheet with warnings is still a sheet");
    let found = json(&output);
    let conditions = found["conditions"].as_array().unwrap();
    assert!(30 < conditions.len());
    let all = conditions.iter().map(|condition| {
        assert_eq!(keys(condition), ["id", "readings"]);
        &condition["readings"]
    });
    for row in all.chain([&found["healthy"]]).flat_map(|rows| rows.as_array().unwrap()) {
        assert_eq!(keys(row), ["high", "low", "mid", "reading", "state", "unit"]);
        let [low, mid, high] = ["low", "mid", "high"].map(|key| row[key].as_f64().unwrap());
        assert!(low <= mid && mid <= high, "{row}");
    }
    let flow = row(&found["healthy"], "delivered_flow_full");
    assert!((flow["mid"].as_f64().unwrap() - 30.2).abs() < 0.5 && flow["unit"] == "L/min", "{flow}");
    assert!(found["npsh_margin_m"].as_f64().unwrap() < found["delivery_margin_m"].as_f64().unwrap());
    for warning in found["warnings"].as_array().unwrap() {
        assert_eq!(keys(warning), ["field", "hint", "message"]);
    }
    let restricted = conditions.iter().find(|condition| condition["id"] == "inlet_restricted").unwrap();
    let vacuum = |rows: &Value| row(rows, "inlet_pressure_full")["mid"].as_f64().unwrap();
    assert!(vacuum(&restricted["readings"]) + 1.0 < vacuum(&found["healthy"]), "inHg, a vacuum is negative");
}

#[test]
fn a_state_holds_for_every_reading() {
    let output = expect(&[TRIPLEX, "--json", "--state", "flooded, half"]);
    let found = json(&output);
    let rows = found["healthy"].as_array().unwrap();
    assert!(rows.iter().all(|row| row["state"] == "half speed, inlet flooded"));
    let speed = row(&found["healthy"], "pump_rpm")["mid"].as_f64().unwrap();
    assert!((250.0..260.0).contains(&speed), "{speed}");
    assert!(row(&found["healthy"], "outlet_pressure")["mid"].as_f64().unwrap() < 20.0, "bar at a fixed orifice");
}

#[test]
fn a_bad_design_is_warned_of_and_still_computed() {
    let folder = TempDir::new().unwrap();
    let bad = [
        ("\"inlet_bore\": \"38 mm\"", "\"inlet_bore\": \"19 mm\""),
        ("\"inlet_length\": \"3 m\"", "\"inlet_length\": \"12 m\""),
        ("\"relief_setting\": \"82 bar\"", "\"relief_setting\": \"73 bar\""),
        ("\"oil_grade\": \"68 mm2/s\"", "\"oil_grade\": \"460 mm2/s\""),
    ];
    let path = changed(&folder, &bad);
    let output = expect(&[path.to_str().unwrap(), "--json"]);
    assert_eq!(output.status.code(), Some(0));
    let found = json(&output);
    let said: Vec<&str> =
        found["warnings"].as_array().unwrap().iter().map(|w| w["message"].as_str().unwrap()).collect();
    for part in ["narrow inlet bore", "long run of inlet pipe", "relief margin is thin", "oil is stiff"] {
        assert!(said.iter().any(|message| message.contains(part)), "{part}: {said:?}");
    }
    let text = String::from_utf8_lossy(&expect(&[path.to_str().unwrap()]).stdout).into_owned();
    assert!(text.contains("WARNING narrow inlet bore"), "{text}");
}

#[test]
fn bad_sheets_and_states_say_what_to_do() {
    let folder = TempDir::new().unwrap();
    for (from, to, says) in [
        ("\"relief_setting\": \"82 bar\"", "\"relief_setting\": \"60 bar\"", "the relief opens at 60.0 bar"),
        (
            "\"motor_power\": \"5.5 kW\"",
            "\"motor_power\": \"5.5 kW\", \"motor_sheave\": \"290 mm\", \"pump_sheave\": \"100 mm\"",
            "these sheaves turn the pump",
        ),
        ("\"level_over_inlet\": \"-1 m\"", "\"level_over_inlet\": \"-12 m\"", "a lift of 12.0 m"),
        ("\"inlet_bore\": \"38 mm\"", "\"inlet_bore\": \"38 lm\"", "38 lm"),
    ] {
        let path = changed(&folder, &[(from, to)]);
        let output = expect(&[path.to_str().unwrap(), "--json"]);
        assert_eq!(output.status.code(), Some(2), "{says}");
        let problems = json(&output)["problems"].clone();
        let problem = problems.as_array().unwrap().iter().find(|p| p["message"].as_str().unwrap().contains(says));
        let problem = problem.unwrap_or_else(|| panic!("{says}: {problems}"));
        assert!(1 < problem["line"].as_u64().unwrap() && !problem["hint"].as_str().unwrap().is_empty(), "{problem}");
    }
    let little = folder.path().join("little.pump.ron");
    std::fs::write(&little, "(version: 1, name: \"x\", family: \"oil_backed\")").unwrap();
    let output = expect(&[little.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("displacement_per_turn"));
    let output = expect(&[TRIPLEX, "--state", "floded"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("did you mean `flooded`?"));
}
