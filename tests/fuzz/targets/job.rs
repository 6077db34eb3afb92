//! Looks at everything a job can show: nothing panics, no chance lies outside 0 to 1, no number is not a number.

use super::shown;
use jiff::Timestamp;
use std::fmt::Debug;
use weephole::job::{Entry, Event, GateKind, Sitting};
use weephole::knowledge::{Knowledge, NodeKind};
use weephole::record::{Format, write};

/// The opening of a job.
pub fn opened(family: &str) -> Entry {
    Entry { at: minute(0), event: Event::opened(family, ("fuzz", "0"), None) }
}

/// So many minutes after an instant.
pub fn minute(minutes: usize) -> Timestamp {
    Timestamp::from_second(1_790_000_000 + i64::try_from(minutes).unwrap() * 60).unwrap()
}

/// Looks at a job from all sides.
pub fn look_at(sitting: &Sitting) {
    chances(sitting);
    finite(&(sitting.header(), sitting.likely(50), sitting.walk_round(9), sitting.trail()));
    finite(&(sitting.next(), sitting.results(9), sitting.handover(), sitting.settings()));
    finite(&(
        sitting.doubts(),
        sitting.still_unexplained(),
        sitting.numbers_that_matter(),
        sitting.second_thoughts(None),
    ));
    finite(&(sitting.service(), sitting.broke(), sitting.to_try(), sitting.rebuild_step(), sitting.to_put_right(5)));
    finite(&(sitting.gate(GateKind::Isolation), sitting.gate(GateKind::FirstRun), sitting.form(), sitting.helps()));
    finite(&sitting.plan().steps);
    for said in [sitting.trouble(), sitting.no_belief()].into_iter().flatten() {
        shown(&said);
    }
    for node in &sitting.graph.nodes {
        finite(&(sitting.idea(&node.id), sitting.why_cause(&node.id), sitting.remedy_plan(&node.id)));
    }
    for step in sitting.plan().steps.iter().take(3) {
        finite(&sitting.step_view(step));
        for id in &step.asks {
            finite(&(sitting.ask_view(id), sitting.why_ask(id), sitting.dial(id), sitting.healthy_band(id)));
        }
    }
    for id in sitting.job.given.keys() {
        finite(&(sitting.ask_view(id), sitting.dial(id), sitting.healthy_band(id), sitting.states_of(id)));
    }
}

/// Every chance lies within 0 and 1.
fn chances(sitting: &Sitting) {
    for (at, node) in sitting.graph.nodes.iter().enumerate() {
        let present = sitting.present(at);
        assert!((-1e-9..=1.0 + 1e-9).contains(&present), "{}: {present}", node.id);
    }
    if sitting.no_belief().is_none() {
        let causes = sitting.graph.of_kind(NodeKind::Cause).into_iter();
        let sum: f64 = causes.map(|cause| sitting.present(cause)).sum();
        assert!(0.99 < sum, "at least one cause is given, but they sum to {sum}");
    }
}

/// The record in one of its formats.
pub fn record(sitting: &Sitting, which: usize) {
    let format = [Format::Markdown, Format::Html, Format::Json, Format::Csv, Format::Handover][which % 5];
    let text = write(sitting, format);
    shown(&text);
    if format == Format::Json {
        serde_json::from_str::<serde_json::Value>(&text).expect("the record is not JSON");
    }
}

/// What only pictures and lists of a knowledge show.
pub fn knowledge_shown(knowledge: &Knowledge) {
    use weephole::picture::{Sketch, dot, svg, wall};
    let sketch = Sketch::whole(knowledge);
    shown(&dot(&sketch));
    shown(&svg(&sketch));
    for family in knowledge.all.families.keys() {
        shown(&wall(knowledge, family, None).markdown());
    }
}

/// A view holds no number that is none. Looks at how it prints, outside of quoted texts.
#[track_caller]
pub fn finite(view: &impl Debug) {
    let printed = format!("{view:?}");
    let (mut in_quotes, mut escaped) = (false, false);
    let mut bare = String::with_capacity(printed.len());
    for letter in printed.chars() {
        match (in_quotes, escaped, letter) {
            (true, true, _) => escaped = false,
            (true, false, '\\') => escaped = true,
            (_, _, '"') => {
                in_quotes = !in_quotes;
                bare.push(' ');
            }
            (true, ..) => {}
            (false, _, letter) => bare.push(letter),
        }
    }
    let odd = bare.split(|c: char| !c.is_alphanumeric()).find(|word| ["NaN", "inf"].contains(word));
    assert!(odd.is_none(), "{odd:?} in {printed}");
}
