//! Turns a closed job into the codes offered for it: those that suit what was found come first.

use super::sitting::Sitting;
use crate::evidence::Answer;
use crate::job::Given;
use crate::knowledge::schema::{CodeOf, Id};

/// A code as offered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CodeRow {
    /// Id.
    pub id: Id,
    /// Code and name.
    pub says: String,
    /// True if something in this job suggests it.
    pub suits: bool,
}

impl Sitting {
    /// The codes of one kind: those that suit this job first, else in the order of the knowledge.
    pub fn codes(&self, of: CodeOf) -> Vec<CodeRow> {
        let seen = self.suggests(of);
        let place = |id: &Id| seen.iter().position(|known| known == id);
        let codes = self.knowledge.all.codes.iter().filter(|(_, code)| code.of == of);
        let mut rows: Vec<(Option<usize>, CodeRow)> = codes
            .map(|(id, code)| {
                let nearest = code.suits.iter().filter_map(place).min();
                let says = format!("{} {}", code.code, code.name);
                (nearest, CodeRow { id: id.clone(), says, suits: nearest.is_some() })
            })
            .collect();
        rows.sort_by_key(|(nearest, _)| nearest.unwrap_or(usize::MAX));
        rows.into_iter().map(|(_, row)| row).collect()
    }

    /// What was coded: kind, and code with name; the last one of each kind.
    pub fn codes_given(&self) -> Vec<(&'static str, String)> {
        let last = |of: CodeOf| {
            let mut known = self.job.codes.iter().filter_map(|id| self.knowledge.all.codes.get(id));
            known.rfind(|code| code.of == of).map(|code| format!("{} {}", code.code, code.name))
        };
        CodeOf::ALL.into_iter().filter_map(|of| Some((of.words(), last(of)?))).collect()
    }

    /// What in this job can suggest a code, the most telling first: for mode and detection the complaint and what else was
    /// answered yes, with the checks done; for mechanism and cause what was found behind it.
    fn suggests(&self, of: CodeOf) -> Vec<Id> {
        let (shown, behind) = (self.shown(), self.behind());
        match of {
            CodeOf::Mode | CodeOf::Detection => shown.into_iter().chain(behind).collect(),
            CodeOf::Mechanism | CodeOf::Cause => behind.into_iter().chain(shown).collect(),
        }
    }

    /// What was answered yes, in the order given, and the checks done.
    fn shown(&self) -> Vec<Id> {
        let yes = self.job.given.iter().filter(|(_, (given, ..))| *given == Given::Answer(Answer::Yes));
        yes.map(|(id, _)| id.clone()).chain(self.job.begun()).collect()
    }

    /// The cause the job was closed with, or the first of the list, and the conditions and damage it leads to.
    fn behind(&self) -> Vec<Id> {
        let cause = self.job.closed.as_ref().and_then(|(_, cause, _)| cause.clone());
        let cause = cause.or_else(|| self.likely(1).into_iter().map(|row| row.id).next());
        let mut ids: Vec<Id> = cause.into_iter().collect();
        let mut at = 0;
        while let Some(id) = ids.get(at) {
            let all = &self.knowledge.all;
            let links = all.causes.get(id).map(|cause| &cause.leads_to);
            let links = links.or_else(|| all.damage.get(id).or(all.conditions.get(id)).map(|node| &node.leads_to));
            let next: Vec<Id> = links.into_iter().flat_map(|links| links.keys().cloned()).collect();
            for id in next {
                // What the machine hardly does now suggests nothing.
                let likely = self.graph.node(&id).is_some_and(|node| 0.5 <= self.present(node));
                if likely && !ids.contains(&id) {
                    ids.push(id);
                }
            }
            at += 1;
        }
        ids
    }
}
