//! Any bytes as a journal, and any lines as the events of a job: nothing good is lost or made up, and every job shows.

use super::job::{finite, look_at, record};
use super::{shown, small};
use std::fmt::Write as _;
use std::rc::Rc;
use weephole::job::{Entry, Event, Job, JobSummary, PumpNote, Sitting};
use weephole::learning::{Reader, rows};
use weephole::store::{Flaw, scan};

pub fn target(data: &[u8]) {
    any_bytes(data);
    let text = String::from_utf8_lossy(data);
    let lines: Vec<&str> = text.lines().filter(|line| !line.is_empty() && line.bytes().all(|b| b' ' <= b)).collect();
    framed(&lines, data);
    played(&lines);
}

/// The framing as documented, done here a second time: each check hangs on the digits of the one before.
fn framed_lines<'l>(lines: impl IntoIterator<Item = &'l str>) -> String {
    let mut before = 0;
    let mut text = String::new();
    for json in lines {
        before = crc32fast::hash(format!("{before:08x}{json}").as_bytes());
        let _ = writeln!(text, "{before:08x} {json}");
    }
    text
}

fn any_bytes(data: &[u8]) {
    let found = scan(data);
    let read: Vec<&[u8]> = data.split_inclusive(|byte| *byte == b'\n').take(found.events.len()).collect();
    assert_eq!(read.concat().len(), found.good_bytes);
    assert!(read.iter().zip(&found.events).all(|(line, json)| line.get(9..line.len() - 1) == Some(json.as_bytes())));
    assert_eq!(found.flaw.is_none(), found.good_bytes == data.len());
    if let Some(Flaw::Torn { bytes, .. }) = found.flaw {
        assert_eq!(found.good_bytes + bytes, data.len());
    }
}

/// What was framed is read back; with one byte changed, what is read is a beginning of it.
fn framed(lines: &[&str], data: &[u8]) {
    let mut bytes = framed_lines(lines.iter().copied()).into_bytes();
    assert_eq!(scan(&bytes).events, lines);
    if bytes.is_empty() {
        return;
    }
    let at = crc32fast::hash(data) as usize % bytes.len();
    bytes[at] ^= 1 << (data.len() % 8);
    let found = scan(&bytes);
    assert!(found.flaw.is_some() && found.events.len() < lines.len());
    assert!(found.events.iter().zip(lines).all(|(read, line)| read == line));
}

/// The lines that are entries, as a job; an opening is put before them if they have none.
fn played(lines: &[&str]) {
    let mut entries: Vec<Entry> = lines.iter().filter_map(|line| serde_json::from_str(line).ok()).take(30).collect();
    for entry in &entries {
        let written = serde_json::to_string(entry).expect("what was read can be written");
        assert_eq!(serde_json::from_str::<Entry>(&written).as_ref().ok(), Some(entry), "{written}");
    }
    if entries.is_empty() {
        return;
    }
    let knowledge = small();
    if !matches!(entries[0].event, Event::Opened { .. }) {
        let at = entries[0].at;
        entries.insert(0, Entry { at, event: Event::opened("bench", ("fuzz", "0"), Some(PumpNote::default())) });
    }
    let first = serde_json::to_string(&entries[0]).unwrap_or_default();
    let summary = JobSummary::of(&first, &entries);
    let mut folded = Job::default();
    for entry in &entries {
        folded.apply(entry.clone());
    }
    let whole = match Sitting::new(Rc::clone(&knowledge), entries.clone()) {
        Ok(whole) => whole,
        Err(error) => return shown(&error.to_string()),
    };
    assert!(summary.is_some());
    assert_eq!(whole.job, folded);
    look_at(&whole);
    record(&whole, entries.len());
    let taught = Reader::new(&knowledge).read(&first, &entries).expect("it begins with an opening");
    for row in rows(&taught) {
        finite(&row);
    }
}
