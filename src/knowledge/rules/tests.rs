//! Turns the fixtures of every rule into problems: none in the good file, one at every mark in the bad file. Tests only.
//!
//! Fixtures are `tests/fixtures/rules/RULE.good.ron` and `RULE.bad.ron`. In a bad file a line that ends in
//! `// wrong: WORDS` must have a problem of the rule, told with these words in message or hint; no other line may.

#![allow(clippy::unwrap_used, clippy::expect_used)]

use super::{ALL, Rule, WHILE_READING};
use crate::knowledge::{Problem, SourceText, load};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

const MARK: &str = "// wrong: ";

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The text of a fixture and what this rule finds in it.
fn found(rule: &Rule, kind: &str) -> (String, Vec<Problem>) {
    let name = format!("{}.{kind}.ron", rule.name);
    let path = root().join("tests/fixtures/rules").join(&name);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| format!("{}: {error}", path.display()));
    let problems = load(vec![SourceText { name, text: text.clone() }]).problems;
    let unreadable = problems.iter().find(|problem| WHILE_READING.iter().any(|(name, _)| *name == problem.rule));
    assert_eq!(unreadable, None, "{text}");
    (text, problems.into_iter().filter(|problem| problem.rule == rule.name).collect())
}

#[test]
fn every_rule_is_silent_on_its_good_fixture() {
    for rule in ALL {
        let (_, problems) = found(rule, "good");
        assert_eq!(problems, Vec::new(), "{}", rule.name);
    }
}

#[test]
fn every_rule_speaks_at_every_mark_of_its_bad_fixture_and_nowhere_else() {
    for rule in ALL {
        let (text, problems) = found(rule, "bad");
        let marks: Vec<(usize, &str)> =
            text.lines().enumerate().filter_map(|(at, line)| Some((at + 1, line.split_once(MARK)?.1))).collect();
        let lines: Vec<usize> = problems.iter().map(|problem| problem.line).collect();
        let marked: Vec<usize> = marks.iter().map(|(line, _)| *line).collect();
        assert!(!marked.is_empty() && lines == marked, "{}: {lines:?}, marked {marked:?}: {problems:#?}", rule.name);
        for (problem, (_, words)) in problems.iter().zip(marks) {
            let told = format!("{} {}", problem.message, problem.hint);
            assert!(told.contains(words.trim()), "{}: `{words}` is not in `{told}`", rule.name);
        }
    }
}

/// The table of rules as it stands in the manual.
fn table() -> String {
    let mut table = "| rule | finds | why it matters |\n|---|---|---|\n".to_owned();
    for (name, finds) in WHILE_READING {
        writeln!(table, "| `{name}` | {finds} | it cannot be used as written |").unwrap();
    }
    for Rule { name, finds, matters, .. } in ALL {
        writeln!(table, "| `{name}` | {finds} | {matters} |").unwrap();
    }
    table
}

/// `UPDATE_RULES=1 cargo test --lib the_manual_tells_every_rule` writes the table anew.
#[test]
fn the_manual_tells_every_rule() {
    const HEAD: &str = "| rule | finds |";
    let path: &Path = &root().join("knowledge/README.md");
    let manual = std::fs::read_to_string(path).unwrap();
    let from = manual.find(HEAD).expect("the manual has a table of rules");
    let rest = &manual[from..];
    let to = from + rest.find("\n\n").map_or(rest.len(), |end| end + 1);
    if std::env::var_os("UPDATE_RULES").is_some() {
        std::fs::write(path, format!("{}{}{}", &manual[..from], table(), &manual[to..])).unwrap();
    } else {
        assert_eq!(manual[from..to], table(), "write it anew with UPDATE_RULES=1");
    }
}
