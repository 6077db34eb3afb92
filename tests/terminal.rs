//! Turns keys at a real terminal into what is seen there, kept on disk, and left behind.
#![cfg(unix)]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "terminal/rig.rs"]
mod rig;

use rig::{
    ANSWER_KEYS, COMPLAINT, DOWN, END_OF_INPUT, ENTER, PROGRAM, Terminal, below_header, head, is_step, journal,
    panicking, place, rows_of,
};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

#[test]
fn a_whole_first_job() {
    let folder = tempfile::tempdir().unwrap();
    let mut terminal = Terminal::on(&folder, &[]);
    terminal.come_to_question();
    terminal.press("w", &["WHY THIS QUESTION", "It takes"]);
    terminal.press("b", &["QUESTION  ", "y yes"]);
    terminal.answer("n");
    terminal.wait(&["Saved: "]);
    terminal.open_trail();
    terminal.press(ENTER, &["CHANGE AN ANSWER", "So far: no"]);
    terminal.press("u", &["TRAIL  everything said", "probably not  asked"]);
    terminal.send("b").wait_until("a step", is_step);
    terminal.press("r", &["RESULTS", "CHAIN"]);
    terminal.press("b", &["q leave"]);
    terminal.press("q", &["START", "JOBS TO TAKE UP AGAIN", COMPLAINT, "is saved in"]);
    terminal.send("q");
    let left = terminal.end();
    assert!(left.success);
    left.assert_clean();
    let journal = journal(&folder);
    assert!(journal.contains(COMPLAINT), "{journal}");
    assert!(journal.contains("probably_no"), "{journal}");
}

#[test]
fn a_theme_is_kept_and_a_broken_settings_file_stops_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let settings = folder.path().join("settings.ron");
    let mut terminal = Terminal::on(&folder, &[]);
    terminal.wait_until("the first page", |text| text.contains("No jobs yet"));
    terminal.send("l").wait_until("the light theme", |text| text.contains("Theme: light. Kept for the next start."));
    terminal.send("q");
    assert!(terminal.end().success);
    let kept = std::fs::read_to_string(&settings).unwrap();
    assert!(kept.contains("theme: light"), "{kept}");
    std::fs::write(&settings, "(\n    theme: lihgt,\n)\n").unwrap();
    let mut terminal = Terminal::on(&folder, &[]);
    terminal.wait_until("what is wrong", |text| {
        let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
        flat.contains("settings.ron:2:") && flat.contains("did you mean `light`?") && flat.contains("n new job")
    });
    terminal.send("l").wait_until("that it was not kept", |text| text.contains("Not kept for the next start:"));
    terminal.send("q");
    assert!(terminal.end().success);
    assert!(std::fs::read_to_string(&settings).unwrap().contains("lihgt"), "left as it was");
}

#[test]
fn a_job_is_taken_up_from_the_list() {
    let folder = tempfile::tempdir().unwrap();
    let mut terminal = Terminal::on(&folder, &[]);
    terminal.come_to_question();
    terminal.answer("u");
    let trail = terminal.open_trail();
    assert!(trail.contains("probably not  asked"), "{trail}");
    terminal.press("q", &["START", COMPLAINT]);
    terminal.send("q");
    assert!(terminal.end().success);

    let mut terminal = Terminal::on(&folder, &[]);
    terminal.wait(&["START", "JOBS TO TAKE UP AGAIN", COMPLAINT]);
    terminal.press(ENTER, &["WHERE IT STANDS", "The operator said:", "probably not  asked"]);
    terminal.send(ENTER).wait_until("a step", is_step);
    let again = terminal.open_trail();
    assert_eq!(below_header(&again), below_header(&trail));
}

#[test]
fn an_answer_outlives_a_killed_program() {
    let folder = tempfile::tempdir().unwrap();
    let mut terminal = Terminal::on(&folder, &[]);
    terminal.come_to_question();
    terminal.answer("u");
    terminal.kill();

    let mut terminal = Terminal::on(&folder, &["job", "--resume", "1"]);
    let recap = terminal.wait(&["WHERE IT STANDS", COMPLAINT, "probably not  asked", "h help"]);
    assert!(!recap.contains("cut short"), "{recap}");
    terminal.send(ENTER).wait_until("a step", is_step);
    terminal.send("q");
    let left = terminal.end();
    assert!(left.success);
    left.assert_clean();
}

