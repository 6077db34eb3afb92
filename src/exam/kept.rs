//! Turns finished jobs into lines of a file and back, so that an examination that was cut short goes on where it was.

use super::{JobMarks, Settings};
use crate::knowledge::Knowledge;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use thiserror::Error;

/// Version of the lines.
const VERSION: u32 = 1;

/// Why a file of finished jobs is not taken.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum KeptError {
    /// Not such a file.
    #[error("its first line is not that of a file of finished jobs")]
    NotKept,
    /// Other settings.
    #[error("its jobs were played with other settings: {0}")]
    Settings(String),
    /// Other knowledge.
    #[error("its jobs were played with other knowledge ({0})")]
    Knowledge(String),
    /// Another program.
    #[error("its jobs were played by version {0} of the program")]
    Program(String),
    /// A line that is no job.
    #[error("line {0} is not a finished job")]
    Line(usize),
}

/// What was played: the first line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Kept {
    #[serde(rename = "kept_jobs")]
    version: u32,
    program: String,
    knowledge: String,
    settings: Settings,
}

impl Kept {
    /// Jobs of these settings and this knowledge, by this program.
    pub fn of(knowledge: &Knowledge, settings: &Settings) -> Self {
        let program = env!("CARGO_PKG_VERSION").to_owned();
        Self { version: VERSION, program, knowledge: knowledge.hash.clone(), settings: settings.clone() }
    }

    /// The file: what was played, then the jobs by number, one JSON value a line.
    pub fn write(&self, jobs: &BTreeMap<usize, JobMarks>) -> String {
        let first = serde_json::to_string(self).unwrap_or_default();
        let lines = jobs.values().map(|job| serde_json::to_string(job).unwrap_or_default());
        std::iter::once(first).chain(lines).map(|line| line + "\n").collect()
    }

    /// The finished jobs of such a file. An empty one has none.
    ///
    /// # Errors
    /// [`KeptError`] for a file of something else; nothing of it is used then.
    pub fn read(&self, text: &str) -> Result<BTreeMap<usize, JobMarks>, KeptError> {
        let mut lines = text.lines().enumerate();
        let Some((_, first)) = lines.next() else { return Ok(BTreeMap::new()) };
        let kept: Self = serde_json::from_str(first).map_err(|_| KeptError::NotKept)?;
        if kept.version != self.version {
            return Err(KeptError::NotKept);
        }
        if kept.program != self.program {
            return Err(KeptError::Program(kept.program));
        }
        if kept.knowledge != self.knowledge {
            return Err(KeptError::Knowledge(kept.knowledge));
        }
        if kept.settings != self.settings {
            return Err(KeptError::Settings(serde_json::to_string(&kept.settings).unwrap_or_default()));
        }
        let job = |(at, line): (usize, &str)| {
            let marks: JobMarks = serde_json::from_str(line).map_err(|_| KeptError::Line(at + 1))?;
            Ok((marks.number, marks))
        };
        lines.map(job).collect()
    }
}
