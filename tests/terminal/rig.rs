//! Turns keys at a pseudo-terminal into what is seen there: what the terminal tests share.

#![allow(dead_code, clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::fs;
use std::io::{Read as _, Write as _};
use std::num::NonZeroU16;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::thread::{JoinHandle, sleep};
use std::time::{Duration, Instant};
use tempfile::TempDir;

pub const PROGRAM: &str = env!("CARGO_BIN_EXE_weephole");
/// Only a hang reaches it.
pub const PATIENCE: Duration = Duration::from_secs(30);
pub const BETWEEN_LOOKS: Duration = Duration::from_millis(20);

pub const ENTER: &str = "\r";
pub const DOWN: &str = "\x1b[B";
pub const END_OF_INPUT: &str = "\x04";
pub const COMPLAINT: &str = "rattles like gravel";
pub const ANSWER_KEYS: [&str; 7] =
    ["y yes", "p probably", "? can't tell", ". can't check now", "n no", "u probably not", "x does not apply"];

/// What the terminal was told to do, and what it shows because of that.
pub struct Shown {
    pub parser: vt100::Parser,
    pub raw: Vec<u8>,
}

/// A program at a terminal of its own.
pub struct Terminal {
    pub master: Box<dyn MasterPty + Send>,
    pub keyboard: Box<dyn std::io::Write + Send>,
    pub program: Box<dyn Child + Send + Sync>,
    pub shown: Arc<Mutex<Shown>>,
    pub reader: Option<JoinHandle<()>>,
    /// Echo, line mode and the rest, as they were before.
    pub modes: String,
    /// Nobody looks any more.
    gone: Arc<AtomicBool>,
}

/// What is left behind by a program that has ended.
#[allow(clippy::struct_excessive_bools)]
pub struct Left {
    pub success: bool,
    pub raw: String,
    pub screen: vt100::Screen,
    pub modes_before: String,
    pub modes: String,
}

pub fn size(columns: u16, rows: u16) -> PtySize {
    PtySize { rows, cols: columns, pixel_width: 0, pixel_height: 0 }
}

pub fn cells(many: u16) -> NonZeroU16 {
    NonZeroU16::new(many).unwrap()
}

impl Terminal {
    /// Starts the program at a terminal of 80 columns and 24 rows.
    pub fn start(program: &Path, arguments: &[&str]) -> Self {
        Self::start_with(program, arguments, &[])
    }

    /// The same with more in its environment.
    pub fn start_with(program: &Path, arguments: &[&str], environment: &[(&str, &str)]) -> Self {
        let pair = native_pty_system().openpty(size(80, 24)).unwrap();
        let modes = modes_of(pair.master.as_ref());
        let mut command = CommandBuilder::new(program);
        command.args(arguments);
        command.env("TERM", "xterm-256color");
        command.env("RUST_BACKTRACE", "0");
        command.env("LC_ALL", "C.UTF-8");
        for (name, value) in environment {
            command.env(name, value);
        }
        let child = pair.slave.spawn_command(command).unwrap();
        // Kept open, it would hide the end of the program from the reader.
        drop(pair.slave);
        let parser = vt100::Parser::new(cells(24), cells(80), 0);
        let shown = Arc::new(Mutex::new(Shown { parser, raw: Vec::new() }));
        let gone = Arc::new(AtomicBool::new(false));
        let reader = read(pair.master.try_clone_reader().unwrap(), Arc::clone(&shown), Arc::clone(&gone));
        let keyboard = pair.master.take_writer().unwrap();
        Self { master: pair.master, keyboard, program: child, shown, reader: Some(reader), modes, gone }
    }

    /// Starts the program on jobs in this folder.
    pub fn on(folder: &TempDir, arguments: &[&str]) -> Self {
        let mut all = vec!["--data-dir", folder.path().to_str().unwrap()];
        all.extend(arguments);
        Self::start(Path::new(PROGRAM), &all)
    }

    /// Types.
    pub fn send(&mut self, keys: &str) -> &mut Self {
        self.keyboard.write_all(keys.as_bytes()).unwrap();
        self.keyboard.flush().unwrap();
        self
    }

    /// Rows as they are seen now.
    pub fn text(&self) -> String {
        self.shown.lock().unwrap().parser.screen().contents()
    }

    /// Waits until the screen is as it should be.
    #[track_caller]
    pub fn wait_until(&self, what: &str, holds: impl Fn(&str) -> bool) -> String {
        let begun = Instant::now();
        loop {
            let text = self.text();
            if holds(&text) {
                return text;
            }
            assert!(begun.elapsed() < PATIENCE, "{what} does not come:\n{text}");
            sleep(BETWEEN_LOOKS);
        }
    }

    /// Waits until all these words are seen.
    #[track_caller]
    pub fn wait(&self, words: &[&str]) -> String {
        self.wait_until(&format!("{words:?}"), |text| words.iter().all(|word| text.contains(word)))
    }

    /// Types, then waits for what that leads to.
    #[track_caller]
    pub fn press(&mut self, keys: &str, words: &[&str]) -> String {
        self.send(keys).wait(words)
    }

