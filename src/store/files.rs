//! Turns a path into checked text, and text into a file that is either the old one or the new one, never a mixture.

use std::fs::{self, File, OpenOptions, Permissions};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use tempfile::{Builder, NamedTempFile};
use thiserror::Error;

use super::disk::{DiskError, check_regular, failed, folder_of, open_regular, read_capped, shown, sync_folder};

/// Why a text could not be read.
#[derive(Debug, Error)]
pub enum ReadError {
    /// The disk refused, the path leads to no ordinary file, or there is too much of it.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// The bytes are no UTF-8 text.
    #[error("{} is not UTF-8 text at byte {byte} (line {line}); save it again as UTF-8", shown(path))]
    NotUtf8 {
        /// The file.
        path: PathBuf,
        /// Offset of the first bad byte, from 0.
        byte: usize,
        /// Line of that byte, from 1.
        line: usize,
    },
}

/// Why a text could not be saved; the old file is as it was before.
#[derive(Debug, Error)]
pub enum WriteError {
    /// The disk refused, or the path leads to no ordinary file.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// The path is a link to nowhere.
    #[error("{} is a link to a file that does not exist; remove the link or name the file", shown(path))]
    DanglingLink {
        /// The link.
        path: PathBuf,
    },
    /// Somebody protected the file.
    #[error("{} is marked read-only; allow writing to it, or save under another name", shown(path))]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
}

/// The text of an ordinary file of at most `limit_bytes`; a byte order mark in front is dropped.
pub fn read_text(path: &Path, limit_bytes: u64) -> Result<String, ReadError> {
    let file = open_regular(path, OpenOptions::new().read(true), limit_bytes)?;
    let bytes = read_capped(&file, path, limit_bytes)?;
    let mut text = String::from_utf8(bytes).map_err(|error| {
        let byte = error.utf8_error().valid_up_to();
        let before = error.as_bytes().iter().take(byte);
        let line = 1 + before.filter(|&&byte| byte == b'\n').count();
        let path = path.to_owned();
        ReadError::NotUtf8 { path, byte, line }
    })?;
    if text.starts_with('\u{feff}') {
        text.remove(0);
    }
    Ok(text)
}

/// Replaces the file, or creates it: whoever looks, even after a power cut, finds all of the old text or all of the new.
///
/// The old permissions are kept and a link is followed; another hard link to the file keeps the old text.
pub fn write_atomic(path: &Path, text: &str) -> Result<(), WriteError> {
    let target = resolve(path)?;
    let old = old_permissions(&target)?;
    let folder = folder_of(&target);
    let mut fresh = temporary(folder).map_err(failed("write in", folder))?;
    fresh.as_file_mut().write_all(text.as_bytes()).map_err(failed("write", &target))?;
    save(fresh.as_file(), old).map_err(failed("write", &target))?;
    let replaced = fresh.persist(&target).map_err(|error| error.error);
    replaced.map_err(failed("replace", &target))?;
    sync_folder(folder)?;
    Ok(())
}

/// Follows links to the file they mean, so that the link itself stays.
fn resolve(path: &Path) -> Result<PathBuf, WriteError> {
    match fs::canonicalize(path) {
        Ok(target) => Ok(target),
        Err(cause) if cause.kind() != ErrorKind::NotFound => Err(failed("write", path)(cause).into()),
        Err(_) if path.is_symlink() => Err(WriteError::DanglingLink { path: path.to_owned() }),
        Err(_) => Ok(path.to_owned()),
    }
}

/// The permissions of the file to be replaced; none when it is new.
fn old_permissions(target: &Path) -> Result<Option<Permissions>, WriteError> {
    let found = match fs::metadata(target) {
        Ok(found) => found,
        Err(cause) if cause.kind() == ErrorKind::NotFound => return Ok(None),
        Err(cause) => return Err(failed("write", target)(cause).into()),
    };
    check_regular(target, &found, u64::MAX)?;
    if found.permissions().readonly() {
        let path = target.to_owned();
        return Err(WriteError::ReadOnly { path });
    }
    Ok(Some(found.permissions()))
}

