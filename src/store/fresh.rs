//! Turns named texts into a folder that was not there, or a text into a file that was not there: nothing is overwritten.

use std::fs;
use std::io::{ErrorKind, Write as _};
use std::path::{Path, PathBuf};

use tempfile::Builder;
use thiserror::Error;

use super::disk::{DiskError, failed, folder_of, shown, sync_folder};
use super::folders::{FolderError, ensure};

/// Why a folder or file was not written; nothing of it is there.
#[derive(Debug, Error)]
pub enum FreshError {
    /// The disk refused.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// The folder above cannot be made.
    #[error(transparent)]
    Folder(#[from] FolderError),
    /// There is something already.
    #[error("{} is there already; name one that is not, nothing is overwritten", shown(path))]
    There {
        /// The place.
        path: PathBuf,
    },
}

/// Writes all files into a new or empty folder: all of them or none. Names must have been checked by the caller.
///
/// # Errors
/// A folder with anything in it, a disk that refuses.
pub fn write_folder<'f>(folder: &Path, files: impl IntoIterator<Item = (&'f str, &'f str)>) -> Result<(), FreshError> {
    let there = || FreshError::There { path: folder.to_owned() };
    match fs::read_dir(folder) {
        Ok(mut entries) => {
            if entries.next().is_some() {
                return Err(there());
            }
        }
        Err(cause) if cause.kind() == ErrorKind::NotFound && !folder.is_symlink() => {}
        Err(cause) if cause.kind() == ErrorKind::NotADirectory || folder.is_symlink() => return Err(there()),
        Err(cause) => return Err(failed("open", folder)(cause).into()),
    }
    let above = folder_of(folder);
    ensure(above)?;
    let mut builder = Builder::new();
    builder.prefix(".unsaved-");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o777)); // less the user's umask
    let fresh = builder.tempdir_in(above).map_err(failed("write in", above))?;
    for (name, text) in files {
        let path = fresh.path().join(name);
        fs::create_dir_all(folder_of(&path)).map_err(failed("create the folder", folder_of(&path)))?;
        let written = fs::File::create_new(&path).and_then(|mut file| {
            file.write_all(text.as_bytes())?;
            file.sync_all()
        });
        written.map_err(failed("write", &path))?;
    }
    // An empty folder in its place goes first, as some systems do not rename onto one; a full one does not go.
    let _ = fs::remove_dir(folder);
    fs::rename(fresh.path(), folder).map_err(failed("create the folder", folder))?;
    // What was renamed is not there any more to be removed.
    let _ = fresh.keep();
    Ok(sync_folder(above)?)
}

/// Writes a file that was not there.
///
/// # Errors
/// A file that is there, a disk that refuses.
pub fn write_new(path: &Path, text: &str) -> Result<(), FreshError> {
    let mut file = match fs::File::create_new(path) {
        Err(cause) if cause.kind() == ErrorKind::AlreadyExists => {
            return Err(FreshError::There { path: path.to_owned() });
        }
        outcome => outcome.map_err(failed("create", path))?,
    };
    let written = file.write_all(text.as_bytes()).and_then(|()| file.sync_all());
    if let Err(cause) = written {
        let _ = fs::remove_file(path);
        return Err(failed("write", path)(cause).into());
    }
    Ok(sync_folder(folder_of(path))?)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{FreshError, write_folder, write_new};
    use std::fs;

    #[test]
    fn a_folder_is_written_where_none_or_an_empty_one_was() {
        let base = tempfile::tempdir().unwrap();
        let folder = base.path().join("new/place");
        write_folder(&folder, [("a.ron", "x"), ("b/c.ron", "y")]).unwrap();
        assert_eq!(fs::read_to_string(folder.join("b/c.ron")).unwrap(), "y");
        assert!(matches!(write_folder(&folder, [("z.ron", "x")]), Err(FreshError::There { .. })));
        assert!(!folder.join("z.ron").exists());
        let empty = base.path().join("empty");
        fs::create_dir(&empty).unwrap();
        write_folder(&empty, [("a.ron", "x")]).unwrap();
        let file = base.path().join("file");
        fs::write(&file, "").unwrap();
        assert!(matches!(write_folder(&file, [("a.ron", "x")]), Err(FreshError::There { .. })));
        // The same name twice: nothing is there afterwards.
        let twice = base.path().join("twice");
        assert!(write_folder(&twice, [("a.ron", "x"), ("a.ron", "y")]).is_err());
        assert!(!twice.exists());
        assert_eq!(fs::read_dir(base.path()).unwrap().count(), 3);
    }

    #[test]
    fn a_file_that_is_there_is_left_alone() {
        let base = tempfile::tempdir().unwrap();
        let path = base.path().join("a");
        write_new(&path, "x").unwrap();
        assert!(matches!(write_new(&path, "y"), Err(FreshError::There { .. })));
        assert_eq!(fs::read_to_string(&path).unwrap(), "x");
    }
}
