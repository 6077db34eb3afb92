//! Turns "add this line" into a line that is safely on the disk, or into a file that is as it was before.
//!
//! A half-written line must go at once, or the next one would be glued to it. After a failed sync nobody knows what
//! the disk holds (the system may drop the unsaved pages and report success the next time), so writing stops for good.

use std::io::{self, Write};

/// The part of a file that appending needs; tests put a failing disk behind it.
pub(super) trait Medium: Write {
    /// Returns when all written bytes are on the disk.
    fn sync_data(&mut self) -> io::Result<()>;
    /// Cuts the file to `length` bytes and goes on writing there.
    fn cut(&mut self, length: u64) -> io::Result<()>;
}

/// Why a line was not added.
#[derive(Debug)]
pub(super) enum Setback {
    /// The file is as it was before; adding may be tried again.
    Undone(io::Error),
    /// The state of the file is unknown, for the reason given; nothing is added any more.
    Poisoned(String),
}

/// The end of an open journal.
#[derive(Debug)]
pub(super) struct Tail<M> {
    medium: M,
    good_bytes: u64,
    poison: Option<String>,
}

impl<M: Medium> Tail<M> {
    /// Goes on behind the first `good_bytes` of the file, where its cursor must stand.
    pub(super) fn new(medium: M, good_bytes: u64) -> Self {
        Self { medium, good_bytes, poison: None }
    }

    /// Bytes known to be safe.
    pub(super) fn good_bytes(&self) -> u64 {
        self.good_bytes
    }

    /// Adds one whole line and returns when it is on the disk.
    pub(super) fn append(&mut self, line: &[u8]) -> Result<(), Setback> {
        if let Some(reason) = &self.poison {
            return Err(Setback::Poisoned(reason.clone()));
        }
        if let Err(cause) = self.medium.write_all(line) {
            return Err(self.undo(cause));
        }
        if let Err(cause) = self.medium.sync_data() {
            // The cut only keeps the unsaved line from turning up later; whether it works no longer matters.
            let _ = self.medium.cut(self.good_bytes);
            return Err(self.poison(&cause));
        }
        self.good_bytes += line.len() as u64;
        Ok(())
    }

    fn undo(&mut self, cause: io::Error) -> Setback {
        let cut = self.medium.cut(self.good_bytes);
        match cut.and_then(|()| self.medium.sync_data()) {
            Ok(()) => Setback::Undone(cause),
            Err(_) => self.poison(&cause),
        }
    }

    fn poison(&mut self, cause: &io::Error) -> Setback {
        let reason = cause.to_string();
        self.poison = Some(reason.clone());
        Setback::Poisoned(reason)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use std::io::{self, ErrorKind, Write};

    use super::{Medium, Setback, Tail};

    /// A disk that obeys until told otherwise.
    #[derive(Default)]
    struct Disk {
        bytes: Vec<u8>,
        room: Option<usize>,
        at_most: Option<usize>,
        write_error: Option<ErrorKind>,
        sync_fails: bool,
        cut_fails: bool,
    }

    impl Write for Disk {
        fn write(&mut self, line: &[u8]) -> io::Result<usize> {
            let room = self.room.map_or(usize::MAX, |all| all - self.bytes.len());
            let taken = line.len().min(room).min(self.at_most.unwrap_or(usize::MAX));
            if let Some(kind) = self.write_error.filter(|_| taken == 0) {
                return Err(kind.into());
            }
            self.bytes.extend(&line[..taken]);
            Ok(taken)
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    impl Medium for Disk {
        fn sync_data(&mut self) -> io::Result<()> {
            if self.sync_fails { Err(io::Error::other("input/output error")) } else { Ok(()) }
        }

        fn cut(&mut self, length: u64) -> io::Result<()> {
            if self.cut_fails {
                return Err(io::Error::other("cut refused"));
            }
            self.bytes.truncate(usize::try_from(length).unwrap());
            Ok(())
        }
    }

    /// A tail that already holds "one\n".
    fn tail() -> Tail<Disk> {
        let mut tail = Tail::new(Disk::default(), 0);
        tail.append(b"one\n").unwrap();
        tail
    }

    #[test]
    fn short_writes_are_carried_on_to_the_whole_line() {
        let mut tail = tail();
        tail.medium.at_most = Some(1);
        tail.append(b"two\n").unwrap();
        assert_eq!(tail.medium.bytes, b"one\ntwo\n");
        assert_eq!(tail.good_bytes(), 8);
    }

    #[test]
    fn a_full_disk_leaves_no_stray_byte_and_may_be_tried_again() {
        for (room, kind) in [(4, ErrorKind::StorageFull), (5, ErrorKind::StorageFull), (7, ErrorKind::Other)] {
            let mut tail = tail();
            tail.medium.room = Some(room);
            tail.medium.write_error = Some(kind);
            let outcome = tail.append(b"two\n");
            assert!(matches!(outcome, Err(Setback::Undone(cause)) if cause.kind() == kind));
            assert_eq!(tail.medium.bytes, b"one\n");
            tail.medium.room = None;
            tail.append(b"two\n").unwrap();
            assert_eq!(tail.medium.bytes, b"one\ntwo\n");
        }
    }

    #[test]
    fn a_disk_that_takes_nothing_is_an_error_too() {
        let mut tail = tail();
        tail.medium.room = Some(6);
        assert!(matches!(tail.append(b"two\n"), Err(Setback::Undone(_))));
        assert_eq!(tail.medium.bytes, b"one\n");
    }

    #[test]
    fn a_failed_sync_stops_writing_for_good() {
        let mut tail = tail();
        tail.medium.sync_fails = true;
        assert!(matches!(tail.append(b"two\n"), Err(Setback::Poisoned(_))));
        assert_eq!(tail.medium.bytes, b"one\n");
        tail.medium.sync_fails = false;
        let again = tail.append(b"two\n");
        assert!(matches!(again, Err(Setback::Poisoned(reason)) if reason == "input/output error"));
        assert_eq!(tail.medium.bytes, b"one\n");
        assert_eq!(tail.good_bytes(), 4);
    }

    #[test]
    fn a_failed_cut_or_an_unsaved_one_stops_writing_for_good() {
        for cut_fails in [true, false] {
            let mut tail = tail();
            tail.medium.room = Some(6);
            tail.medium.cut_fails = cut_fails;
            tail.medium.sync_fails = !cut_fails;
            assert!(matches!(tail.append(b"two\n"), Err(Setback::Poisoned(_))));
            tail.medium.room = None;
            assert!(matches!(tail.append(b"two\n"), Err(Setback::Poisoned(_))));
        }
    }
}
