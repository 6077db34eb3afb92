//! Turns confirmations and repairs into what is left to find: the part of a job that every way of working shares.

use super::marks::kept;
use super::reply::Replier;
use super::tally::{CALL_FOR_HELP, Tally};
use super::{Effort, MOST_ANSWERS, MOST_REPAIRS};
use crate::knowledge::Knowledge;
use crate::knowledge::schema::Id;
use crate::rig::RigError;
use crate::trial::decision_class;
use indexmap::IndexSet;

/// A job at the pump.
pub struct Work<'a> {
    /// The person who answers.
    pub replier: Replier<'a>,
    /// What it took so far.
    pub tally: Tally,
    /// Faults that are still there, with their severity.
    pub there: Vec<(Id, f64)>,
    /// Decision classes that were put right.
    pub tried: IndexSet<Id>,
    knowledge: &'a Knowledge,
    found: IndexSet<Id>,
    wrong: IndexSet<Id>,
}

impl<'a> Work<'a> {
    /// At the pump of a job.
    pub fn new(knowledge: &'a Knowledge, replier: Replier<'a>, faults: &[(Id, f64)]) -> Self {
        let there = faults.to_vec();
        let (tally, tried, found, wrong) = Default::default();
        Self { replier, tally, there, tried, knowledge, found, wrong }
    }

    /// The decision class of a cause.
    pub fn class(&self, cause: &str) -> Id {
        decision_class(self.knowledge, cause).to_owned()
    }

    /// True if something of the cause's class is the matter.
    pub fn is_there(&self, cause: &str) -> bool {
        let class = decision_class(self.knowledge, cause);
        self.there.iter().any(|(fault, _)| decision_class(self.knowledge, fault) == class)
    }

    /// True if a fault was found, or put right already.
    pub fn is_found(&self, fault: &str) -> bool {
        self.found.contains(decision_class(self.knowledge, fault))
    }

    /// A cause counts as confirmed.
    pub fn confirm(&mut self, cause: &str) {
        let class = self.class(cause);
        if self.is_there(cause) {
            self.found.insert(class);
        } else if !self.found.contains(&class) && self.wrong.insert(class) {
            self.tally.effort.wrong += 1;
        }
    }

    /// True once every fault is found.
    pub fn is_solved(&self) -> bool {
        self.there.iter().all(|(fault, _)| self.is_found(fault))
    }

    /// True once the job is solved or given up.
    pub fn is_over(&self) -> bool {
        let effort = &self.tally.effort;
        self.is_solved() || MOST_ANSWERS <= effort.answers || MOST_REPAIRS <= effort.repairs
    }

    /// Puts a cause right, with everything of its remedy; true if that was needed.
    ///
    /// # Errors
    /// [`RigError`] never for faults that were there before.
    pub fn put_right(&mut self, cause: &str) -> Result<bool, RigError> {
        let (class, was_needed) = (self.class(cause), self.is_there(cause));
        self.tally.repair(self.knowledge, cause, was_needed);
        if was_needed {
            self.found.insert(class.clone());
            let knowledge = self.knowledge;
            self.there.retain(|(fault, _)| decision_class(knowledge, fault) != class);
            self.replier.only(&self.there)?;
        }
        self.tried.insert(class);
        Ok(was_needed)
    }

    /// What it took in the end.
    pub fn effort(&self) -> Effort {
        let solved = self.is_solved();
        let help = if solved { 0.0 } else { CALL_FOR_HELP };
        Effort { solved, minutes: kept(self.tally.effort.minutes + help), ..self.tally.effort }
    }
}
