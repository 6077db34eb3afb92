//! Turns small and broken files into problems and graphs; tests only.

#![allow(clippy::unwrap_used)]

use super::schema::Strength;
use super::{Graph, Loaded, NodeKind, Problem, Severity, SourceText, load, search};

/// Two causes, a condition, a damage, a finding, a reading, a check.
const SMALL: &str = r#"(
    version: 1,
    families: {"oil_backed": (name: "oil-backed pump", recognise: "oil behind the diaphragm")},
    sources: {"practice": (title: "common practice, no source", kind: common_practice)},
    causes: {
        "strainer": (
            name: "strainer clogged", place: "inlet", shares: {"oil_backed": 700}, basis: guess, source: "practice", remedy: "clean",
            leads_to: {"starved": (strength: usually, basis: guess, source: "practice")},
        ),
        "relief": (
            name: "relief passing", place: "outlet", shares: {"oil_backed": 400}, basis: guess, source: "practice", remedy: "clean",
            leads_to: {"starved": (strength: rarely, basis: guess, source: "practice")},
        ),
    },
    conditions: {"starved": (name: "starved", leak: 0.01, leads_to: {"torn": (strength: half, basis: guess, source: "practice")})},
    damage: {"torn": (name: "diaphragm torn", leak: 0.01)},
    findings: {"milky": (
        name: "milky oil", question: "Is the oil milky?", aliases: ["white oil", "milk", "cloudy", "like coffee"], shown_by: {"torn": (strength: of_20(18), basis: guess, source: "practice")},
    ), "found_strainer": (name: "strainer is clogged", question: "Is the strainer clogged?", verdict_on: "strainer"), "found_relief": (name: "relief passes", question: "Does it pass?", verdict_on: "relief")},
    readings: {"vacuum": (
        name: "inlet gauge", question: "What does it show?", instrument: "gauge", running_state: "full speed",
        quantity: "gauge_pressure", unit: "inHg", healthy: between("-5 inHg", "1 inHg"), scale: ("-30 inHg", "30 inHg"),
        gauge_error: "0.5 inHg", source: "practice", moved_by: {"starved": (way: down, strength: usually, basis: guess, source: "practice")},
    )},
    checks: {"look": (name: "look", yields: ["milky", "vacuum"], minutes: 3, steps: ["Look."], source: "practice"), "open": (name: "open", yields: ["found_strainer", "found_relief"], minutes: 9, steps: ["Open."], source: "practice")},
    remedies: {"clean": (name: "clean it", kind: remedy, minutes: 9, steps: ["Clean."], proof: ["vacuum gone"], source: "practice")},
)"#;

fn loaded(text: &str) -> Loaded {
    load(vec![SourceText { name: "small.ron".to_owned(), text: text.to_owned() }])
}

fn changed(from: &str, to: &str) -> Vec<Problem> {
    assert!(SMALL.contains(from), "the fixture has no {from}");
    loaded(&SMALL.replacen(from, to, 1)).problems
}

/// The problem expected: rule, line, and words in message or hint.
fn expect(problems: &[Problem], rule: &str, line: usize, words: &str) {
    let found = problems.iter().find(|p| p.rule == rule && p.line == line);
    let told = found.map(|p| format!("{} {}", p.message, p.hint)).unwrap_or_default();
    assert!(told.contains(words), "no {rule} at line {line} with `{words}` in {problems:#?}");
}

#[test]
fn a_good_file_has_no_problem() {
    let loaded = loaded(SMALL);
    assert_eq!(loaded.problems, Vec::new());
    assert!(!loaded.is_broken());
}

