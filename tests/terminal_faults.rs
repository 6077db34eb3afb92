//! What can happen to a terminal: it goes away, is put aside, changes its size all the time, can show next to nothing.
#![cfg(target_os = "linux")]
#![allow(clippy::print_stdout, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[path = "terminal/rig.rs"]
mod rig;

use rig::{ANSWER_KEYS, COMPLAINT, ENTER, PROGRAM, Terminal, below_header, is_step, journal, rows_of, stand};
use std::path::Path;
use std::time::Instant;
use tempfile::TempDir;
use weephole::simulation::Chance;
use weephole::text::clean_lines;

/// The job goes on with everything that was answered.
#[track_caller]
fn goes_on(folder: &TempDir) {
    let mut terminal = Terminal::on(folder, &["job", "--resume", "1"]);
    terminal.wait(&["WHERE IT STANDS", COMPLAINT, "probably not  asked"]);
    terminal.send("q");
    assert!(terminal.end().success);
}

/// The window is shut: the program ends, whether the hang-up signal reaches it or not, and the job goes on.
#[test]
fn a_terminal_that_vanishes_ends_the_program_and_loses_nothing() {
    for ignored in [false, true] {
        let folder = tempfile::tempdir().unwrap();
        let data = folder.path().to_str().unwrap();
        let trap = if ignored { "trap '' HUP; exec \"$0\" \"$@\"" } else { "exec \"$0\" \"$@\"" };
        let mut terminal = Terminal::start(Path::new("sh"), &["-c", trap, PROGRAM, "--data-dir", data]);
        terminal.come_to_question();
        terminal.answer("u");
        terminal.vanish();
        let begun = Instant::now();
        assert!(!terminal.wait_for_end());
        println!("hang-up signal ignored: {ignored}; ended after {:.1} s", begun.elapsed().as_secs_f64());
        assert!(journal(&folder).contains("probably_no"));
        goes_on(&folder);
    }
}

/// Lines at a terminal that vanishes end, too.
#[test]
fn by_lines_a_terminal_that_vanishes_ends_the_program() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().to_str().unwrap();
    let trap = "trap '' HUP; exec \"$0\" \"$@\"";
    let mut terminal = Terminal::start(Path::new("sh"), &["-c", trap, PROGRAM, "--plain", "--data-dir", data]);
    terminal.wait(&["What does the operator complain of?"]);
    terminal.press(&format!("{COMPLAINT}{ENTER}"), &["Which of these fit?", "empty line: none."]);
    // Echoed, so that the reader notices.
    terminal.send("1");
    terminal.vanish_by_lines();
    terminal.wait_for_end();
    assert!(journal(&folder).contains("\"opened\""));
}

/// Put aside by the shell's signal or by its key: the terminal is given back as it was, and taken again.
#[test]
fn a_stopped_program_gives_the_terminal_back_and_takes_it_again() {
    let folder = tempfile::tempdir().unwrap();
    let mut terminal = Terminal::on(&folder, &[]);
    let before = terminal.come_to_question();
    for by_key in [false, true] {
        if by_key {
            terminal.send("\x1a");
        } else {
            terminal.signal("TSTP");
        }
        terminal.wait_for_state('T');
        terminal.wait_until("the page of the shell", |_| !terminal.is_alternate());
        assert_eq!(terminal.modes_now(), terminal.modes, "echo, line mode and the rest");
        terminal.write_over();
        terminal.signal("CONT");
        terminal.wait_until("the question again", |text| below_header(text) == below_header(&before));
        assert!(terminal.is_alternate());
    }
    terminal.answer("u");
    terminal.send("q").wait(&["START"]);
    terminal.send("q");
    let left = terminal.end();
    assert!(left.success);
    left.assert_clean();
}

/// Stopped without a warning and written over meanwhile: everything is drawn anew.
#[test]
fn a_program_that_goes_on_draws_everything_anew() {
    let folder = tempfile::tempdir().unwrap();
    let mut terminal = Terminal::on(&folder, &[]);
    let before = terminal.come_to_question();
    terminal.signal("STOP");
    terminal.wait_for_state('T');
    terminal.write_over();
    terminal.signal("CONT");
    terminal.wait_until("the question again", |text| below_header(text) == below_header(&before));
    terminal.answer("u");
    terminal.send("q").wait(&["START"]);
    terminal.send("q");
    terminal.end().assert_clean();
}

/// Asked to end from outside: everything is saved, the terminal is as it was.
#[test]
fn a_request_to_end_leaves_a_clean_terminal_and_a_saved_job() {
    let folder = tempfile::tempdir().unwrap();
    let mut terminal = Terminal::on(&folder, &[]);
    terminal.come_to_question();
    terminal.answer("u");
    terminal.signal("TERM");
    let left = terminal.end();
    assert!(!left.success);
    left.assert_clean();
    goes_on(&folder);
}

