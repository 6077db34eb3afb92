//! Turns a folder of files into remembered one-line texts about them, so that a long list need not open every file.
//!
//! The memory is never trusted over the file: a text counts only while size, time of change and inode of its file are
//! what they were. It may be deleted at any time; broken or foreign, it counts as missing. The texts are opaque here.

use std::collections::HashMap;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

use etcetera::{BaseStrategy, choose_base_strategy};

use super::disk::folder_of;
use super::files::{read_text, write_atomic};
use super::folders::{OURS, ensure};

/// No memory is read past this.
const LIMIT: u64 = 256 * 1024 * 1024;
/// What a memory begins with.
const MARK: &str = "weephole-index 1";

/// What must be unchanged for a text to stand for its file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Stamp {
    bytes: u64,
    /// Nanoseconds since 1970.
    changed: u128,
    /// 0 where the system has none.
    inode: u64,
}

/// Texts remembered about the files of one folder.
#[derive(Debug)]
pub struct Index {
    path: PathBuf,
    /// Kind of texts; others are forgotten.
    kind: String,
    rows: HashMap<String, Row>,
    changed: bool,
}

#[derive(Debug)]
struct Row {
    stamp: Stamp,
    text: String,
    seen: bool,
}

/// Where the index of the jobs belongs: in the named data folder, or in the user's cache.
pub fn index_path(named: Option<&Path>, data_dir: &Path) -> PathBuf {
    let cache =
        if named.is_none() { choose_base_strategy().ok().map(|base| base.cache_dir().join(OURS)) } else { None };
    cache.unwrap_or_else(|| data_dir.join("cache")).join("jobs.index")
}

impl Index {
    /// The memory kept in a file; `kind` names what its texts are, in one word, and changes when their shape does.
    pub fn open(path: &Path, kind: &str) -> Self {
        let text = read_text(path, LIMIT).unwrap_or_default();
        let rows = read(&text, kind).unwrap_or_default();
        Self { path: path.to_owned(), kind: kind.to_owned(), rows, changed: false }
    }

    /// What is remembered about a file, or what `make` says about it now. Errors, and texts of more than one line, are
    /// not remembered.
    pub fn text<E>(&mut self, file: &Path, make: impl FnOnce() -> Result<String, E>) -> Result<String, E> {
        let name = file.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        // Looked at before the file is read: what changes meanwhile is found changed the next time.
        let stamp = stamp(file);
        if let Some(row) = self.rows.get_mut(&name).filter(|row| Some(row.stamp) == stamp) {
            row.seen = true;
            return Ok(row.text.clone());
        }
        let text = make()?;
        if let Some(stamp) = stamp.filter(|_| !name.contains(['\t', '\n']) && !text.contains('\n')) {
            self.changed = true;
            self.rows.insert(name, Row { stamp, text: text.clone(), seen: true });
        }
        Ok(text)
    }

    /// Keeps the texts asked for since it was opened and forgets the others. A memory that cannot be kept is no loss.
    pub fn save(mut self) {
        let before = self.rows.len();
        self.rows.retain(|_, row| row.seen);
        if !self.changed && self.rows.len() == before {
            return;
        }
        if ensure(folder_of(&self.path)).is_ok() {
            let _ = write_atomic(&self.path, &self.written());
        }
    }

    fn written(&self) -> String {
        let mut names: Vec<&String> = self.rows.keys().collect();
        names.sort();
        let mut body = String::new();
        for name in names {
            let Row { stamp: Stamp { bytes, changed, inode }, text, .. } = &self.rows[name];
            let _ = writeln!(body, "{name}\t{bytes}\t{changed}\t{inode}\t{text}");
        }
        format!("{MARK}\t{}\t{:08x}\n{body}", self.kind, crc32fast::hash(body.as_bytes()))
    }
}

/// The rows of a memory; none if it is of another kind or harmed in any way.
fn read(text: &str, kind: &str) -> Option<HashMap<String, Row>> {
    let (head, body) = text.split_once('\n')?;
    if head != format!("{MARK}\t{kind}\t{:08x}", crc32fast::hash(body.as_bytes())) {
        return None;
    }
    body.lines().map(row).collect()
}

