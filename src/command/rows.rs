//! `weephole jobs export`: what the jobs of a data folder tell, as flat lines of JSON for counting over many sites.

use super::arguments::{Arguments, JobsExport};
use super::shelf::{lines, shown};
use super::{Failure, archive, bring, print};
use crate::learning::{Reader, rows};
use crate::store;
use crate::text::json;
use std::path::Path;

/// Prints or writes the rows of every job, oldest number first; what cannot be read is named and skipped.
pub fn run(arguments: &Arguments, folder: &Path, export: &JobsExport) -> Result<(), Failure> {
    let knowledge = bring::knowledge(arguments)?;
    let mut reader = Reader::new(&knowledge);
    let mut whole = String::new();
    let mut skipped = 0;
    for job in store::list_jobs(folder).map_err(|error| Failure::Could(error.to_string()))? {
        match of_job(&mut reader, &job.path) {
            Ok(text) if text.is_empty() => {}
            Ok(text) if export.out.is_some() => whole += &text,
            Ok(text) => print::out(text.trim_end()),
            Err(why) => {
                skipped += 1;
                print::error(&format!("job {} is skipped: {why}", job.number));
            }
        }
    }
    if let Some(path) = &export.out {
        store::write_atomic(path, &whole).map_err(|error| Failure::Could(error.to_string()))?;
        print::out(&format!("{} lines in {}", whole.lines().count(), shown(path)));
    }
    match skipped {
        0 => Ok(()),
        count => Err(Failure::Could(format!("{count} jobs could not be read; the others are in the lines"))),
    }
}

/// The lines of one job.
fn of_job(reader: &mut Reader, path: &Path) -> Result<String, String> {
    let journal = lines(path)?;
    let entries = archive::entries(path, &journal)?;
    let first = journal.first().map(String::as_str).unwrap_or_default();
    let taught = reader.read(first, &entries);
    let taught = taught.ok_or_else(|| format!("{} does not begin with the opening of a job", shown(path)))?;
    let mut text = String::new();
    for row in rows(&taught) {
        text += &json(&serde_json::to_string(&row).map_err(|error| error.to_string())?);
        text.push('\n');
    }
    Ok(text)
}
