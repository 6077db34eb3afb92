//! Turns an edit of knowledge files into files on disk: checked against what was read, backed up under a number, each
//! replaced whole; and the last edit back into the texts that undo it.
//!
//! In `backups/` of the folder, edit 7 of `findings/delivery.ron` leaves `findings_delivery.0007.ron.old` (the text
//! before) and `0007.edit.json` (the change in words, with marks of the texts before and after). Neither ends in `.ron`,
//! so they are never loaded. Both are on disk before the first file is replaced: an edit that was cut short can be undone.

use std::fs;
use std::io::{ErrorKind, Write as _};
use std::path::{Component, Path, PathBuf};

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::disk::{DiskError, failed, folder_of, shown, sync_folder};
use super::files::{ReadError, WriteError, read_text, write_atomic};
use super::folders::LAST_NUMBER;
use super::lock::Locked;
use crate::text::fingerprint;

/// Folder of old texts.
const BACKUPS: &str = "backups";
/// What the name of an edit's record ends with.
const RECORD: &str = "edit.json";
/// Largest knowledge file, bytes.
const LIMIT: u64 = 8 * 1024 * 1024;

/// One file of an edit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FileEdit {
    /// Name below the folder, steps parted by `/`.
    pub name: String,
    /// The text as it was read; none = the file is new.
    pub before: Option<String>,
    /// The text to save; none = the file goes.
    pub after: Option<String>,
}

/// The last edit that can be undone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LastEdit {
    /// Its number.
    pub number: u32,
    /// What it changed, in words.
    pub words: Vec<String>,
    /// What puts the old texts back.
    pub files: Vec<FileEdit>,
}

