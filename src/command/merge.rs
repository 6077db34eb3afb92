//! `weephole jobs merge DIR`: takes in the journals of another laptop; nothing here or there is overwritten or deleted.

use super::shelf::{Shelf, lines, shown};
use super::{Failure, archive, print};
use crate::job::{Entry, Event, Fate, JOURNAL_VERSION, fate, job_id};
use crate::store::{self, Journal};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// A copy of a job here.
struct Copy {
    number: u32,
    path: PathBuf,
}

/// Copies here by the id their journals begin with.
type Copies = BTreeMap<String, Vec<Copy>>;

/// Merges the journals below `other` into the jobs of `folder`, and says what became of each.
pub fn run(folder: &Path, index: &Path, other: &Path) -> Result<(), Failure> {
    let listing = store::list(other, "journal").map_err(|error| Failure::Could(error.to_string()))?;
    let shelf = Shelf::of(folder, index).map_err(Failure::Could)?;
    for (number, _, why) in &shelf.skipped {
        print::error(&format!("job {number} here is left out: {why}"));
    }
    let mut copies = Copies::new();
    for job in shelf.jobs {
        copies.entry(job.summary.root).or_default().push(Copy { number: job.number, path: job.path });
    }
    let mut skipped = listing.left_out.len();
    for left_out in &listing.left_out {
        print::error(&format!("left out: {left_out}"));
    }
    for file in &listing.files {
        match take_in(folder, &mut copies, file) {
            Ok(said) => print::out(&format!("{}: {said}", shown(file))),
            Err(why) => {
                skipped += 1;
                print::error(&format!("skipped: {why}"));
            }
        }
    }
    match skipped {
        0 => Ok(()),
        count => Err(Failure::Could(format!("{count} of the files could not be taken in; the others were"))),
    }
}

/// Takes in one journal and says what became of it.
fn take_in(folder: &Path, copies: &mut Copies, file: &Path) -> Result<String, String> {
    let foreign = lines(file)?;
    let title = title(file, &foreign)?;
    let root = job_id(&foreign[0]);
    let here = copies.entry(root).or_default();
    let ours = here.iter().map(|copy| lines(&copy.path)).collect::<Result<Vec<_>, _>>()?;
    let stamped = |event| serde_json::to_string(&Entry { at: store::now(), event }).ok();
    Ok(match fate(&foreign, &ours, stamped) {
        Fate::Known(at) => format!("nothing new for job {}", here[at].number),
        Fate::Extend(at, more) => {
            add(Journal::open(&here[at].path).map_err(|error| error.to_string())?.0, &more)?;
            format!("{} new entries for job {}", more.len(), here[at].number)
        }
        Fate::New(lines) => {
            let number = keep(folder, &title, &lines, here)?;
            format!("new here: job {number}")
        }
        Fate::Branch(at, lines) => {
            let other = here[at].number;
            let number = keep(folder, &title, &lines, here)?;
            format!("went another way than job {other}; both are kept, this one as job {number} with an id of its own")
        }
    })
}

/// What a new file is named after, once every line is known to be an entry this program can read.
fn title(file: &Path, lines: &[String]) -> Result<String, String> {
    let entries = archive::entries(file, lines)?;
    match entries.into_iter().next().map(|entry| entry.event) {
        Some(Event::Opened { version, .. }) if JOURNAL_VERSION < version => {
            Err(format!("{} has version {version}; a newer program is needed", shown(file)))
        }
        Some(Event::Opened { pump, family, .. }) => Ok(pump.map_or(family, |pump| pump.name)),
        _ => Err(format!("{} does not begin with the opening of a job", shown(file))),
    }
}

/// Keeps lines as a job of their own, under the next number.
fn keep(folder: &Path, title: &str, lines: &[String], here: &mut Vec<Copy>) -> Result<u32, String> {
    let journal = store::create_job(folder, title).map_err(|error| error.to_string())?;
    let path = journal.path().to_owned();
    let number = archive::number_in(&path);
    add(journal, lines)?;
    here.push(Copy { number, path });
    Ok(number)
}

fn add(mut journal: Journal, lines: &[String]) -> Result<(), String> {
    lines.iter().try_for_each(|line| journal.append(line)).map_err(|error| error.to_string())
}
