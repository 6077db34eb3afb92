//! Turns a job's events into a file that outlives crashes, and that file back into the events.
//!
//! An event counts as saved only when [`Journal::append`] has returned `Ok`. While a journal is open it is locked
//! against other processes; the lock is advisory and unreliable on some network shares, so keep jobs on a local disk.

use std::fs::{File, OpenOptions};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use thiserror::Error;

use super::disk::{
    DiskError, advice, create_private, failed, folder_of, open_regular, read_capped, shown, sync_folder,
};
use super::frame::{Flaw, NO_LINE, Scan, could_be_a_journal, frame, scan};
use super::lock::Locked;
use super::repair::set_aside;
use super::tail::{Setback, Tail};

/// No journal is read or grown past this.
const LIMIT: u64 = 64 * 1024 * 1024;

/// One job's file, open and locked.
#[derive(Debug)]
pub struct Journal {
    path: PathBuf,
    /// Keeps the lock even when damage forbids writing.
    tail: Tail<Locked>,
    /// The check of the last line: the next one hangs on it.
    last_check: u32,
    damage: Option<Damage>,
}

/// A line in the middle of a journal that fails its check.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Damage {
    /// Line number, from 1.
    pub line: usize,
    /// How many lines after it are good (they are not given out: events build on each other).
    pub good_after: usize,
}

/// An unfinished last line that was set aside.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TornTail {
    /// Line number, from 1.
    pub line: usize,
    /// Length of what was cut off.
    pub bytes: usize,
    /// Where those bytes were copied to.
    pub kept_in: PathBuf,
}

/// Why a journal cannot be opened, or an event not be saved.
#[derive(Debug, Error)]
pub enum JournalError {
    /// The disk refused, or the path leads to no ordinary file.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// A new journal would overwrite a file.
    #[error("{} already exists; open it, or choose another name", shown(path))]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// Another process has it open.
    #[error("{} is open in another window; close it there first", shown(path))]
    Busy {
        /// The journal.
        path: PathBuf,
    },
    /// The file holds something else.
    #[error("{} is not a job journal and was left as it is; name another file", shown(path))]
    NotAJournal {
        /// The file.
        path: PathBuf,
    },
    /// An entry is damaged, so nothing may be added.
    #[error(
        "{} is damaged in line {line} and can only be read; restore it from a copy, or start a new job",
        shown(path)
    )]
    Damaged {
        /// The journal.
        path: PathBuf,
        /// Line number, from 1.
        line: usize,
    },
    /// The entry was not saved; the journal is as it was before.
    #[error("the entry was not saved in {}: {cause}; {}", shown(path), advice(cause))]
    NotSaved {
        /// The journal.
        path: PathBuf,
        /// The system's answer.
        cause: io::Error,
    },
    /// The entry, and every later one, was not saved.
    #[error(
        "the entry was not saved in {}, which takes no more entries: {reason}; check the disk, then open the job again",
        shown(path)
    )]
    Poisoned {
        /// The journal.
        path: PathBuf,
        /// The first failure.
        reason: String,
    },
    /// The event's text would not fit on one line.
    #[error("the entry for {} is empty or holds control characters; write it as one line of JSON", shown(path))]
    NotOneLine {
        /// The journal.
        path: PathBuf,
    },
    /// The journal would become too long to be opened again.
    #[error("{} is full ({LIMIT} bytes); close this job and start a new one", shown(path))]
    Full {
        /// The journal.
        path: PathBuf,
    },
}

/// The events of a journal that may be open elsewhere: takes no lock, repairs nothing.
pub fn read_events(path: &Path) -> Result<Scan, JournalError> {
    let file = open_regular(path, OpenOptions::new().read(true), LIMIT)?;
    let bytes = read_capped(&file, path, LIMIT)?;
    recognised(path, &bytes)
}

impl Journal {
    /// Creates an empty journal where no file is yet, for its owner's eyes only.
    pub fn create(path: &Path) -> Result<Self, JournalError> {
        let file = create_private(path).map_err(|error| {
            let taken = error.is(ErrorKind::AlreadyExists);
            let path = path.to_owned();
            if taken { JournalError::Exists { path } } else { error.into() }
        })?;
        let file = lock(path, file)?;
        sync_folder(folder_of(path))?;
        Ok(Self { path: path.to_owned(), tail: Tail::new(file, 0), last_check: NO_LINE, damage: None })
    }

    /// Opens a journal and gives its events; an unfinished last line is set aside and reported.
    ///
    /// With damage in the middle it gives the events before it, leaves the file alone, and [`Journal::damage`] tells.
    pub fn open(path: &Path) -> Result<(Self, Vec<String>, Option<TornTail>), JournalError> {
        let file = open_regular(path, OpenOptions::new().read(true).write(true), LIMIT)?;
        let mut file = lock(path, file)?;
        let all = read_capped(file.file(), path, LIMIT)?;
        let found = recognised(path, &all)?;
        let good_bytes = found.good_bytes as u64;
        let (mut torn, mut damage) = (None, None);
        match found.flaw {
            None => {}
            Some(Flaw::Damaged { line, good_after }) => damage = Some(Damage { line, good_after }),
            Some(Flaw::Torn { line, bytes }) => {
                let stray = all.get(found.good_bytes..).unwrap_or_default();
                let kept_in = set_aside(path, &mut file, stray, good_bytes)?;
                torn = Some(TornTail { line, bytes, kept_in });
            }
        }
        let (path, tail) = (path.to_owned(), Tail::new(file, good_bytes));
        Ok((Self { path, tail, last_check: found.last_check, damage }, found.events, torn))
    }

    /// Saves one event; when this returns `Ok` it is on the disk.
    pub fn append(&mut self, json: &str) -> Result<(), JournalError> {
        let path = || self.path.clone();
        if let Some(Damage { line, .. }) = self.damage {
            return Err(JournalError::Damaged { path: path(), line });
        }
        if json.is_empty() || json.bytes().any(|byte| byte < b' ') {
            return Err(JournalError::NotOneLine { path: path() });
        }
        let (line, check) = frame(self.last_check, json);
        if LIMIT < self.tail.good_bytes() + line.len() as u64 {
            return Err(JournalError::Full { path: path() });
        }
        self.tail.append(line.as_bytes()).map_err(|setback| setback_at(path(), setback))?;
        self.last_check = check;
        Ok(())
    }

    /// Where the file stands.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The damage because of which this journal can only be read.
    pub fn damage(&self) -> Option<Damage> {
        self.damage
    }
}

/// Scans the bytes, unless they are plainly no journal: those must not be "repaired".
fn recognised(path: &Path, bytes: &[u8]) -> Result<Scan, JournalError> {
    let found = scan(bytes);
    let good_after = match found.flaw {
        Some(Flaw::Damaged { good_after, .. }) => good_after,
        _ => 0,
    };
    if found.events.is_empty() && good_after == 0 && !could_be_a_journal(bytes) {
        let path = path.to_owned();
        return Err(JournalError::NotAJournal { path });
    }
    Ok(found)
}

fn setback_at(path: PathBuf, setback: Setback) -> JournalError {
    match setback {
        Setback::Undone(cause) => JournalError::NotSaved { path, cause },
        Setback::Poisoned(reason) => JournalError::Poisoned { path, reason },
    }
}

fn lock(path: &Path, file: File) -> Result<Locked, JournalError> {
    let locked = Locked::try_take(file).map_err(failed("lock", path))?;
    let path = path.to_owned();
    locked.ok_or(JournalError::Busy { path })
}

#[cfg(test)]
mod tests;
