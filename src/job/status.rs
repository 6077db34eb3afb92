//! Turns belief and verdicts into status words by fixed rules.

use super::fold::{Given, Job};
use super::sitting::Sitting;
use super::work::is_repair_verified;
use crate::belief::Likelihood;
use crate::evidence::Answer;
use crate::knowledge::{Graph, Knowledge, NodeKind};
use serde::Serialize;

/// Status words. *Confirmed* never comes from probability alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Status {
    /// A confirming check or a verified repair, and at least 0.95.
    Confirmed,
    /// At least 0.50, or first of the list at 0.25 or more.
    Probable,
    /// Neither.
    Possible,
    /// Below 0.005 with at least one answer against it.
    RuledOut,
}

impl Status {
    /// As shown.
    pub fn word(self) -> &'static str {
        match self {
            Self::Confirmed => "confirmed",
            Self::Probable => "probable",
            Self::Possible => "possible",
            Self::RuledOut => "ruled out",
        }
    }
}

/// What makes a cause sure, beside its probability.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ConfirmedBy {
    /// A repair of it worked, and the readings are back.
    Repair,
    /// A direct look was answered by a plain yes.
    Look,
}

/// What makes this cause sure in a job; a proved repair goes first.
pub fn confirmed_by(knowledge: &Knowledge, graph: &Graph, job: &Job, cause: usize) -> Option<ConfirmedBy> {
    if is_repair_verified(knowledge, graph, job, cause) {
        return Some(ConfirmedBy::Repair);
    }
    is_seen(knowledge, graph, job, cause).then_some(ConfirmedBy::Look)
}

/// Status of every cause.
pub fn statuses(sitting: &Sitting) -> Vec<(usize, Status)> {
    let causes = sitting.graph.of_kind(NodeKind::Cause);
    let first = causes.iter().copied().max_by(|a, b| sitting.present(*a).total_cmp(&sitting.present(*b)));
    let against = spoken_against(&sitting.graph, &sitting.evidence.likelihoods());
    let status = |cause: usize| {
        let present = sitting.present(cause);
        let is_sure = || confirmed_by(&sitting.knowledge, &sitting.graph, &sitting.job, cause).is_some();
        if 0.95 <= present && is_sure() {
            Status::Confirmed
        } else if present < 0.005 && against[cause] {
            Status::RuledOut
        } else if 0.5 <= present || (first == Some(cause) && 0.25 <= present) {
            Status::Probable
        } else {
            Status::Possible
        }
    };
    causes.iter().map(|&cause| (cause, status(cause))).collect()
}

/// True if a direct look at the node was answered by a plain yes.
fn is_seen(knowledge: &Knowledge, graph: &Graph, job: &Job, node: usize) -> bool {
    let id = &graph.nodes[node].id;
    job.given.iter().any(|(finding, (given, ..))| {
        *given == Given::Answer(Answer::Yes)
            && knowledge.all.findings.get(finding).is_some_and(|f| f.verdict_on.as_ref() == Some(id))
    })
}

/// Per node: true if some answer leans against something it would show.
fn spoken_against(graph: &Graph, likelihoods: &[Likelihood]) -> Vec<bool> {
    let mut against = vec![false; graph.nodes.len()];
    for likelihood in likelihoods {
        let leans_no = match likelihood {
            Likelihood::Leaf { if_true, if_false, .. } => if_true < if_false,
            Likelihood::Pulls { density, .. } => density[1..].iter().any(|pulled| *pulled < density[0]),
            Likelihood::Table { values, .. } => values[1..].iter().any(|with| *with < values[0]),
            Likelihood::Sets(_) => true,
        };
        if leans_no {
            for parent in likelihood.parents() {
                against[parent] = true;
            }
        }
    }
    for node in (0..graph.nodes.len()).rev().filter(|n| against[*n]).collect::<Vec<_>>() {
        mark_ancestors(graph, node, &mut against);
    }
    against
}

fn mark_ancestors(graph: &Graph, node: usize, marked: &mut [bool]) {
    for &(parent, _) in &graph.nodes[node].parents {
        if !marked[parent] {
            marked[parent] = true;
            mark_ancestors(graph, parent, marked);
        }
    }
}
