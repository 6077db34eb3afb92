//! `weephole knowledge unpack, pack, open, changes`: knowledge as a folder, as one file, and against another.

use super::arguments::Arguments;
use super::shelf::shown;
use super::{Failure, bring, print};
use crate::editing::{Difference, changes_in_words, compare, open_pack, pack};
use crate::knowledge::{Knowledge, Severity, SourceText};
use crate::store;
use serde_json::json;
use std::path::Path;

/// Largest packed file, bytes.
const PACK_LIMIT: u64 = 64 * 1024 * 1024;

/// Writes the knowledge that counts into a new folder.
pub fn unpack(arguments: &Arguments, folder: &Path) -> Result<(), Failure> {
    let sources = bring::sources(arguments.knowledge.as_deref())?;
    write(folder, &sources)?;
    let place = shown(folder);
    print::out(&format!("{} files written to {place}; use them with --knowledge {place}", sources.len()));
    Ok(())
}

fn write(folder: &Path, sources: &[SourceText]) -> Result<(), Failure> {
    let files = sources.iter().map(|source| (source.name.as_str(), source.text.as_str()));
    store::write_folder(folder, files).map_err(|error| Failure::Could(error.to_string()))
}

/// Writes the knowledge that counts into one file.
pub fn pack_into(arguments: &Arguments, file: &Path) -> Result<(), Failure> {
    let knowledge = bring::knowledge(arguments)?;
    let sources: Vec<SourceText> = knowledge.files().map(|(source, _)| source.clone()).collect();
    let text = pack(&knowledge.release, &sources);
    // What is packed must open again: names of files in a folder may be odd.
    open_pack(&text).map_err(|refusal| Failure::Bad(refusal.to_string()))?;
    store::write_new(file, &text).map_err(|error| Failure::Could(error.to_string()))?;
    let state = format!("knowledge {} ({})", knowledge.release, knowledge.hash);
    print::out(&format!("{} files in {}, {state}", sources.len(), shown(file)));
    Ok(())
}

/// Checks a packed file and writes its knowledge into a new folder.
pub fn open(file: &Path, folder: &Path) -> Result<(), Failure> {
    let text = store::read_text(file, PACK_LIMIT).map_err(|error| Failure::Bad(error.to_string()))?;
    let sources = open_pack(&text).map_err(|refusal| Failure::Bad(format!("{}: {refusal}", shown(file))))?;
    let loaded = bring::loaded(sources.clone());
    let errors = || loaded.problems.iter().filter(|problem| problem.severity == Severity::Error);
    if loaded.is_broken() {
        bring::tell_all(errors(), &sources);
        return Err(Failure::Bad("nothing was written: the knowledge in this file cannot be used".to_owned()));
    }
    write(folder, &sources)?;
    let Knowledge { release, hash, .. } = &loaded.knowledge;
    print::out(&format!("{} files written to {}, knowledge {release} ({hash})", sources.len(), shown(folder)));
    Ok(())
}

/// Says what is different between two folders.
pub fn changes(old: &Path, new: &Path, as_json: bool) -> Result<(), Failure> {
    let both = state(old).and_then(|old| Ok((old, state(new)?)));
    let (old, new) = both.map_err(|failure| if as_json { bring::failure_as_json(&failure) } else { failure })?;
    let changes = compare(&old, &new);
    if as_json {
        let of = |knowledge: &Knowledge| json!({ "release": knowledge.release, "hash": knowledge.hash });
        print::json(&json!({ "old": of(&old), "new": of(&new), "changes": changes }));
        return Ok(());
    }
    for line in changes_in_words(&changes) {
        print::out(&line);
    }
    let count = |what| changes.iter().filter(|change| change.what == what).count();
    print::out(&format!(
        "{} added, {} retired, {} gone, {} values changed; {} of all about safety",
        count(Difference::Added),
        count(Difference::Retired),
        count(Difference::Gone),
        count(Difference::Changed),
        changes.iter().filter(|change| change.safety).count()
    ));
    Ok(())
}

/// The knowledge of a folder; it may hold errors, as long as every file can be read.
fn state(folder: &Path) -> Result<Knowledge, Failure> {
    let named = Some(folder).filter(|folder| *folder != Path::new("built-in"));
    let sources = bring::sources(named)?;
    let loaded = bring::loaded(sources.clone());
    if loaded.knowledge.files().all(|(_, outline)| outline.is_some()) {
        return Ok(loaded.knowledge);
    }
    let errors = loaded.problems.iter().filter(|problem| problem.severity == Severity::Error);
    bring::tell_all(errors, &sources);
    Err(Failure::Bad(format!("{}: this knowledge cannot be read; mend the errors above", shown(folder))))
}
