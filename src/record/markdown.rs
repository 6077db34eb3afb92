//! Turns the view of a job into a record in Markdown: what was said, seen and measured, and what it came to.

use super::view::{CauseTold, RecordView};
use crate::text::markdown as escape;
use std::fmt::Write as _;

/// The record in Markdown, LF at line ends.
pub(super) fn render(view: &RecordView) -> String {
    let mut page = Page::default();
    head(&mut page, view);
    sheet(&mut page, view);
    complaint(&mut page, view);
    likely(&mut page, view);
    for cause in &view.causes {
        result(&mut page, cause);
    }
    for (title, lines) in &view.why_broke {
        page.list(title, lines);
    }
    page.list("What stays open", &view.open);
    trail(&mut page, view);
    after_work(&mut page, view);
    beliefs(&mut page, view);
    decisions(&mut page, view);
    page.list(super::CODED, &super::code_lines(view));
    page.list("What this rests on", &view.sources);
    page.line("");
    page.line(super::SITE_RULES);
    page.text
}

#[derive(Default)]
struct Page {
    text: String,
}

impl Page {
    fn line(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    fn heading(&mut self, title: &str) {
        let _ = write!(self.text, "\n## {title}\n\n");
    }

    fn item(&mut self, text: &str) {
        self.line(&format!("- {}", escape(text)));
    }

    /// A heading and its items; nothing at all without items.
    fn list(&mut self, title: &str, items: &[String]) {
        if items.is_empty() {
            return;
        }
        self.heading(title);
        for item in items {
            self.item(item);
        }
    }

    fn row(&mut self, cells: &[&str]) {
        let cells: Vec<String> = cells.iter().map(|cell| escape(cell)).collect();
        self.line(&format!("| {} |", cells.join(" | ")));
    }

    fn table(&mut self, head: &[&str]) {
        self.row(head);
        self.line(&format!("|{}", " --- |".repeat(head.len())));
    }
}

fn head(page: &mut Page, view: &RecordView) {
    page.line(&format!("# Job record: {}", escape(&view.pump)));
    page.line("");
    for (label, value) in super::head_lines(view) {
        page.item(&format!("{label} {value}"));
    }
}

fn sheet(page: &mut Page, view: &RecordView) {
    if view.sheet.is_empty() {
        return;
    }
    page.heading("Pump sheet");
    page.table(&["what", "value"]);
    for (label, value) in &view.sheet {
        page.row(&[label, value]);
    }
}

fn complaint(page: &mut Page, view: &RecordView) {
    page.heading("Complaint");
    for words in &view.complaint {
        page.line(&format!("> {}", escape(words)));
    }
    page.line("");
    for name in &view.named {
        page.item(name);
    }
    for (asked, said) in &view.first_minute {
        page.item(&format!("{asked} {said}"));
    }
}

fn likely(page: &mut Page, view: &RecordView) {
    page.heading("Likely causes at the last entry");
    page.table(&["cause", "of 20 jobs like this", "probability", "status"]);
    for row in &view.likely {
        let probability = format!("{:.1} %", 100.0 * row.probability);
        page.row(&[&row.name, &format!("{} ({})", row.of_20, row.word), &probability, row.status]);
    }
}

fn result(page: &mut Page, cause: &CauseTold) {
    page.heading(&format!("{} ({})", escape(&cause.name), cause.status));
    let chain: Vec<String> = cause.chain.iter().map(|(kind, name)| format!("{name} ({kind})")).collect();
    page.item(&format!("Chain: {}", chain.join(" → ")));
    if !cause.lets_it_happen.is_empty() {
        page.item(&format!("What usually lets it happen: {}", cause.lets_it_happen));
    }
    for proof in &cause.proofs {
        page.item(proof);
    }
    if let Some(remedy) = &cause.remedy {
        page.item(remedy);
    }
    for step in &cause.remedy_steps {
        page.line(&format!("  - {}", escape(step)));
    }
    for proof in &cause.remedy_proof {
        page.line(&format!("  - Proved by: {}", escape(proof)));
    }
}

fn trail(page: &mut Page, view: &RecordView) {
    page.heading("What was said, seen and measured");
    page.table(&["time", "what", "answer", "from"]);
    for row in &view.trail {
        let aside = row.set_aside.as_ref().map(|why| format!(" (set aside: {why})")).unwrap_or_default();
        page.row(&[&row.at, &row.what, &format!("{}{aside}", row.answer), row.from]);
    }
}

fn after_work(page: &mut Page, view: &RecordView) {
    if view.after_work.is_empty() {
        return;
    }
    page.heading("Readings after the work");
    page.table(&["reading", "before", "after", "healthy", "verdict"]);
    for again in &view.after_work {
        let (before, healthy) = (super::before_words(again), super::band_words(&again.after));
        page.row(&[&again.name, &before, &again.shown, &healthy, again.after.verdict()]);
    }
}

fn beliefs(page: &mut Page, view: &RecordView) {
    if view.beliefs.steps.is_empty() {
        return;
    }
    page.heading("The list after each answer");
    page.table(&["entry", "what", "first", "second", "third"]);
    for step in &view.beliefs.steps {
        let place = |at: usize| step.ranked.get(at).map(super::ranked_words).unwrap_or_default();
        page.row(&[&step.entry.to_string(), &step.what, &place(0), &place(1), &place(2)]);
    }
}

/// Isolation, stops, checks not possible, changed answers and remarks, in order.
fn decisions(page: &mut Page, view: &RecordView) {
    let lines: Vec<String> = view.decisions.iter().map(|(at, text)| format!("{at}: {text}")).collect();
    page.list("Decisions and remarks", &lines);
}