#[test]
fn every_mistake_is_told_with_its_place() {
    expect(
        &changed("\"starved\": (strength: usually", "\"starvd\": (strength: usually"),
        "unknown_id",
        8,
        "did you mean `starved`?",
    );
    expect(&changed("strength: half", "strength: halfe"), "unreadable", 15, "did you mean `half`");
    expect(&changed("place: \"inlet\"", "plaze: \"inlet\""), "unreadable", 7, "`plaze` is not a field");
    expect(&changed("leak: 0.01, leads_to", "leak: NaN, leads_to"), "not_finite", 15, "not a finite number");
    expect(&changed("strength: half", "strength: share(1.0)"), "bad_number", 15, "not between 0 and 1");
    expect(&changed("\"-5 inHg\"", "\"-5 rpm\""), "bad_quantity", 22, "rpm");
    expect(&changed("version: 1", "version: 9"), "newer_version", 2, "this program reads version 1");
    expect(
        &changed("source: \"practice\")},\n        ),\n        \"relief\"", ")},\n        ),\n        \"relief\""),
        "missing_source",
        8,
        "no source",
    );
    expect(&changed("yields: [\"milky\", \"vacuum\"]", "yields: [\"milky\"]"), "nobody_asks", 20, "no check yields");
    expect(&changed("{\"oil_backed\": 700}", "{\"oil_backed\": 70}"), "shares_sum", 3, "sum to 470");
    expect(&changed("\"relief\": (", "\"strainer\": ("), "key_twice", 10, "stands twice, first at 6:9");
    expect(&changed("\"relief\": (", "\"Relief!\": ("), "bad_id", 10, "not plain");
}

#[test]
fn a_missing_comma_is_shown_where_it_is_missing() {
    let problems = changed(
        "remedy: \"clean\",\n            leads_to: {\"starved\": (strength: rarely",
        "remedy: \"clean\"\n            leads_to: {\"starved\": (strength: rarely",
    );
    expect(&problems, "unreadable", 11, "comma");
}

#[test]
fn a_circle_is_named() {
    let circle =
        "leak: 0.01, leads_to: {\"starved\": (strength: half, basis: guess, source: \"practice\")})},\n    findings";
    let problems = changed("leak: 0.01)},\n    findings", circle);
    expect(&problems, "circle", 15, "starved → torn");
}

#[test]
fn an_id_given_in_two_files_is_told_with_both_places() {
    let twice =
        "(version: 1, causes: {\"strainer\": (name: \"b\", place: \"x\", shares: {\"oil_backed\": 1}, basis: guess)})";
    let files = [("a.ron", SMALL), ("b.ron", twice)];
    let sources = files.iter().map(|(name, text)| SourceText { name: (*name).to_owned(), text: (*text).to_owned() });
    let loaded = load(sources.collect());
    let problem = loaded.problems.iter().find(|p| p.rule == "id_twice").unwrap();
    assert!(problem.file == "b.ron" && problem.message.contains("a.ron:6"), "{problem:?}");
    assert_eq!(loaded.knowledge.all.causes["strainer"].name, "strainer clogged", "the first one counts");
}

#[test]
fn nothing_at_all_is_a_problem() {
    let problems = load(Vec::new()).problems;
    assert!(problems.iter().any(|p| p.rule == "no_causes" && p.severity == Severity::Error));
    assert!(loaded("").is_broken() && loaded("(").is_broken() && loaded("\u{0}").is_broken());
}

/// Shares 0.7 and 0.4 give independent priors p = s·Z with Z = 1 − (1 − 0.7 Z)(1 − 0.4 Z): 0.28 Z = 0.1, so Z = 0.357143.
#[test]
fn priors_give_the_shares_back() {
    let graph = Graph::new(&loaded(SMALL).knowledge, "oil_backed", None);
    let prior = |id: &str| graph.nodes[graph.node(id).unwrap()].leak;
    assert!((prior("strainer") - 0.7 / 2.8).abs() < 1e-9 && (prior("relief") - 0.4 / 2.8).abs() < 1e-9);
}

#[test]
fn the_graph_is_in_order_and_knows_its_chains() {
    let graph = Graph::new(&loaded(SMALL).knowledge, "oil_backed", None);
    for (index, node) in graph.nodes.iter().enumerate() {
        assert!(node.parents.iter().all(|(parent, _)| *parent < index));
    }
    let chain = graph.chain_to_finding(graph.node("strainer").unwrap(), "milky").unwrap();
    let ids: Vec<&str> = chain.into_iter().map(|node| graph.nodes[node].id.as_str()).collect();
    assert_eq!(ids, ["strainer", "starved", "torn"]);
    assert!(graph.findings["milky"].parents[0].1 > 0.89);
}