/// Answers a gate of the full screen: words, then every line with yes, then the key that records it.
#[track_caller]
fn pass_gate(terminal: &mut Terminal, words: &[&str]) {
    terminal.press("i", &["Enter next line"]);
    for word in words {
        let before = terminal.text();
        terminal.send(&format!("{word}{ENTER}")).wait_until("the next line", |text| text != before);
    }
    for _ in 0..20 {
        let text = terminal.text();
        if text.contains("record it") {
            let before = head(&text).to_owned();
            terminal.send("z").wait_until("the page behind the gate", |text| {
                head(text) != before && !text.contains("WORKING") && !head(text).trim().is_empty()
            });
            return;
        }
        terminal.send("y").wait_until("the next line", |now| now != text);
    }
    panic!("the gate has no end:\n{}", terminal.text());
}

/// Types a key at a step of a sheet and waits for another page.
#[track_caller]
fn next_page(terminal: &mut Terminal, key: &str) -> String {
    let before = head(&terminal.text()).to_owned();
    terminal.send(key).wait_until("the next page", |text| {
        head(text) != before
            && ["REBUILD", "FIRST RUN", "ISOLATION", "TRY IT", "STOP"].iter().any(|place| head(text).contains(place))
    })
}

/// A hold point fails, the sheet goes back and the stop rule fires; killed, the job goes on there and ends in service.
#[test]
fn a_rebuild_goes_back_is_killed_and_ends_in_service() {
    let folder = tempfile::tempdir().unwrap();
    let mut terminal = Terminal::on(&folder, &[]);
    terminal.come_to_question();
    terminal.press("r", &["RESULTS SO FAR", "f put it right"]);
    terminal.press("f", &["PUT IT RIGHT", "Put right:"]);
    terminal.press("hard object in a liquid", &["hard object in a liquid chamber"]);
    terminal.press(ENTER, &["HAVE AT HAND BEFORE ANYTHING IS OPENED", "s start the rebuild sheets"]);
    terminal.press("s", &["ISOLATION", "before: diaphragms, step 1"]);
    pass_gate(&mut terminal, &["rain water, cold", "R.K., fitter", "drive, valves, oil side"]);
    terminal.wait(&["REBUILD", "diaphragms, step 1 of 12", "HOLD POINT"]);
    for step in 2..=12 {
        let text = next_page(&mut terminal, "y");
        assert!(text.contains(&format!("step {step} of 12")), "{text}");
    }
    next_page(&mut terminal, "y");
    terminal.wait(&["first run and return to service, step 1 of 10", "Turn two whole turns by hand"]);
    terminal.press("n", &["It goes back to step 1", "What was seen:"]);
    terminal.press(&format!("tight at half a turn{ENTER}"), &["STOP", "Tight spot or wrong rotation"]);
    terminal.press("s", &["REBUILD", "step 1 of 10", "Times it failed so far: 1."]);
    terminal.kill();

    let mut terminal = Terminal::on(&folder, &["job", "--resume", "1"]);
    terminal.wait(&["WHERE IT STANDS"]);
    terminal.press(ENTER, &["REBUILD", "step 1 of 10", "Times it failed so far: 1."]);
    next_page(&mut terminal, "y");
    let gate = next_page(&mut terminal, "y");
    assert!(gate.contains("BEFORE THE FIRST TURN UNDER POWER"), "{gate}");
    pass_gate(&mut terminal, &["R.K., fitter"]);
    for step in 4..=8 {
        let text = next_page(&mut terminal, "y");
        assert!(text.contains(&format!("step {step} of 10")), "{text}");
    }
    let gate = next_page(&mut terminal, "y");
    assert!(gate.contains("ISOLATION") && gate.contains("the pump ran since"), "{gate}");
    pass_gate(&mut terminal, &["", ""]);
    next_page(&mut terminal, "y");
    next_page(&mut terminal, "y");
    terminal.press("w", &["RETURN TO SERVICE", "NOT YET"]);
    for _ in 0..30 {
        let text = terminal.text();
        let key = match &text {
            text if text.contains("timed bucket give") => format!("30 L/min{ENTER}"),
            text if text.contains("outlet gauge show at work") => format!("70 bar{ENTER}"),
            text if text.contains("y yes: passes") => "y".to_owned(),
            _ => ".".to_owned(),
        };
        if text.contains("PASSES") {
            break;
        }
        terminal.send(&key).wait_until("the next line", |now| {
            head(now).contains("RETURN TO SERVICE") && now.contains("Saved: ") && *now != text
        });
    }
    terminal.press("z", &["It passes.", "Who decides"]);
    terminal.press(&format!("R.K.; recheck tomorrow{ENTER}"), &["back in service", "RESULTS"]);
    terminal.send("q");
    assert!(terminal.end().success);
    let journal = journal(&folder);
    assert!(journal.contains("\"what\":\"returned\",\"passed\":true"), "{journal}");
}