/// A file beside the target: renaming is atomic only within one disk. The name is hidden from listings.
fn temporary(folder: &Path) -> std::io::Result<NamedTempFile> {
    let mut builder = Builder::new();
    builder.prefix(".unsaved-").suffix(".tmp");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666)); // less the user's umask
    builder.tempfile_in(folder)
}

fn save(file: &File, permissions: Option<Permissions>) -> std::io::Result<()> {
    if let Some(permissions) = permissions {
        file.set_permissions(permissions)?;
    }
    file.sync_all()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use std::fs;
    use std::path::Path;

    use super::{ReadError, WriteError, read_text, write_atomic};
    use crate::store::disk::DiskError;

    #[test]
    fn text_is_read_up_to_its_limit_and_not_a_byte_further() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        fs::write(&path, "12345").unwrap();
        assert_eq!(read_text(&path, 5).unwrap(), "12345");
        let outcome = read_text(&path, 4);
        assert!(matches!(outcome, Err(ReadError::Disk(DiskError::TooLarge { limit: 4, .. }))));
    }

    #[test]
    fn a_byte_order_mark_is_dropped() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        fs::write(&path, "\u{feff}(a: 1)").unwrap();
        assert_eq!(read_text(&path, 100).unwrap(), "(a: 1)");
    }

    #[test]
    fn foreign_bytes_are_named_by_offset_and_line() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        fs::write(&path, b"one\ntwo\nth\xffee").unwrap();
        let error = read_text(&path, 100).unwrap_err();
        assert!(matches!(error, ReadError::NotUtf8 { byte: 10, line: 3, .. }));
        assert!(error.to_string().ends_with("at byte 10 (line 3); save it again as UTF-8"));
    }

    #[test]
    fn what_is_no_ordinary_file_is_neither_read_nor_replaced() {
        let folder = tempfile::tempdir().unwrap();
        let mut odd = vec![folder.path()];
        if cfg!(target_os = "linux") {
            odd.extend(["/dev/zero", "/dev/full"].map(Path::new));
        }
        for path in odd {
            let read = read_text(path, 100);
            assert!(matches!(read, Err(ReadError::Disk(DiskError::NotAFile { .. }))));
            let written = write_atomic(path, "x");
            assert!(matches!(written, Err(WriteError::Disk(DiskError::NotAFile { .. }))));
        }
    }

    #[test]
    fn a_file_is_created_then_replaced_and_nothing_is_left_over() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.ron");
        for text in ["first, longer", "second"] {
            write_atomic(&path, text).unwrap();
            assert_eq!(read_text(&path, 100).unwrap(), text);
        }
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
        assert!(write_atomic(&folder.path().join("none/a.ron"), "x").is_err());
    }

    #[cfg(unix)]
    #[test]
    fn mode_and_link_survive_a_replacement() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let folder = tempfile::tempdir().unwrap();
        let (path, link) = (folder.path().join("a.ron"), folder.path().join("link.ron"));
        fs::write(&path, "old").unwrap();
        fs::set_permissions(&path, PermissionsExt::from_mode(0o640)).unwrap();
        symlink("a.ron", &link).unwrap();
        write_atomic(&link, "new").unwrap();
        assert!(link.is_symlink());
        assert_eq!(fs::read_to_string(&path).unwrap(), "new");
        assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o640);
    }

    #[cfg(unix)]
    #[test]
    fn protected_files_and_dangling_links_are_refused() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let folder = tempfile::tempdir().unwrap();
        let (path, link) = (folder.path().join("a.ron"), folder.path().join("link.ron"));
        fs::write(&path, "old").unwrap();
        fs::set_permissions(&path, PermissionsExt::from_mode(0o444)).unwrap();
        symlink("gone.ron", &link).unwrap();
        assert!(matches!(write_atomic(&path, "x"), Err(WriteError::ReadOnly { .. })));
        assert!(matches!(write_atomic(&link, "x"), Err(WriteError::DanglingLink { .. })));
        assert_eq!(fs::read_to_string(&path).unwrap(), "old");
    }
}
