//! Turns a job into a record in Markdown: what was said, seen and measured, in order, and what it came to.

use crate::job::{Event, Given, ResultCause, Sitting, Where};
use crate::knowledge::schema::Id;
use crate::text::markdown as escape;
use jiff::Timestamp;
use std::fmt::Write as _;

/// The record of a job. Times are in UTC, so that the same journal gives the same record everywhere.
pub fn markdown(sitting: &Sitting) -> String {
    let mut page = Page::default();
    head(&mut page, sitting);
    pump(&mut page, sitting);
    complaint(&mut page, sitting);
    likely(&mut page, sitting);
    for cause in &sitting.results(2).causes {
        result(&mut page, cause);
    }
    open_ends(&mut page, sitting);
    trail(&mut page, sitting);
    decisions(&mut page, sitting);
    page.line("");
    page.line("Isolation, opening and work on the pump follow the site procedure, local codes and licensed practice.");
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

    fn row(&mut self, cells: &[&str]) {
        let cells: Vec<String> = cells.iter().map(|cell| escape(cell)).collect();
        self.line(&format!("| {} |", cells.join(" | ")));
    }

    fn table(&mut self, head: &[&str]) {
        self.row(head);
        self.line(&format!("|{}", " --- |".repeat(head.len())));
    }
}

fn stamp(at: Timestamp) -> String {
    at.strftime("%Y-%m-%d %H:%M UTC").to_string()
}

fn head(page: &mut Page, sitting: &Sitting) {
    let header = sitting.header();
    page.line(&format!("# Job record: {}", escape(&header.pump)));
    page.line("");
    page.item(&format!("Pump family: {}", header.family));
    if let (Some(opened), Some(last)) = (sitting.job.opened, sitting.job.last) {
        page.item(&format!("Opened {}, last entry {}", stamp(opened), stamp(last)));
    }
    let (release, hash) = &sitting.job.knowledge;
    page.item(&format!("Program {}, knowledge {release} ({hash})", sitting.job.program));
    match &sitting.job.closed {
        Some((ending, cause, words)) => {
            let cause = cause.as_ref().map(|id| format!(": {}", sitting.name_of(id))).unwrap_or_default();
            let words = if words.is_empty() { String::new() } else { format!(" ({words})") };
            page.item(&format!("Ended: {}{cause}{words}", ending.words()));
        }
        None => page.item("Not closed"),
    }
}

fn pump(page: &mut Page, sitting: &Sitting) {
    let Some(pump) = sitting.job.pump.as_ref().filter(|pump| !pump.lines.is_empty()) else { return };
    page.heading("Pump sheet");
    page.table(&["what", "value"]);
    for (label, value) in &pump.lines {
        page.row(&[label, value]);
    }
}

fn complaint(page: &mut Page, sitting: &Sitting) {
    page.heading("Complaint");
    for words in &sitting.job.words {
        page.line(&format!("> {}", escape(words)));
    }
    page.line("");
    for (id, (given, _, from)) in &sitting.job.given {
        if *from == Where::Complaint && matches!(given, Given::Answer(_)) {
            page.item(&sitting.name_of(id));
        }
    }
    for (question, said) in &sitting.job.first_minute {
        let asked = sitting.knowledge.all.first_minute.get(question).map_or(question.as_str(), |q| q.question.as_str());
        page.item(&format!("{asked} {said}"));
    }
}

fn likely(page: &mut Page, sitting: &Sitting) {
    page.heading("Likely causes at the last entry");
    page.table(&["cause", "of 20 jobs like this", "probability", "status"]);
    for row in sitting.likely(6) {
        let probability = format!("{:.1} %", 100.0 * row.probability);
        page.row(&[&row.name, &format!("{} ({})", row.of_20, row.word), &probability, row.status.word()]);
    }
}

