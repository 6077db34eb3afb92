//! Replays the demo job from its journal and compares it with the records beside it in every format, byte for byte.
//!
//! `UPDATE_DEMO=1 cargo test --test demo` plays the job anew and writes them all.

#![allow(clippy::unwrap_used, clippy::expect_used)]

mod common;

use jiff::{SignedDuration, Timestamp};
use std::path::PathBuf;
use std::rc::Rc;
use weephole::evidence::Answer;
use weephole::job::{Ending, Entry, Event, JOURNAL_VERSION, PumpNote, Sitting, ZeroProof};
use weephole::knowledge::schema::CodeOf;
use weephole::knowledge::sheet::read_sheet;
use weephole::knowledge::{Knowledge, SourceText};
use weephole::record::{Format, write};
use weephole::store::{Journal, read_events};

fn demo(name: &str) -> PathBuf {
    common::root().join("demo").join(name)
}

/// The pump sheet as a job keeps it.
fn pump(knowledge: &Knowledge) -> PumpNote {
    let text = std::fs::read_to_string(demo("fog_pump_2.pump.ron")).unwrap();
    let read = read_sheet(&SourceText { name: "fog_pump_2.pump.ron".to_owned(), text }, knowledge);
    assert_eq!(read.problems, Vec::new());
    PumpNote::of(&read, knowledge)
}

/// The demo job: a fog pump that rattles; the strainer is clogged.
struct Play {
    sitting: Sitting,
    entries: Vec<Entry>,
    at: Timestamp,
}

impl Play {
    fn open(knowledge: Rc<Knowledge>) -> Self {
        let at: Timestamp = "2026-11-02T06:40:00Z".parse().unwrap();
        let event = Event::Opened {
            version: JOURNAL_VERSION,
            program: env!("CARGO_PKG_VERSION").to_owned(),
            family: "oil_backed".to_owned(),
            release: knowledge.release.clone(),
            hash: knowledge.hash.clone(),
            pump: Some(Box::new(pump(&knowledge))),
        };
        let opened = Entry { at, event };
        Self { sitting: Sitting::new(knowledge, vec![opened.clone()]).unwrap(), entries: vec![opened], at }
    }

    fn happens(&mut self, event: Event) {
        self.at += SignedDuration::from_secs(90);
        let entry = Entry { at: self.at, event };
        self.entries.push(entry.clone());
        self.sitting.apply(entry);
    }

    fn answers(&mut self, finding: &str, answer: Answer, check: Option<&str>) {
        let event = self.sitting.answer(finding, answer, check).unwrap();
        self.happens(event);
    }

    fn reads(&mut self, reading: &str, text: &str, check: &str) {
        let event = self.sitting.measure(reading, text, Some(check)).unwrap().event;
        self.happens(event);
    }

    fn whole(knowledge: Rc<Knowledge>) -> Self {
        let mut play = Self::open(knowledge);
        let said = play.sitting.complaint("it rattles like gravel and the fog got thin", &["crackle_noise".to_owned()]);
        play.happens(said);
        let since = play.sitting.first_minute("since_when", 1).unwrap();
        play.happens(since);
        let touched = play.sitting.first_minute("last_touched", 0).unwrap();
        play.happens(touched);
        play.answers("low_flow", Answer::ProbablyYes, None);
        play.answers("tank_level_low_seen", Answer::No, Some("look_tank"));
        play.answers("vortex_seen", Answer::CantTell, Some("look_tank"));
        play.answers("hose_flattens", Answer::Yes, Some("watch_hose_running"));
        play.reads("inlet_pressure_full", "13 inHg vac", "read_inlet_full_half");
        play.answers("better_at_half_speed", Answer::Yes, None);
        // Looked again in better light: the hose is round.
        play.happens(Event::Withdrawn { id: "hose_flattens".to_owned() });
        play.answers("hose_flattens", Answer::No, Some("watch_hose_running"));
        play.happens(Event::Liquid { name: "rain water, cold; sheet read".to_owned() });
        play.happens(Event::ZeroProved(ZeroProof {
            who: "R.K., fitter".to_owned(),
            isolated: "drive locked and tagged, both valves shut, strainer relieved".to_owned(),
        }));
        play.answers("found_strainer_clogged", Answer::Yes, Some("open_strainer"));
        play.happens(Event::Note { text: "Fern debris; the tank lid was off since Friday.".to_owned() });
        let cause = Some("strainer_clogged".to_owned());
        play.happens(Event::Note { text: "photo strainer_0711.jpg: element before washing".to_owned() });
        play.happens(Event::Closed { ending: Ending::Confirmed, cause, words: "interval set to one week".to_owned() });
        for of in CodeOf::ALL {
            let code = play.sitting.codes(of)[0].id.clone();
            play.happens(Event::Coded { code });
        }
        play.happens(Event::FollowUp { on: jiff::civil::date(2026, 11, 9) });
        play.happens(Event::Signed { who: "R.K., fitter".to_owned() });
        play
    }
}