fn row(line: &str) -> Option<(String, Row)> {
    let mut fields = line.splitn(5, '\t');
    let name = fields.next()?.to_owned();
    let stamp = Stamp {
        bytes: fields.next()?.parse().ok()?,
        changed: fields.next()?.parse().ok()?,
        inode: fields.next()?.parse().ok()?,
    };
    Some((name, Row { stamp, text: fields.next()?.to_owned(), seen: false }))
}

fn stamp(file: &Path) -> Option<Stamp> {
    let found = fs::metadata(file).ok()?;
    let changed = found.modified().ok()?.duration_since(UNIX_EPOCH).ok()?.as_nanos();
    #[cfg(unix)]
    let inode = std::os::unix::fs::MetadataExt::ino(&found);
    #[cfg(not(unix))]
    let inode = 0;
    Some(Stamp { bytes: found.len(), changed, inode })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use std::convert::Infallible;
    use std::fs;
    use std::path::Path;
    use std::time::{Duration, SystemTime};

    use tempfile::TempDir;

    use super::Index;

    /// Asks for the text of a file; true if it had to be made.
    fn ask(index: &mut Index, file: &Path, text: &str) -> (String, bool) {
        let mut made = false;
        let text = index.text(file, || {
            made = true;
            Ok::<_, Infallible>(text.to_owned())
        });
        (text.unwrap(), made)
    }

    fn folder() -> (TempDir, std::path::PathBuf, std::path::PathBuf) {
        let folder = tempfile::tempdir().unwrap();
        let (file, memory) = (folder.path().join("a.journal"), folder.path().join("cache/jobs.index"));
        fs::write(&file, "one").unwrap();
        let mut index = Index::open(&memory, "k1");
        assert_eq!(ask(&mut index, &file, "first"), ("first".to_owned(), true));
        index.save();
        (folder, file, memory)
    }

    #[test]
    fn a_text_is_remembered_until_its_file_changes() {
        let (_folder, file, memory) = folder();
        assert_eq!(ask(&mut Index::open(&memory, "k1"), &file, "x"), ("first".to_owned(), false));
        // Same size, another time.
        fs::write(&file, "two").unwrap();
        let later = SystemTime::now() + Duration::from_secs(5);
        fs::File::options().write(true).open(&file).unwrap().set_modified(later).unwrap();
        assert_eq!(ask(&mut Index::open(&memory, "k1"), &file, "second"), ("second".to_owned(), true));
    }

    #[cfg(unix)]
    #[test]
    fn a_file_put_in_the_place_of_another_is_looked_at() {
        let (folder, file, memory) = folder();
        let time = fs::metadata(&file).unwrap().modified().unwrap();
        let other = folder.path().join("other");
        fs::write(&other, "two").unwrap();
        fs::File::options().write(true).open(&other).unwrap().set_modified(time).unwrap();
        fs::rename(&other, &file).unwrap();
        assert!(ask(&mut Index::open(&memory, "k1"), &file, "second").1);
    }

    #[test]
    fn a_memory_that_is_gone_broken_or_of_another_kind_is_made_anew() {
        let (_folder, file, memory) = folder();
        assert!(ask(&mut Index::open(&memory, "k2"), &file, "x").1);
        let kept = fs::read_to_string(&memory).unwrap();
        fs::write(&memory, kept.replace("first", "forst")).unwrap();
        assert!(ask(&mut Index::open(&memory, "k1"), &file, "x").1);
        fs::write(&memory, [0xff, 0xfe, 0]).unwrap();
        assert!(ask(&mut Index::open(&memory, "k1"), &file, "x").1);
        fs::remove_file(&memory).unwrap();
        assert!(ask(&mut Index::open(&memory, "k1"), &file, "x").1);
    }

    #[test]
    fn what_was_not_asked_for_is_forgotten() {
        let (_folder, _, memory) = folder();
        Index::open(&memory, "k1").save();
        assert!(!fs::read_to_string(&memory).unwrap().contains("first"));
    }

    #[test]
    fn errors_and_longer_texts_are_not_remembered() {
        let (_folder, file, memory) = folder();
        fs::remove_file(&memory).unwrap();
        let mut index = Index::open(&memory, "k1");
        assert_eq!(index.text(&file, || Err("no")), Err("no"));
        assert!(ask(&mut index, &file, "two\nlines").1);
        index.save();
        assert!(!memory.exists());
    }
}
