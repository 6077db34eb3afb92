//! Jobs and practice in memory, for what is typed line by line.

use super::job::minute;
use jiff::civil::{Date, date};
use std::cell::RefCell;
use std::rc::Rc;
use weephole::evidence::Answer;
use weephole::job::{Archive, Entry, Event, JobLine, Keeper, PumpNote, Taken};
use weephole::knowledge::schema::Lesson;
use weephole::practice::{Move, MoveLine, PracticeBook, Score};
use weephole::rig::Rig;

/// Jobs in memory; the clock ticks a minute per event.
#[derive(Clone, Default)]
pub struct Jobs {
    pub kept: Rc<RefCell<Vec<Vec<Entry>>>>,
    /// Number of entries from which nothing can be saved any more.
    pub full_from: Option<usize>,
}

struct Kept {
    jobs: Jobs,
    number: u32,
}

impl Keeper for Kept {
    fn keep(&mut self, event: Event) -> Result<Entry, String> {
        let mut jobs = self.jobs.kept.borrow_mut();
        let job = &mut jobs[self.number as usize - 1];
        if self.jobs.full_from.is_some_and(|from| from <= job.len()) {
            return Err("the disk is full".to_owned());
        }
        let entry = Entry { at: minute(job.len()), event };
        job.push(entry.clone());
        Ok(entry)
    }

    fn place(&self) -> String {
        format!("memory/{}.journal", self.number)
    }

    fn number(&self) -> u32 {
        self.number
    }
}

impl Archive for Jobs {
    fn jobs(&self) -> Vec<JobLine> {
        let line = |(at, job): (usize, &Vec<Entry>)| JobLine {
            number: u32::try_from(at).unwrap() + 1,
            pump: "bench pump".to_owned(),
            complaint: String::new(),
            last: "today".to_owned(),
            open: !job.iter().any(|entry| matches!(entry.event, Event::Closed { .. })),
            trouble: None,
        };
        self.kept.borrow().iter().enumerate().map(line).rev().collect()
    }

    fn begin(&mut self, family: &str) -> Result<Taken, String> {
        let event = Event::opened(family, ("fuzz", "0"), Some(PumpNote::default()));
        self.kept.borrow_mut().push(vec![Entry { at: minute(0), event }]);
        let number = self.kept.borrow().len();
        self.resume(u32::try_from(number).unwrap())
    }

    fn resume(&mut self, number: u32) -> Result<Taken, String> {
        let jobs = self.kept.borrow();
        let at = (number as usize).checked_sub(1);
        let entries = at.and_then(|at| jobs.get(at)).cloned().ok_or_else(|| format!("there is no job {number}"))?;
        Ok(Taken { keeper: Box::new(Kept { jobs: self.clone(), number }), entries, notices: Vec::new() })
    }

    fn write_sheet(&mut self, pump: &str, _text: &str) -> Result<String, String> {
        Ok(format!("memory/{pump}"))
    }

    fn write_record(&mut self, number: u32, _markdown: &str) -> Result<String, String> {
        Ok(format!("memory/{number}.md"))
    }
}

/// Practice jobs in memory.
#[derive(Clone, Default)]
pub struct Book {
    pub jobs: Vec<Vec<Move>>,
}

/// A pump on which every other look says yes, and whose gauges show something.
struct Table;

impl Rig for Table {
    fn look(&mut self, finding: &str) -> Answer {
        if finding.len().is_multiple_of(2) { Answer::Yes } else { Answer::No }
    }

    fn read(&mut self, reading: &str) -> Option<f64> {
        (!reading.len().is_multiple_of(3)).then_some(-45e3)
    }

    fn needle(&mut self, _reading: &str) -> Vec<(f64, f64)> {
        vec![(0.0, -45e3), (0.1, -40e3)]
    }

    fn face(&self, _reading: &str) -> Option<(f64, f64)> {
        Some((-1e5, 2e5))
    }
}

impl PracticeBook for Book {
    fn marked(&self) -> (Vec<(Date, Score)>, Vec<String>) {
        let marked = self.jobs.iter().flatten().filter_map(|made| match made {
            Move::Marked { score } => Some((self.today(), (**score).clone())),
            _ => None,
        });
        (marked.collect(), Vec::new())
    }

    fn take_up(&mut self) -> Option<Vec<MoveLine>> {
        let last = self.jobs.last().filter(|moves| !moves.iter().any(Move::ends))?;
        Some(last.iter().map(|made| MoveLine { at: minute(0), made: made.clone() }).collect())
    }

    fn begin(&mut self, first: Move) -> Result<(), String> {
        self.jobs.push(vec![first]);
        Ok(())
    }

    fn keep(&mut self, made: Move) -> Result<(), String> {
        self.jobs.last_mut().ok_or("no job was begun")?.push(made);
        Ok(())
    }

    fn today(&self) -> Date {
        date(2026, 11, 24)
    }

    fn seed(&self) -> u64 {
        7
    }

    fn pump(&self, _lesson: &Lesson, _seed: u64) -> Result<Box<dyn Rig>, String> {
        Ok(Box::new(Table))
    }
}