    /// Types an answer, then waits for the next page of the job.
    #[track_caller]
    pub fn answer(&mut self, key: &str) -> String {
        let before = stand(&self.text());
        self.send(key).wait_until("the next page", |text| is_step(text) && stand(text) != before)
    }

    /// From the first page to the first minute.
    #[track_caller]
    pub fn complain(&mut self) {
        self.wait(&["START", "n new job"]);
        self.press("n", &["COMPLAINT"]);
        self.press(COMPLAINT, &["Words: rattles like gravel", "[ ]"]);
        self.press(DOWN, &["▶ [ ]"]);
        self.press(" ", &["▶ [x]"]);
        self.press(ENTER, &["FIRST MINUTE", "question 1 of 2"]);
    }

    /// From the first minute to the first step, one look answered.
    #[track_caller]
    pub fn look_round(&mut self) {
        self.press("2", &["question 2 of 2"]);
        self.press("1", &["WALK ROUND THE PUMP", "LIKELY CAUSES", "LOOKS  0 of"]);
        self.press("n", &["LOOKS  1 of", "Saved: "]);
        self.send("g").wait_until("a step", is_step);
    }

    /// Puts steps off until one asks for a yes or no.
    #[track_caller]
    pub fn go_to_question(&mut self) -> String {
        for _ in 0..20 {
            let text = self.text();
            match place(&text) {
                "QUESTION" => {
                    self.wait(&ANSWER_KEYS);
                    return self.wait(&["h help  q leave"]);
                }
                "READING" => self.answer("."),
                "ISOLATION" => self.answer("a"),
                other => panic!("{other} instead of a question:\n{text}"),
            };
        }
        panic!("no question comes:\n{}", self.text());
    }

    /// From a step to everything said.
    #[track_caller]
    pub fn open_trail(&mut self) -> String {
        self.press("t", &["TRAIL  everything said", COMPLAINT, "ANSWERS, NEWEST FIRST", "b back"])
    }

    /// From the first page to a question.
    #[track_caller]
    pub fn come_to_question(&mut self) -> String {
        self.complain();
        self.look_round();
        self.go_to_question()
    }

    /// Another size of the terminal.
    pub fn resize(&mut self, columns: u16, rows: u16) {
        self.shown.lock().unwrap().parser.set_size(cells(rows), cells(columns));
        self.master.resize(size(columns, rows)).unwrap();
    }

    /// The terminal is gone: its window was shut, its line was cut.
    pub fn vanish(&mut self) {
        self.gone.store(true, Ordering::Relaxed);
        // What is drawn because of that lets the reader notice.
        self.resize(70, 20);
        self.reader.take().unwrap().join().unwrap();
        self.keyboard = Box::new(std::io::sink());
        self.master = native_pty_system().openpty(size(80, 24)).unwrap().master;
    }

    /// The same by lines, where nothing is drawn anew: what is echoed lets the reader notice.
    pub fn vanish_by_lines(&mut self) {
        self.gone.store(true, Ordering::Relaxed);
        self.send("1");
        self.reader.take().unwrap().join().unwrap();
        self.keyboard = Box::new(std::io::sink());
        self.master = native_pty_system().openpty(size(80, 24)).unwrap().master;
    }

    /// True while the program's own page is seen and not the shell's.
    pub fn is_alternate(&self) -> bool {
        self.shown.lock().unwrap().parser.screen().alternate_screen()
    }

    /// Echo, line mode and the rest, as they are now.
    pub fn modes_now(&self) -> String {
        modes_of(self.master.as_ref())
    }

    /// All rows were written over by somebody else.
    pub fn write_over(&self) {
        self.shown.lock().unwrap().parser = vt100::Parser::new(cells(24), cells(80), 0);
    }

    /// Waits until the system says that the program is in this state: `T` stopped, `S` waiting.
    #[track_caller]
    pub fn wait_for_state(&self, wanted: char) {
        let path = format!("/proc/{}/stat", self.program.process_id().unwrap());
        let begun = Instant::now();
        loop {
            let stat = fs::read_to_string(&path).unwrap();
            if stat.rsplit(") ").next().is_some_and(|rest| rest.starts_with(wanted)) {
                return;
            }
            assert!(begun.elapsed() < PATIENCE, "not {wanted}: {stat}");
            sleep(BETWEEN_LOOKS);
        }
    }

    /// Sends the program a signal by its name.
    pub fn signal(&self, name: &str) {
        let number = self.program.process_id().unwrap();
        let sent = Command::new("sh").args(["-c", &format!("kill -{name} {number}")]).status().unwrap();
        assert!(sent.success());
    }

    /// Ends the program without any warning.
    pub fn kill(mut self) {
        let number = self.program.process_id().unwrap();
        let killed = Command::new("sh").args(["-c", &format!("kill -9 {number}")]).status().unwrap();
        assert!(killed.success());
        assert!(!self.wait_for_end());
    }