/// The records beside the journal: ending of the file, format, name of the format on the command line.
const RECORDS: [(&str, Format, &str); 5] = [
    ("md", Format::Markdown, "md"),
    ("html", Format::Html, "html"),
    ("json", Format::Json, "json"),
    ("csv", Format::Csv, "csv"),
    ("handover.md", Format::Handover, "handover"),
];

fn record(ending: &str) -> PathBuf {
    demo(&format!("fog_pump_2.{ending}"))
}

#[test]
fn the_demo_job_replays_to_its_records() {
    let knowledge = Rc::new(common::shipped().knowledge);
    let journal = demo("fog_pump_2.journal");
    if std::env::var("UPDATE_DEMO").is_ok() {
        let play = Play::whole(Rc::clone(&knowledge));
        let _ = std::fs::remove_file(&journal);
        let mut file = Journal::create(&journal).unwrap();
        for entry in &play.entries {
            file.append(&serde_json::to_string(entry).unwrap()).unwrap();
        }
        for (ending, format, _) in RECORDS {
            std::fs::write(record(ending), write(&play.sitting, format)).unwrap();
        }
    }
    let scan = read_events(&journal).unwrap();
    assert!(scan.flaw.is_none());
    let entries: Vec<Entry> = scan.events.iter().map(|line| serde_json::from_str(line).unwrap()).collect();
    let sitting = Sitting::new(knowledge, entries).unwrap();
    for (ending, format, _) in RECORDS {
        let expected = std::fs::read_to_string(record(ending)).unwrap();
        let hint = "run UPDATE_DEMO=1 cargo test --test demo and read the difference";
        assert_eq!(write(&sitting, format), expected, "{ending}: {hint}");
    }
    let first = &sitting.likely(1)[0];
    assert_eq!((first.id.as_str(), first.status.word()), ("strainer_clogged", "confirmed"));
}

/// `weephole record` prints and writes the same bytes, each time.
#[test]
fn the_program_writes_the_same_records() {
    let journal = demo("fog_pump_2.journal");
    let folder = tempfile::tempdir().unwrap();
    for (ending, _, name) in RECORDS {
        let run = |more: &[&str]| {
            let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_weephole"));
            command.args(["record", "--format", name, "--journal", journal.to_str().unwrap()]).args(more);
            command.output().unwrap()
        };
        let expected = std::fs::read_to_string(record(ending)).unwrap();
        assert_eq!(String::from_utf8_lossy(&run(&[]).stdout), expected, "{ending}, printed");
        let file = folder.path().join(ending);
        let written = run(&["--out", file.to_str().unwrap()]);
        assert!(written.status.success() && written.stdout.is_empty(), "{ending}");
        assert_eq!(std::fs::read_to_string(&file).unwrap(), expected, "{ending}, written");
    }
}
