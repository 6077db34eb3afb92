//! Disks that take no more: standard output on a full device, a file that may not grow, a folder that cannot be written.
//!
//! A really full disk and a medium that can only be read need a mount: `tests/scripts/full_disk.sh`. What a failed write,
//! cut or sync does to a journal is in `src/store/tail.rs`.
#![cfg(target_os = "linux")]
#![allow(clippy::unwrap_used)]

use std::fs::{self, File};
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Output, Stdio};
use weephole::store::{list_jobs, read_events};

const PROGRAM: &str = env!("CARGO_BIN_EXE_weephole");

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// Runs the program with its output on a device that is always full.
fn on_full(words: &[&str], data: &Path, typed: &str) -> Output {
    let full = File::options().write(true).open("/dev/full").unwrap();
    let mut child = Command::new(PROGRAM)
        .arg("--data-dir")
        .arg(data)
        .args(words)
        .stdin(Stdio::piped())
        .stdout(full)
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // A program that ended at once has closed its end already.
    let _ = child.stdin.take().unwrap().write_all(typed.as_bytes());
    child.wait_with_output().unwrap()
}

#[test]
fn what_does_not_arrive_is_said_with_the_exit_code() {
    let data = tempfile::tempdir().unwrap();
    let commands: [&[&str]; 6] = [
        &["jobs"],
        &["jobs", "--json"],
        &["knowledge", "list", "causes"],
        &["knowledge", "check", "--json"],
        &["completions", "bash"],
        &["man"],
    ];
    for words in commands {
        let output = on_full(words, data.path(), "");
        assert_eq!(output.status.code(), Some(1), "{words:?}: {}", said(&output));
        assert!(said(&output).contains("No space left on device"), "{words:?}: {}", said(&output));
    }
    let output = on_full(&["job", "--plain"], data.path(), "it rattles like gravel\n1\n");
    assert_eq!(output.status.code(), Some(1));
    assert!(said(&output).contains("cannot show lines: No space left on device"), "{}", said(&output));
}

/// A file that may not grow past 4 KiB: the program is ended in the middle of a line by the system, as by a power cut. The
/// rest of the job is there and goes on.
#[test]
fn a_journal_that_may_not_grow_loses_nothing_that_was_saved() {
    let data = tempfile::tempdir().unwrap();
    let typed =
        "it rattles like gravel\n1\n2\n\n".to_owned() + &"note it is hot and loud at the outlet side\n".repeat(60);
    let mut child = Command::new("sh")
        .args(["-c", "ulimit -c 0; ulimit -f 8; exec \"$0\" \"$@\"", PROGRAM, "--plain", "--data-dir"])
        .arg(data.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut keyboard = child.stdin.take().unwrap();
    let writer = std::thread::spawn(move || {
        let _ = keyboard.write_all(typed.as_bytes());
    });
    let output = child.wait_with_output().unwrap();
    writer.join().unwrap();
    assert!(!output.status.success());
    let told = String::from_utf8_lossy(&output.stdout).into_owned();
    let acknowledged = told.lines().filter(|line| line.starts_with("Saved")).count();
    let path = list_jobs(data.path()).unwrap().pop().unwrap().path;
    let kept = read_events(&path).unwrap().events.len();
    assert!(3 < acknowledged && acknowledged < kept + 1, "{acknowledged} said to be saved, {kept} kept");
    let again = Command::new(PROGRAM)
        .args(["job", "--plain", "--resume", "1", "--data-dir"])
        .arg(data.path())
        .stdin(Stdio::null())
        .output()
        .unwrap();
    assert!(again.status.success(), "{}", said(&again));
    assert_eq!(read_events(&path).unwrap().flaw, None);
}

/// Places where nothing can be made: the job is not begun, and the message says where and what to do.
#[test]
fn where_nothing_can_be_written_no_job_is_begun() {
    let place = tempfile::tempdir().unwrap();
    fs::write(place.path().join("file"), "x").unwrap();
    for (data, told) in
        [("/proc/weephole", "cannot create the folder /proc/weephole"), ("/dev/null/x", "Not a directory")]
    {
        let output = on_nothing(Path::new(data));
        assert_eq!(output.status.code(), Some(1), "{data}");
        assert!(said(&output).contains(told), "{data}: {}", said(&output));
    }
    let output = on_nothing(&place.path().join("file"));
    assert!(output.status.code() == Some(1) && said(&output).contains("is not a folder"), "{}", said(&output));
}

fn on_nothing(data: &Path) -> Output {
    Command::new(PROGRAM).arg("--plain").arg("--data-dir").arg(data).stdin(Stdio::null()).output().unwrap()
}
