//! Brings in files: the built-in knowledge with a folder over it, and pump sheets.

use super::shelf::shown;
use super::{Arguments, Failure, print, snippets};
use crate::evidence::{physics_problems, read_pump_sheet};
use crate::knowledge::sheet::SheetRead;
use crate::knowledge::{Knowledge, Loaded, Problem, SourceText, load};
use crate::rig::lesson_problems;
use crate::store;
use crate::text::clean;
use include_dir::{Dir, include_dir};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

/// Largest knowledge file, bytes.
const KNOWLEDGE_LIMIT: u64 = 8 * 1024 * 1024;
/// Most bytes of all knowledge files together.
const FOLDER_LIMIT: usize = 64 * 1024 * 1024;
/// Largest facts file or pump sheet, bytes.
pub const SMALL_LIMIT: u64 = 1024 * 1024;

/// The knowledge of this release, inside the program.
static BUILT_IN: Dir = include_dir!("$CARGO_MANIFEST_DIR/knowledge");

/// All knowledge files that count: built-in ones, each replaced by the file of the same name in the folder given.
pub fn sources(folder: Option<&Path>) -> Result<Vec<SourceText>, Failure> {
    Ok(sources_and_own(folder)?.0)
}

/// The same, with the names of those that stand in the folder.
pub fn sources_and_own(folder: Option<&Path>) -> Result<(Vec<SourceText>, Vec<String>), Failure> {
    let Some(folder) = folder else {
        let mut sources = Vec::new();
        built_in(&BUILT_IN, &mut sources);
        return Ok((sources, Vec::new()));
    };
    let listing = store::list(folder, "ron").map_err(|error| Failure::Bad(error.to_string()))?;
    for left_out in &listing.left_out {
        print::error(&left_out.to_string());
    }
    over_built_in(folder, &listing.files)
}

/// The same without a word about what is left out: for a second look while the full screen is on.
pub fn read(folder: &Path) -> Result<(Vec<SourceText>, Vec<String>), Failure> {
    let listing = store::list(folder, "ron").map_err(|error| Failure::Bad(error.to_string()))?;
    over_built_in(folder, &listing.files)
}

fn over_built_in(folder: &Path, files: &[PathBuf]) -> Result<(Vec<SourceText>, Vec<String>), Failure> {
    let mut sources = Vec::new();
    built_in(&BUILT_IN, &mut sources);
    if files.is_empty() {
        let place = shown(folder);
        let hint = "name a folder with knowledge files, or start without --knowledge";
        return Err(Failure::Bad(format!("{place}: there is no knowledge file (*.ron) in this folder; {hint}")));
    }
    let mut own = Vec::new();
    let mut bytes = 0;
    for file in files {
        let text = store::read_text(file, KNOWLEDGE_LIMIT).map_err(|error| Failure::Bad(error.to_string()))?;
        bytes += text.len();
        if FOLDER_LIMIT < bytes {
            let why = format!("its files have more than {FOLDER_LIMIT} bytes together");
            return Err(Failure::Bad(format!("{}: {why}; check that it is the right folder", shown(folder))));
        }
        let name = file.strip_prefix(folder).unwrap_or(file).to_string_lossy().replace('\\', "/");
        let name = clean(&name);
        sources.retain(|source| source.name != name);
        sources.push(SourceText { name: name.clone(), text });
        own.push(name);
    }
    Ok((sources, own))
}

fn built_in(folder: &Dir, sources: &mut Vec<SourceText>) {
    for file in folder.files() {
        let is_ron = file.path().extension().is_some_and(|extension| extension == "ron");
        if let Some(text) = file.contents_utf8().filter(|_| is_ron) {
            sources.push(SourceText { name: file.path().to_string_lossy().into_owned(), text: text.to_owned() });
        }
    }
    for inner in folder.dirs() {
        built_in(inner, sources);
    }
}

/// The knowledge with everything that is wrong with it, names of the physics included.
pub fn loaded(sources: Vec<SourceText>) -> Loaded {
    let mut loaded = load(sources);
    loaded.problems.extend(physics_problems(&loaded.knowledge));
    loaded.problems.extend(lesson_problems(&loaded.knowledge));
    loaded
}

/// The knowledge, if it can be used; otherwise its problems are printed.
pub fn knowledge(arguments: &Arguments) -> Result<Knowledge, Failure> {
    let sources = sources(arguments.knowledge.as_deref())?;
    let loaded = loaded(sources.clone());
    if loaded.is_broken() {
        tell(&loaded, &sources);
        return Err(Failure::Bad("this knowledge cannot be used; mend the errors above".to_owned()));
    }
    Ok(loaded.knowledge)
}

/// The same for `--json`: what is wrong is one JSON value on standard output.
pub fn knowledge_or_json(arguments: &Arguments) -> Result<Knowledge, Failure> {
    let loaded = loaded(sources(arguments.knowledge.as_deref()).map_err(|failure| failure_as_json(&failure))?);
    if loaded.is_broken() {
        print::json(&json!({ "problems": loaded.problems }));
        return Err(Failure::Told);
    }
    Ok(loaded.knowledge)
}

/// Refuses a family that is not in the knowledge.
pub fn known_family(knowledge: &Knowledge, family: &str) -> Result<(), Failure> {
    if knowledge.all.families.contains_key(family) {
        return Ok(());
    }
    let known: Vec<&str> = knowledge.all.families.keys().map(String::as_str).collect();
    Err(Failure::Bad(format!("`{family}` is not a pump family; known: {}", known.join(", "))))
}

/// Prints a failure as the only problem of a JSON answer.
pub fn failure_as_json(failure: &Failure) -> Failure {
    print::json(&json!({ "problems": [unreadable(&failure.to_string())] }));
    match failure {
        Failure::Could(_) => Failure::CouldTold,
        Failure::Bad(_) | Failure::Told | Failure::CouldTold => Failure::Told,
    }
}

/// A problem that stands in no file, as JSON.
pub fn unreadable(message: &str) -> Value {
    json!({ "severity": "error", "rule": "unreadable", "file": "", "line": 1, "column": 1,
            "message": message, "hint": "mend the file or name another one" })
}

fn tell(loaded: &Loaded, sources: &[SourceText]) {
    let errors = loaded.problems.iter().filter(|p| p.severity == crate::knowledge::Severity::Error);
    tell_all(errors, sources);
}

/// Prints the first twenty problems, with pictures of the lines.
pub fn tell_all<'p>(problems: impl Iterator<Item = &'p Problem>, sources: &[SourceText]) {
    for problem in problems.take(20) {
        print::error(&snippets::picture(problem, sources));
    }
}

/// Prints problems of one small file, with pictures of the lines.
pub fn tell_problems(problems: &[Problem], source: &SourceText) {
    tell_all(problems.iter(), std::slice::from_ref(source));
}

/// A small file as text with its name to show.
pub fn small_file(path: &Path) -> Result<SourceText, Failure> {
    let text = store::read_text(path, SMALL_LIMIT).map_err(|error| Failure::Bad(error.to_string()))?;
    Ok(SourceText { name: shown(path), text })
}

/// Reads a pump sheet; with an error in it, the problems are printed.
pub fn sheet(path: &Path, knowledge: &Knowledge) -> Result<SheetRead, Failure> {
    let source = small_file(path)?;
    let read = read_pump_sheet(&source, knowledge);
    if read.problems.is_empty() {
        return Ok(read);
    }
    tell_problems(&read.problems, &source);
    Err(Failure::Bad("this pump sheet cannot be used; mend the errors above".to_owned()))
}
