//! Turns an open file into one that no other process of this program may open meanwhile.
//!
//! The lock is given back by name, not just by closing: a child process started at the wrong moment holds a copy of
//! the open file for an instant, and the lock would live as long as that copy.

use std::fs::{File, TryLockError};
use std::io::{self, Seek, SeekFrom, Write};

use super::tail::Medium;

/// An open file under lock; dropping it gives the lock back.
#[derive(Debug)]
pub(super) struct Locked(File);

impl Locked {
    /// The file under lock, or none when somebody else has it.
    pub(super) fn try_take(file: File) -> io::Result<Option<Self>> {
        match file.try_lock() {
            Ok(()) => Ok(Some(Self(file))),
            Err(TryLockError::WouldBlock) => Ok(None),
            Err(TryLockError::Error(cause)) => Err(cause),
        }
    }

    /// The file under lock, after waiting for everybody before us.
    pub(super) fn wait_for(file: File) -> io::Result<Self> {
        file.lock()?;
        Ok(Self(file))
    }

    /// The file, for reading.
    pub(super) fn file(&self) -> &File {
        &self.0
    }
}

impl Drop for Locked {
    fn drop(&mut self) {
        // A lock that cannot be given back goes when the file is closed.
        let _ = self.0.unlock();
    }
}

impl Write for Locked {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.0.flush()
    }
}

impl Medium for Locked {
    fn sync_data(&mut self) -> io::Result<()> {
        self.0.sync_data()
    }

    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.0.set_len(length)?;
        self.0.seek(SeekFrom::Start(length)).map(|_| ())
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use std::fs::File;

    use super::Locked;

    #[test]
    fn a_lock_goes_with_its_owner_even_if_a_copy_of_the_file_stays_open() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a");
        let owner = Locked::wait_for(File::create(&path).unwrap()).unwrap();
        let _copy = owner.file().try_clone().unwrap();
        assert!(Locked::try_take(File::open(&path).unwrap()).unwrap().is_none());
        drop(owner);
        assert!(Locked::try_take(File::open(&path).unwrap()).unwrap().is_some());
    }
}
