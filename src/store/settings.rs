//! Turns the user's home, or a named data folder, into the place of the settings, and that file into its text and back.
//!
//! The text is not interpreted here.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use etcetera::{BaseStrategy, choose_base_strategy};

use super::disk::folder_of;
use super::files::{ReadError, read_text, write_atomic};
use super::folders::{OURS, ensure};

/// No settings are read past this, bytes.
const LIMIT: u64 = 64 * 1024;

/// Where the settings belong: `settings.ron` in the named data folder, or in the user's own folder of settings
/// (`$XDG_CONFIG_HOME/weephole`); none without a home.
pub fn settings_path(named: Option<&Path>) -> Option<PathBuf> {
    let folder = match named {
        Some(folder) => folder.to_owned(),
        None => choose_base_strategy().ok()?.config_dir().join(OURS),
    };
    Some(folder.join("settings.ron"))
}

/// The text of the settings; none if there is no such file.
pub fn read_settings(path: &Path) -> Result<Option<String>, ReadError> {
    match read_text(path, LIMIT) {
        Ok(text) => Ok(Some(text)),
        Err(ReadError::Disk(error)) if error.is(ErrorKind::NotFound) => Ok(None),
        Err(error) => Err(error),
    }
}

/// Saves the settings whole; the folder is made if missing. An error says what was not done and what to do.
pub fn write_settings(path: &Path, text: &str) -> Result<(), String> {
    ensure(folder_of(path)).map_err(|error| error.to_string())?;
    write_atomic(path, text).map_err(|error| error.to_string())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{read_settings, settings_path, write_settings};

    #[test]
    fn settings_of_a_named_folder_stay_in_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = settings_path(Some(&folder.path().join("new"))).unwrap();
        assert_eq!(read_settings(&path).unwrap(), None);
        write_settings(&path, "(theme: light)").unwrap();
        assert_eq!(read_settings(&path).unwrap().as_deref(), Some("(theme: light)"));
        assert!(path.ends_with("new/settings.ron"));
        std::fs::write(&path, [0xff]).unwrap();
        assert!(read_settings(&path).is_err());
    }
}
