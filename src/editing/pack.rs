//! Turns the files of a knowledge into one file with its hash, and such a file back, checked, into files.

use super::Refusal;
use crate::knowledge::SourceText;
use crate::text::{clean, fingerprint};
use serde::{Deserialize, Serialize};

/// What the file says it is.
const FORMAT: &str = "weephole knowledge";
/// Newest version of the format.
const VERSION: u32 = 1;
/// Most files: each name is compared with all others.
const MOST_FILES: usize = 1000;
/// Folders a file may lie deep, as the loader looks.
const DEPTH: usize = 4;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Pack {
    format: String,
    version: u32,
    release: String,
    sha256: String,
    files: Vec<File>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    name: String,
    text: String,
}

/// All files as one JSON text with the SHA-256 over names and texts.
pub fn pack(release: &str, sources: &[SourceText]) -> String {
    let mut files: Vec<File> =
        sources.iter().map(|source| File { name: source.name.clone(), text: source.text.clone() }).collect();
    files.sort_by(|a, b| a.name.cmp(&b.name));
    let sha256 = hash(&files);
    let pack = Pack { format: FORMAT.to_owned(), version: VERSION, release: release.to_owned(), sha256, files };
    let mut text = serde_json::to_string_pretty(&pack).unwrap_or_default();
    text.push('\n');
    text
}

/// The files of such a text, every name checked.
///
/// # Errors
/// Another format, a newer version, a hash that does not fit, a name that leads elsewhere or stands twice.
pub fn open_pack(text: &str) -> Result<Vec<SourceText>, Refusal> {
    let pack: Pack = serde_json::from_str(text).map_err(|error| {
        let message = format!("this is not a packed knowledge: {}", clean(&error.to_string()));
        Refusal::said(message, "name a file that `weephole knowledge pack` wrote")
    })?;
    if pack.format != FORMAT || pack.version == 0 || VERSION < pack.version {
        let message = format!("`{}` version {} is not known here", clean(&pack.format), pack.version);
        return Err(Refusal::said(message, "a newer program is needed for newer files"));
    }
    if hash(&pack.files) != pack.sha256 {
        let message = "the hash does not fit what is in the file: it was cut short or changed".to_owned();
        return Err(Refusal::said(message, "ask for it once more"));
    }
    if MOST_FILES < pack.files.len() {
        let message = format!("there are more than {MOST_FILES} files in it");
        return Err(Refusal::said(message, "do not open this file"));
    }
    let mut seen: Vec<String> = Vec::new();
    for file in &pack.files {
        let name = safe_name(&file.name).map_err(|why| Refusal::said(why, "do not open this file"))?.to_lowercase();
        let below = |a: &str, b: &str| a.strip_prefix(b).is_some_and(|rest| rest.starts_with('/'));
        if seen.iter().any(|other| *other == name || below(other, &name) || below(&name, other)) {
            let message = format!("the name `{}` stands twice", clean(&file.name));
            return Err(Refusal::said(message, "do not open this file"));
        }
        seen.push(name);
    }
    if pack.files.is_empty() {
        return Err(Refusal::said("there is no file in it".to_owned(), "ask for it once more"));
    }
    Ok(pack.files.into_iter().map(|file| SourceText { name: file.name, text: file.text }).collect())
}

fn hash(files: &[File]) -> String {
    fingerprint(files.iter().flat_map(|file| [file.name.as_str(), file.text.as_str()]))
}

/// The name of a knowledge file below a folder, if it leads nowhere else: plain words parted by `/`, ending in `.ron`.
///
/// # Errors
/// What is wrong with it.
pub fn safe_name(name: &str) -> Result<String, String> {
    let shown = || {
        if name.len() <= 200 { clean(name) } else { format!("{}…", clean(name).chars().take(60).collect::<String>()) }
    };
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.');
    let steps: Vec<&str> = name.split('/').collect();
    let fits = steps.iter().all(|step| !step.is_empty() && !step.starts_with('.') && step.chars().all(plain));
    let ends_well = name.strip_suffix(".ron").is_some_and(|stem| !stem.is_empty() && !stem.ends_with('/'));
    if fits && ends_well && steps.len() <= DEPTH + 1 && name.len() <= 200 {
        return Ok(name.to_owned());
    }
    Err(format!("`{}` is not the name of a knowledge file", shown()))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{FORMAT, File, Pack, VERSION, hash, open_pack, pack, safe_name};
    use crate::knowledge::SourceText;

    fn forged(names: &[&str]) -> String {
        let files: Vec<File> =
            names.iter().map(|name| File { name: (*name).to_owned(), text: String::new() }).collect();
        let sha256 = hash(&files);
        let pack = Pack { format: FORMAT.to_owned(), version: VERSION, release: String::new(), sha256, files };
        serde_json::to_string(&pack).unwrap()
    }

    #[test]
    fn what_is_packed_comes_out_the_same() {
        let file = |name: &str, text: &str| SourceText { name: name.to_owned(), text: text.to_owned() };
        let files = [file("a.ron", "(version: 1)\r\n"), file("b/c.ron", "// Ü \"x\"\n(version: 1)")];
        assert_eq!(open_pack(&pack("r", &files)).unwrap(), files);
    }

    #[test]
    fn a_changed_or_cut_file_is_refused() {
        let text = pack("r", &[SourceText { name: "a.ron".to_owned(), text: "(version: 1)".to_owned() }]);
        assert!(open_pack(&text.replace("(version: 1)", "(version: 2)")).is_err());
        assert!(open_pack(&text.replace("a.ron", "b.ron")).is_err());
        assert!(open_pack(&text[..text.len() / 2]).is_err());
        assert!(open_pack(&text.replace("\"version\": 1", "\"version\": 2")).is_err());
    }

    #[test]
    fn names_that_lead_elsewhere_are_refused() {
        assert!(open_pack(&forged(&["a.ron", "b/a.ron"])).is_ok());
        for name in [
            "../a.ron",
            "/a.ron",
            "a/../b.ron",
            "a//b.ron",
            "C:a.ron",
            "a\\b.ron",
            ".a.ron",
            "a",
            "a.ron/",
            "",
            ".ron",
            "a/b/c/d/e/f.ron",
            "a\u{0}.ron",
            "./a.ron",
            "~/a.ron",
            "b/.ron",
        ] {
            assert!(safe_name(name).is_err(), "{name}");
            assert!(open_pack(&forged(&[name])).is_err(), "{name}");
        }
        for twice in [["a.ron", "A.ron"], ["a.ron", "a.ron/b.ron"], ["a.ron/b.ron", "a.ron"]] {
            assert!(open_pack(&forged(&twice)).is_err(), "{twice:?}");
        }
    }
}
