//! Turns the entries of a job into how its list of causes moved, entry by entry: a replay that can be made in small pieces.

use super::sitting::Sitting;
use crate::knowledge::schema::Id;
use std::rc::Rc;

/// How the list moved so far.
#[derive(Default)]
pub struct Course {
    /// The job as it stood after the entries gone through; none before the first.
    replay: Option<Box<Sitting>>,
    /// Entries gone through.
    done: usize,
    /// Share of every cause after each entry that moved one, 0 to 1.
    lists: Vec<Vec<(Id, f64)>>,
}

impl Course {
    /// True once all entries of the job are gone through.
    pub fn is_whole(&self, sitting: &Sitting) -> bool {
        sitting.job.entries.len() <= self.done
    }

    /// Goes through one entry more.
    pub fn go_on(&mut self, sitting: &Sitting) {
        let Some(entry) = sitting.job.entries.get(self.done) else { return };
        self.done += 1;
        let Some(replay) = &mut self.replay else {
            let first = Sitting::new(Rc::clone(&sitting.knowledge), vec![entry.clone()]);
            self.replay = first.ok().map(Box::new);
            return;
        };
        replay.apply(entry.clone());
        let rows = replay.likely(usize::MAX);
        let list: Vec<(Id, f64)> = rows.into_iter().map(|row| (row.id, row.probability)).collect();
        if !list.is_empty() && self.lists.last() != Some(&list) {
            self.lists.push(list);
        }
    }

    /// Share of a cause after each entry that moved the list, 0 to 1.
    pub fn shares_of(&self, cause: &str) -> Vec<f64> {
        let share = |list: &Vec<(Id, f64)>| list.iter().find(|(id, _)| id == cause).map_or(0.0, |(_, share)| *share);
        self.lists.iter().map(share).collect()
    }
}
