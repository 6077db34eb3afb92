//! Scripted line-by-line sessions: lines in, text out, nothing else.
#![allow(clippy::unwrap_used)]

use jiff::Timestamp;
use std::cell::RefCell;
use std::fs;
use std::io::{self, Write};
use std::rc::Rc;
use weephole::evidence::Answer;
use weephole::job::{Archive, Entry, Event, JOURNAL_VERSION, JobLine, Keeper, Sitting, Taken};
use weephole::knowledge::{Knowledge, SourceText, load};
use weephole::line::{LineError, Options, run};

/// Jobs in memory, with a clock that ticks a minute per event.
#[derive(Clone, Default)]
struct Memory {
    jobs: Rc<RefCell<Vec<Vec<Entry>>>>,
    records: Rc<RefCell<Vec<String>>>,
    /// Number of the event (the opening is 0) from which nothing can be saved any more.
    full_from: Option<usize>,
}

struct Kept {
    memory: Memory,
    number: u32,
}

fn at(minute: usize) -> Timestamp {
    Timestamp::from_second(1_790_000_000 + i64::try_from(minute).unwrap() * 60).unwrap()
}

impl Keeper for Kept {
    fn keep(&mut self, event: Event) -> Result<Entry, String> {
        let mut jobs = self.memory.jobs.borrow_mut();
        let job = &mut jobs[self.number as usize - 1];
        if self.memory.full_from.is_some_and(|from| from <= job.len()) {
            return Err("the disk is full".to_owned());
        }
        let entry = Entry { at: at(job.len()), event };
        job.push(entry.clone());
        Ok(entry)
    }

    fn place(&self) -> String {
        format!("memory/{}.journal", self.number)
    }

    fn number(&self) -> u32 {
        self.number
    }
}

impl Archive for Memory {
    fn jobs(&self) -> Vec<JobLine> {
        let line = |(at, job): (usize, &Vec<Entry>)| JobLine {
            number: u32::try_from(at).unwrap() + 1,
            pump: "bench pump".to_owned(),
            complaint: job
                .iter()
                .find_map(|entry| match &entry.event {
                    Event::Complaint { words, .. } => Some(words.clone()),
                    _ => None,
                })
                .unwrap_or_default(),
            last: "today".to_owned(),
            open: !job.iter().any(|entry| matches!(entry.event, Event::Closed { .. })),
            trouble: None,
        };
        let jobs = self.jobs.borrow();
        jobs.iter().enumerate().map(line).rev().collect()
    }

    fn begin(&mut self, family: &str) -> Result<Taken, String> {
        let opened = Event::Opened {
            version: JOURNAL_VERSION,
            program: "test".to_owned(),
            family: family.to_owned(),
            release: "line-test".to_owned(),
            hash: "0".to_owned(),
            pump: None,
        };
        self.jobs.borrow_mut().push(vec![Entry { at: at(0), event: opened }]);
        let number = u32::try_from(self.jobs.borrow().len()).unwrap();
        self.resume(number)
    }

    fn resume(&mut self, number: u32) -> Result<Taken, String> {
        let jobs = self.jobs.borrow();
        let entries = jobs.get(number as usize - 1).cloned().ok_or_else(|| format!("there is no job {number}"))?;
        let keeper = Box::new(Kept { memory: self.clone(), number });
        Ok(Taken { keeper, entries, notices: Vec::new() })
    }

    fn write_record(&mut self, number: u32, markdown: &str) -> Result<String, String> {
        self.records.borrow_mut().push(markdown.to_owned());
        Ok(format!("memory/{number}.md"))
    }
}

impl Memory {
    /// Events of the newest job.
    fn events(&self) -> Vec<Event> {
        self.jobs.borrow().last().unwrap().iter().map(|entry| entry.event.clone()).collect()
    }

    fn has(&self, wanted: impl Fn(&Event) -> bool) -> bool {
        self.events().iter().any(wanted)
    }
}