fn result(page: &mut Page, cause: &ResultCause) {
    page.heading(&format!("{} ({})", escape(&cause.row.name), cause.row.status.word()));
    let chain: Vec<String> = cause.chain.iter().map(|link| format!("{} ({})", link.name, link.kind)).collect();
    page.item(&format!("Chain: {}", chain.join(" → ")));
    if !cause.lets_it_happen.is_empty() {
        page.item(&format!("What usually lets it happen: {}", cause.lets_it_happen));
    }
    for check in cause.confirm.iter().take(3) {
        let opens = check.opens.as_ref().map(|opens| format!(", {opens} first")).unwrap_or_default();
        page.item(&format!(
            "Would confirm it: {} ({:.0} min{opens}); finds it in {:.0} of 20",
            check.name, check.minutes, check.finds_of_20
        ));
    }
    for reading in &cause.readings {
        page.item(&format!(
            "Would speak for it: {} {} {} (in {:.0} of 20)",
            reading.name, reading.way, reading.healthy, reading.of_20
        ));
    }
    if let Some(remedy) = &cause.remedy {
        page.item(&format!("{}: {} ({:.0} min)", capital(remedy.kind), remedy.name, remedy.minutes));
        for step in &remedy.steps {
            page.line(&format!("  - {}", escape(step)));
        }
        for proof in &remedy.proof {
            page.line(&format!("  - Proved by: {}", escape(proof)));
        }
    }
}

fn open_ends(page: &mut Page, sitting: &Sitting) {
    let results = sitting.results(3);
    page.heading("What stays open");
    for complaint in &results.unexplained {
        page.item(&format!("Still improbable with the leading causes: {complaint}"));
    }
    page.item(&format!("Something not in this graph: {:.0} %", 100.0 * results.not_in_graph));
    if !results.conflict.1.is_empty() {
        let names = results.conflict.1.join("; ");
        page.item(&format!("Answers that fit badly, look again at: {names}"));
    }
    if let Some(trouble) = sitting.trouble() {
        page.item(&trouble);
    }
}

fn trail(page: &mut Page, sitting: &Sitting) {
    page.heading("What was said, seen and measured");
    page.table(&["time", "what", "answer", "from"]);
    for row in sitting.trail() {
        let at = sitting.job.given.get(&row.id).map(|(_, at, _)| stamp(*at)).unwrap_or_default();
        let aside = row.set_aside.as_ref().map(|why| format!(" (set aside: {why})")).unwrap_or_default();
        page.row(&[&at, &row.name, &format!("{}{aside}", row.answer), row.from]);
    }
}

/// Isolation, stops, checks not possible, changed answers and remarks, in order.
fn decisions(page: &mut Page, sitting: &Sitting) {
    let lines: Vec<String> = sitting
        .job
        .entries
        .iter()
        .filter_map(|entry| decision(sitting, &entry.event).map(|text| format!("{}: {text}", stamp(entry.at))))
        .collect();
    if lines.is_empty() {
        return;
    }
    page.heading("Decisions and remarks");
    for line in lines {
        page.item(&line);
    }
}

fn decision(sitting: &Sitting, event: &Event) -> Option<String> {
    let name = |id: &Id| sitting.name_of(id);
    match event {
        Event::Isolation { proved: true, words } => Some(format!("isolated and proved: {words}")),
        Event::Isolation { proved: false, words } => Some(format!("isolation not possible now: {words}")),
        Event::StopAnswered { rule, stopped, words } => {
            let rule = sitting.knowledge.all.stop_rules.get(rule).map_or(rule.as_str(), |rule| rule.name.as_str());
            let what = if *stopped { "pump stopped" } else { "site decided to run on" };
            Some(format!("stop rule \"{rule}\": {what} {words}"))
        }
        Event::Barred { check, reason } => Some(format!("not done: {} ({reason})", name(check))),
        Event::Withdrawn { id } => Some(format!("taken back: {}", name(id))),
        Event::Usual { reading, text, .. } => Some(format!("usual value of {}: {text}", name(reading))),
        Event::Note { text } => Some(format!("remark: {text}")),
        Event::Reopened => Some("taken up again".to_owned()),
        _ => None,
    }
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
