//! `weephole` and `weephole job`: open a job or take one up, on the full screen or by lines.

use super::archive::{DiskArchive, with_hash_notice};
use super::arguments::{Arguments, Job};
use super::look::look;
use super::{Failure, bring};
use crate::job::{Archive, JobLine, PumpNote, Taken};
use crate::knowledge::schema::Id;
use crate::record::markdown;
use crate::{line, screen, store};
use std::io::IsTerminal as _;
use std::path::PathBuf;
use std::rc::Rc;

/// Runs a job.
pub fn run(arguments: &Arguments, job: Option<&Job>) -> Result<(), Failure> {
    let knowledge = bring::knowledge(arguments)?;
    let family = job.map_or("oil_backed", |job| job.family.as_str()).to_owned();
    bring::known_family(&knowledge, &family)?;
    let sheet = job.and_then(|job| job.pump.as_ref()).map(|path| bring::sheet(path, &knowledge)).transpose()?;
    let pump = sheet.map(|sheet| PumpNote::of(&sheet, &knowledge));
    let folder = data_dir(arguments)?;
    let stamp = (knowledge.release.clone(), knowledge.hash.clone());
    let index = store::index_path(arguments.data_dir.as_deref(), &folder);
    let disk = DiskArchive::new((folder, index), stamp.clone(), pump);
    let (mut archive, resume): (Box<dyn Archive>, Option<u32>) = match job.and_then(|job| job.journal.clone()) {
        Some(path) => (Box::new(OneJournal { path, stamp, disk }), Some(0)),
        None => (Box::new(disk), job.and_then(|job| job.resume)),
    };
    let knowledge = Rc::new(knowledge);
    if by_lines(arguments) {
        let options = line::Options { family, resume, record: markdown };
        let (mut input, mut out) = (std::io::stdin().lock(), std::io::stdout().lock());
        line::run(archive.as_mut(), knowledge, &mut input, &mut out, options).map_err(|e| Failure::Could(e.to_string()))
    } else {
        let options = screen::Options { family, resume, record: markdown, look: look(arguments) };
        screen::run(archive.as_mut(), knowledge, options).map_err(|e| Failure::Could(e.to_string()))
    }
}

/// Lines when asked for, when there is no terminal at either end, or when the terminal can do nothing.
pub(super) fn by_lines(arguments: &Arguments) -> bool {
    let terminal = std::io::stdin().is_terminal() && std::io::stdout().is_terminal();
    let dumb = std::env::var("TERM").is_ok_and(|term| term == "dumb" || term.is_empty());
    arguments.plain || !terminal || dumb
}

/// One journal named by its path, wherever it lies.
struct OneJournal {
    path: PathBuf,
    stamp: (String, String),
    disk: DiskArchive,
}

impl Archive for OneJournal {
    fn jobs(&self) -> Vec<JobLine> {
        Vec::new()
    }

    fn begin(&mut self, family: &str) -> Result<Taken, String> {
        self.disk.begin(family)
    }

    fn resume(&mut self, number: u32) -> Result<Taken, String> {
        if number == 0 {
            return DiskArchive::take(&self.path, 0).map(|taken| with_hash_notice(taken, &self.stamp));
        }
        self.disk.resume(number)
    }

    fn write_sheet(&mut self, pump: &str, text: &str) -> Result<String, String> {
        self.disk.write_sheet(pump, text)
    }

    fn keep_usual(&mut self, pump: &str, values: &[(Id, String, f64)]) -> Result<String, String> {
        self.disk.keep_usual(pump, values)
    }

    fn write_record(&mut self, number: u32, markdown: &str) -> Result<String, String> {
        if number == 0 {
            let path = self.path.with_extension("md");
            store::write_atomic(&path, markdown).map_err(|error| error.to_string())?;
            return Ok(path.display().to_string());
        }
        self.disk.write_record(number, markdown)
    }
}

/// The folder of jobs.
pub fn data_dir(arguments: &Arguments) -> Result<PathBuf, Failure> {
    store::data_dir(arguments.data_dir.as_deref()).map_err(|error| Failure::Could(error.to_string()))
}
