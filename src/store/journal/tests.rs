//! Turns journals cut, flipped, locked and swapped for devices into what must come back from them.
#![allow(clippy::unwrap_used)]

use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use proptest::prelude::{ProptestConfig, any, prop_assert, prop_assert_eq};
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};
use tempfile::TempDir;

use super::{Damage, Journal, JournalError, LIMIT, NO_LINE, frame, read_events};
use crate::store::disk::DiskError;
use crate::store::frame::Flaw;
use crate::store::lock::Locked;
use crate::store::tail::Tail;

const EVENTS: [&str; 3] = ["{\"v\":1}", "{\"said\":\"läuft warm\"}", "{\"end\":true}"];

/// The lines of these events, one behind the other.
fn framed(events: &[&str]) -> Vec<String> {
    let mut before = NO_LINE;
    let line = |json: &&str| {
        let (line, check) = frame(before, json);
        before = check;
        line
    };
    events.iter().map(line).collect()
}

/// A folder with a journal of the three events, and the journal's path.
fn three_events() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.journal");
    let mut journal = Journal::create(&path).unwrap();
    for event in EVENTS {
        journal.append(event).unwrap();
    }
    (folder, path)
}

#[test]
fn events_come_back_in_order_and_can_be_continued() {
    let (_folder, path) = three_events();
    let (mut journal, events, torn) = Journal::open(&path).unwrap();
    assert_eq!((events.as_slice(), torn), (&EVENTS.map(str::to_owned)[..], None));
    assert_eq!(journal.path(), path);
    journal.append("4").unwrap();
    drop(journal);
    let (_journal, events, _) = Journal::open(&path).unwrap();
    assert_eq!(events.len(), 4);
}

#[test]
fn cut_at_each_byte_of_its_last_record_the_earlier_ones_return() {
    let lines = framed(&EVENTS);
    let whole = lines.concat();
    let start = whole.len() - lines[2].len();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.journal");
    for length in start..whole.len() {
        fs::write(&path, &whole.as_bytes()[..length]).unwrap();
        let (mut journal, events, torn) = Journal::open(&path).unwrap();
        assert_eq!(events, EVENTS[..2]);
        if let Some(torn) = &torn {
            assert_eq!((torn.line, torn.bytes), (3, length - start));
            assert_eq!(fs::read(&torn.kept_in).unwrap(), &whole.as_bytes()[start..length]);
        }
        assert_eq!(torn.is_some(), start < length);
        journal.append("9").unwrap();
        let expected = framed(&[EVENTS[0], EVENTS[1], "9"]).concat();
        assert_eq!(fs::read_to_string(&path).unwrap(), expected);
    }
}

#[test]
fn a_first_record_cut_anywhere_gives_an_empty_journal() {
    let whole = framed(&EVENTS[..1]).concat();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.journal");
    for length in 0..whole.len() {
        fs::write(&path, &whole.as_bytes()[..length]).unwrap();
        let (_journal, events, torn) = Journal::open(&path).unwrap();
        assert!(events.is_empty());
        assert_eq!(torn.is_some(), 0 < length);
    }
}

#[test]
fn one_stray_byte_is_set_aside_under_a_fresh_name_each_time() {
    let (folder, path) = three_events();
    for name in ["a.journal.torn", "a.journal.torn.2"] {
        fs::OpenOptions::new().append(true).open(&path).unwrap().write_all(b"7").unwrap();
        let (_journal, events, torn) = Journal::open(&path).unwrap();
        assert_eq!(events, EVENTS);
        assert_eq!(torn.unwrap().kept_in, folder.path().join(name));
        assert_eq!(fs::read(folder.path().join(name)).unwrap(), b"7");
    }
}

#[test]
fn a_bad_check_in_the_last_line_is_a_torn_tail() {
    let (_folder, path) = three_events();
    flip(&path, 2);
    let (_journal, events, torn) = Journal::open(&path).unwrap();
    assert_eq!(events, EVENTS[..2]);
    assert_eq!(torn.unwrap().line, 3);
}

