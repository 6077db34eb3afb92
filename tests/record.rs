//! Records of jobs in every format: valid, self-contained, harmless with hostile text, the same each time.

#![allow(clippy::unwrap_used)]

mod common;

use common::MemoryJob;
use scraper::{Html, Selector};
use std::rc::Rc;
use weephole::evidence::Answer;
use weephole::job::{Ending, Event, PumpNote, Sitting};
use weephole::knowledge::Knowledge;
use weephole::knowledge::schema::CodeOf;
use weephole::record::{Format, RecordView, write};

const FORMATS: [Format; 5] = [Format::Markdown, Format::Html, Format::Json, Format::Csv, Format::Handover];

fn knowledge() -> Rc<Knowledge> {
    Rc::new(common::shipped().knowledge)
}

/// A job in which every text that a person can give is this one.
fn job(knowledge: Rc<Knowledge>, said: &str) -> Sitting {
    let text = said.to_owned();
    let mut job = MemoryJob::open(knowledge, "oil_backed");
    let opened = job.sitting.job.entries[0].clone();
    let note = PumpNote {
        name: text.clone(),
        lines: vec![(text.clone(), text.clone())],
        fitted: None,
        usual: vec![("outlet_pressure".to_owned(), "70 bar".to_owned(), 7e6)],
        ..PumpNote::default()
    };
    let event = match opened.event {
        Event::Opened { version, family, release, hash, .. } => {
            Event::Opened { version, program: text.clone(), family, release, hash, pump: Some(Box::new(note)) }
        }
        other => other,
    };
    let opened = weephole::job::Entry { at: opened.at, event };
    job.sitting = Sitting::new(Rc::clone(&job.sitting.knowledge), vec![opened]).unwrap();
    job.happens(Event::Complaint { words: text.clone(), findings: vec!["crackle_noise".to_owned()] });
    job.happens(Event::FirstMinute { question: "since_when".to_owned(), say: text.clone(), yes: vec![], no: vec![] });
    let read = |job: &MemoryJob, id: &str, number: &str| job.sitting.measure(id, number, None).unwrap().event;
    job.happens(read(&job, "inlet_pressure_full", "13 inHg vac"));
    job.happens(read(&job, "outlet_pressure", "48,5 bar"));
    job.happens(Event::Barred { check: "open_strainer".to_owned(), reason: text.clone() });
    job.happens(Event::Isolation { proved: true, words: text.clone() });
    let strainer = job.sitting.answer("found_strainer_clogged", Answer::Yes, Some("open_strainer")).unwrap();
    job.happens(strainer);
    job.happens(Event::Note { text: text.clone() });
    job.happens(read(&job, "outlet_pressure", "69 bar"));
    job.happens(Event::Closed { ending: Ending::HandedOver, cause: None, words: text });
    job.sitting
}

const HOSTILE: &[&str] = &[
    "</td></table><script>alert(1)</script>",
    "\"><img src=https://example.invalid/x onerror=alert(1)>",
    "'--><!-- </style><style>@import 'https://example.invalid'",
    "=HYPERLINK(\"https://example.invalid\",\"x\")",
    "\n# heading\n| a | b |\n```\n[x](javascript:alert(1))",
    "@SUM(1+1)*cmd|' /C calc'!A0\t\r\n-2",
    "a\u{1b}[31m\u{202e}b\u{0}",
];

/// Names of elements and attributes in order: what text must not be able to change.
fn shape(page: &str) -> Vec<String> {
    let document = Html::parse_document(page);
    assert!(document.errors.is_empty(), "{:?}", document.errors);
    let all = document.select(&Selector::parse("*").unwrap()).collect::<Vec<_>>();
    // Long names in a drawing are broken into more lines: the number of text lines is no markup of theirs.
    let told = all.iter().filter(|element| element.value().name() != "text").map(|element| {
        let names: Vec<&str> = element.value().attrs().map(|(name, _)| name).collect();
        format!("{} {}", element.value().name(), names.join(" "))
    });
    told.collect()
}

