//! Turns the list of jobs into one job taken up: a new one, or one left open.

use super::LineError;
use super::complaint::Heard;
use super::console::{Console, Halt};
use super::orders::{self, Order, Read};
use super::session::Phase;
use crate::job::{Archive, Event, Isolation, JobLine, Keeper, Sitting, Taken, Where};
use crate::knowledge::Knowledge;
use std::rc::Rc;

/// Open jobs listed at most.
const LISTED: usize = 9;

/// A job, ready to go on.
pub(super) struct Opened {
    /// Saves its events.
    pub(super) keeper: Box<dyn Keeper>,
    /// The job.
    pub(super) sitting: Sitting,
    /// Where it stands.
    pub(super) phase: Phase,
}

/// Says what this is and comes back with a job.
pub(super) fn open(
    archive: &mut dyn Archive,
    knowledge: Rc<Knowledge>,
    console: &mut Console<'_>,
    (family, resume): (&str, Option<u32>),
) -> Result<Opened, Halt> {
    console.say("weephole: from a complaint at the pump to its cause, line by line.")?;
    console.say("Site isolation procedure, local codes and licensed practice come first.")?;
    console.say("Type `help` for the words that always work. Every answer is saved at once.")?;
    let number = match resume {
        Some(number) => Some(number),
        None => choose(&archive.jobs(), console)?,
    };
    let taken = match number {
        Some(number) => archive.resume(number),
        None => begin(archive, &knowledge, family),
    };
    let taken = taken.map_err(|why| Halt::Fault(LineError::Archive(why)))?;
    take_up(taken, knowledge, console, number.is_some())
}

/// A new job, unless nothing is known of the family: then no file is left behind.
fn begin(archive: &mut dyn Archive, knowledge: &Knowledge, family: &str) -> Result<Taken, String> {
    if knowledge.all.causes.values().any(|cause| cause.shares.contains_key(family)) {
        return archive.begin(family);
    }
    let known: Vec<&str> = knowledge.all.families.keys().map(String::as_str).collect();
    Err(format!("nothing is known of the pump family `{family}`; known: {}", known.join(", ")))
}

/// The number of an open job, or `None` for a new one.
fn choose(jobs: &[JobLine], console: &mut Console<'_>) -> Result<Option<u32>, Halt> {
    for (job, trouble) in jobs.iter().filter_map(|job| job.trouble.as_ref().map(|trouble| (job, trouble))) {
        console.say(&format!("Job {} cannot be read well: {trouble}", job.number))?;
    }
    let open: Vec<&JobLine> = jobs.iter().filter(|job| job.open).collect();
    if open.is_empty() {
        return Ok(None);
    }
    console.say("Open jobs:")?;
    for job in open.iter().take(LISTED) {
        console.say(&job_line(job))?;
    }
    if LISTED < open.len() {
        console.say(&format!("  and {} older ones, by their number", open.len() - LISTED))?;
    }
    loop {
        console.say("Number to take one up again, empty line for a new job:")?;
        let Some(line) = console.read()? else {
            console.say("Nothing was begun. All jobs are saved as they were.")?;
            return Err(Halt::Over);
        };
        if line.is_empty() {
            return Ok(None);
        }
        if let Some(number) = listed(&line, &open) {
            return Ok(Some(number));
        }
        not_a_job(&line, console)?;
    }
}

/// The number, if it is that of an open job.
fn listed(line: &str, open: &[&JobLine]) -> Option<u32> {
    let number = line.parse().ok()?;
    open.iter().any(|job| job.number == number).then_some(number)
}

/// The words that work without a job, and what is accepted here.
fn not_a_job(line: &str, console: &mut Console<'_>) -> Result<(), Halt> {
    match orders::read(line) {
        Read::Order(Order::Leave) => {
            console.say("Nothing was begun. All jobs are saved as they were.")?;
            return Err(Halt::Leave);
        }
        Read::Order(Order::Help) => {
            for help in orders::help_lines() {
                console.say(&help)?;
            }
        }
        Read::Order(_) | Read::Nearly(_) => console.say("No job is taken up yet.")?,
        Read::Other => console.say("That is not the number of an open job.")?,
    }
    console.say("Type the number of an open job, an empty line, or `leave`.")
}

fn job_line(job: &JobLine) -> String {
    let complaint = if job.complaint.is_empty() { "no complaint yet" } else { &job.complaint };
    format!("  {}. {}: {complaint}; last worked on {}", job.number, job.pump, job.last)
}

fn take_up(taken: Taken, knowledge: Rc<Knowledge>, console: &mut Console<'_>, again: bool) -> Result<Opened, Halt> {
    let Taken { mut keeper, entries, notices } = taken;
    for notice in notices {
        console.say(&notice)?;
    }
    let mut sitting = Sitting::new(knowledge, entries).map_err(|error| Halt::Fault(LineError::Sitting(error)))?;
    if sitting.job.closed.is_some() {
        let entry = keeper.keep(Event::Reopened).map_err(|why| Halt::Fault(LineError::Archive(why)))?;
        sitting.apply(entry);
    }
    let header = sitting.header();
    console.say("")?;
    let pump = if header.pump == header.family { header.pump } else { format!("{}, {}", header.pump, header.family) };
    console.say(&format!("Job {}: {pump}.", keeper.number()))?;
    console.say(&format!("Knowledge {}. Saved in {}.", header.knowledge, keeper.place()))?;
    let phase = phase_of(&sitting);
    if again {
        recap(&sitting, console)?;
    }
    Ok(Opened { keeper, sitting, phase })
}

/// Where a job stands, from what is in it.
fn phase_of(sitting: &Sitting) -> Phase {
    let asked = sitting.job.given.values().any(|(_, _, from)| matches!(from, Where::Check(_)));
    match (sitting.has_complaint(), asked) {
        (_, true) => Phase::Steps,
        (true, false) => Phase::FirstMinute(0),
        (false, false) => Phase::Complaint(Heard::default()),
    }
}

/// What was said and how it stands, for someone who comes back.
fn recap(sitting: &Sitting, console: &mut Console<'_>) -> Result<(), Halt> {
    let job = &sitting.job;
    if !job.words.is_empty() {
        console.say(&format!("Complaint: {}", job.words.join("; ")))?;
    }
    for (at, row) in sitting.trail().iter().enumerate() {
        console.say(&format!("  {}. {}: {} ({})", at + 1, row.name, row.answer, row.from))?;
    }
    for (check, reason) in &job.barred {
        console.say(&format!("Not possible: {} ({reason})", sitting.name_of(check)))?;
    }
    match &sitting.gates().isolation {
        Isolation::Proved(words, _) => {
            console.say(&format!("Isolation was proved: {words}. Prove zero again before you reach in."))?;
        }
        Isolation::Lapsed(words, why) => {
            console.say(&format!("Isolation was proved: {words}. It counts no more: {}.", why.words()))?;
        }
        Isolation::NotPossible(words) => {
            console.say(&format!("Isolation was not possible: {words}. `isolate` asks again."))?;
        }
        Isolation::Open => {}
    }
    if let Some(last) = job.last {
        console.say(&format!("Last worked on {last:.0}. Take readings again if the pump ran since."))?;
    }
    Ok(())
}
