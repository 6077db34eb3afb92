//! What any bytes must not break: one target per reader. A target panics where a promise is broken, and only there.

#![allow(dead_code, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod edits;
mod facts;
mod job;
mod journal;
mod knowledge;
mod lesson;
mod line;
mod memory;
mod quantity;

use std::rc::Rc;
use weephole::knowledge::{Knowledge, SourceText, load};

/// Takes any bytes.
pub type Target = fn(&[u8]);

/// Every target by its name, which is also the folder of its corpus.
pub const TARGETS: &[(&str, Target)] = &[
    ("knowledge", knowledge::target),
    ("edits", edits::target),
    ("quantity", quantity::target),
    ("journal", journal::target),
    ("facts", facts::target),
    ("lesson", lesson::target),
    ("line", line::target),
];

/// Parts the two halves of an input.
const RULE: &str = "\n====\n";

/// The two halves of an input; the second is empty where there is no rule.
fn halves(text: &str) -> (&str, &str) {
    text.split_once(RULE).unwrap_or((text, ""))
}

/// What is shown holds no control characters but line ends.
#[track_caller]
fn shown(text: &str) {
    let odd: Vec<char> = text.chars().filter(|c| *c != '\n' && c.is_control()).collect();
    assert!(odd.is_empty(), "control characters {odd:?} in: {text}");
}

fn source(name: &str, text: &str) -> SourceText {
    SourceText { name: name.to_owned(), text: text.to_owned() }
}

const NODES: &str = include_str!("../../fixtures/line/nodes.ron");
const ASKS: &str = include_str!("../../fixtures/line/asks.ron");

thread_local! {
    static SMALL: Rc<Knowledge> = Rc::new(load(vec![source("nodes.ron", NODES), source("asks.ron", ASKS)]).knowledge);
}

/// The small pump of the line-by-line tests.
fn small() -> Rc<Knowledge> {
    SMALL.with(Rc::clone)
}