#[test]
fn the_page_is_valid_and_loads_nothing() {
    let page = write(&job(knowledge(), "it rattles"), Format::Html);
    let document = Html::parse_document(&page);
    assert!(document.errors.is_empty(), "{:?}", document.errors);
    for element in document.select(&Selector::parse("*").unwrap()) {
        let name = element.value().name();
        assert!(!["script", "link", "img", "iframe", "object", "embed", "base", "form", "a"].contains(&name), "{name}");
        for (attribute, value) in element.value().attrs() {
            assert!(!["href", "src", "xlink:href", "style"].contains(&attribute), "{name} {attribute}");
            assert!(!attribute.starts_with("on"), "{name} {attribute}");
            assert!(!value.contains("://"), "{name} {attribute}={value}");
        }
    }
    assert!(!page.contains("url(") && !page.contains("@import"), "the style loads something");
}

/// The same words on screen and in the drawings: chart, gauges, chain, and bars after the work.
#[test]
fn the_page_draws_what_it_tells() {
    let sitting = job(knowledge(), "it rattles");
    let view = RecordView::of(&sitting);
    let page = write(&sitting, Format::Html);
    let document = Html::parse_document(&page);
    let drawings = document.select(&Selector::parse("svg").unwrap()).count();
    assert_eq!(drawings, 1 + view.causes.len() + view.readings.len() + view.after_work.len());
    assert_eq!(view.after_work.len(), 1);
    assert_eq!(view.after_work[0].before, Some(48.5));
    assert_eq!((view.after_work[0].after.value, view.after_work[0].after.verdict()), (69.0, "in its band"));
    assert_eq!(view.readings[1].standing, "replaced");
    let texts: Vec<String> =
        document.select(&Selector::parse("svg text").unwrap()).map(|t| t.text().collect()).collect();
    assert!(texts.iter().any(|text| text.contains("13 inHg vacuum")), "{texts:?}");
    assert!(page.contains("@media print") && page.contains("@page"), "no print style");
}

#[test]
fn hostile_text_changes_nothing_but_text() {
    let knowledge = knowledge();
    let plain = write(&job(Rc::clone(&knowledge), "plain"), Format::Html);
    let shape_of_plain = shape(&plain);
    let lines = |text: &str| text.lines().count();
    for said in HOSTILE {
        let sitting = job(Rc::clone(&knowledge), said);
        assert_eq!(shape(&write(&sitting, Format::Html)), shape_of_plain, "{said:?}");
        for format in [Format::Markdown, Format::Handover] {
            let harmless = write(&job(Rc::clone(&knowledge), "plain"), format);
            let text = write(&sitting, format);
            assert_eq!(lines(&text), lines(&harmless), "{said:?} breaks a line");
            let bare = |mark: &str| text.match_indices(mark).any(|(at, _)| !text[..at].ends_with('\\'));
            assert!(!bare("<") && !bare("[x]") && !text.contains("\n# heading"), "{text}");
            assert!(!text.chars().any(|c| c != '\n' && (c.is_control() || c == '\u{202e}')), "{said:?}");
        }
        let json = write(&sitting, Format::Json);
        let value: serde_json::Value = serde_json::from_str(&json).unwrap();
        assert_eq!(value["complaint"][0].as_str().unwrap(), *said);
    }
}

/// Codes that suit what was found come first; every kind has codes, and none claims to have been read in the standard.
#[test]
fn codes_suit_what_was_found() {
    let knowledge = knowledge();
    let mut entries = job(Rc::clone(&knowledge), "plain").job.entries;
    let at = entries[0].at;
    let cause = Some("strainer_clogged".to_owned());
    let mut happens = |event| entries.push(weephole::job::Entry { at, event });
    happens(Event::Closed { ending: Ending::Confirmed, cause, words: String::new() });
    happens(Event::Coded { code: "iso_m24".to_owned() });
    happens(Event::Coded { code: "iso_m51".to_owned() });
    happens(Event::Signed { who: "R.K., fitter".to_owned() });
    let sitting = Sitting::new(Rc::clone(&knowledge), entries).unwrap();
    let first = |of: CodeOf| sitting.codes(of)[0].says.clone();
    assert_eq!(first(CodeOf::Mode), "NOI noise");
    assert_eq!(first(CodeOf::Mechanism), "5.1 blockage");
    assert_eq!(first(CodeOf::Cause), "3.3 maintenance error");
    assert_eq!(first(CodeOf::Detection), "8 casual observation");
    let text = write(&sitting, Format::Markdown);
    assert!(text.contains("from memory") && text.contains("failure mechanism: 5.1 blockage"), "{text}");
    assert!(!text.contains("2.4 wear"), "the later code of a kind takes the place of the earlier");
    assert!(text.contains("Signed: R.K., fitter"), "{text}");
    let kind = |of: CodeOf| knowledge.all.codes.values().filter(|code| code.of == of).count();
    assert!(CodeOf::ALL.into_iter().all(|of| 10 <= kind(of)));
    assert!(knowledge.all.codes.values().all(|code| code.source.as_deref() == Some("iso_14224")));
    assert!(knowledge.rests_on_practice("iso_14224"));
}

