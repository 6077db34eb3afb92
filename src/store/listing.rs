//! Turns a folder into the sorted list of its files of one kind, and names what it left out and why.
//!
//! A link that leads out of the folder is refused: what a knowledge folder contains must be visible in it, and
//! copying the folder must copy all of it.

use std::collections::BTreeSet;
use std::fs::{self, DirEntry, FileType};
use std::path::{Path, PathBuf};

use thiserror::Error;

use super::disk::{DiskError, failed, shown};

/// Levels of folders below the listed one that are looked into.
const DEPTH: usize = 4;

/// The files of one kind in a folder.
#[derive(Debug, Default)]
pub struct Listing {
    /// Sorted, each beginning with the folder as it was named.
    pub files: Vec<PathBuf>,
    /// What was not taken, sorted likewise.
    pub left_out: Vec<LeftOut>,
}

/// Something in a folder that was not taken.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Error)]
pub enum LeftOut {
    /// A link out of the folder.
    #[error("{} is a link that leads out of its folder; copy the file in instead", shown(.0))]
    LeadsOutside(PathBuf),
    /// A folder too far down.
    #[error("{} lies more than {DEPTH} folders deep; move it up", shown(.0))]
    TooDeep(PathBuf),
    /// A device, pipe or socket with the right extension.
    #[error("{} is not an ordinary file; remove it", shown(.0))]
    NotAFile(PathBuf),
    /// A folder that cannot be looked into, or a link to nowhere.
    #[error("{} cannot be read; check that it exists and who may read it", shown(.0))]
    Unreadable(PathBuf),
}

/// All files with this extension (no dot), down to four folders deep; names that begin with a dot are passed over.
///
/// A file reached twice, by a link inside the folder, counts once.
pub fn list(folder: &Path, extension: &str) -> Result<Listing, DiskError> {
    let mut walk =
        Walk { root: fs::canonicalize(folder).map_err(failed("list", folder))?, extension, found: Listing::default() };
    let entries = fs::read_dir(folder).map_err(failed("list", folder))?;
    for entry in entries {
        walk.visit(&entry.map_err(failed("list", folder))?, 0);
    }
    let mut found = walk.found;
    found.files.sort();
    found.left_out.sort();
    let mut seen = BTreeSet::new();
    found.files.retain(|path| seen.insert(fs::canonicalize(path).unwrap_or_else(|_| path.clone())));
    Ok(found)
}

struct Walk<'a> {
    root: PathBuf,
    extension: &'a str,
    found: Listing,
}

