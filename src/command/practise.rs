//! `weephole practice`: pumps that are not there, kept apart from real jobs.

use super::arguments::{Arguments, PracticePart};
use super::look::look;
use super::shelf::{lines, shown};
use super::{Failure, bring, diagnose};
use crate::knowledge::Knowledge;
use crate::knowledge::schema::{Help, Id, Lesson};
use crate::practice::{Move, MoveLine, PracticeBook, PracticeChoice, Score};
use crate::rig::{Rig, SimulatedPump};
use crate::screen::PracticeOptions;
use crate::store::{self, JobFile, Journal};
use crate::{line, screen};
use jiff::civil::Date;
use std::path::PathBuf;
use std::rc::Rc;

/// Folder of practice inside the data folder.
const PRACTICE: &str = "practice";
/// Seeds of jobs without one of their own follow one another from here.
const FIRST_SEED: u64 = 1;
/// The person at the pump errs as people do.
const USUAL_ERRORS: f64 = 1.0;

/// Runs practice.
pub fn run(arguments: &Arguments, part: &PracticePart) -> Result<(), Failure> {
    let knowledge = Rc::new(bring::knowledge(arguments)?);
    let help = part.with.map(Help::from);
    if let Some(lesson) = part.lesson.as_ref().filter(|id| !knowledge.all.lessons.contains_key(*id)) {
        let known: Vec<&str> = knowledge.all.lessons.keys().map(String::as_str).collect();
        return Err(Failure::Bad(format!("there is no lesson `{lesson}`; known: {}", known.join(", "))));
    }
    let folder = diagnose::data_dir(arguments)?.join(PRACTICE);
    let mut book = DiskBook { knowledge: Rc::clone(&knowledge), folder, journal: None };
    let choice = PracticeChoice { lesson: part.lesson.clone(), seed: part.seed, help };
    if diagnose::by_lines(arguments) {
        let (mut input, mut out) = (std::io::stdin().lock(), std::io::stdout().lock());
        line::practise(&mut book, &knowledge, &mut input, &mut out, choice).map_err(|e| Failure::Could(e.to_string()))
    } else {
        let options = PracticeOptions { look: look(arguments), now: store::now };
        screen::practise(&mut book, &knowledge, choice, options).map_err(|e| Failure::Could(e.to_string()))
    }
}

/// Practice jobs in a folder of their own.
struct DiskBook {
    knowledge: Rc<Knowledge>,
    folder: PathBuf,
    journal: Option<Journal>,
}

impl DiskBook {
    fn files(&self) -> Result<Vec<JobFile>, String> {
        store::list_jobs(&self.folder).map_err(|error| error.to_string())
    }
}

fn moves(file: &JobFile) -> Result<Vec<MoveLine>, String> {
    let lines = lines(&file.path)?;
    let parsed = lines.iter().enumerate().map(|(at, line)| {
        let wrong = |error| format!("{}:{}: this line is not a move of practice: {error}", shown(&file.path), at + 1);
        serde_json::from_str(line).map_err(wrong)
    });
    parsed.collect()
}

impl PracticeBook for DiskBook {
    fn marked(&self) -> (Vec<(Date, Score)>, Vec<String>) {
        let (mut marked, mut trouble) = (Vec::new(), Vec::new());
        for file in self.files().unwrap_or_else(|why| {
            trouble.push(why);
            Vec::new()
        }) {
            match moves(&file) {
                Ok(moves) => marked.extend(moves.into_iter().filter_map(|line| match line.made {
                    Move::Marked { score } => Some((store::local(line.at).date(), *score)),
                    _ => None,
                })),
                Err(why) => trouble.push(why),
            }
        }
        (marked, trouble)
    }

    fn take_up(&mut self) -> Option<Vec<MoveLine>> {
        let last = self.files().ok()?.pop()?;
        let moves = moves(&last).ok()?;
        if moves.iter().any(|line| line.made.ends() || matches!(line.made, Move::Marked { .. })) {
            return None;
        }
        let (journal, ..) = Journal::open(&last.path).ok()?;
        self.journal = Some(journal);
        Some(moves)
    }

    fn begin(&mut self, first: Move) -> Result<(), String> {
        let Move::Began { lesson, .. } = &first else { return Err("a job begins with its lesson".to_owned()) };
        self.journal = Some(store::create_job(&self.folder, lesson).map_err(|error| error.to_string())?);
        self.keep(first)
    }

    fn keep(&mut self, made: Move) -> Result<(), String> {
        let journal = self.journal.as_mut().ok_or_else(|| "no job was begun".to_owned())?;
        let line = MoveLine { at: store::now(), made };
        let text = serde_json::to_string(&line).map_err(|error| format!("cannot write this move: {error}"))?;
        journal.append(&text).map_err(|error| error.to_string())
    }

    fn today(&self) -> Date {
        store::local(store::now()).date()
    }

    fn seed(&self) -> u64 {
        let last = self.files().ok().and_then(|mut files| files.pop()).map_or(0, |file| file.number);
        FIRST_SEED + u64::from(last)
    }

    fn pump(&self, lesson: &Lesson, seed: u64) -> Result<Box<dyn Rig>, String> {
        let faults: Vec<(Id, f64)> = lesson.faults.iter().map(|(id, severity)| (id.clone(), *severity)).collect();
        let pump = SimulatedPump::new(&self.knowledge, &faults, (seed, USUAL_ERRORS));
        pump.map(|pump| Box::new(pump) as Box<dyn Rig>).map_err(|error| error.to_string())
    }
}