fn knowledge() -> Rc<Knowledge> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/fixtures/line");
    let read = |name: &str| SourceText {
        name: name.to_owned(),
        text: fs::read_to_string(format!("{folder}/{name}")).unwrap(),
    };
    let loaded = load(vec![read("nodes.ron"), read("asks.ron")]);
    assert!(!loaded.is_broken(), "{:#?}", loaded.problems);
    Rc::new(loaded.knowledge)
}

fn options() -> Options {
    Options { family: "bench".to_owned(), resume: None, record: |sitting: &Sitting| sitting.job.words.join("; ") }
}

/// Plays bytes and comes back with what was printed.
fn play_bytes(memory: &mut Memory, input: &[u8], options: Options) -> (Result<(), LineError>, String) {
    let mut out = Vec::new();
    let result = run(memory, knowledge(), &mut &input[..], &mut out, options);
    let text = String::from_utf8(out).unwrap();
    let odd: Vec<char> = text.chars().filter(|c| *c != '\n' && c.is_control()).collect();
    assert!(odd.is_empty(), "control characters {odd:?} in: {text}");
    (result, text)
}

fn play(memory: &mut Memory, lines: &[&str]) -> String {
    let (result, text) = play_bytes(memory, (lines.join("\n") + "\n").as_bytes(), options());
    result.unwrap();
    text
}

fn new(lines: &[&str]) -> (Memory, String) {
    let mut memory = Memory::default();
    let text = play(&mut memory, lines);
    (memory, text)
}

/// Up to the first step: complaint, first minute, and no walk-round.
const START: [&str; 4] = ["weak jet", "1", "1", "done"];

fn after_start(lines: &[&str]) -> (Memory, String) {
    let all: Vec<&str> = START.iter().chain(lines).copied().collect();
    new(&all)
}

#[track_caller]
fn holds(text: &str, part: &str) {
    assert!(text.contains(part), "`{part}` is not in:\n{text}");
}

/// Of the trail: everything that was saved as an answer to a finding.
fn answered(memory: &Memory, wanted: &str) -> Vec<Answer> {
    let answers = memory.events().into_iter().filter_map(|event| match event {
        Event::Answered { finding, answer, .. } if finding == wanted => Some(answer),
        _ => None,
    });
    answers.collect()
}

/// A whole job: complaint, first minute, walk-round, a gauge, isolation, a look inside, close.
const WHOLE: [&str; 31] = [
    "weak jet and it rattles a bit when warm",
    "1 2",
    "1",
    "n",
    "why",
    "maybe",
    "probably not",
    "no",
    "done",
    "tell suction gauge",
    "1",
    "9",
    "9 inHg",
    "9 inHg vac",
    "52 bar",
    "rain water, cold",
    "Ann Smith, fitter",
    "drive locked, both valves shut, strainer relieved",
    "y",
    "y",
    "y",
    "why",
    "y",
    "why cause 1",
    "note the gasket is on the van",
    "end",
    "1",
    "an air leak",
    "",
    "",
    "screen full of husks",
];

#[test]
fn a_whole_job_ends_in_a_named_cause() {
    let (memory, text) = new(&WHOLE);
    holds(&text, "strainer clogged (cause) -> inlet restricted (condition) -> pressure is low (symptom)");
    holds(&text, "The questions end here: cause confirmed.");
    holds(&text, "The record is in memory/1.md.");
    let named =
        |event: &Event| matches!(event, Event::Closed { cause: Some(cause), .. } if cause == "strainer_clogged");
    assert!(memory.has(named));
    assert_eq!(*memory.records.borrow(), ["weak jet and it rattles a bit when warm"]);
}

