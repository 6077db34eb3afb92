//! Turns a seed into runs of the program that are killed (SIGKILL) at random instants, and says what was lost: nothing may be.
//!
//! Five kinds of run: jobs by lines, rebuild sheets, edits of knowledge, merged folders, practice. Whatever the program had
//! said to be saved must be on the disk, in the same order; what is on the disk must open again and go on.

pub mod edits;
pub mod jobs;
pub mod merges;
pub mod practice;

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};
use tempfile::TempDir;
use weephole::simulation::Chance;

/// A run is killed within this many times what it takes by itself.
const PAST_THE_END: f64 = 1.05;

/// What came of the runs of one kind.
#[derive(Default)]
pub struct Table {
    /// Runs.
    pub runs: usize,
    /// Runs that were killed before they ended by themselves.
    pub cut: usize,
    /// What was said to be saved.
    pub said: usize,
    /// What was found on the disk.
    pub kept: usize,
    /// Last lines cut short, which were kept aside.
    pub torn: usize,
    /// Everything that was lost or does not go on.
    pub lost: Vec<String>,
}

/// One kind of run.
#[derive(Clone, Copy)]
pub struct Kind {
    /// Name.
    pub name: &'static str,
    /// Sets a run up, lets it be killed and looks at what is left; without a time it runs to its end.
    pub one: fn(&Path, Option<Duration>, &mut Chance, &mut Table),
}

/// All kinds.
pub const KINDS: [Kind; 5] = [
    Kind { name: "jobs", one: jobs::any },
    Kind { name: "rebuild sheets", one: jobs::rebuild },
    Kind { name: "knowledge set, undo", one: edits::one },
    Kind { name: "jobs merge", one: merges::one },
    Kind { name: "practice", one: practice::one },
];

/// So many killed runs of one kind. How long one takes is measured first.
pub fn runs(kind: Kind, program: &Path, seed: u64, many: usize) -> Table {
    let begun = Instant::now();
    (kind.one)(program, None, &mut Chance::of(seed, &[kind.name, "whole"]), &mut Table::default());
    let longest = begun.elapsed();
    let mut table = Table::default();
    for run in 0..many {
        let mut chance = Chance::of(seed, &[kind.name, &run.to_string()]);
        let after = longest.mul_f64(PAST_THE_END * chance.even());
        table.runs += 1;
        let known = table.lost.len();
        (kind.one)(program, Some(after), &mut chance, &mut table);
        for lost in &mut table.lost[known..] {
            *lost = format!("{}, run {run}: {lost}", kind.name);
        }
    }
    table
}

/// A folder for one run.
pub fn place() -> TempDir {
    tempfile::tempdir().unwrap()
}

/// Runs a command with lines piped in, kills it after a while, and gives what it had said.
pub fn killed(command: &mut Command, typed: &str, after: Option<Duration>, table: &mut Table) -> String {
    let place = place();
    let (input, said) = (place.path().join("typed"), place.path().join("said"));
    fs::write(&input, typed).unwrap();
    let mut child = command
        .stdin(Stdio::from(File::open(&input).unwrap()))
        .stdout(Stdio::from(File::create(&said).unwrap()))
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    if let Some(after) = after {
        thread::sleep(after);
        table.cut += usize::from(child.try_wait().unwrap().is_none());
        let _ = child.kill();
    }
    child.wait().unwrap();
    let said = String::from_utf8_lossy(&fs::read(&said).unwrap()).into_owned();
    // A last line without its end was not said yet.
    said.split_inclusive('\n').filter(|line| line.ends_with('\n')).collect()
}

/// The program on a folder of jobs.
pub fn on(program: &Path, data: &Path, words: &[&str]) -> Command {
    let mut command = Command::new(program);
    command.arg("--data-dir").arg(data).args(words);
    command
}

/// True if a command ends well with these lines piped in.
pub fn goes_on(command: &mut Command, typed: &str) -> bool {
    let place = place();
    let input = place.path().join("typed");
    fs::write(&input, typed).unwrap();
    let input = Stdio::from(File::open(&input).unwrap());
    command.stdin(input).stdout(Stdio::null()).stderr(Stdio::null()).status().unwrap().success()
}

/// Lines of the journal of the only job of a folder: how many are good, and whether the last was cut short. None where
/// there is no job.
pub fn only_journal(data: &Path) -> Option<(PathBuf, Result<weephole::store::Scan, String>)> {
    let job = weephole::store::list_jobs(data).ok()?.pop()?;
    let scan = weephole::store::read_events(&job.path).map_err(|error| error.to_string());
    Some((job.path, scan))
}
