//! Turns gates, repairs, rebuild sheets and the return to service into lines of the record.

use crate::job::{Event, Sitting};
use crate::knowledge::schema::Id;

/// What an event of the work decides, in words.
pub(super) fn decision(sitting: &Sitting, event: &Event) -> Option<String> {
    let name = |id: &Id| sitting.name_of(id);
    Some(match event {
        Event::Liquid { name } => format!("liquid in the pump: {name}"),
        Event::ZeroProved(proof) => format!("isolated and zero proved twice: {}", proof.words()),
        Event::FirstRun { who, open } if open.is_empty() => format!("first run: every line answered, by {who}"),
        Event::FirstRun { open, .. } => format!("no start yet: {}", open.join(", ")),
        Event::Back => "back after a pause; zero to be proved again".to_owned(),
        Event::Changed { node, words, .. } => format!("put right: {} {words}", name(node)),
        Event::Tried { outcome, words } => format!("tried: {} {words}", outcome.words()),
        Event::SheetsBegun { node, sheets, .. } => {
            let sheets: Vec<String> = sheets.iter().map(|sheet| sheet_name(sitting, sheet)).collect();
            format!("rebuild begun for {}: {}", name(node), sheets.join(", "))
        }
        Event::SheetStep { sheet, step, passed, words, value, .. } => {
            let holds = if *passed { "holds" } else { "FAILS" };
            let value = value.as_ref().map_or(String::new(), |(text, _)| format!(", {text}"));
            format!("{}, step {step}: {holds}{value} {words}", sheet_name(sitting, sheet))
        }
        Event::SheetsLeft { words } => format!("rebuild sheets put aside: {words}"),
        Event::ProofLine { line, text, passed, .. } => {
            let word = match passed {
                Some(true) => "passes",
                Some(false) => "off",
                None => "noted",
            };
            format!("return to service, {}: {text} ({word})", name(line))
        }
        Event::Returned { passed, off, words } => {
            let off: Vec<String> = off.iter().map(name).collect();
            let word = if *passed { "passed".to_owned() } else { format!("not yet ({})", off.join(", ")) };
            format!("return to service: {word}; {words}")
        }
        Event::SecondThought { question, words } => {
            let said = if words.is_empty() { "skipped" } else { words };
            format!("before closing, {}: {said}", question.replace('_', " "))
        }
        _ => return None,
    })
}

fn sheet_name(sitting: &Sitting, sheet: &Id) -> String {
    sitting.knowledge.all.procedures.get(sheet).map_or_else(|| sheet.clone(), |sheet| sheet.name.clone())
}

/// Parts found harmed, and why they broke: a heading, and its lines.
pub(super) fn broke(sitting: &Sitting) -> Vec<(String, Vec<String>)> {
    let all = sitting.broke().into_iter().map(|broke| {
        let mut lines =
            vec![broke.because.as_ref().map_or("Not known".to_owned(), |because| format!("Because: {because}"))];
        let causes = broke.causes.iter().filter(|_| broke.because.is_none());
        lines.extend(causes.map(|row| format!("May have led to it: {} ({} of 20)", row.name, row.of_20)));
        lines.extend(broke.looks.iter().map(|look| format!("How it looks: {look}")));
        lines.extend(broke.unexplained.iter().map(|look| format!("Stays unexplained by that: {look}")));
        (format!("Why did it break: {}", broke.name), lines)
    });
    all.collect()
}