/// Codes, a day and initials are asked once the job is closed; what is no answer is asked again, the rest may stay empty.
#[test]
fn a_closed_job_is_coded_and_signed() {
    let more = ["9", "2", "1", "", "soon", "2020-01-01", "2031-12-01", "Ann Smith", "A.S., fitter"];
    let lines: Vec<&str> = WHOLE.iter().chain(&more).copied().collect();
    let (memory, text) = new(&lines);
    for said in
        ["1. LOO low output", "2. another one", "2. NOI noise", "1. 5.1 blockage", "2020-01-01 is before", "no names"]
    {
        holds(&text, said);
    }
    let events = memory.events();
    let coded = |event: &&Event| matches!(event, Event::Coded { .. } | Event::FollowUp { .. } | Event::Signed { .. });
    let told: Vec<&Event> = events.iter().filter(coded).collect();
    let on = jiff::civil::date(2031, 12, 1);
    let expected = [
        Event::Coded { code: "iso_loo".to_owned() },
        Event::FollowUp { on },
        Event::Signed { who: "A.S., fitter".to_owned() },
    ];
    assert_eq!(told, expected.iter().collect::<Vec<_>>());
    assert_eq!(memory.records.borrow().len(), 1, "the record is written once all is said");
}

#[test]
fn a_photo_and_the_next_shift_are_served_at_any_prompt() {
    let (memory, text) = after_start(&["photo", "photo letter.txt", "photo pics/IMG_7.jpg husks", "handover"]);
    assert!(memory.has(|event| matches!(event, Event::Note { text } if text == "photo IMG_7.jpg: husks")));
    assert_eq!(text.matches("Write it like this: photo IMG_1234.jpg").count(), 2);
    for said in ["For the next shift:", "Must not be done:", "Do not open:", "Open:", "Next:"] {
        holds(&text, said);
    }
}

#[test]
fn a_whole_session_reads_like_this() {
    let (_, text) = new(&WHOLE);
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("fixtures/line");
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.add_filter(r"Knowledge line-test [0-9a-f]{12}", "Knowledge line-test (hash)");
    settings.bind(|| insta::assert_snapshot!("whole_session", text));
}

#[test]
fn the_input_may_end_at_every_prompt() {
    let long = ["oil", "", "help", "", "", "", "", "white oil", "1", "n", "boss", "change 1", "y", "end", "", "leave"];
    for script in [&WHOLE[..], &long[..]] {
        for length in 0..script.len() {
            let mut memory = Memory::default();
            let (result, text) = play_bytes(&mut memory, script[..length].join("\n").as_bytes(), options());
            result.unwrap();
            holds(&text, "Job 1 is saved in memory/1.journal.");
        }
    }
}

#[test]
fn words_typed_last_are_saved_though_nothing_was_chosen() {
    let (memory, _) = new(&["weak jet"]);
    assert!(memory.has(
        |event| matches!(event, Event::Complaint { words, findings } if words == "weak jet" && findings.is_empty())
    ));
}

#[test]
fn empty_lines_alone_come_to_an_end() {
    let (memory, text) = new(&[""; 200]);
    holds(&text, "The most usual complaints:");
    holds(&text, "The questions end here");
    holds(&text, "Job 1 is saved");
    assert!(!text.contains("The input has ended"), "200 empty lines were not enough:\n{text}");
    assert!(!memory.has(|event| matches!(event, Event::Closed { .. })));
}

#[test]
fn numbers_are_questioned() {
    let lines = ["tell suction gauge", "1", "9 rpm", "40 inHg vac", "hello", "9 inHg", "n", "9 inHg", "6 inHg vac"];
    let (memory, text) = after_start(&lines);
    holds(&text, "Not taken: `rpm` is a speed; this asks for a pressure");
    holds(&text, "no gauge can show more vacuum");
    holds(&text, "`hello` is not understood here.");
    holds(&text, "Understood as 9 inHg gauge");
    holds(&text, "Saved: inlet vacuum: 6 inHg vacuum = 20.3 kPa vacuum.");
    let measured: Vec<Event> =
        memory.events().into_iter().filter(|event| matches!(event, Event::Measured { .. })).collect();
    assert_eq!(measured.len(), 1);
}

#[test]
fn a_number_may_need_the_usual_one() {
    let (memory, text) = after_start(&["tell amps", "1", "20 A", "", "trail", "change 3", "19 A", "21 A"]);
    holds(&text, "it does not count without the usual one");
    holds(&text, "does not count: says nothing without this pump's usual value");
    holds(&text, "Saved as usual: 21 A.");
    assert!(memory.has(|event| matches!(event, Event::Usual { reading, .. } if reading == "motor_current")));
}