impl Walk<'_> {
    fn visit(&mut self, entry: &DirEntry, depth: usize) {
        let path = entry.path();
        if entry.file_name().as_encoded_bytes().starts_with(b".") {
            return;
        }
        match entry.file_type() {
            Err(_) => self.found.left_out.push(LeftOut::Unreadable(path)),
            Ok(kind) if kind.is_symlink() => self.follow(path),
            Ok(kind) if kind.is_dir() => self.descend(path, depth + 1),
            Ok(kind) => self.take(path, kind),
        }
    }

    /// A link to a folder inside adds nothing: that folder is visited itself.
    fn follow(&mut self, link: PathBuf) {
        let Ok((target, found)) = fs::canonicalize(&link).and_then(|target| Ok((target, fs::metadata(&link)?))) else {
            if self.wanted(&link) {
                self.found.left_out.push(LeftOut::Unreadable(link));
            }
            return;
        };
        if !target.starts_with(&self.root) {
            if found.is_dir() || self.wanted(&link) {
                self.found.left_out.push(LeftOut::LeadsOutside(link));
            }
        } else if !found.is_dir() {
            self.take(link, found.file_type());
        }
    }

    fn descend(&mut self, folder: PathBuf, depth: usize) {
        if DEPTH < depth {
            self.found.left_out.push(LeftOut::TooDeep(folder));
            return;
        }
        match fs::read_dir(&folder).and_then(Iterator::collect::<Result<Vec<_>, _>>) {
            Ok(entries) => entries.iter().for_each(|entry| self.visit(entry, depth)),
            Err(_) => self.found.left_out.push(LeftOut::Unreadable(folder)),
        }
    }

    fn take(&mut self, path: PathBuf, kind: FileType) {
        if !self.wanted(&path) {
            return;
        }
        if kind.is_file() {
            self.found.files.push(path);
        } else {
            self.found.left_out.push(LeftOut::NotAFile(path));
        }
    }

    fn wanted(&self, path: &Path) -> bool {
        path.extension().is_some_and(|extension| extension.eq_ignore_ascii_case(self.extension))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use std::fs;
    use std::path::Path;

    use tempfile::TempDir;

    use super::{LeftOut, list};

    fn folder(files: &[&str]) -> TempDir {
        let folder = tempfile::tempdir().unwrap();
        for file in files {
            let path = folder.path().join(file);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, "x").unwrap();
        }
        folder
    }

    fn names(folder: &Path) -> Vec<String> {
        let short = |path: &Path| path.strip_prefix(folder).unwrap().to_string_lossy().into_owned();
        list(folder, "ron").unwrap().files.iter().map(|path| short(path)).collect()
    }

    #[test]
    fn files_of_the_kind_are_sorted_and_the_rest_passed_over() {
        let folder = folder(&["z.ron", "b/c.ron", "a.RON", "notes.md", ".hidden.ron", ".git/x.ron"]);
        assert_eq!(names(folder.path()), ["a.RON", "b/c.ron", "z.ron"]);
    }

    #[test]
    fn four_folders_down_is_the_end_and_said_so() {
        let folder = folder(&["1/2/3/4/in.ron", "1/2/3/4/5/out.ron"]);
        assert_eq!(names(folder.path()), ["1/2/3/4/in.ron"]);
        let left_out = list(folder.path(), "ron").unwrap().left_out;
        assert_eq!(left_out, [LeftOut::TooDeep(folder.path().join("1/2/3/4/5"))]);
    }

    #[test]
    fn a_missing_folder_or_a_file_in_its_place_is_an_error() {
        let folder = folder(&["a.ron"]);
        assert!(list(&folder.path().join("none"), "ron").is_err());
        assert!(list(&folder.path().join("a.ron"), "ron").is_err());
    }

    #[cfg(unix)]
    #[test]
    fn links_are_followed_inside_and_named_when_they_lead_out() {
        use std::os::unix::fs::symlink;
        let (folder, outside) = (folder(&["a.ron", "sub/b.ron", "c.v2"]), folder(&["far.ron"]));
        let at = |name: &str| folder.path().join(name);
        symlink("a.ron", at("z.ron")).unwrap();
        symlink("c.v2", at("c.ron")).unwrap();
        symlink("..", at("sub/loop")).unwrap();
        symlink("nowhere", at("gone.ron")).unwrap();
        symlink(outside.path(), at("out")).unwrap();
        symlink(outside.path().join("far.ron"), at("out.ron")).unwrap();
        assert_eq!(names(folder.path()), ["a.ron", "c.ron", "sub/b.ron"]);
        let expected = [
            LeftOut::LeadsOutside(at("out")),
            LeftOut::LeadsOutside(at("out.ron")),
            LeftOut::Unreadable(at("gone.ron")),
        ];
        assert_eq!(list(folder.path(), "ron").unwrap().left_out, expected);
    }

    #[cfg(unix)]
    #[test]
    fn a_socket_dressed_as_a_file_is_named() {
        let folder = folder(&[]);
        let path = folder.path().join("odd.ron");
        let _open = std::os::unix::net::UnixListener::bind(&path).unwrap();
        assert_eq!(list(folder.path(), "ron").unwrap().left_out, [LeftOut::NotAFile(path)]);
    }
}
