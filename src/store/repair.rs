//! Turns a journal with an unfinished last line into one that ends after its last good line, and keeps the rest aside.
//!
//! The copy is safe on the disk before anything is cut, so no byte is ever in neither place.

use std::fs::{self, File};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use super::disk::{DiskError, create_private, failed, folder_of, sync_folder};
use super::lock::Locked;
use super::tail::Medium;

/// Most torn tails kept beside one journal.
const MOST: u32 = 999;

/// Moves the bytes behind the first `good_bytes` to a file of their own, and gives its path.
pub(super) fn set_aside(
    journal: &Path,
    file: &mut Locked,
    stray: &[u8],
    good_bytes: u64,
) -> Result<PathBuf, DiskError> {
    let (copy, path) = fresh_copy(journal)?;
    if let Err(cause) = save(copy, stray) {
        // An incomplete copy is worth nothing, and the journal still has the bytes.
        let _ = fs::remove_file(&path);
        return Err(failed("write", &path)(cause));
    }
    sync_folder(folder_of(&path))?;
    file.cut(good_bytes).map_err(failed("repair", journal))?;
    file.sync_data().map_err(failed("repair", journal))?;
    Ok(path)
}

/// A new file `NAME.torn`, or `NAME.torn.2` and so on where one exists.
fn fresh_copy(journal: &Path) -> Result<(File, PathBuf), DiskError> {
    let mut count = 1;
    loop {
        let mut name = journal.as_os_str().to_owned();
        name.push(".torn");
        if 1 < count {
            name.push(format!(".{count}"));
        }
        let path = PathBuf::from(name);
        match create_private(&path) {
            Ok(file) => return Ok((file, path)),
            Err(error) if count < MOST && error.is(ErrorKind::AlreadyExists) => count += 1,
            Err(error) => return Err(error),
        }
    }
}

fn save(mut copy: File, bytes: &[u8]) -> io::Result<()> {
    copy.write_all(bytes)?;
    copy.sync_all()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use std::fs::{self, OpenOptions};

    use super::{Locked, set_aside};

    #[test]
    fn the_bytes_move_and_an_earlier_copy_stays() {
        let folder = tempfile::tempdir().unwrap();
        let journal = folder.path().join("a");
        fs::write(folder.path().join("a.torn"), "earlier").unwrap();
        fs::write(&journal, "good\nba").unwrap();
        let open = OpenOptions::new().write(true).open(&journal).unwrap();
        let path = set_aside(&journal, &mut Locked::wait_for(open).unwrap(), b"ba", 5).unwrap();
        assert_eq!(path, folder.path().join("a.torn.2"));
        assert_eq!(fs::read(path).unwrap(), b"ba");
        assert_eq!(fs::read(journal).unwrap(), b"good\n");
        assert_eq!(fs::read(folder.path().join("a.torn")).unwrap(), b"earlier");
    }

    #[test]
    fn nothing_is_cut_when_the_copy_cannot_be_made() {
        let folder = tempfile::tempdir().unwrap();
        let journal = folder.path().join("a");
        fs::write(&journal, "good\nba").unwrap();
        let open = OpenOptions::new().write(true).open(&journal).unwrap();
        let elsewhere = folder.path().join("missing/a");
        set_aside(&elsewhere, &mut Locked::wait_for(open).unwrap(), b"ba", 5).unwrap_err();
        assert_eq!(fs::read(journal).unwrap(), b"good\nba");
    }
}