#[test]
fn pasted_text_arrives_as_one_clean_line() {
    let folder = tempfile::tempdir().unwrap();
    let mut terminal = Terminal::on(&folder, &[]);
    terminal.wait(&["START", "n new job"]);
    terminal.press("n", &["COMPLAINT"]);
    let pasted = "rattles\x1b[31m like\x07 gra\u{202e}vel\nsince\r\nMonday";
    let clean = "rattles[31m like gravel since Monday";
    let text = terminal.press(&format!("\x1b[200~{pasted}\x1b[201~"), &[&format!("Words: {clean}")]);
    assert_eq!(place(&text), "COMPLAINT", "the pasted line breaks went on:\n{text}");
    terminal.press(ENTER, &["Nothing is marked. Enter again keeps the words only."]);
    terminal.press(ENTER, &["FIRST MINUTE"]);
    terminal.press("q", &["START", "JOBS TO TAKE UP AGAIN", "rattles[31m"]);
    terminal.send("q");
    let left = terminal.end();
    assert!(left.success);
    assert!(!left.raw.contains(['\x07', '\u{202e}']), "{}", left.raw.escape_debug());
    let journal = journal(&folder);
    assert!(journal.contains(&format!("\"words\":\"{clean}\"")), "{journal}");
}

#[test]
fn the_answer_keys_stay_in_sight_at_other_sizes() {
    let folder = tempfile::tempdir().unwrap();
    let mut terminal = Terminal::on(&folder, &[]);
    let before = terminal.come_to_question();
    for (columns, rows) in [(40, 12), (120, 40)] {
        terminal.resize(columns, rows);
        terminal.wait_until(&format!("the key bar at {columns}x{rows}"), |text| {
            rows_of(text) == usize::from(rows) && ANSWER_KEYS.iter().all(|key| text.contains(key))
        });
    }
    terminal.resize(80, 24);
    terminal.wait_until("the question as it was", |text| below_header(text) == below_header(&before));
    terminal.answer("n");
}

#[test]
fn a_panic_leaves_the_terminal_clean_and_its_message_readable() {
    let mut terminal = Terminal::start(&panicking(), &[]);
    terminal.wait(&["START", "n new job"]);
    terminal.send("n");
    let left = terminal.end();
    assert!(!left.success);
    left.assert_clean();
    let text = left.screen.contents();
    assert!(text.lines().any(|line| line.trim_end() == "the archive fell over"), "{text}");
}

#[test]
fn by_lines_a_terminal_gets_no_escape_sequence() {
    let folder = tempfile::tempdir().unwrap();
    let mut terminal = Terminal::on(&folder, &["--plain"]);
    terminal.wait(&["What does the operator complain of?"]);
    terminal.press(&format!("{COMPLAINT}{ENTER}"), &["Which of these fit?", "empty line: none."]);
    terminal.press(&format!("1{ENTER}"), &["Since when is it like this?"]);
    terminal.send(END_OF_INPUT);
    let left = terminal.end();
    assert!(left.success);
    assert!(!left.raw.contains('\x1b'), "{}", left.raw.escape_debug());
    assert!(left.raw.contains("Likely causes"), "{}", left.raw);
    assert!(journal(&folder).contains(COMPLAINT));
}

/// The built-in knowledge in a folder, with the cases of one file: quicker to prove.
fn knowledge_folder(base: &TempDir, case: &str) -> PathBuf {
    let folder = base.path().join("graph");
    let unpacked = Command::new(PROGRAM).args(["knowledge", "unpack"]).arg(&folder).output().unwrap();
    assert!(unpacked.status.success());
    let files = |name: &str| fs::read_dir(folder.join(name)).unwrap();
    // Lessons name cases that are gone then.
    for file in files("cases").chain(files("lessons")) {
        let path = file.unwrap().path();
        if !fs::read_to_string(&path).unwrap().contains(case) {
            fs::write(&path, "(version: 1)\n").unwrap();
        }
    }
    folder
}