#[test]
fn damage_in_the_middle_is_reported_and_the_file_left_alone() {
    let (folder, path) = three_events();
    flip(&path, 1);
    let before = fs::read(&path).unwrap();
    let (mut journal, events, torn) = Journal::open(&path).unwrap();
    assert_eq!(events, EVENTS[..1]);
    assert_eq!(torn, None);
    let (line, good_after) = (2, 1);
    assert_eq!(journal.damage(), Some(Damage { line, good_after }));
    assert!(matches!(journal.append("5"), Err(JournalError::Damaged { line: 2, .. })));
    assert_eq!(fs::read(&path).unwrap(), before);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

#[test]
fn a_first_line_beyond_recognition_is_damage_when_good_ones_follow() {
    let (_folder, path) = three_events();
    let mut bytes = fs::read(&path).unwrap();
    bytes[0] = b'?';
    fs::write(&path, &bytes).unwrap();
    let (journal, events, _) = Journal::open(&path).unwrap();
    assert!(events.is_empty());
    // The second line hangs on the first, of which nothing can be read.
    let (line, good_after) = (1, 1);
    assert_eq!(journal.damage(), Some(Damage { line, good_after }));
    assert_eq!(fs::read(&path).unwrap(), bytes);
}

/// Flips one bit inside the JSON of a line (from 0).
fn flip(path: &Path, line: usize) {
    let mut bytes = fs::read(path).unwrap();
    let start: usize = framed(&EVENTS)[..line].iter().map(String::len).sum();
    bytes[start + 11] ^= 1;
    fs::write(path, bytes).unwrap();
}

#[test]
fn a_second_opening_is_told_busy_but_may_look() {
    let (_folder, path) = three_events();
    let (journal, ..) = Journal::open(&path).unwrap();
    assert!(matches!(Journal::open(&path), Err(JournalError::Busy { .. })));
    assert_eq!(read_events(&path).unwrap().events, EVENTS);
    drop(journal);
    Journal::open(&path).unwrap();
}

#[test]
fn looking_repairs_nothing() {
    let (_folder, path) = three_events();
    fs::OpenOptions::new().append(true).open(&path).unwrap().write_all(b"7").unwrap();
    let before = fs::read(&path).unwrap();
    let found = read_events(&path).unwrap();
    assert_eq!(found.flaw, Some(Flaw::Torn { line: 4, bytes: 1 }));
    assert_eq!(fs::read(&path).unwrap(), before);
}

#[test]
fn an_existing_file_is_never_overwritten_by_a_new_journal() {
    let (_folder, path) = three_events();
    assert!(matches!(Journal::create(&path), Err(JournalError::Exists { .. })));
    assert_eq!(read_events(&path).unwrap().events.len(), 3);
}

#[test]
fn a_text_file_is_left_as_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("letter.txt");
    fs::write(&path, "Dear all").unwrap();
    assert!(matches!(Journal::open(&path), Err(JournalError::NotAJournal { .. })));
    assert_eq!(fs::read_to_string(&path).unwrap(), "Dear all");
}

#[test]
fn an_entry_of_several_lines_is_refused() {
    let (_folder, path) = three_events();
    let (mut journal, ..) = Journal::open(&path).unwrap();
    for bad in ["", "{\n}", "{\r}", "\u{0}"] {
        assert!(matches!(journal.append(bad), Err(JournalError::NotOneLine { .. })));
    }
    journal.append("4").unwrap();
}

#[test]
fn a_journal_neither_grows_nor_is_read_past_its_cap() {
    let (_folder, path) = three_events();
    let file = fs::OpenOptions::new().write(true).open(&path).unwrap();
    file.set_len(LIMIT + 1).unwrap();
    let outcome = Journal::open(&path);
    assert!(matches!(outcome, Err(JournalError::Disk(DiskError::TooLarge { .. }))));
    let tail = Tail::new(Locked::wait_for(file).unwrap(), LIMIT - 5);
    let mut full = Journal { path, tail, last_check: NO_LINE, damage: None };
    assert!(matches!(full.append("4"), Err(JournalError::Full { .. })));
}

#[test]
fn folders_and_missing_files_are_clear_errors() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(not_a_file(folder.path()), "a folder");
    let missing = Journal::open(&folder.path().join("none")).unwrap_err();
    assert!(matches!(missing, JournalError::Disk(DiskError::Io { doing: "open", .. })));
}

#[cfg(unix)]
#[test]
fn devices_pipes_and_sockets_are_refused_unopened() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(not_a_file(Path::new("/dev/full")), "a device");
    assert_eq!(not_a_file(Path::new("/dev/zero")), "a device");
    let socket = folder.path().join("socket");
    let _open = std::os::unix::net::UnixListener::bind(&socket).unwrap();
    assert_eq!(not_a_file(&socket), "a socket");
    let pipe = folder.path().join("pipe");
    if Command::new("mkfifo").arg(&pipe).status().is_ok_and(|status| status.success()) {
        assert_eq!(not_a_file(&pipe), "a pipe");
    }
}

/// What kind of thing opening `path` was refused for.
fn not_a_file(path: &Path) -> &'static str {
    match (Journal::open(path), read_events(path)) {
        (Err(JournalError::Disk(DiskError::NotAFile { what, .. })), Err(_)) => what,
        _ => "accepted",
    }
}

#[cfg(unix)]
#[test]
fn journals_and_their_torn_tails_are_for_their_owner_only() {
    use std::os::unix::fs::PermissionsExt;
    let (folder, path) = three_events();
    fs::OpenOptions::new().append(true).open(&path).unwrap().write_all(b"7").unwrap();
    Journal::open(&path).unwrap();
    for entry in fs::read_dir(folder.path()).unwrap() {
        let mode = entry.unwrap().metadata().unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o600);
    }
}

const CHILD_WRITES_TO: &str = "JOURNAL_TEST_CHILD_WRITES_TO";

/// Not a test of its own: the process that [`no_saved_entry_is_lost_to_a_kill`] kills.
#[test]
fn child_that_writes_until_killed() {
    let Some(path) = std::env::var_os(CHILD_WRITES_TO) else {
        return;
    };
    let mut journal = Journal::create(Path::new(&path)).unwrap();
    let mut said = std::io::stdout();
    for number in 0_u32.. {
        journal.append(&number.to_string()).unwrap();
        said.write_all(b"\nsaved\n").unwrap();
        said.flush().unwrap();
    }
}

