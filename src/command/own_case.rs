//! `weephole jobs case`: a confirmed job as a case, printed or added to a knowledge folder as an ordinary edit.

use super::arguments::{Arguments, JobsCase, Proving};
use super::desk::Desk;
use super::shelf::lines;
use super::{Failure, archive, bring, print};
use crate::editing::Edit;
use crate::knowledge::{Kind, Knowledge};
use crate::learning::{NoCase, OwnCase, Reader, Untaught, case_entry, own_case};
use std::path::Path;

/// The file of the knowledge folder that such cases go into.
const FILE: &str = "cases/own_log.ron";

/// Prints the case of a job, or adds it to the folder of `--to`.
pub fn run(arguments: &Arguments, folder: &Path, part: &JobsCase) -> Result<(), Failure> {
    let path = archive::path_of(folder, part.number).map_err(Failure::Could)?;
    let Some(to) = &part.to else {
        let found = of_job(&bring::knowledge(arguments)?, &path, part.number)?;
        tell_left_out(&found);
        print::out(&format!("\"{}\": {},", found.id, case_entry(&found.case)));
        return Ok(());
    };
    let desk = Desk::of(to)?;
    let found = of_job(&desk.before.knowledge, &path, part.number)?;
    let entry = case_entry(&found.case);
    tell_left_out(&found);
    let edit = Edit::Add { kind: Kind::Cases, id: found.id, entry, file: Some(FILE.to_owned()) };
    desk.make(&[edit], &Proving { without_saving: part.without_saving, prove: true, ..Proving::default() }).map(|_| ())
}

fn of_job(knowledge: &Knowledge, path: &Path, number: u32) -> Result<OwnCase, Failure> {
    let lines = lines(path).map_err(Failure::Could)?;
    let entries = archive::entries(path, &lines).map_err(Failure::Could)?;
    let first = lines.first().map(String::as_str).unwrap_or_default();
    let taught = Reader::new(knowledge).read(first, &entries);
    let taught = taught.ok_or_else(|| Failure::Could(format!("job {number} does not begin with an opening")))?;
    own_case(knowledge, &taught.told, &entries).map_err(|why| {
        let hint = match why {
            NoCase::Untaught(Untaught::UnknownCause) => "name the knowledge that has it with --knowledge or --to",
            NoCase::Untaught(_) => "only a job closed as confirmed, by a look or a proved repair, knows its truth",
            NoCase::NoComplaint => "a case begins with a complaint; write it by hand",
        };
        Failure::Could(format!("job {number} makes no case: {why}; {hint}"))
    })
}

/// Beside the entry, not within it: standard output can be piped into a file.
fn tell_left_out(found: &OwnCase) {
    for line in &found.left_out {
        print::error(&format!("left out: {line}"));
    }
}
