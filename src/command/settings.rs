//! Turns the user's settings file into settings, and one changed setting into the file again.
//!
//! A file that cannot be used stops nothing: it is told, left as it is, and the program goes on without it.

use super::shelf::shown;
use crate::editing::with_field;
use crate::knowledge::{SmallFile, SourceText, ron_options, ron_problem};
use crate::screen::ThemeName;
use crate::store;
use serde::Deserialize;
use std::path::{Path, PathBuf};

/// Newest version of the file that is read.
const VERSION: u32 = 1;
/// A new file.
const FRESH: &str = "// Settings of weephole; see \"Files it keeps\" in its README.\n(\n    version: 1,\n)\n";

/// What the user chose. Every field may be missing.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Settings {
    /// Version of the file.
    pub version: Option<u32>,
    /// Colours of the full screen.
    pub theme: Option<ThemeName>,
}

/// Settings, where they stand, and what was wrong with the file.
#[derive(Debug, Clone, Default)]
pub struct Chosen {
    /// What the user chose; nothing where the file cannot be used.
    pub settings: Settings,
    /// Why the file is not used: file, line, what to do.
    pub trouble: Option<String>,
    path: Option<PathBuf>,
}

/// Only the version, whatever else a file holds.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Versioned {
    version: Option<u32>,
}

impl Chosen {
    /// Reads the settings beside the named data folder, or the user's own.
    pub fn read(data_dir: Option<&Path>) -> Self {
        let Some(path) = store::settings_path(data_dir) else { return Self::default() };
        let (settings, trouble) = match read(&path) {
            Ok(settings) => (settings, None),
            Err(why) => (Settings::default(), Some(format!("the settings are not used: {why}"))),
        };
        Self { settings, trouble, path: Some(path) }
    }

    /// Keeps one setting, given as RON. A file that cannot be used is not written over.
    pub fn keep(&self, field: &str, value: &str) -> Result<(), String> {
        let path = self.path.as_deref().ok_or("no home folder is known; name a folder with --data-dir")?;
        read(path)?;
        let old = store::read_settings(path).map_err(|error| error.to_string())?;
        let new = with_field(old.as_deref().unwrap_or(FRESH), field, value)
            .filter(|text| parse(&SourceText { name: shown(path), text: text.clone() }).is_ok())
            .ok_or_else(|| format!("{}: cannot put `{field}: {value}` in; write it there", shown(path)))?;
        store::write_settings(path, &new)
    }
}

fn read(path: &Path) -> Result<Settings, String> {
    match store::read_settings(path).map_err(|error| error.to_string())? {
        Some(text) => parse(&SourceText { name: shown(path), text }),
        None => Ok(Settings::default()),
    }
}

/// Settings from the text of their file. An error names file, line, column and what to do.
fn parse(source: &SourceText) -> Result<Settings, String> {
    let newer = ron_options().from_str::<Versioned>(&source.text).ok().and_then(|file| file.version);
    if let Some(version) = newer.filter(|version| VERSION < *version) {
        let which = format!("written by a newer weephole (version {version}; this one reads {VERSION})");
        return Err(format!("{}: {which}; use that one, or move the file away", source.name));
    }
    let parsed = ron_options().from_str::<Settings>(&source.text).map_err(|error| ron_problem(source, &error));
    let problem = match parsed {
        Err(problem) => problem,
        Ok(settings) => match SmallFile::read(source).problems.into_iter().next() {
            Some(problem) => problem,
            None => return Ok(settings),
        },
    };
    let at = format!("{}:{}:{}", problem.file, problem.line, problem.column);
    Err(format!("{at}: {}; {}", problem.message, problem.hint))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{Chosen, Settings, parse};
    use crate::knowledge::SourceText;
    use crate::screen::ThemeName;

    fn parsed(text: &str) -> Result<Settings, String> {
        parse(&SourceText { name: "settings.ron".to_owned(), text: text.to_owned() })
    }

    #[test]
    fn every_field_may_be_missing() {
        assert_eq!(parsed("()").unwrap(), Settings::default());
        assert_eq!(parsed("(version: 1, theme: high_contrast)").unwrap().theme, Some(ThemeName::HighContrast));
    }

    #[test]
    fn what_is_wrong_is_told_with_its_line() {
        let field = parsed("(\n    version: 1,\n    thema: dark,\n)").unwrap_err();
        assert!(field.starts_with("settings.ron:3:") && field.contains("did you mean `theme`?"), "{field}");
        let word = parsed("(\n    theme: drak,\n)").unwrap_err();
        assert!(word.starts_with("settings.ron:2:") && word.contains("did you mean `dark`?"), "{word}");
        let twice = parsed("(\n    theme: dark,\n    theme: light,\n)").unwrap_err();
        assert!(twice.starts_with("settings.ron:3:"), "{twice}");
        let newer = parsed("(version: 2, sound: loud)").unwrap_err();
        assert!(newer.contains("newer weephole (version 2; this one reads 1)"), "{newer}");
    }

    #[test]
    fn a_setting_is_kept_and_a_file_that_cannot_be_used_is_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("settings.ron");
        Chosen::read(Some(folder.path())).keep("theme", "light").unwrap();
        assert_eq!(Chosen::read(Some(folder.path())).settings.theme, Some(ThemeName::Light));
        std::fs::write(&path, "(version: 9, theme: dark)").unwrap();
        let chosen = Chosen::read(Some(folder.path()));
        assert!(chosen.settings.theme.is_none() && chosen.trouble.is_some());
        assert!(chosen.keep("theme", "light").is_err());
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "(version: 9, theme: dark)");
    }
}