#[test]
fn no_saved_entry_is_lost_to_a_kill() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("killed.journal");
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["child_that_writes_until_killed", "--nocapture"])
        .env(CHILD_WRITES_TO, &path)
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let lines = BufReader::new(child.stdout.take().unwrap()).lines();
    let saved = lines.map_while(Result::ok).filter(|line| line == "saved").take(25).count();
    assert_eq!(saved, 25, "the child stopped by itself");
    assert!(matches!(Journal::open(&path), Err(JournalError::Busy { .. })));
    child.kill().unwrap();
    child.wait().unwrap();
    let (_journal, events, _torn) = Journal::open(&path).unwrap();
    assert!(saved <= events.len());
    assert!(events.iter().enumerate().all(|(number, json)| *json == number.to_string()));
}

/// One thing that can happen to the bytes of a file.
#[derive(Debug, Clone, Copy)]
enum Harm {
    Cut,
    Flip,
    Byte,
    Twice,
    Gone,
    Moved,
    Hole,
    Put,
}

const HARMS: [Harm; 8] =
    [Harm::Cut, Harm::Flip, Harm::Byte, Harm::Twice, Harm::Gone, Harm::Moved, Harm::Hole, Harm::Put];

/// Does it at a place that two numbers choose.
fn harm(lines: &[String], harm: Harm, (a, b): (usize, usize)) -> Vec<u8> {
    let mut bytes = lines.concat().into_bytes();
    let mut order: Vec<usize> = (0..lines.len()).collect();
    let (at, line, other) = (a % bytes.len(), a % lines.len(), b % lines.len());
    let put = |order: &[usize]| order.iter().map(|&at| lines[at].as_str()).collect::<String>().into_bytes();
    match harm {
        Harm::Cut => bytes.truncate(at),
        Harm::Flip => bytes[at] ^= 1 << (b % 8),
        Harm::Byte => bytes[at] = u8::try_from(b % 256).unwrap(),
        Harm::Hole => drop(bytes.drain(at..(at + 1 + b % 40).min(lines.concat().len()))),
        Harm::Put => bytes.insert(at, u8::try_from(b % 256).unwrap()),
        Harm::Twice => order.insert(other, line),
        Harm::Gone => drop(order.remove(line)),
        Harm::Moved => {
            let taken = order.remove(line);
            order.insert(other.min(order.len()), taken);
        }
    }
    if matches!(harm, Harm::Twice | Harm::Gone | Harm::Moved) { put(&order) } else { bytes }
}

/// Whatever happens to a journal of twelve entries: what is given out is how it began, the rest is reported and kept to the
/// byte, and no entry is given out that was not saved, twice, or in another place.
#[test]
fn whatever_happens_to_a_journal_is_reported_and_kept() {
    let events: Vec<String> = (0..12).map(|n| format!("{{\"n\":{},\"said\":\"läuft {n}\"}}", n % 5)).collect();
    let events: Vec<&str> = events.iter().map(String::as_str).collect();
    let lines = framed(&events);
    let whole = lines.concat().into_bytes();
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]);
    let mut runner = TestRunner::new_with_rng(ProptestConfig { cases: 2000, ..ProptestConfig::default() }, rng);
    let folder = tempfile::tempdir().unwrap();
    let strategy = (proptest::sample::select(&HARMS[..]), any::<usize>(), any::<usize>());
    let count = std::cell::Cell::new(0);
    let outcome = runner.run(&strategy, |(what, a, b)| {
        count.set(count.get() + 1);
        let place = folder.path().join(count.get().to_string());
        fs::create_dir(&place).unwrap();
        let path = place.join("a.journal");
        let harmed = harm(&lines, what, (a, b));
        fs::write(&path, &harmed).unwrap();
        let Ok((journal, found, torn)) = Journal::open(&path) else {
            // Refused as no journal: the first line is beyond recognition. It is left as it is.
            prop_assert!(fs::read(&path).unwrap() == harmed && !harmed.starts_with(lines[0].as_bytes()));
            return Ok(());
        };
        let good = found.len();
        prop_assert!(good <= events.len() && found.iter().zip(&events).all(|(a, b)| a == b), "{found:?}");
        let is_reported = torn.is_some() || journal.damage().is_some();
        // A cut between two lines cannot be seen, nor can the loss of the last line: nothing tells where a journal ends.
        let at_a_line_end = whole.starts_with(&harmed) && (harmed.is_empty() || harmed.ends_with(b"\n"));
        prop_assert_eq!(is_reported, !at_a_line_end);
        let kept = fs::read(&path).unwrap();
        if let Some(torn) = torn {
            prop_assert_eq!([kept, fs::read(torn.kept_in).unwrap()].concat(), harmed);
        } else {
            prop_assert_eq!(kept, harmed);
        }
        Ok(())
    });
    outcome.unwrap();
}