/// Why an edit was not saved or cannot be undone.
#[derive(Debug, Error)]
pub enum EditError {
    /// The disk refused.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// A file cannot be read.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// A file cannot be written.
    #[error(transparent)]
    Write(#[from] WriteError),
    /// Somebody saved the file since it was read.
    #[error("{} was changed meanwhile; nothing was saved: look at it and make the edit again", shown(path))]
    Changed {
        /// The file.
        path: PathBuf,
    },
    /// The name or a link leads out of the folder.
    #[error("{} leads out of its folder; copy the file in instead", shown(path))]
    LeadsOutside {
        /// The file.
        path: PathBuf,
    },
    /// A file was changed after the edit that would be undone.
    #[error("{} was changed after edit {number}; put back by hand what is wanted from {}", shown(path), shown(backup))]
    ChangedSince {
        /// The file.
        path: PathBuf,
        /// Number of the edit.
        number: u32,
        /// Where its old text lies.
        backup: PathBuf,
    },
    /// Every number has been given.
    #[error("{} holds the last number of an edit there is; put its files away and begin anew", shown(path))]
    NoNumber {
        /// The folder of old texts.
        path: PathBuf,
    },
    /// A record in the folder of old texts cannot be read.
    #[error("{} is damaged; put back by hand what is wanted from the folder", shown(path))]
    Damaged {
        /// The record.
        path: PathBuf,
    },
}

/// What is kept of an edit.
#[derive(Debug, Serialize, Deserialize)]
struct Record {
    number: u32,
    words: Vec<String>,
    #[serde(default)]
    undoes: Option<u32>,
    /// Initials and role of whoever looked at it besides the person who made it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    second: Option<String>,
    files: Vec<Kept>,
}

#[derive(Debug, Serialize, Deserialize)]
struct Kept {
    name: String,
    backup: Option<String>,
    before: Option<String>,
    after: Option<String>,
}

/// Saves an edit and gives its number. With `undoes`, it takes that edit back; `second` looked at it, too.
///
/// # Errors
/// A file that changed since it was read, a name or link that leads out of the folder, a disk that refuses.
pub fn save_edit(
    folder: &Path,
    files: &[FileEdit],
    words: &[String],
    undoes: Option<u32>,
    second: Option<&str>,
) -> Result<u32, EditError> {
    let root = fs::canonicalize(folder).map_err(failed("open", folder))?;
    let backups = backups_of(&root)?;
    let _turn = lock(&backups)?;
    let mut paths = Vec::new();
    for file in files {
        let path = below(&root, &file.name)?;
        if current(&path)? != file.before {
            return Err(EditError::Changed { path });
        }
        paths.push(path);
    }
    let number = 1 + numbers(&backups)?.into_iter().max().unwrap_or(0);
    if LAST_NUMBER < number {
        return Err(EditError::NoNumber { path: backups });
    }
    let mut kept = Vec::new();
    for file in files {
        let backup = file.before.as_ref().map(|text| keep(&backups, &file.name, number, text)).transpose()?;
        let mark = |text: &Option<String>| text.as_ref().map(|text| fingerprint([text.as_str()]));
        kept.push(Kept { name: file.name.clone(), backup, before: mark(&file.before), after: mark(&file.after) });
    }
    let record = Record { number, words: words.to_vec(), undoes, second: second.map(str::to_owned), files: kept };
    let text = serde_json::to_string_pretty(&record).unwrap_or_default();
    write_atomic(&backups.join(format!("{number:04}.{RECORD}")), &text)?;
    for (file, path) in files.iter().zip(paths) {
        replace(&path, file)?;
    }
    Ok(number)
}

/// The last edit that was not undone yet; none if there is none.
///
/// # Errors
/// A file that was changed after that edit, a damaged record.
pub fn last_edit(folder: &Path) -> Result<Option<LastEdit>, EditError> {
    let root = fs::canonicalize(folder).map_err(failed("open", folder))?;
    let backups = root.join(BACKUPS);
    let records = records(&backups)?;
    let undone: Vec<u32> = records.iter().filter_map(|record| record.undoes).collect();
    let open = records.iter().rev().filter(|record| record.undoes.is_none() && !undone.contains(&record.number));
    for record in open {
        let files = old_texts(&root, &backups, record)?;
        if files.iter().any(|file| file.before != file.after) {
            return Ok(Some(LastEdit { number: record.number, words: record.words.clone(), files }));
        }
    }
    Ok(None)
}

/// Numbers of the edits that were taken back.
///
/// # Errors
/// A damaged record.
pub fn undone_edits(folder: &Path) -> Result<Vec<u32>, EditError> {
    Ok(records(&folder.join(BACKUPS))?.into_iter().filter_map(|record| record.undoes).collect())
}

/// What is kept of all edits, first to last; nothing if there was none.
fn records(backups: &Path) -> Result<Vec<Record>, EditError> {
    if !backups.is_dir() {
        return Ok(Vec::new());
    }
    let mut records = Vec::new();
    for number in numbers(backups)? {
        let path = backups.join(format!("{number:04}.{RECORD}"));
        // Old texts without a record are those of an edit that was cut short before it changed anything.
        if path.exists() {
            let text = read_text(&path, LIMIT)?;
            records.push(serde_json::from_str::<Record>(&text).map_err(|_| EditError::Damaged { path })?);
        }
    }
    records.sort_by_key(|record| record.number);
    Ok(records)
}

/// What puts the texts before an edit back, if nobody changed the files since.
fn old_texts(root: &Path, backups: &Path, record: &Record) -> Result<Vec<FileEdit>, EditError> {
    let mut files = Vec::new();
    for kept in &record.files {
        let path = below(root, &kept.name)?;
        let now = current(&path)?;
        let mark = now.as_ref().map(|text| fingerprint([text.as_str()]));
        let backup = kept.backup.as_ref().map(|name| below(backups, name)).transpose()?;
        if mark != kept.after && mark != kept.before {
            let backup = backup.unwrap_or_else(|| backups.to_owned());
            return Err(EditError::ChangedSince { path, number: record.number, backup });
        }
        let after = backup.map(|path| read_text(&path, LIMIT)).transpose()?;
        files.push(FileEdit { name: kept.name.clone(), before: now, after });
    }
    Ok(files)
}

/// The text of a file, none if it is not there.
fn current(path: &Path) -> Result<Option<String>, EditError> {
    match fs::symlink_metadata(path) {
        Err(cause) if cause.kind() == ErrorKind::NotFound => Ok(None),
        _ => Ok(Some(read_text(path, LIMIT)?)),
    }
}

fn replace(path: &Path, file: &FileEdit) -> Result<(), EditError> {
    let Some(text) = &file.after else {
        fs::remove_file(path).map_err(failed("remove", path))?;
        return Ok(sync_folder(folder_of(path))?);
    };
    fs::create_dir_all(folder_of(path)).map_err(failed("create the folder", folder_of(path)))?;
    let has_mark = fs::read(path).is_ok_and(|bytes| bytes.starts_with("\u{feff}".as_bytes()));
    let mark = if has_mark { "\u{feff}" } else { "" };
    Ok(write_atomic(path, &format!("{mark}{text}"))?)
}

/// Where a name below a folder leads; links may not lead out of it.
fn below(root: &Path, name: &str) -> Result<PathBuf, EditError> {
    let path = root.join(name);
    let plain = Path::new(name).components().all(|step| matches!(step, Component::Normal(_)));
    let mut there = path.as_path();
    // A dangling link is there too, though it leads nowhere.
    while fs::symlink_metadata(there).is_err() && there != root {
        there = folder_of(there);
    }
    let inside = fs::canonicalize(there).is_ok_and(|real| real.starts_with(root));
    if plain && !name.is_empty() && inside { Ok(path) } else { Err(EditError::LeadsOutside { path }) }
}

fn backups_of(root: &Path) -> Result<PathBuf, EditError> {
    let backups = below(root, BACKUPS)?;
    // As open as the folder itself: several people may edit it.
    match fs::create_dir(&backups) {
        Err(cause) if cause.kind() == ErrorKind::AlreadyExists && backups.is_dir() => {}
        outcome => outcome.map_err(failed("create the folder", &backups))?,
    }
    sync_folder(root)?;
    Ok(backups)
}

/// One edit at a time; the lock goes with what is returned.
fn lock(backups: &Path) -> Result<Locked, DiskError> {
    let path = backups.join(".editing");
    let file = fs::OpenOptions::new().write(true).create(true).truncate(false).open(&path);
    file.and_then(Locked::wait_for).map_err(failed("lock", &path))
}

/// Writes an old text down under the number of its edit, and gives the name.
fn keep(backups: &Path, name: &str, number: u32, text: &str) -> Result<String, EditError> {
    let mut flat = name.strip_suffix(".ron").unwrap_or(name).replace(['/', '\\'], "_");
    loop {
        let backup = format!("{flat}.{number:04}.ron.old");
        let path = backups.join(&backup);
        match fs::File::create_new(&path) {
            Ok(mut file) => {
                file.write_all(text.as_bytes()).and_then(|()| file.sync_all()).map_err(failed("write", &path))?;
                sync_folder(backups)?;
                return Ok(backup);
            }
            Err(cause) if cause.kind() == ErrorKind::AlreadyExists => flat.push('_'),
            Err(cause) => return Err(failed("create", &path)(cause).into()),
        }
    }
}

/// Numbers of edits in names `NNNN.edit.json` and `NAME.NNNN.ron.old`, each once.
fn numbers(backups: &Path) -> Result<Vec<u32>, DiskError> {
    let mut numbers = Vec::new();
    for entry in fs::read_dir(backups).map_err(failed("list", backups))? {
        let name = entry.map_err(failed("list", backups))?.file_name().to_string_lossy().into_owned();
        let number = name.strip_suffix(".edit.json").or_else(|| name.strip_suffix(".ron.old")?.rsplit('.').next());
        numbers.extend(number.filter(|digits| digits.len() <= 9).and_then(|digits| digits.parse::<u32>().ok()));
    }
    numbers.sort_unstable();
    numbers.dedup();
    Ok(numbers)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests;