/// Three hundred sizes, down to one cell, with keys between them.
#[test]
fn a_storm_of_sizes_changes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let mut terminal = Terminal::on(&folder, &[]);
    let before = terminal.come_to_question();
    let mut chance = Chance::new(11);
    for _ in 0..300 {
        let (columns, rows) = (1 + chance.below(200), 1 + chance.below(70));
        terminal.resize(u16::try_from(columns).unwrap(), u16::try_from(rows).unwrap());
        if chance.below(4) == 0 {
            // Down and up: neither answers.
            terminal.send("\x1b[B\x1b[A");
        }
    }
    terminal.resize(80, 24);
    // The keys have taken the line away that said what was saved: the rest stands where it stood.
    terminal.wait_until("the question as it was", |text| {
        stand(text) == stand(&before) && rows_of(text) == 24 && ANSWER_KEYS.iter().all(|key| text.contains(key))
    });
    terminal.answer("u");
    terminal.send("q").wait(&["START"]);
    terminal.send("q");
    let left = terminal.end();
    assert!(left.success);
    left.assert_clean();
    assert!(journal(&folder).contains("probably_no"));
}

/// A terminal that can do nothing gets lines and no escape sequence.
#[test]
fn a_dumb_terminal_gets_lines() {
    for term in ["dumb", ""] {
        let folder = tempfile::tempdir().unwrap();
        let data = folder.path().to_str().unwrap();
        let mut terminal = Terminal::start_with(Path::new(PROGRAM), &["--data-dir", data], &[("TERM", term)]);
        terminal.wait(&["What does the operator complain of?"]);
        terminal.press(&format!("{COMPLAINT}{ENTER}"), &["Which of these fit?", "empty line: none."]);
        terminal.send("\x04");
        let left = terminal.end();
        assert!(left.success && !left.raw.contains('\x1b'), "{}", left.raw.escape_debug());
    }
}

/// A terminal without UTF-8 gets ASCII on every page.
#[test]
fn without_utf_8_everything_is_ascii() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().to_str().unwrap();
    let program = Path::new(PROGRAM);
    let mut terminal = Terminal::start_with(program, &["--data-dir", data], &[("LC_ALL", "de_DE.ISO-8859-1")]);
    terminal.wait(&["START", "n new job"]);
    terminal.press("n", &["COMPLAINT"]);
    terminal.press(COMPLAINT, &["Words: rattles like gravel", "[ ]"]);
    terminal.press("\x1b[B", &["> [ ]"]);
    terminal.press(" ", &["> [x]"]);
    terminal.press(ENTER, &["FIRST MINUTE", "question 1 of 2"]);
    terminal.press("2", &["question 2 of 2"]);
    terminal.press("1", &["WALK ROUND THE PUMP", "LIKELY CAUSES"]);
    terminal.send("g").wait_until("a step", is_step);
    terminal.press("r", &["RESULTS", "CHAIN"]);
    terminal.press("q", &["START"]);
    terminal.send("q");
    let left = terminal.end();
    assert!(left.success);
    left.assert_clean();
    let odd: String = left.raw.chars().filter(|character| !character.is_ascii()).collect();
    assert!(odd.is_empty(), "{odd}");
}

/// A job from anywhere, with everything in its texts that could command a terminal: none of it gets there.
#[test]
fn hostile_words_do_not_reach_the_screen() {
    let folder = tempfile::tempdir().unwrap();
    let evil = "\u{1b}]0;owned\u{7}\u{1b}[2J\u{9b}31m\u{202e}\u{2066}\u{200b}\u{e0041}\u{7f}evil";
    let mut journal = weephole::store::create_job(folder.path(), "x").unwrap();
    let said = serde_json::json!(evil);
    for event in [
        format!(
            "\"what\":\"opened\",\"version\":2,\"program\":{said},\"family\":\"oil_backed\",\"release\":{said},\"hash\":{said},\"pump\":{{\"name\":{said},\"lines\":[[{said},{said}]]}}"
        ),
        format!("\"what\":\"complaint\",\"words\":{said},\"findings\":[\"crackle_noise\"]"),
        format!("\"what\":\"note\",\"text\":{said}"),
        format!("\"what\":\"measured\",\"reading\":\"inlet_pressure_full\",\"text\":{said},\"si\":-40000.0"),
    ] {
        journal.append(&format!("{{\"at\":\"2026-11-02T07:00:00Z\",{event}}}")).unwrap();
    }
    drop(journal);
    let mut terminal = Terminal::on(&folder, &[]);
    terminal.wait(&["START", "evil"]);
    terminal.press(ENTER, &["WHERE IT STANDS", "owned"]);
    terminal.press(ENTER, &["FIRST MINUTE", "owned"]);
    terminal.press("q", &["START"]);
    terminal.send("q");
    let left = terminal.end();
    assert!(left.success);
    left.assert_clean();
    assert!(!left.raw.contains("\x1b]0;") && !left.raw.contains('\x07'), "{}", left.raw.escape_debug());
    // Beside the program's own sequences nothing that is cleaned away.
    let printed: String = left.raw.replace(['\x1b', '\r'], "");
    assert_eq!(clean_lines(&printed), printed);
}