    /// True if the program says that it ended well.
    #[track_caller]
    pub fn wait_for_end(&mut self) -> bool {
        let begun = Instant::now();
        loop {
            if let Some(status) = self.program.try_wait().unwrap() {
                return status.success();
            }
            assert!(begun.elapsed() < PATIENCE, "the program does not end:\n{}", self.text());
            sleep(BETWEEN_LOOKS);
        }
    }

    /// Waits for the end of the program, then looks at what it left behind.
    #[track_caller]
    pub fn end(mut self) -> Left {
        let success = self.wait_for_end();
        self.reader.take().unwrap().join().unwrap();
        let shown = self.shown.lock().unwrap();
        Left {
            success,
            raw: String::from_utf8_lossy(&shown.raw).into_owned(),
            screen: shown.parser.screen().clone(),
            modes_before: self.modes.clone(),
            modes: modes_of(self.master.as_ref()),
        }
    }
}

impl Drop for Terminal {
    /// A test that fails leaves no program behind.
    fn drop(&mut self) {
        if matches!(self.program.try_wait(), Ok(None)) {
            let _ = self.program.kill();
            let _ = self.program.wait();
        }
    }
}

impl Left {
    /// All that the full screen switches on was switched off again, in the bytes and in their effect.
    #[track_caller]
    pub fn assert_clean(&self) {
        for (on, off) in [("\x1b[?1049h", "\x1b[?1049l"), ("\x1b[?25l", "\x1b[?25h"), ("\x1b[?2004h", "\x1b[?2004l")] {
            let (on_at, off_at) = (self.raw.rfind(on), self.raw.rfind(off));
            assert!(on_at.is_some(), "{on:?} was never sent");
            assert!(on_at < off_at, "{off:?} does not come after {on:?}");
        }
        assert!(!self.screen.alternate_screen(), "still on the alternate screen");
        assert!(!self.screen.hide_cursor(), "the cursor is still hidden");
        assert!(!self.screen.bracketed_paste(), "pasted text still comes in brackets");
        assert_eq!(self.modes, self.modes_before, "echo, line mode and the rest");
    }
}

pub fn modes_of(master: &dyn MasterPty) -> String {
    format!("{:?}", master.get_termios().unwrap())
}

/// Reads what the program writes until it ends.
pub fn read(
    mut from: Box<dyn std::io::Read + Send>,
    shown: Arc<Mutex<Shown>>,
    gone: Arc<AtomicBool>,
) -> JoinHandle<()> {
    std::thread::spawn(move || {
        let mut buffer = [0; 4096];
        while let Ok(many @ 1..) = from.read(&mut buffer) {
            let mut shown = shown.lock().unwrap();
            shown.parser.process(&buffer[..many]);
            shown.raw.extend_from_slice(&buffer[..many]);
            if gone.load(Ordering::Relaxed) {
                return;
            }
        }
    })
}

/// Where the program that panics is. `cargo test --test terminal` alone does not build it, so this does.
pub fn panicking() -> PathBuf {
    let folder = Path::new(PROGRAM).parent().unwrap();
    let mut cargo = Command::new(env!("CARGO"));
    cargo.args(["build", "--quiet", "--locked", "--example", "screen_panic", "--target-dir"]).arg(folder.join(".."));
    if !cfg!(debug_assertions) {
        cargo.arg("--release");
    }
    assert!(cargo.current_dir(env!("CARGO_MANIFEST_DIR")).status().unwrap().success());
    folder.join("examples").join("screen_panic")
}

/// Everything but the header, in which minutes tick.
pub fn below_header(text: &str) -> Vec<&str> {
    text.lines().skip(1).map(str::trim_end).collect()
}

/// The row that names the page.
pub fn head(text: &str) -> &str {
    text.lines().nth(1).unwrap_or_default()
}

/// The capital letters at the head of the page.
pub fn place(text: &str) -> &str {
    head(text).trim().split("  ").next().unwrap_or_default()
}

/// A page of the job that waits for an answer: what is typed from now on counts.
pub fn is_step(text: &str) -> bool {
    matches!(place(text), "QUESTION" | "READING" | "ISOLATION" | "RESULTS")
}

/// What tells one step from the next: its head, and how much was answered.
pub fn stand(text: &str) -> (String, Option<String>) {
    let many = text.lines().find(|line| line.trim_start().starts_with("TRAIL  ")).map(str::to_owned);
    (head(text).to_owned(), many)
}

/// Rows down to the last that shows anything: the key bar stands in the last row of the screen.
pub fn rows_of(text: &str) -> usize {
    text.trim_end().lines().count()
}

/// The only journal of the folder.
pub fn journal(folder: &TempDir) -> String {
    let entries = fs::read_dir(folder.path().join("jobs")).unwrap().map(|entry| entry.unwrap().path());
    let journals: Vec<PathBuf> = entries.filter(|path| path.extension().is_some_and(|end| end == "journal")).collect();
    assert_eq!(journals.len(), 1, "{journals:?}");
    fs::read_to_string(&journals[0]).unwrap()
}
