//! Turns the user's home, or a named folder, into the place where jobs live, and a job's title into a free file name.
//!
//! Jobs are `jobs/NNNN-title.journal`. A number is given once: it is chosen and taken under a lock, and the name of
//! any file left from an old job still counts.

use std::fs::{self, DirBuilder, OpenOptions};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

use etcetera::{BaseStrategy, choose_base_strategy};
use thiserror::Error;

use super::disk::{DiskError, failed, folder_of, shown, sync_folder};
use super::journal::{Journal, JournalError};
use super::lock::Locked;
use crate::text::slug;

/// Our folder among those of other programs.
pub(super) const OURS: &str = "weephole";
/// The folder of journals inside it.
const JOBS: &str = "jobs";
/// What a journal's name ends with.
const EXTENSION: &str = "journal";

/// Highest number of a job or an edit: it has nine digits.
pub(super) const LAST_NUMBER: u32 = 999_999_999;

/// A job's journal as found in the folder.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct JobFile {
    /// The job's number, from 1.
    pub number: u32,
    /// The title's part of the file name.
    pub slug: String,
    /// Where the journal stands.
    pub path: PathBuf,
}

/// Why there is no place for jobs.
#[derive(Debug, Error)]
pub enum FolderError {
    /// The disk refused.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// The new journal could not be created.
    #[error(transparent)]
    Journal(#[from] JournalError),
    /// Neither a folder was named nor is a home known.
    #[error("no folder for jobs is known, as there is no home folder; name one with --data-dir")]
    NoHome,
    /// Every number has been given.
    #[error("{} holds the last number there is; move its highest job away", shown(path))]
    NoNumber {
        /// The folder of jobs.
        path: PathBuf,
    },
    /// The named place is a file.
    #[error("{} is not a folder; name a folder for jobs", shown(path))]
    NotAFolder {
        /// The place.
        path: PathBuf,
    },
}

/// The folder that holds everything this program keeps: the one named, or the user's own; created if missing.
pub fn data_dir(named: Option<&Path>) -> Result<PathBuf, FolderError> {
    let folder = match named {
        Some(folder) => folder.to_owned(),
        None => choose_base_strategy().map_err(|_| FolderError::NoHome)?.data_dir().join(OURS),
    };
    if folder.as_os_str().is_empty() || (named.is_none() && folder.is_relative()) {
        return Err(FolderError::NoHome);
    }
    ensure(&folder)?;
    Ok(folder)
}

/// Creates the journal of a new job under the next free number; `title` may be any text.
pub fn create_job(data_dir: &Path, title: &str) -> Result<Journal, FolderError> {
    let jobs = data_dir.join(JOBS);
    ensure(&jobs)?;
    let _numbering = lock_numbering(&jobs).map_err(failed("lock", &jobs))?;
    loop {
        match Journal::create(&next_job_path(data_dir, title)?) {
            Err(JournalError::Exists { .. }) => {}
            outcome => return Ok(outcome?),
        }
    }
}

/// The path the next job would get; nothing is created, so another process may be faster.
pub fn next_job_path(data_dir: &Path, title: &str) -> Result<PathBuf, FolderError> {
    let numbers = names(&data_dir.join(JOBS))?;
    let last = numbers.iter().filter_map(|(name, _)| numbered(name)).map(|(number, _)| number).max();
    let next = last.unwrap_or(0) + 1;
    if LAST_NUMBER < next {
        return Err(FolderError::NoNumber { path: data_dir.join(JOBS) });
    }
    let name = format!("{next:04}-{}.{EXTENSION}", slug(title));
    Ok(data_dir.join(JOBS).join(name))
}

/// Where the sheet of a pump is kept, by what people call the pump; the folder is created if missing.
pub fn sheet_path(data_dir: &Path, pump: &str) -> Result<PathBuf, FolderError> {
    let sheets = data_dir.join("pumps");
    ensure(&sheets)?;
    Ok(sheets.join(format!("{}.pump.ron", slug(pump))))
}

/// All jobs, oldest number first; what is named otherwise, or is no ordinary file, is passed over.
pub fn list_jobs(data_dir: &Path) -> Result<Vec<JobFile>, FolderError> {
    let jobs = data_dir.join(JOBS);
    let as_job = |(name, is_file): (String, bool)| {
        let (number, rest) = numbered(&name).filter(|_| is_file)?;
        let slug = rest.strip_suffix(EXTENSION)?.strip_suffix('.')?.to_owned();
        let path = jobs.join(&name);
        Some(JobFile { number, slug, path })
    };
    let mut found: Vec<_> = names(&jobs)?.into_iter().filter_map(as_job).collect();
    found.sort();
    Ok(found)
}

/// The names in a folder, each with whether it is an ordinary file; a missing folder has none.
fn names(folder: &Path) -> Result<Vec<(String, bool)>, DiskError> {
    let entries = match fs::read_dir(folder) {
        Err(cause) if cause.kind() == ErrorKind::NotFound => return Ok(Vec::new()),
        outcome => outcome.map_err(failed("list", folder))?,
    };
    let name = |entry: io::Result<fs::DirEntry>| {
        let entry = entry?;
        let is_file = entry.file_type()?.is_file();
        Ok((entry.file_name().to_string_lossy().into_owned(), is_file))
    };
    entries.map(name).collect::<io::Result<_>>().map_err(failed("list", folder))
}

/// Number and rest of `NNNN-rest`; more than nine digits are no number of ours.
fn numbered(name: &str) -> Option<(u32, &str)> {
    let (digits, rest) = name.split_once('-')?;
    let ours = (4..=9).contains(&digits.len()) && digits.bytes().all(|byte| byte.is_ascii_digit());
    Some((digits.parse().ok().filter(|_| ours)?, rest))
}

/// Waits for its turn; the lock goes with the returned file.
fn lock_numbering(jobs: &Path) -> io::Result<Locked> {
    let path = jobs.join(".numbering");
    let file = OpenOptions::new().write(true).create(true).truncate(false).open(path)?;
    Locked::wait_for(file)
}

/// Creates the folder and those above it, for the owner only, and makes each name safe on the disk.
pub(super) fn ensure(folder: &Path) -> Result<(), FolderError> {
    match fs::metadata(folder) {
        Ok(found) if found.is_dir() => return Ok(()),
        Ok(_) => {
            let path = folder.to_owned();
            return Err(FolderError::NotAFolder { path });
        }
        Err(cause) if cause.kind() == ErrorKind::NotFound => {}
        Err(cause) => return Err(failed("create the folder", folder)(cause).into()),
    }
    ensure(folder_of(folder))?;
    match private_folder().create(folder) {
        Err(cause) if cause.kind() == ErrorKind::AlreadyExists && folder.is_dir() => {}
        outcome => outcome.map_err(failed("create the folder", folder))?,
    }
    sync_folder(folder_of(folder))?;
    Ok(())
}

fn private_folder() -> DirBuilder {
    #[allow(unused_mut)] // other systems have no mode
    let mut builder = DirBuilder::new();
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use std::fs;
    use std::path::Path;

    use super::{FolderError, create_job, data_dir, list_jobs, next_job_path, numbered};

    #[test]
    fn jobs_are_numbered_in_order_and_listed() {
        let folder = tempfile::tempdir().unwrap();
        let base = data_dir(Some(&folder.path().join("new/place"))).unwrap();
        assert!(list_jobs(&base).unwrap().is_empty());
        assert_eq!(next_job_path(&base, "Überdruck?").unwrap(), base.join("jobs/0001-uberdruck.journal"));
        for title in ["Überdruck?", "low flow", "../../etc"] {
            create_job(&base, title).unwrap();
        }
        let listed = list_jobs(&base).unwrap();
        let short: Vec<_> = listed.iter().map(|job| (job.number, job.slug.as_str())).collect();
        assert_eq!(short, [(1, "uberdruck"), (2, "low-flow"), (3, "etc")]);
        assert!(listed.iter().all(|job| job.path.is_file()));
    }

    #[test]
    fn a_number_left_in_any_name_is_not_given_again() {
        let folder = tempfile::tempdir().unwrap();
        let jobs = folder.path().join("jobs");
        fs::create_dir(&jobs).unwrap();
        for name in ["0041-a.journal", "0042-b.journal.torn", "notes-1.txt", "99999999999-x.journal"] {
            fs::write(jobs.join(name), "").unwrap();
        }
        assert_eq!(next_job_path(folder.path(), "c").unwrap(), jobs.join("0043-c.journal"));
        assert_eq!(list_jobs(folder.path()).unwrap().len(), 1);
        fs::write(jobs.join("9999-z.journal"), "").unwrap();
        assert_eq!(next_job_path(folder.path(), "c").unwrap(), jobs.join("10000-c.journal"));
        fs::write(jobs.join("999999999-z.journal"), "").unwrap();
        assert!(matches!(create_job(folder.path(), "c"), Err(FolderError::NoNumber { .. })));
    }

    #[test]
    fn jobs_created_at_the_same_time_get_different_numbers() {
        let folder = tempfile::tempdir().unwrap();
        std::thread::scope(|scope| {
            for worker in 0..4 {
                let base = folder.path();
                scope.spawn(move || {
                    for count in 0..5 {
                        create_job(base, &format!("{worker} {count}")).unwrap();
                    }
                });
            }
        });
        let numbers: Vec<_> = list_jobs(folder.path()).unwrap().iter().map(|job| job.number).collect();
        assert_eq!(numbers, (1..=20).collect::<Vec<_>>());
    }

    #[test]
    fn only_four_to_nine_digits_and_a_dash_are_a_number() {
        assert_eq!(numbered("0007-x"), Some((7, "x")));
        assert_eq!(numbered("123456789-x-y"), Some((123_456_789, "x-y")));
        for name in ["007-x", "+007-x", "1234567890-x", "0007", "-x", ""] {
            assert_eq!(numbered(name), None);
        }
    }

    #[test]
    fn a_file_in_the_folders_place_and_an_empty_name_are_refused() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("file");
        fs::write(&file, "").unwrap();
        assert!(matches!(data_dir(Some(&file)), Err(FolderError::NotAFolder { .. })));
        assert!(data_dir(Some(&file.join("below"))).is_err());
        assert!(matches!(data_dir(Some(Path::new(""))), Err(FolderError::NoHome)));
    }

    #[cfg(unix)]
    #[test]
    fn new_folders_are_for_their_owner_only_and_old_ones_left_alone() {
        use std::os::unix::fs::PermissionsExt;
        let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
        let folder = tempfile::tempdir().unwrap();
        fs::set_permissions(folder.path(), PermissionsExt::from_mode(0o755)).unwrap();
        create_job(folder.path(), "x").unwrap();
        assert_eq!(mode(folder.path()), 0o755);
        assert_eq!(mode(&folder.path().join("jobs")), 0o700);
    }
}
