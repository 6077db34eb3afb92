//! Folders of two laptops: jobs that are the same, that one of them went on with, that went different ways, that are new.

use super::{Table, killed, on, place};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::time::Duration;
use weephole::simulation::Chance;
use weephole::store::{create_job, list_jobs, read_events};

/// Most remarks of a job.
const REMARKS: usize = 40;
/// Jobs of the other laptop.
const JOBS: usize = 5;

fn opening(number: usize) -> String {
    format!(
        "{{\"at\":\"2026-11-02T07:{number:02}:00Z\",\"what\":\"opened\",\"version\":2,\"program\":\"0\",\"family\":\"oil_backed\",\"release\":\"r\",\"hash\":\"h\"}}"
    )
}

fn remark(number: usize, of: &str) -> String {
    format!("{{\"at\":\"2026-11-02T08:{:02}:00Z\",\"what\":\"note\",\"text\":\"{of} {number}\"}}", number % 60)
}

fn keep(data: &Path, lines: &[String]) {
    let mut journal = create_job(data, "job").unwrap();
    for line in lines {
        journal.append(line).unwrap();
    }
}

/// The lines of every job that can be read; none if one cannot.
fn jobs(data: &Path) -> Option<Vec<Vec<String>>> {
    let files = list_jobs(data).ok()?;
    files.iter().map(|file| Some(read_events(&file.path).ok()?.events)).collect()
}

/// True if every entry of `before` stands in order at the head of the same job of `after`.
fn holds(after: &[Vec<String>], before: &[Vec<String>]) -> bool {
    before.iter().enumerate().all(|(at, job)| after.get(at).is_some_and(|now| now.starts_with(job)))
}

/// Every remark, wherever it stands.
fn remarks(jobs: &[Vec<String>]) -> BTreeSet<String> {
    jobs.iter().flatten().filter(|line| line.contains("\"note\"")).cloned().collect()
}

/// A merge that is killed, and then one that is not.
pub fn one(program: &Path, after: Option<Duration>, chance: &mut Chance, table: &mut Table) {
    let place = place();
    let (here, there) = (place.path().join("here"), place.path().join("there"));
    fs::create_dir_all(&here).unwrap();
    fs::create_dir_all(&there).unwrap();
    for number in 0..JOBS {
        let (shared, ours, theirs) = (chance.below(REMARKS), chance.below(3), 1 + chance.below(REMARKS));
        let head: Vec<String> =
            std::iter::once(opening(number)).chain((0..shared).map(|at| remark(at, &number.to_string()))).collect();
        let more = |whose: &str, many: usize| (0..many).map(|at| remark(at, &format!("{whose} {number}"))).collect();
        let theirs: Vec<String> = more("theirs", theirs);
        keep(&there, &[head.clone(), theirs].concat());
        if 0 < number {
            let ours: Vec<String> = more("ours", ours);
            keep(&here, &[head, ours].concat());
        }
    }
    let (before, other) = (jobs(&here).unwrap(), jobs(&there).unwrap());
    let merge = ["jobs", "merge", there.to_str().unwrap()];
    let said = killed(&mut on(program, &here, &merge), "", after, table);
    table.said += said.lines().filter(|line| line.contains(".journal: ")).count();
    let cut = jobs(&here);
    let whole = cut.as_ref().is_some_and(|cut| holds(cut, &before));
    if !whole {
        table.lost.push("entries of before the merge are gone".to_owned());
    }
    // What was told is there: the jobs of the other folder are told in order.
    let told = said.lines().filter(|line| line.contains(".journal: ")).count();
    let there_now = remarks(&cut.unwrap_or_default());
    if other.iter().take(told).any(|job| !remarks(std::slice::from_ref(job)).is_subset(&there_now)) {
        table.lost.push(format!("of {told} jobs told to be taken in, one is not whole"));
    }
    let ended = on(program, &here, &merge).output().unwrap();
    let now = jobs(&here).unwrap_or_default();
    table.kept += now.len();
    if !ended.status.success() || !holds(&now, &before) || !remarks(&other).is_subset(&remarks(&now)) {
        table.lost.push(format!("the next merge does not end it: {}", String::from_utf8_lossy(&ended.stderr)));
    }
    if jobs(&there).as_ref() != Some(&other) {
        table.lost.push("the other folder was changed".to_owned());
    }
    let again = on(program, &here, &merge).output().unwrap();
    let told = String::from_utf8_lossy(&again.stdout).into_owned();
    if told.lines().any(|line| !line.contains("nothing new for job")) {
        table.lost.push(format!("merging again finds something new: {told}"));
    }
}
