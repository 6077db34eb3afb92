//! Turns a path into a checked ordinary file, and a failed disk call into a sentence that says what to do.
//!
//! Devices, pipes and folders are refused before they are opened: reading `/dev/zero` would never end, and
//! opening a pipe would wait for somebody to write. The open file is checked again, in case the path was swapped.

use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

use thiserror::Error;

/// What can go wrong between this program and the disk.
#[derive(Debug, Error)]
pub enum DiskError {
    /// The system refused a call.
    #[error("cannot {doing} {}: {cause}; {}", shown(path), advice(cause))]
    Io {
        /// A verb: open, read, write...
        doing: &'static str,
        /// The file or folder.
        path: PathBuf,
        /// The system's answer.
        cause: io::Error,
    },
    /// The path leads to a device, a pipe, a socket or a folder.
    #[error("{} is {what}; name an ordinary file", shown(path))]
    NotAFile {
        /// The file or folder.
        path: PathBuf,
        /// "a folder", "a device"...
        what: &'static str,
    },
    /// More bytes than this kind of file may have.
    #[error("{} has more than {limit} bytes; check that it is the right file, or split it", shown(path))]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// Bytes allowed.
        limit: u64,
    },
}

impl DiskError {
    /// Whether this is the system's answer of that kind.
    pub(super) fn is(&self, kind: ErrorKind) -> bool {
        matches!(self, Self::Io { cause, .. } if cause.kind() == kind)
    }
}

/// Opens an ordinary file of at most `limit` bytes.
pub(super) fn open_regular(path: &Path, options: &OpenOptions, limit: u64) -> Result<File, DiskError> {
    let named = fs::metadata(path).map_err(failed("open", path))?;
    check_regular(path, &named, limit)?;
    let file = options.open(path).map_err(failed("open", path))?;
    let opened = file.metadata().map_err(failed("open", path))?;
    check_regular(path, &opened, limit)?;
    Ok(file)
}

/// Reads from the file's position to its end, and stops with an error past `limit`, even if the file still grows.
pub(super) fn read_capped(file: &File, path: &Path, limit: u64) -> Result<Vec<u8>, DiskError> {
    let mut bytes = Vec::new();
    file.take(limit.saturating_add(1)).read_to_end(&mut bytes).map_err(failed("read", path))?;
    if limit < bytes.len() as u64 {
        return Err(too_large(path, limit));
    }
    Ok(bytes)
}

/// Creates a file that did not exist, readable by its owner only, open for reading and writing.
pub(super) fn create_private(path: &Path) -> Result<File, DiskError> {
    let mut options = OpenOptions::new();
    options.read(true).write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options.open(path).map_err(failed("create", path))
}

/// Makes the names in a folder survive a power cut; systems that cannot do it are taken as they are.
pub(super) fn sync_folder(folder: &Path) -> Result<(), DiskError> {
    if cfg!(not(unix)) {
        return Ok(());
    }
    match File::open(folder).and_then(|open| open.sync_all()) {
        Err(cause) if matches!(cause.kind(), ErrorKind::InvalidInput | ErrorKind::Unsupported) => Ok(()),
        outcome => outcome.map_err(failed("save the folder", folder)),
    }
}

/// The folder a path stands in; a bare name stands in the current one.
pub(super) fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Refuses everything but an ordinary file of at most `limit` bytes.
pub(super) fn check_regular(path: &Path, found: &Metadata, limit: u64) -> Result<(), DiskError> {
    if !found.is_file() {
        let (path, what) = (path.to_owned(), kind(found));
        return Err(DiskError::NotAFile { path, what });
    }
    if limit < found.len() {
        return Err(too_large(path, limit));
    }
    Ok(())
}

/// For `map_err`: wraps the system's answer with what was done to which path.
pub(super) fn failed(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> DiskError {
    let path = path.to_owned();
    move |cause| DiskError::Io { doing, path, cause }
}

/// A path as it may stand in a message: a file name can hold escape sequences.
pub(super) fn shown(path: &Path) -> String {
    crate::text::clean(&path.to_string_lossy())
}

/// What a person can do about a refused call.
pub(super) fn advice(cause: &io::Error) -> &'static str {
    match cause.kind() {
        ErrorKind::NotFound => "check the name",
        ErrorKind::AlreadyExists => "choose another name",
        ErrorKind::PermissionDenied => "check who may read and write there",
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "free some space and try again",
        ErrorKind::ReadOnlyFilesystem => "choose a folder that can be written to",
        ErrorKind::NotADirectory => "name a folder",
        _ => "check the disk and try again",
    }
}

fn too_large(path: &Path, limit: u64) -> DiskError {
    let path = path.to_owned();
    DiskError::TooLarge { path, limit }
}

#[cfg(unix)]
fn kind(found: &Metadata) -> &'static str {
    use std::os::unix::fs::FileTypeExt;
    let kind = found.file_type();
    if kind.is_dir() {
        "a folder"
    } else if kind.is_fifo() {
        "a pipe"
    } else if kind.is_socket() {
        "a socket"
    } else {
        "a device"
    }
}

#[cfg(not(unix))]
fn kind(found: &Metadata) -> &'static str {
    if found.is_dir() { "a folder" } else { "a device" }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use std::fs::File;
    use std::io::{self, ErrorKind};
    use std::path::Path;

    use super::{DiskError, failed, folder_of, read_capped};

    #[test]
    fn a_message_says_what_where_and_what_to_do() {
        let full = failed("write", Path::new("jobs/1"))(ErrorKind::StorageFull.into());
        assert_eq!(full.to_string(), "cannot write jobs/1: no storage space; free some space and try again");
    }

    #[test]
    fn a_message_carries_no_escape_sequence_from_a_file_name() {
        let odd = failed("read", Path::new("a\u{1b}[31m\u{202e}b"))(io::Error::other("no"));
        assert!(odd.to_string().contains("a[31mb"));
    }

    #[test]
    fn a_bare_name_stands_in_the_current_folder() {
        assert_eq!(folder_of(Path::new("x")), Path::new("."));
        assert_eq!(folder_of(Path::new("a/x")), Path::new("a"));
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn an_endless_source_stops_at_the_cap() {
        let path = Path::new("/dev/zero");
        let endless = File::open(path).unwrap();
        let outcome = read_capped(&endless, path, 1000);
        assert!(matches!(outcome, Err(DiskError::TooLarge { limit: 1000, .. })));
    }
}