#[test]
fn a_misspelt_word_gets_a_hint_and_loses_nothing() {
    let (memory, text) =
        after_start(&["porbably", "likly", "change x", "why cause", "tell bubbles", "1", "probaly", "p"]);
    holds(&text, "Did you mean `probably`?");
    holds(&text, "Did you mean `likely`?");
    holds(&text, "Write it like this: change N");
    holds(&text, "Write it like this: why cause N");
    assert_eq!(answered(&memory, "bubbles_seen"), [Answer::ProbablyYes]);
}

#[test]
fn an_answer_can_be_changed_and_taken_back() {
    let (memory, text) = after_start(&["tell bubbles", "1", "y", "change 3", "n", "change 9", "withdraw 3", "trail"]);
    holds(&text, "So far: bubbles in the return: yes.");
    holds(&text, "There is no number 9: the trail has 1 to 3.");
    holds(&text, "Taken back: bubbles in the return.");
    assert_eq!(answered(&memory, "bubbles_seen"), [Answer::Yes, Answer::No]);
    let last = text.rfind("Answered so far:").unwrap();
    assert!(!text[last..].contains("3. bubbles"), "{text}");
}

#[test]
fn a_changed_answer_keeps_the_check_it_came_from() {
    let (memory, _) = new(&["weak jet", "1", "1", "y", "change 3", "n"]);
    let checks: Vec<Option<String>> = memory
        .events()
        .into_iter()
        .filter_map(|event| match event {
            Event::Answered { check, .. } => Some(check),
            _ => None,
        })
        .collect();
    assert_eq!(checks.len(), 2);
    assert!(checks[0].is_some());
    assert_eq!(checks[0], checks[1]);
}

#[test]
fn a_stop_rule_comes_before_everything() {
    let (memory, text) =
        after_start(&["tell white oil", "1", "y", "what", "n", "", "n", "the boss: one more hour", "leave"]);
    holds(&text, "STOP: milky oil");
    holds(&text, "  1. Stop the pump.");
    holds(&text, "Running on needs a name and a reason");
    let ran_on = |event: &Event| matches!(event, Event::StopAnswered { stopped: false, words, .. } if words.starts_with("the boss"));
    assert!(memory.has(ran_on));
}

#[test]
fn a_stopped_pump_is_not_run_for_a_look() {
    let (_, text) = new(&["white oil", "1", "y", "operator", "3", "", "", "", "", "", "", "", ""]);
    let stopped = text.find("The questions go on with the pump stopped.").unwrap();
    assert!(!text[stopped..].contains("Pump: running"), "{text}");
    assert!(!text[stopped..].contains("Does the belt squeal?"), "{text}");
}

#[test]
fn empty_lines_never_answer_a_stop_rule() {
    let (memory, text) = new(&["white oil", "1", "", "", "y"]);
    holds(&text, "One more empty line leaves the job here.");
    holds(&text, "Job 1 is saved");
    assert!(!memory.has(|event| matches!(event, Event::StopAnswered { .. })));
}

#[test]
fn without_isolation_nothing_is_opened() {
    let (memory, text) =
        after_start(&["isolate", "n, line is hot", "", "", "", "", "", "", "", "", "", "", "", "", "", ""]);
    assert!(memory.has(|event| matches!(event, Event::Isolation { proved: false, words } if words == "line is hot")));
    let refused = text.find("`isolate` asks again").unwrap();
    assert!(!text[refused..].contains("Check: open the strainer"), "{text}");
    holds(&text, "cannot go on without opening");
}