/// A cause whose equipment is not fitted is left out; the others keep the sum of the shares.
#[test]
fn what_is_not_fitted_is_left_out() {
    let text = SMALL.replace("place: \"outlet\"", "place: \"outlet\", fitted: \"relief\"");
    let graph = Graph::new(&loaded(&text).knowledge, "oil_backed", Some(&["belt".to_owned()]));
    assert_eq!(graph.of_kind(NodeKind::Cause).len(), 1);
    assert!(graph.node("relief").is_none());
}

/// The seven anchors of the verbal scale, and both number forms.
#[test]
fn words_stand_for_numbers() {
    let scale = [
        (Strength::AlmostNever, 0.02, "almost never"),
        (Strength::Rarely, 0.10, "rarely"),
        (Strength::Sometimes, 0.25, "sometimes"),
        (Strength::Half, 0.50, "half the time"),
        (Strength::Often, 0.75, "often"),
        (Strength::Usually, 0.90, "usually"),
        (Strength::NearlyAlways, 0.98, "nearly always"),
        (Strength::Of20(5.0), 0.25, "sometimes"),
        (Strength::Share(0.8), 0.8, "often"),
    ];
    for (strength, number, word) in scale {
        assert!((strength.number() - number).abs() < 1e-12);
        assert_eq!(strength.word(), word);
    }
}

#[test]
fn search_forgives_order_endings_and_slips() {
    let candidates = vec![
        ("low_flow", vec!["delivers less than it used to", "low flow", "weak jet"]),
        ("pressure_low", vec!["working pressure is low", "pressure drops"]),
        ("torn", vec!["diaphragm torn"]),
    ];
    let first = |query: &str| search(query, &candidates).first().map(|hit| hit.id.clone()).unwrap_or_default();
    assert_eq!(first("flow low"), "low_flow");
    assert_eq!(first("the preasure dropped"), "pressure_low");
    assert_eq!(first("diafragm"), "torn");
    assert_eq!(first("weak jets"), "low_flow");
    assert_eq!(first("xylophone"), "");
    assert_eq!(search("", &candidates).len(), 3);
}

/// Cases do not change what is said in a job, so a file of nothing but cases leaves the hash alone.
#[test]
fn cases_are_read_with_the_rest_and_checked() {
    let cases = |inside: &str| {
        let case = format!("(version: 1, cases: {{\"one\": (family: \"oil_backed\", told: \"white oil\", {inside})}})");
        let small = SourceText { name: "small.ron".to_owned(), text: SMALL.to_owned() };
        load(vec![small, SourceText { name: "cases/a.ron".to_owned(), text: case }])
    };
    let good = "source: \"practice\", complaint: [\"milky\"], facts: {\"milky\": yes}, readings: {\"vacuum\": \"-8 inHg\"}, truth: [\"strainer\"], rank: 1";
    let loaded = cases(good);
    assert_eq!(loaded.problems, Vec::new());
    assert_eq!(loaded.knowledge.all.cases["one"].rank, 1);
    assert_eq!(loaded.knowledge.hash, self::loaded(SMALL).knowledge.hash);
    let wrong = |from: &str, to: &str| cases(&good.replacen(from, to, 1)).problems;
    expect(&wrong("[\"milky\"]", "[\"milkie\"]"), "unknown_id", 1, "did you mean `milky`?");
    expect(&wrong("[\"strainer\"]", "[\"torn\"]"), "unknown_id", 1, "here one of causes is needed");
    expect(&wrong("rank: 1", "rank: 1, forbidden: [\"starved\"]"), "unknown_id", 1, "causes, remedies, checks");
    expect(&wrong("yes", "maybe"), "unreadable", 1, "not one of the words allowed");
}