/// A supervisor at the bench: a strength changed so that a case flips, rejected; changed less, accepted; taken back.
#[test]
fn a_strength_at_the_bench() {
    let base = tempfile::tempdir().unwrap();
    let folder = knowledge_folder(&base, "case_valve_sets_last_six_weeks");
    let file = folder.join("findings/delivery.ron");
    let before = fs::read_to_string(&file).unwrap();
    let mut bench =
        Terminal::start(Path::new(PROGRAM), &["knowledge", "bench", "--knowledge", folder.to_str().unwrap()]);
    bench.wait(&["KNOWLEDGE", "f find by words"]);
    bench.press("f", &["Words:"]);
    bench.press("delivers less than it used to", &["Words: delivers less than it used to", "▶ delivers less"]);
    bench.press(ENTER, &["Enter open"]);
    bench.press(ENTER, &["ENTRY", "(low_flow, findings)", "LEADS HERE"]);
    for _ in 0..200 {
        let text = bench.text();
        if text.contains("▶ all valves leak a little") {
            break;
        }
        bench.send(DOWN).wait_until("the next row", |now| now != text);
    }
    bench.wait(&["▶ all valves leak a little"]);
    bench.press("e", &["CHANGE", "Now: often (75 %)"]);
    bench.press("rarely", &["Strength: rarely"]);
    bench.press(ENTER, &["DRAFT", "often (0.75) →", "rarely (0.1)"]);
    bench.wait(&["Worse: case_valve_sets_last_six_weeks: rank 1 -> 2", "w save it although it gets worse"]);
    bench.press("b", &["CHANGE", "Nothing was saved."]);
    assert_eq!(fs::read_to_string(&file).unwrap(), before);
    bench.press(&"\x7f".repeat(6), &["Strength:", "Now: often"]);
    bench.press("0.74", &["Strength: 0.74"]);
    bench.press(ENTER, &["DRAFT", "often (0.75) →", "(0.74)"]);
    bench.wait(&["No case comes out otherwise.", "s save it"]);
    bench.press("s", &["ENTRY", "Saved as edit 1.", "0.74"]);
    assert!(fs::read_to_string(&file).unwrap().contains("\"valves_worn\": (strength: share(0.74)"));
    bench.press("u", &["CHANGES BACK", "often (0.74) →", "(0.75)"]);
    bench.wait(&["s save it"]);
    bench.press("s", &["ENTRY", "Edit 1 is taken back.", "0.75"]);
    assert_eq!(fs::read_to_string(&file).unwrap(), before);
    bench.press("b", &["KNOWLEDGE"]);
    bench.send("q");
    bench.end().assert_clean();
}

/// Types words into the search of a practice job and takes the first match.
fn look_for(terminal: &mut Terminal, key: &str, words: &str, place: &str) {
    terminal.press(key, &["Type a few words"]);
    terminal.press(words, &["▶ ", "Enter this one"]);
    terminal.press(ENTER, &[place]);
}

fn practice_journal(folder: &TempDir) -> String {
    let jobs = fs::read_dir(folder.path().join("practice/jobs")).unwrap().map(|entry| entry.unwrap().path());
    let journals: Vec<PathBuf> = jobs.filter(|path| path.extension().is_some_and(|end| end == "journal")).collect();
    assert_eq!(journals.len(), 1, "{journals:?}");
    fs::read_to_string(&journals[0]).unwrap()
}

/// A trainee chooses a lesson, does something unsafe, checks, is killed, goes on, names it and reads the debrief.
#[test]
fn a_trainee_practises_on_the_full_screen_and_a_kill_loses_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let mut terminal = Terminal::on(&folder, &["practice"]);
    terminal.wait(&["PRACTICE", "what to practise", "Enter practise the chosen row"]);
    terminal.press(ENTER, &["HELP IN PRACTICE", "half: do it"]);
    terminal.press("2", &["AT THE PUMP", "Operator:", "OF 20 JOBS LIKE THIS"]);
    terminal.wait(&["Inlet gauge", "Outlet gauge"]);
    look_for(&mut terminal, "c", "open all valves", "d do it");
    terminal.press("d", &["UNSAFE", "This job is failed"]);
    terminal.press(ENTER, &["UNSAFE"]);
    terminal.press("g", &["AT THE PUMP", "0 checks"]);
    look_for(&mut terminal, "c", "motor current", "d do it");
    terminal.press("d", &["AT THE PUMP", "1 checks", "Done:"]);
    let before = practice_journal(&folder);
    terminal.kill();
    let mut terminal = Terminal::on(&folder, &["practice"]);
    terminal.wait(&["AT THE PUMP", "The last job did not end", "1 checks"]);
    look_for(&mut terminal, "n", "liquid too hot", "How sure are you");
    terminal.press("70", &["70"]);
    terminal.press(ENTER, &["Not named yet", "z that is all"]);
    terminal.press("z", &["DEBRIEF", "not passed", "It was:", "WARNING"]);
    terminal.send("q");
    let left = terminal.end();
    assert!(left.success);
    left.assert_clean();
    let after = practice_journal(&folder);
    assert!(after.starts_with(&before), "moves saved before the kill are there as they were");
    assert!(after.contains("\"move\":\"names\"") && after.contains("\"unsafe_moves\":1"), "{after}");
    assert!(!folder.path().join("jobs").exists(), "practice never reaches the real jobs");
}
