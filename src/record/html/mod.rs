//! Turns the view of a job into one self-contained HTML page: no script, nothing loaded from anywhere, made to be printed.

mod chain;
mod chart;
mod gauge;

use super::view::{CauseTold, RecordView};
use crate::text::page::{Body, heading, list, table, whole};

/// The page, LF at line ends.
pub(super) fn render(view: &RecordView) -> String {
    let mut body = Body::default();
    head(&mut body, view);
    complaint(&mut body, view);
    likely(&mut body, view);
    for cause in &view.causes {
        result(&mut body, cause);
    }
    for (title, lines) in &view.why_broke {
        heading(&mut body, title);
        list(&mut body, lines);
    }
    heading(&mut body, "What stays open");
    list(&mut body, &view.open);
    gauges(&mut body, view);
    after_work(&mut body, view);
    trail(&mut body, view);
    beliefs(&mut body, view);
    decisions(&mut body, view);
    sheet(&mut body, view);
    if !view.codes.is_empty() {
        heading(&mut body, super::CODED);
        list(&mut body, &super::code_lines(view));
    }
    if !view.sources.is_empty() {
        heading(&mut body, "What this rests on");
        list(&mut body, &view.sources);
    }
    body.open("footer");
    body.leaf("p", super::SITE_RULES);
    body.close("footer");
    whole(&format!("Job record: {}", view.pump), body)
}

fn head(body: &mut Body, view: &RecordView) {
    body.leaf("h1", &format!("Job record: {}", view.pump));
    body.open("dl");
    for (label, value) in super::head_lines(view) {
        body.leaf("dt", label);
        body.leaf("dd", &value);
    }
    body.close("dl");
}

fn complaint(body: &mut Body, view: &RecordView) {
    heading(body, "Complaint");
    for words in &view.complaint {
        body.leaf("blockquote", words);
    }
    let asked = view.first_minute.iter().map(|(asked, said)| format!("{asked} {said}"));
    list(body, &view.named.iter().cloned().chain(asked).collect::<Vec<_>>());
}

fn likely(body: &mut Body, view: &RecordView) {
    heading(body, "Likely causes at the last entry");
    let rows = view.likely.iter().map(|row| {
        let probability = format!("{:.1} %", 100.0 * row.probability);
        vec![row.name.clone(), format!("{} ({})", row.of_20, row.word), probability, row.status.to_owned()]
    });
    table(body, &["cause", "of 20 jobs like this", "probability:n", "status"], rows.collect());
    if !view.beliefs.steps.is_empty() {
        body.open("figure");
        body.leaf("figcaption", "How the list moved with each answer; the entry numbers are those of the table below.");
        body.raw(&chart::render(&view.beliefs));
        body.close("figure");
    }
}

fn result(body: &mut Body, cause: &CauseTold) {
    heading(body, &format!("{} ({})", cause.name, cause.status));
    body.open("figure");
    body.leaf("figcaption", "From the cause down to the symptom");
    body.raw(&chain::render(&cause.chain));
    body.close("figure");
    if !cause.lets_it_happen.is_empty() {
        body.leaf("p", &format!("What usually lets it happen: {}", cause.lets_it_happen));
    }
    list(body, &cause.proofs);
    let Some(remedy) = &cause.remedy else { return };
    body.leaf("h3", remedy);
    if !cause.remedy_steps.is_empty() {
        body.open("ol");
        for step in &cause.remedy_steps {
            body.leaf("li", step);
        }
        body.close("ol");
    }
    list(body, &cause.remedy_proof.iter().map(|proof| format!("Proved by: {proof}")).collect::<Vec<_>>());
}

fn gauges(body: &mut Body, view: &RecordView) {
    if view.readings.is_empty() {
        return;
    }
    heading(body, "Readings on their scales");
    for row in &view.readings {
        let standing = if row.standing == "counts" { String::new() } else { format!("; {}", row.standing) };
        let caption = format!("{} (entry {}, {}{standing})", row.name, row.entry, row.running_state);
        body.open("figure");
        body.leaf("figcaption", &caption);
        body.raw(&gauge::render(&row.name, &row.gauge, &row.shown, None));
        body.close("figure");
    }
}

fn after_work(body: &mut Body, view: &RecordView) {
    if view.after_work.is_empty() {
        return;
    }
    heading(body, "Readings after the work");
    for again in &view.after_work {
        body.open("figure");
        body.leaf(
            "figcaption",
            &format!("{}: before {}, after {}", again.name, super::before_words(again), again.shown),
        );
        body.raw(&gauge::render(&again.name, &again.after, &again.shown, again.before));
        body.close("figure");
    }
}

fn trail(body: &mut Body, view: &RecordView) {
    heading(body, "What was said, seen and measured");
    let rows = view.trail.iter().map(|row| {
        let aside = row.set_aside.as_ref().map(|why| format!(" (set aside: {why})")).unwrap_or_default();
        vec![row.at.clone(), row.what.clone(), format!("{}{aside}", row.answer), row.from.to_owned()]
    });
    table(body, &["time:t", "what", "answer", "from"], rows.collect());
}

fn beliefs(body: &mut Body, view: &RecordView) {
    if view.beliefs.steps.is_empty() {
        return;
    }
    heading(body, "The list after each answer");
    let rows = view.beliefs.steps.iter().map(|step| {
        let place = |at: usize| step.ranked.get(at).map(super::ranked_words).unwrap_or_default();
        vec![step.entry.to_string(), step.what.clone(), place(0), place(1), place(2)]
    });
    table(body, &["entry:n", "what", "first", "second", "third"], rows.collect());
}

fn decisions(body: &mut Body, view: &RecordView) {
    if view.decisions.is_empty() {
        return;
    }
    heading(body, "Decisions and remarks");
    let rows = view.decisions.iter().map(|(at, text)| vec![at.clone(), text.clone()]);
    table(body, &["time:t", "what"], rows.collect());
}

fn sheet(body: &mut Body, view: &RecordView) {
    if view.sheet.is_empty() {
        return;
    }
    heading(body, "Pump sheet");
    let rows = view.sheet.iter().map(|(label, value)| vec![label.clone(), value.clone()]);
    table(body, &["what:t", "value"], rows.collect());
}