#[test]
fn proof_of_zero_needs_who_and_how() {
    let refused = ["isolate", "?", "rain water", "Ann, fitter", "drive and valves", "y", "y", "n, drain is blocked"];
    let again = ["isolate", "rain water", "A", "Ann, fitter", "drive and valves", "y", "y", "y", "leave"];
    let (memory, text) = after_start(&[&refused[..], &again[..]].concat());
    holds(&text, "An unknown liquid is not opened.");
    holds(&text, "Somebody must be named.");
    assert!(memory.has(|event| matches!(event, Event::Isolation { words, .. } if words == "drain is blocked")));
    let proved = |event: &Event| matches!(event, Event::ZeroProved(proof) if proof.who == "Ann, fitter");
    assert_eq!(memory.events().iter().filter(|event| proved(event)).count(), 1);
}

#[test]
fn a_reading_that_is_put_off_is_not_asked_again() {
    let (_, text) = after_start(&[""; 60]);
    for question in ["What does the inlet gauge show?", "What does the outlet gauge show?"] {
        assert!(text.matches(question).count() < 2, "{question} asked twice:\n{text}");
    }
}

#[test]
fn a_check_can_be_skipped_with_a_reason() {
    let (memory, text) = new(&["weak jet", "1", "1", "skip", "guard is welded on", "leave"]);
    holds(&text, "Why can this not be done now:");
    assert!(memory.has(|event| matches!(event, Event::Barred { reason, .. } if reason == "guard is welded on")));
}

#[test]
fn what_cannot_be_saved_does_not_count() {
    let mut memory = Memory { full_from: Some(3), ..Memory::default() };
    let text = play(&mut memory, &[START.as_slice(), &["tell bubbles", "1", "y", "trail"]].concat());
    holds(&text, "Not saved, so it does not count: the disk is full");
    assert!(!text.contains("bubbles in the return: yes (volunteered)"), "{text}");
    holds(&text, "The last entry could not be saved.");
    assert_eq!(memory.events().len(), 3);
}

#[test]
fn nothing_typed_can_command_the_terminal() {
    let mut memory = Memory::default();
    let mut input =
        b"\x1b[2Jweak \x07jet\xff\xfe\r\n1\r\n1\ndone\nnote \xe2\x80\xaeevil\x1b]0;t\x07\n\x00\x01\n".to_vec();
    input.extend(std::iter::repeat_n(b'y', 100_000));
    input.extend(b"\n\x1b[31m\n");
    let (result, text) = play_bytes(&mut memory, &input, options());
    result.unwrap();
    holds(&text, "That line is too long.");
    assert!(!text.contains('\u{202e}'));
    for event in memory.events() {
        if let Event::Note { text } | Event::Complaint { words: text, .. } = event {
            assert!(!text.chars().any(char::is_control) && !text.contains('\u{202e}'), "{text:?}");
        }
    }
}

#[test]
fn open_jobs_are_offered_and_taken_up() {
    let (mut memory, _) = after_start(&["tell bubbles", "1", "p", "isolate", "n"]);
    let text = play(&mut memory, &["7", "trail", "1", "trail", "end", "1", ""]);
    holds(&text, "  1. bench pump: weak jet; last worked on today");
    holds(&text, "That is not the number of an open job.");
    holds(&text, "No job is taken up yet.");
    holds(&text, "3. bubbles in the return: probably (volunteered)");
    holds(&text, "Isolation was not possible");
    let text = play(&mut memory, &[]);
    assert!(!text.contains("Open jobs:"), "the closed job is offered:\n{text}");
    let again = Options { resume: Some(1), ..options() };
    let (result, text) = play_bytes(&mut memory, b"leave\n", again);
    result.unwrap();
    holds(&text, "Job 1 is saved");
    assert!(matches!(memory.jobs.borrow()[0].last(), Some(Entry { event: Event::Reopened, .. })));
}

#[test]
fn the_input_may_end_at_the_list_of_jobs() {
    let (mut memory, _) = new(&["weak jet", "1"]);
    let before = memory.jobs.borrow().len();
    holds(&play(&mut memory, &["help"]), "All jobs are saved as they were.");
    assert_eq!(memory.jobs.borrow().len(), before);
}

