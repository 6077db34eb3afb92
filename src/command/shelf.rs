//! Turns the journals of a data folder into summaries, with the help of the index; a damaged file is named and skipped.

use super::archive;
use crate::job::JobSummary;
use crate::store::{self, Flaw, Index, JobFile};
use crate::text::clean;
use std::path::{Path, PathBuf};

/// Kind of the texts in the index: changes with the shape of [`JobSummary`].
const KIND: &str = "summaries-1";

/// One job that could be read.
#[derive(Debug, Clone, PartialEq)]
pub struct Shelved {
    /// Number.
    pub number: u32,
    /// Journal.
    pub path: PathBuf,
    /// Summary.
    pub summary: JobSummary,
}

/// All jobs of a folder.
#[derive(Debug, Default)]
pub struct Shelf {
    /// Those that could be read, oldest number first.
    pub jobs: Vec<Shelved>,
    /// Number and path of those that could not, and why.
    pub skipped: Vec<(u32, PathBuf, String)>,
}

impl Shelf {
    /// Reads the jobs of a data folder; `index` is where summaries are remembered.
    pub fn of(data_dir: &Path, index: &Path) -> Result<Self, String> {
        let files = store::list_jobs(data_dir).map_err(|error| error.to_string())?;
        let mut index = Index::open(index, KIND);
        let mut shelf = Self::default();
        for JobFile { number, path, .. } in files {
            match summary(&mut index, &path) {
                Ok(summary) => shelf.jobs.push(Shelved { number, path, summary }),
                Err(why) => shelf.skipped.push((number, path, why)),
            }
        }
        index.save();
        Ok(shelf)
    }
}

fn summary(index: &mut Index, path: &Path) -> Result<JobSummary, String> {
    let text = index.text(path, || {
        let read = read(path)?;
        serde_json::to_string(&read).map_err(|error| error.to_string())
    })?;
    serde_json::from_str(&text).or_else(|_| read(path))
}

/// The summary of a journal, from the file itself.
fn read(path: &Path) -> Result<JobSummary, String> {
    let lines = lines(path)?;
    let entries = archive::entries(path, &lines)?;
    let first = lines.first().map(String::as_str).unwrap_or_default();
    JobSummary::of(first, &entries).ok_or_else(|| format!("{} does not begin with the opening of a job", shown(path)))
}

/// The lines of a journal without damage; a last line that was cut short was never saved and is left out.
pub fn lines(path: &Path) -> Result<Vec<String>, String> {
    let scan = store::read_events(path).map_err(|error| error.to_string())?;
    if let Some(Flaw::Damaged { line, good_after }) = scan.flaw {
        return Err(format!(
            "{} is damaged in line {line}, {good_after} good lines follow; it was left as it is: restore it from a copy",
            shown(path)
        ));
    }
    Ok(scan.events)
}

/// A path as it may stand in a message.
pub fn shown(path: &Path) -> String {
    clean(&path.display().to_string())
}
