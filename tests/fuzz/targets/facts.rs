//! Any text as a file of facts or as a pump sheet: problems stand inside the text, and what has none makes a job with chances.

use super::job::{finite, look_at, minute, opened};
use super::{shown, small, source};
use weephole::evidence::{Facts, PumpData, PumpModel, read_facts, read_pump_sheet};
use weephole::job::{Entry, Event, PumpNote, Sitting};
use weephole::knowledge::sheet::{SheetRead, read_sheet, write_sheet};
use weephole::knowledge::{Graph, Problem};
use weephole::quantity::exact_text;

pub fn target(data: &[u8]) {
    let text = String::from_utf8_lossy(data);
    let (knowledge, file) = (small(), source("fuzz.ron", &text));
    let read = read_facts(&file, &knowledge);
    inside(&read.problems, &text);
    if read.problems.is_empty()
        && let Ok(mut sitting) = Sitting::new(knowledge.clone(), vec![opened(&read.file.family)])
    {
        for event in events(&read.facts) {
            sitting.apply(Entry { at: minute(1), event });
        }
        look_at(&sitting);
    }
    let sheet = read_pump_sheet(&file, &knowledge);
    inside(&sheet.problems, &text);
    if sheet.problems.is_empty() {
        sheet_works(&sheet);
    }
}

fn inside(problems: &[Problem], text: &str) {
    for problem in problems {
        let (start, end) = problem.range;
        assert!(text.get(start..end).is_some(), "{problem:?} is outside of the text");
        shown(&problem.message);
        shown(&problem.hint);
    }
}

/// The facts as the command `rank` enters them.
fn events(facts: &Facts) -> Vec<Event> {
    let mut events = vec![Event::Complaint { words: String::new(), findings: facts.complaint.clone() }];
    let usual = facts.usual.iter().map(|(id, quantity)| (id.clone(), exact_text(*quantity), quantity.si()));
    events.extend(usual.map(|(reading, text, si)| Event::Usual { reading, text, si }));
    let answers = facts.answers.iter().map(|(id, answer)| (id.clone(), *answer));
    events.extend(answers.map(|(finding, answer)| Event::Answered { finding, answer, check: None }));
    let numbers = facts.numbers.iter().map(|(id, number)| (id.clone(), number.text.clone(), number.quantity.si()));
    events.extend(numbers.map(|(reading, text, si)| Event::Measured { reading, text, si, check: None }));
    events
}

/// A sheet without problems is written and read back the same, and whatever it says of the pump is finite.
fn sheet_works(sheet: &SheetRead) {
    let knowledge = small();
    let again = read_sheet(&source("again.pump.ron", &write_sheet(&sheet.sheet)), &knowledge);
    assert_eq!(again.sheet, sheet.sheet);
    let graph = Graph::new(&knowledge, &sheet.sheet.family, sheet.sheet.fitted.as_deref());
    match PumpModel::of(&knowledge, &graph, &PumpData::of(sheet), &sheet.usual) {
        Ok(Some(model)) => match model.expectation(&knowledge, &graph, None) {
            Ok(found) => finite(&(found.healthy, found.conditions, found.figures, found.measure)),
            Err(error) => shown(&error.to_string()),
        },
        Ok(None) => {}
        Err(error) => shown(&error.to_string()),
    }
    let event = Event::opened(&sheet.sheet.family, ("fuzz", "0"), Some(PumpNote::of(sheet, &knowledge)));
    if let Ok(sitting) = Sitting::new(knowledge, vec![Entry { at: minute(0), event }]) {
        look_at(&sitting);
    }
}