#[test]
fn a_job_that_is_not_there_or_a_family_nobody_knows_is_an_error() {
    let mut memory = Memory::default();
    let (result, _) = play_bytes(&mut memory, b"", Options { resume: Some(4), ..options() });
    assert_eq!(result.unwrap_err().to_string(), "there is no job 4");
    let (result, _) = play_bytes(&mut memory, b"", Options { family: "gear".to_owned(), ..options() });
    assert_eq!(result.unwrap_err().to_string(), "nothing is known of the pump family `gear`; known: bench");
    assert!(memory.jobs.borrow().is_empty());
}

/// Takes some bytes, then its reader is gone.
struct Pipe(usize, io::ErrorKind);

impl Write for Pipe {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0 = self.0.checked_sub(bytes.len()).ok_or(self.1)?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[test]
fn a_reader_that_goes_away_is_no_failure() {
    let input = WHOLE.join("\n");
    for room in (0..6000).step_by(97) {
        let mut broken = Pipe(room, io::ErrorKind::BrokenPipe);
        run(&mut Memory::default(), knowledge(), &mut input.as_bytes(), &mut broken, options()).unwrap();
    }
    let mut full = Pipe(100, io::ErrorKind::StorageFull);
    let result = run(&mut Memory::default(), knowledge(), &mut input.as_bytes(), &mut full, options());
    assert!(matches!(result, Err(LineError::Output(_))));
}

#[test]
fn help_and_words_come_from_tables() {
    let (_, text) = new(&["help", "words", "words bleed", "words gauge", "words zzzz", "leave"]);
    for word in weephole::line::words() {
        holds(&text, &format!("  {}: {}", word.form, word.does));
    }
    holds(&text, "  bleed: let air out");
    holds(&text, "  compound gauge: gauge that shows");
    holds(&text, "That term is not explained here.");
}

#[test]
fn any_lines_in_any_order_leave_a_journal_that_can_be_taken_up() {
    let words = [
        "",
        "",
        "y",
        "n",
        "p",
        "?",
        "u",
        ".",
        "x",
        "1",
        "2",
        "1 2",
        "9 inHg vac",
        "50 bar",
        "20 A",
        "done",
        "why",
        "why cause 2",
        "likely",
        "trail",
        "change 1",
        "change 2",
        "withdraw 1",
        "tell oil",
        "tell gauge",
        "tell",
        "results",
        "skip",
        "note n",
        "words",
        "isolate",
        "rain water",
        "Ann",
        "drive locked",
        "y",
        "y",
        "y",
        "help",
        "end",
        "weak jet",
        "leave",
        "\u{7f}",
        "99999999999",
    ];
    let mut state = 7_u64;
    for _ in 0..150 {
        let mut lines = Vec::new();
        for _ in 0..60 {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            let at = usize::try_from(state >> 33).unwrap() % words.len();
            // Leaving at once would try nothing.
            lines.push(if words[at] == "leave" && state >> 62 != 0 { "y" } else { words[at] });
        }
        let (memory, text) = new(&lines);
        holds(&text, "Job 1 is saved");
        let entries = memory.jobs.borrow()[0].clone();
        Sitting::new(knowledge(), entries).unwrap();
    }
}

/// What is open is told at any prompt and changes nothing.
#[test]
fn doubts_are_told() {
    let (memory, text) = after_start(&["doubts", "tell bubbles", "1", "y", "doubts", "numbers", "checks"]);
    for part in [
        "Every open check: minutes it takes",
        "Causes together, and no other:",
        "every other combination:",
        "If one of them is wrong after all, most likely:",
        "Numbers on which the place of",
    ] {
        holds(&text, part);
    }
    assert_eq!(answered(&memory, "bubbles_seen"), [Answer::Yes]);
}

/// An idea is found by words, told with its risk and worth, and its check can be begun or left.
#[test]
fn an_idea_can_be_checked() {
    let (memory, text) = after_start(&["think nozzle", "1", "maybe", "y", "n"]);
    for part in ["Your idea: nozzle worn", "The cheapest look at it:", "Proposed instead:", "`maybe` is not understood"]
    {
        holds(&text, part);
    }
    assert_eq!(answered(&memory, "found_nozzle_worn"), [Answer::No]);
    let (memory, text) = after_start(&["think", "strainer", "1", "n", "think qqzz"]);
    holds(&text, "If you put it right now (");
    holds(&text, "No cause or check is called like that.");
    assert!(answered(&memory, "found_strainer_clogged").is_empty());
}

/// A check that opens something asks for isolation first; without it the check is not begun.
#[test]
fn an_idea_goes_through_the_gate() {
    let (memory, _) = after_start(&["think strainer", "1", "y", "n, not here", "think strainer", "1"]);
    assert!(memory.has(|event| matches!(event, Event::Isolation { proved: false, .. })));
    assert!(answered(&memory, "found_strainer_clogged").is_empty());
    let (memory, text) = after_start(&["think strainer", "1", "y", "water", "Ann", "drive", "y", "y", "y", "y"]);
    assert_eq!(answered(&memory, "found_strainer_clogged"), [Answer::Yes]);
    holds(&text, "Prove zero again");
}

/// From the remedy through its sheet, a hold point that fails, the first run and the list, all by lines.
#[test]
fn a_rebuild_by_lines() {
    let isolated = ["water", "Ann, fitter", "drive and valves", "y", "y", "y"];
    let steps = ["n, two meshes blocked", "y", "0.3 mm", "", "y", "0,3 mm", "own sheet 0.4 mm"];
    let first_run = ["Ann, fitter", "y", "y", "y", "y", "y", "y", "y", "y", "y", "y"];
    let proof = ["3", "n, wet lid", "Ann: tighten it", "service", "y", "Ann, again tomorrow", "leave"];
    let lines = [&["fix", "1", "1"][..], &isolated, &steps, &first_run, &proof].concat();
    let (memory, text) = after_start(&lines);
    for part in [
        "Have at hand before anything is opened:",
        "lid gasket: always new",
        "Sheet 1 of 1: strainer lid, step 1 of 2",
        "Saved: it does not hold. Back to step 1.",
        "Times it failed so far: 1.",
        "typical, not yours",
        "Before the first turn under power",
        "What came of it?",
        "Return to service: not yet.",
        "Off: no leak; look first at the lid.",
        "Return to service: passes.",
    ] {
        holds(&text, part);
    }
    assert!(memory.has(|event| matches!(event, Event::Returned { passed: true, .. })));
    assert!(
        memory
            .has(|event| matches!(event, Event::SheetStep { words, passed: true, .. } if words.contains("own sheet")))
    );
}

/// The stop comes before anything else at every prompt of gate, sheet, first run, try and list.
#[test]
fn a_stop_rule_fires_at_every_prompt_of_the_work() {
    let isolated = ["water", "Ann, fitter", "drive and valves", "y", "y", "y"];
    let first_run = ["Ann, fitter", "y", "y", "y", "y", "y", "y", "y", "y", "y", "y"];
    let whole = [&["fix", "1", "1"][..], &isolated, &["y", "0.1 mm"], &first_run, &["3"]].concat();
    let stop = ["tell white oil", "1", "y", "leave"];
    for typed in 3..=whole.len() {
        let (memory, text) = after_start(&[&whole[..typed], &stop].concat());
        let told = text.find("Saved: oil in the glass is milky").or_else(|| text.find("milky")).unwrap();
        assert!(text[told..].contains("STOP: milky oil"), "after {typed} lines:\n{text}");
        assert!(!memory.has(|event| matches!(event, Event::StopAnswered { .. })));
    }
}

/// "Changed X, no effect" is told by its words.
#[test]
fn a_change_without_effect_by_lines() {
    let first_run = ["Ann, fitter", "y", "y", "y", "y", "y", "y", "y", "y", "y", "y"];
    let lines = [&["changed joint", "1", "new seal"][..], &first_run, &["1", "trail", "leave"]].concat();
    let (memory, text) = after_start(&lines);
    holds(&text, "Saved: that speaks against it.");
    assert!(memory.has(|event| matches!(event, Event::Tried { .. })));
}