/// Cells of a CSV text, read by the rules of RFC 4180.
fn cells(text: &str) -> Vec<Vec<String>> {
    let (mut rows, mut row, mut cell, mut quoted) = (Vec::new(), Vec::new(), String::new(), false);
    let mut characters = text.chars().peekable();
    while let Some(character) = characters.next() {
        match character {
            '"' if quoted && characters.peek() == Some(&'"') => {
                cell.push('"');
                characters.next();
            }
            '"' => quoted = !quoted,
            ',' if !quoted => row.push(std::mem::take(&mut cell)),
            '\n' if !quoted => {
                row.push(std::mem::take(&mut cell));
                rows.push(std::mem::take(&mut row));
            }
            other => cell.push(other),
        }
    }
    rows
}

#[test]
fn no_cell_can_become_a_formula() {
    let knowledge = knowledge();
    for said in HOSTILE {
        let rows = cells(&write(&job(Rc::clone(&knowledge), said), Format::Csv));
        assert_eq!(rows.len(), 4, "a head and three numbers");
        for row in &rows {
            assert_eq!(row.len(), rows[0].len());
            for cell in row.iter().filter(|cell| cell.parse::<f64>().is_err()) {
                let first = cell.trim_start().chars().next();
                assert!(!first.is_some_and(|first| "=+-@".contains(first)), "{cell:?}");
            }
        }
        let column = |name: &str| rows[0].iter().position(|head| head == name).unwrap();
        assert_eq!(rows[1][column("value")], "-13");
        assert_eq!(rows[1][column("unit")], "inHg");
        // 1 inHg = 3386.38816 Pa: NIST SP 811 (2008), appendix B.8 (conventional inch of mercury, 3.386389E+03).
        assert!((rows[1][column("value in SI")].parse::<f64>().unwrap() + 13.0 * 3386.389).abs() < 0.1);
        assert_eq!(rows[2][column("verdict")], "below its band");
    }
}

#[test]
fn every_record_is_the_same_each_time_and_names_what_it_rests_on() {
    let knowledge = knowledge();
    let sitting = job(Rc::clone(&knowledge), "plain");
    for format in FORMATS {
        let text = write(&sitting, format);
        let again = Sitting::new(Rc::clone(&knowledge), sitting.job.entries.clone()).unwrap();
        assert_eq!(write(&again, format), text, "{format:?}");
        assert!(text.contains(&knowledge.hash) && text.contains(&knowledge.release), "{format:?}");
        assert!(text.ends_with('\n') && !text.contains('\r'), "{format:?}");
    }
}

#[test]
fn a_record_says_when_the_knowledge_is_another_now() {
    let sitting = job(knowledge(), "plain");
    let mut entries = sitting.job.entries.clone();
    if let Event::Opened { hash, .. } = &mut entries[0].event {
        "0123456789ab".clone_into(hash);
    }
    let older = Sitting::new(Rc::clone(&sitting.knowledge), entries).unwrap();
    let text = write(&older, Format::Markdown);
    assert!(text.contains("0123456789ab") && text.contains(&sitting.knowledge.hash), "{text}");
}

#[test]
fn the_next_shift_reads_first_what_must_not_be_done() {
    let sitting = job(knowledge(), "plain");
    let page = write(&sitting, Format::Handover);
    let titles: Vec<&str> = page.lines().filter(|line| line.starts_with("## ")).collect();
    assert_eq!(titles, ["## Must not be done", "## Isolated", "## Where the job stands", "## Open", "## Done"]);
    assert!(page.contains("Do not take off a lock or start"), "{page}");
    assert!(page.contains("Not done: "), "{page}");
    assert!(page.lines().count() < 50, "longer than a sheet of paper");
    assert!(!page.to_lowercase().contains(" safe"), "the tool never says safe");
}
