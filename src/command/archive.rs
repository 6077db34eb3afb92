//! Keeps jobs on disk: one journal each in the data folder, every event saved before it counts.

use super::shelf::{Shelf, Shelved, shown};
use crate::job::{Archive, Entry, Event, JobLine, Keeper, PumpNote, Taken};
use crate::knowledge::schema::Id;
use crate::store::{self, Journal};
use crate::text::{clean, json, slug};
use indexmap::IndexMap;
use std::path::{Path, PathBuf};

/// Most bytes of a file of usual values.
const USUAL_LIMIT: u64 = 1 << 20;

/// The jobs of one data folder.
pub struct DiskArchive {
    folder: PathBuf,
    index: PathBuf,
    knowledge: (String, String),
    pump: Option<PumpNote>,
}

impl DiskArchive {
    /// The jobs in `folder`, summed up in the file `index`, for knowledge of this release and hash and, for new jobs, this pump.
    pub fn new((folder, index): (PathBuf, PathBuf), knowledge: (String, String), pump: Option<PumpNote>) -> Self {
        Self { folder, index, knowledge, pump }
    }

    /// Takes up a job by its journal's path.
    pub fn take(path: &Path, number: u32) -> Result<Taken, String> {
        let (journal, lines, torn) = Journal::open(path).map_err(|error| error.to_string())?;
        let mut notices: Vec<String> = Vec::new();
        if let Some(torn) = torn {
            let kept = shown(&torn.kept_in);
            notices.push(format!(
                "The last entry (line {}, {} bytes) was cut short and does not count; it is kept in {kept}.",
                torn.line, torn.bytes
            ));
        }
        if let Some(damage) = journal.damage() {
            notices.push(format!(
                "Line {} is damaged; {} good lines after it are not used. Nothing can be added to this job.",
                damage.line, damage.good_after
            ));
        }
        let entries = entries(path, &lines)?;
        Ok(Taken { keeper: Box::new(DiskKeeper { journal, number }), entries, notices })
    }
}

/// The journal of a job.
pub fn path_of(folder: &Path, number: u32) -> Result<PathBuf, String> {
    let jobs = store::list_jobs(folder).map_err(|error| error.to_string())?;
    let found = jobs.into_iter().find(|job| job.number == number).map(|job| job.path);
    found.ok_or_else(|| format!("there is no job {number} in {}", shown(folder)))
}

/// The entries behind the lines of a journal.
pub fn entries(path: &Path, lines: &[String]) -> Result<Vec<Entry>, String> {
    lines.iter().enumerate().map(|(at, line)| parse(path, at + 1, line)).collect()
}

fn parse(path: &Path, line: usize, text: &str) -> Result<Entry, String> {
    serde_json::from_str(text)
        .map_err(|error| format!("{}:{line}: this line is not an entry of a job: {error}", shown(path)))
}

impl Archive for DiskArchive {
    fn jobs(&self) -> Vec<JobLine> {
        let Ok(kept) = Shelf::of(&self.folder, &self.index) else { return Vec::new() };
        let skipped = kept.skipped.into_iter().map(trouble_line);
        let mut lines: Vec<JobLine> = kept.jobs.into_iter().map(job_line).chain(skipped).collect();
        lines.sort_by_key(|line| std::cmp::Reverse(line.number));
        lines
    }

    fn begin(&mut self, family: &str) -> Result<Taken, String> {
        let title = self.pump.as_ref().map_or(family, |pump| pump.name.as_str());
        let journal = store::create_job(&self.folder, title).map_err(|error| error.to_string())?;
        let number = number_in(journal.path());
        let mut keeper = DiskKeeper { journal, number };
        let (pump, notices) = with_kept_usual(&self.folder, self.pump.clone());
        let opened = keeper.keep(Event::opened(family, (&self.knowledge.0, &self.knowledge.1), pump))?;
        Ok(Taken { keeper: Box::new(keeper), entries: vec![opened], notices })
    }

    fn resume(&mut self, number: u32) -> Result<Taken, String> {
        let taken = Self::take(&path_of(&self.folder, number)?, number)?;
        Ok(with_hash_notice(taken, &self.knowledge))
    }

    fn write_sheet(&mut self, pump: &str, text: &str) -> Result<String, String> {
        let path = store::sheet_path(&self.folder, pump).map_err(|error| error.to_string())?;
        written(&path, text)
    }

