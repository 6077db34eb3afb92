//! Turns all open questions into steps, a few at a time: the complete list of which the plan shows the best.
//!
//! The plan looks exactly at the questions that a rough look found best. Here every one is computed exactly, in portions,
//! so that a screen can go on between them; the list is whole when the last portion is done.

use super::steps::{Plan, Planner, Step};
use crate::belief::{BeliefError, Question};
use crate::knowledge::schema::Id;
use indexmap::IndexMap;

/// The list in the making. Belongs to the plan it was begun from.
#[derive(Debug, Clone, PartialEq)]
pub struct Complete {
    /// Findings and readings still to be computed; the last ones first.
    open: Vec<Id>,
    /// Minutes each computed one saves, before what it takes.
    saves: IndexMap<Id, f64>,
}

impl Complete {
    /// Begins with what the plan has computed already.
    pub fn new(planner: &Planner, plan: &Plan) -> Self {
        let mut open = planner.open_items();
        open.retain(|id| !plan.saves.contains_key(id));
        open.reverse();
        Self { open, saves: plan.saves.clone() }
    }

    /// Findings and readings computed, and all of them.
    pub fn progress(&self) -> (usize, usize) {
        (self.saves.len(), self.saves.len() + self.open.len())
    }

    /// True once every question is computed.
    pub fn is_whole(&self) -> bool {
        self.open.is_empty()
    }

    /// Computes `portion` more. One whose tables would be too wide, or that nothing is known about, is left out.
    ///
    /// # Errors
    ///
    /// As for the plan: [`BeliefError`].
    pub fn go_on(
        &mut self,
        planner: &Planner,
        question: impl Fn(&str) -> Option<Question>,
        portion: usize,
    ) -> Result<(), BeliefError> {
        let next = self.open.split_off(self.open.len().saturating_sub(portion));
        let asked = next.into_iter().filter_map(|id| question(&id).map(|question| (id, question))).unzip();
        self.saves.extend(planner.saved(&planner.costs(), asked)?);
        Ok(())
    }

    /// Every open check by what is computed so far, best first.
    pub fn steps(&self, planner: &Planner) -> Vec<Step> {
        planner.steps(&planner.costs(), &self.saves)
    }
}
