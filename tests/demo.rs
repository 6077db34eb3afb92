//! Replays the demo job from its journal and compares it with the records beside it in every format, byte for byte.
//!
//! `UPDATE_DEMO=1 cargo test --test demo` plays the job anew and writes them all.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod common;

use jiff::{SignedDuration, Timestamp};
use std::path::PathBuf;
use std::rc::Rc;
use weephole::evidence::Answer;
use weephole::job::{
    Ending, Entry, Event, GateKind, GateLine, GateView, JOURNAL_VERSION, Next, Outcome, PumpNote, Said, Sitting, Takes,
    ZeroProof,
};
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
        Self::open_at(knowledge, "2026-11-02T06:40:00Z")
    }

    fn open_at(knowledge: Rc<Knowledge>, at: &str) -> Self {
        let at: Timestamp = at.parse().unwrap();
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

/// The second demo job, on the same pump: milky oil, a torn diaphragm, and why it tore; put right by the sheets, proved.
impl Play {
    fn torn_diaphragm(knowledge: Rc<Knowledge>) -> Self {
        let mut play = Self::open_at(knowledge, "2026-11-23T06:10:00Z");
        let said = play.sitting.complaint("the oil has turned to cream", &["oil_milky".to_owned()]);
        play.happens(said);
        let rule = "stop_oil_milky".to_owned();
        play.happens(Event::StopAnswered { rule, stopped: true, words: "R.K., at once".to_owned() });
        for (question, choice) in [("since_when", 1), ("last_touched", 0)] {
            let event = play.sitting.first_minute(question, choice).unwrap();
            play.happens(event);
        }
        play.answers("diaphragm_hours_over", Answer::Yes, None);
        let gate = play.sitting.gate(GateKind::Isolation);
        play.passes(&gate);
        play.answers("found_diaphragm_torn", Answer::Yes, Some("diaphragms_look"));
        // The look of the part comes first, then its causes.
        let Next::Ask(step) = play.sitting.next() else { panic!("a torn diaphragm is not the end") };
        assert_eq!(step.check, "diaphragms_look");
        for (finding, answer) in [
            ("look_dia_worn_pinhole", Answer::Yes),
            ("look_dia_hard_cracked", Answer::Yes),
            ("dent_or_piece_found", Answer::No),
            ("look_dia_torn_at_clamp", Answer::No),
            ("look_dia_swollen", Answer::No),
            ("found_diaphragm_material_wrong", Answer::No),
            ("found_diaphragm_fitted_wrong", Answer::No),
            ("found_diaphragm_life_over", Answer::Yes),
        ] {
            play.answers(finding, answer, Some("diaphragms_look"));
        }
        play.rebuilds("diaphragm_life_over");
        play.happens(Event::Tried { outcome: Outcome::Well, words: "oil stays bright".to_owned() });
        play.proves();
        for (question, words) in [("what_else", "liquid that attacks rubber: others not swollen"), ("if_wrong", "")] {
            play.happens(Event::SecondThought { question: question.to_owned(), words: words.to_owned() });
        }
        let (cause, words) = (Some("diaphragm_life_over".to_owned()), "planned change every 1,500 hours from now on");
        let closed = play.sitting.close(Ending::Confirmed, cause, words).unwrap();
        play.happens(closed);
        play
    }

    /// Every line of a gate answered.
    fn passes(&mut self, gate: &GateView) {
        let said = |line: &GateLine| match (line.takes, line.id) {
            (Takes::Yes, _) => Said::Yes,
            (_, "liquid") => Said::Words("rain water, cold; sheet read".to_owned()),
            (_, "what") => Said::Words("drive locked, both valves shut, oil side relieved".to_owned()),
            _ => Said::Words("R.K., fitter".to_owned()),
        };
        let said: Vec<Said> = gate.lines.iter().map(said).collect();
        for event in gate.events(&said) {
            self.happens(event);
        }
    }

    /// All sheets of a remedy; one hold point fails once.
    fn rebuilds(&mut self, node: &str) {
        let plan = self.sitting.remedy_plan(node).unwrap();
        let begun = self.sitting.begin_sheets(&plan);
        self.happens(begun);
        let mut has_failed = false;
        while self.sitting.job.work.sheets.is_some() {
            match self.sitting.next() {
                Next::Gate(gate) => self.passes(&gate),
                Next::Sheet(step) => {
                    let passed = has_failed || (step.sheet.as_str(), step.step.0) != ("fill_prime_oil_cells", 5);
                    has_failed |= !passed;
                    let words = if passed { "" } else { "third cell still bubbles" };
                    let value = step.number.as_ref().map(|_| ("0.05 mm".to_owned(), 0.000_05));
                    let events = self.sitting.sheet_events(&step, passed, words, value);
                    for event in events {
                        self.happens(event);
                    }
                }
                other => panic!("{other:?}"),
            }
        }
    }

    /// The return-to-service list.
    fn proves(&mut self) {
        for line in self.sitting.service().lines {
            let number = match line.id.as_str() {
                "rts_speed" => "500 rpm",
                "rts_flow" => "29.8 L/min",
                "rts_pressure" => "70 bar",
                "rts_inlet" => "2 inHg vac",
                "rts_current" => "8.9 A",
                _ => "",
            };
            let event = match (line.number.is_some(), number) {
                (true, "") => self.sitting.prove_seen(&line.id, None, "no instrument"),
                (true, number) => self.sitting.prove(&line.id, number).unwrap().0,
                (false, _) => self.sitting.prove_seen(&line.id, Some(true), ""),
            };
            self.happens(event);
        }
        assert!(self.sitting.service().passes, "{:?}", self.sitting.service());
        let returned = self.sitting.returned("R.K.; bolts, oil and strainer again tomorrow");
        self.happens(returned);
    }
}

#[test]
fn the_demo_job_replays_to_its_records() {
    replays("fog_pump_2", Play::whole, "strainer_clogged");
}

#[test]
fn the_demo_job_of_a_torn_diaphragm_ends_at_why() {
    replays("torn_diaphragm", Play::torn_diaphragm, "diaphragm_life_over");
    let record = std::fs::read_to_string(demo("torn_diaphragm.md")).unwrap();
    for part in ["Why did it break: diaphragm torn", "Because: diaphragm past", "FAILS", "return to service: passed"] {
        assert!(record.contains(part), "{part}");
    }
}

fn replays(name: &str, whole: fn(Rc<Knowledge>) -> Play, cause: &str) {
    let knowledge = Rc::new(common::shipped().knowledge);
    let journal = demo(&format!("{name}.journal"));
    let record = |ending: &str| demo(&format!("{name}.{ending}"));
    if std::env::var("UPDATE_DEMO").is_ok() {
        let play = whole(Rc::clone(&knowledge));
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
    assert_eq!((first.id.as_str(), first.status.word()), (cause, "confirmed"));
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
        let expected = std::fs::read_to_string(demo(&format!("fog_pump_2.{ending}"))).unwrap();
        assert_eq!(String::from_utf8_lossy(&run(&[]).stdout), expected, "{ending}, printed");
        let file = folder.path().join(ending);
        let written = run(&["--out", file.to_str().unwrap()]);
        assert!(written.status.success() && written.stdout.is_empty(), "{ending}");
        assert_eq!(std::fs::read_to_string(&file).unwrap(), expected, "{ending}, written");
    }
}