    fn keep_usual(&mut self, pump: &str, values: &[(Id, String, f64)]) -> Result<String, String> {
        let path = usual_path(&self.folder, pump);
        let mut kept: IndexMap<Id, (String, f64)> = read_usual(&path)?.into_iter().collect();
        kept.extend(values.iter().map(|(id, text, si)| (id.clone(), (text.clone(), *si))));
        let text = serde_json::to_string_pretty(&kept).map_err(|error| error.to_string())?;
        written(&path, &text)
    }

    fn write_record(&mut self, number: u32, markdown: &str) -> Result<String, String> {
        let path = path_of(&self.folder, number)?.with_extension("md");
        written(&path, markdown)
    }
}

/// Writes a file whole and returns where.
fn written(path: &Path, text: &str) -> Result<String, String> {
    store::write_atomic(path, text).map_err(|error| error.to_string())?;
    Ok(shown(path))
}

/// Where the usual values of a pump are kept: beside the jobs, by the pump's name.
fn usual_path(folder: &Path, pump: &str) -> PathBuf {
    folder.join(format!("usual_{}.json", slug(pump)))
}

/// Kept usual values by reading, as typed and in SI; none where nothing was kept.
fn read_usual(path: &Path) -> Result<IndexMap<Id, (String, f64)>, String> {
    if !path.exists() {
        return Ok(IndexMap::new());
    }
    let text = store::read_text(path, USUAL_LIMIT).map_err(|error| error.to_string())?;
    serde_json::from_str(&text).map_err(|error| {
        let path = shown(path);
        format!("{path} does not hold usual values ({error}); put it away to go on without them")
    })
}

/// The pump with the usual values of its last passed return to service: they go before those of the sheet.
fn with_kept_usual(folder: &Path, pump: Option<PumpNote>) -> (Option<PumpNote>, Vec<String>) {
    let Some(mut pump) = pump else { return (None, Vec::new()) };
    let kept = match read_usual(&usual_path(folder, &pump.name)) {
        Ok(kept) => kept,
        Err(why) => return (Some(pump), vec![why]),
    };
    for (id, (text, si)) in kept {
        pump.lines.push((format!("usual {} (last return to service)", id.replace('_', " ")), clean(&text)));
        pump.usual.retain(|(known, ..)| *known != id);
        pump.usual.push((id, text, si));
    }
    (Some(pump), Vec::new())
}

/// Says so when the knowledge has changed since the job was opened.
pub fn with_hash_notice(mut taken: Taken, knowledge: &(String, String)) -> Taken {
    if let Some(Entry { event: Event::Opened { hash, release, .. }, .. }) = taken.entries.first()
        && *hash != knowledge.1
    {
        taken.notices.push(format!(
            "This job was opened with knowledge {release} ({hash}); {} ({}) is used now.",
            knowledge.0, knowledge.1
        ));
    }
    taken
}

/// The number in the name of a journal.
pub fn number_in(path: &Path) -> u32 {
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    name.chars().take_while(char::is_ascii_digit).collect::<String>().parse().unwrap_or_default()
}

/// A job's line for the start page.
fn job_line(job: Shelved) -> JobLine {
    let Shelved { number, summary, .. } = job;
    JobLine {
        number,
        last: store::local(summary.last).strftime("%Y-%m-%d %H:%M").to_string(),
        open: summary.is_open(),
        pump: if summary.pump.is_empty() { summary.family } else { summary.pump },
        complaint: summary.complaint,
        trouble: None,
    }
}

/// The line of a job that cannot be read.
fn trouble_line((number, _, why): (u32, PathBuf, String)) -> JobLine {
    let (pump, complaint, last) = Default::default();
    JobLine { number, pump, complaint, last, open: true, trouble: Some(why) }
}

struct DiskKeeper {
    journal: Journal,
    number: u32,
}

impl Keeper for DiskKeeper {
    fn keep(&mut self, event: Event) -> Result<Entry, String> {
        let entry = Entry { at: store::now(), event };
        let text = serde_json::to_string(&entry).map_err(|error| format!("cannot write this entry: {error}"))?;
        self.journal.append(&json(&text)).map_err(|error| error.to_string())?;
        Ok(entry)
    }

    fn place(&self) -> String {
        shown(self.journal.path())
    }

    fn number(&self) -> u32 {
        self.number
    }

    fn now(&self) -> Option<jiff::Timestamp> {
        Some(store::now())
    }
}
