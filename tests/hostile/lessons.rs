//! Lessons and cases of a knowledge folder, and journals of practice.

use super::put::{EVIL_ESCAPED, journal, line, link, write};
use super::rig::Row;

const CHECK: &[&str] = &["knowledge", "check", "--knowledge", "@k"];

/// A lesson with these words and this fault.
fn lesson(words: &str, fault: &str) -> String {
    format!(
        "(version: 1, lessons: {{\"own_lesson\": (name: \"{words}\", family: \"oil_backed\", told: \"{words}\", complaint: [\"crackle_noise\"], faults: {{{fault}}}, alike: \"own\", teaches: \"{words}\", source: \"practice\")}})"
    )
}

/// A case with this truth.
fn case(words: &str, truth: &str) -> String {
    format!(
        "(version: 1, cases: {{\"own_case\": (family: \"oil_backed\", told: \"{words}\", source: \"{words}\", complaint: [\"crackle_noise\"], truth: [{truth}], rank: 1)}})"
    )
}

pub const ROWS: &[Row] = &[
    Row {
        what: "control, bidi, tag and hidden characters in every text of a lesson",
        put: |to| write(to, "k/lessons/own.ron", lesson(EVIL_ESCAPED, "\"strainer_clogged\": 0.7")),
        run: &["practice", "own_lesson", "--plain", "--with", "alone", "--seed", "1", "--knowledge", "@k"],
        typed: "",
        code: 0,
        says: "]0;owned[2J31mq",
    },
    Row {
        what: "a fault that is none",
        put: |to| write(to, "k/lessons/own.ron", lesson("x", "\"strainer_cloged\": 0.7")),
        run: CHECK,
        typed: "",
        code: 2,
        says: "did you mean `strainer_clogged`?",
    },
    Row {
        what: "a severity of 10^300",
        put: |to| write(to, "k/lessons/own.ron", lesson("x", "\"strainer_clogged\": 1e300")),
        run: CHECK,
        typed: "",
        code: 2,
        says: "severity",
    },
    Row {
        what: "a lesson named like a path and a terminal command",
        put: |_| {},
        run: &["practice", "../\u{1b}[2J", "--plain"],
        typed: "",
        code: 2,
        says: "there is no lesson `../[2J`; known: ",
    },
    Row {
        what: "a journal of practice that is a letter",
        put: |to| write(to, "data/practice/jobs/0001-a.journal", "Dear all,\n"),
        run: &["practice", "--plain"],
        typed: "",
        code: 0,
        says: "is not a job journal",
    },
    Row {
        what: "a journal of practice with a move that is none",
        put: |to| journal(to, "data/practice/jobs/0001-a.journal", &[line(0, "\"move\":\"\u{9b}31m\"")]),
        run: &["practice", "--plain"],
        typed: "",
        code: 0,
        says: "this line is not a move of practice",
    },
    Row {
        what: "a journal of practice on a lesson that is gone",
        put: |to| {
            let first = "\"move\":\"began\",\"lesson\":\"gone\",\"seed\":1,\"help\":\"alone\",\"knowledge\":\"x\"";
            journal(to, "data/practice/jobs/0001-a.journal", &[line(0, first)]);
        },
        run: &["practice", "--plain"],
        typed: "",
        code: 0,
        says: "",
    },
    Row {
        what: "a case with hostile words",
        put: |to| write(to, "k/cases/own.ron", case(EVIL_ESCAPED, "\"strainer_clogged\"")),
        run: CHECK,
        typed: "",
        code: 0,
        says: "0 errors",
    },
    Row {
        what: "a case whose truth is no cause",
        put: |to| write(to, "k/cases/own.ron", case("x", "\"low_flow\"")),
        run: CHECK,
        typed: "",
        code: 2,
        says: "`low_flow` is among findings; here one of causes is needed",
    },
    Row {
        what: "a case without truth",
        put: |to| write(to, "k/cases/own.ron", case("x", "")),
        run: CHECK,
        typed: "",
        code: 2,
        says: "cases/own.ron:1:",
    },
    Row {
        what: "a case file that is an endless device",
        put: |to| link(to, "k/cases/own.ron", "/dev/zero"),
        run: CHECK,
        typed: "",
        code: 2,
        says: "own.ron is a link that leads out of its folder",
    },
];
