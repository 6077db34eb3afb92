//! Turns a complaint into a list of direct looks made once, and works through it: what a good shop list does without a belief.

use super::tally::whole_minutes;
use super::work::Work;
use super::{Effort, MOST_REPAIRS};
use crate::evidence::Answer;
use crate::knowledge::schema::{Check, Id, PumpState};
use crate::knowledge::{Graph, Knowledge, NodeKind};
use crate::planning::Allowed;
use crate::rig::RigError;
use indexmap::IndexSet;

/// A cause, and the look at it that finds most per minute.
struct Entry<'k> {
    cause: &'k Id,
    prior: f64,
    look: Option<Look<'k>>,
}

/// A direct look.
#[derive(Clone, Copy)]
struct Look<'k> {
    check: &'k Id,
    finding: &'k Id,
    opens: bool,
    /// How often it finds the cause, per minute.
    rate: f64,
}

/// Works through the list, then puts right by the shares of the causes what was not ruled out.
pub fn go(
    (knowledge, graph): (&Knowledge, &Graph),
    complaint: &[Id],
    allowed: Allowed,
    mut work: Work,
) -> Result<Effort, RigError> {
    let list = list(knowledge, graph, complaint, allowed);
    let mut ruled_out: IndexSet<&Id> = IndexSet::new();
    let looks = list.iter().filter_map(|entry| Some((entry.cause, entry.look?)));
    for (cause, look) in looks {
        if work.is_over() {
            break;
        }
        if work.tried.contains(&work.class(cause)) {
            continue;
        }
        let answer = work.replier.finding(look.finding)?;
        work.tally.check(knowledge, look.check);
        match answer {
            Answer::Yes => {
                work.confirm(cause);
                if !work.is_over() {
                    work.put_right(cause)?;
                }
            }
            Answer::No => {
                ruled_out.insert(cause);
            }
            _ => {}
        }
    }
    let mut left: Vec<&Entry> = list.iter().filter(|entry| !ruled_out.contains(entry.cause)).collect();
    left.sort_by(|a, b| b.prior.total_cmp(&a.prior));
    for entry in left {
        if work.is_solved() || MOST_REPAIRS <= work.tally.effort.repairs {
            break;
        }
        if !work.tried.contains(&work.class(entry.cause)) {
            work.put_right(entry.cause)?;
        }
    }
    Ok(work.effort())
}

/// Causes that can lead to the complaint, sorted once: outside before opening, then share times detection over minutes.
fn list<'k>(knowledge: &'k Knowledge, graph: &'k Graph, complaint: &[Id], allowed: Allowed) -> Vec<Entry<'k>> {
    let causes = behind(graph, complaint).into_iter().map(|node| &graph.nodes[node]);
    let known = causes.filter(|node| !knowledge.all.causes.get(&node.id).is_some_and(|one| one.stands_for_unknown));
    let mut list: Vec<Entry> = known
        .map(|node| Entry { cause: &node.id, prior: node.leak, look: best_look(knowledge, graph, &node.id, allowed) })
        .collect();
    let worth = |entry: &Entry| entry.look.map_or(0.0, |look| entry.prior * look.rate);
    let opens = |entry: &Entry| entry.look.is_none_or(|look| look.opens);
    list.sort_by(|a, b| opens(a).cmp(&opens(b)).then(worth(b).total_cmp(&worth(a))));
    list
}

/// The causes from which a way leads to something complained of.
fn behind(graph: &Graph, complaint: &[Id]) -> Vec<usize> {
    let leaves = complaint.iter().filter_map(|finding| graph.findings.get(finding));
    let mut behind = vec![false; graph.nodes.len()];
    leaves.flat_map(|leaf| &leaf.parents).for_each(|(parent, _)| behind[*parent] = true);
    for node in (0..graph.nodes.len()).rev() {
        if behind[node] {
            graph.nodes[node].parents.iter().for_each(|(parent, _)| behind[*parent] = true);
        }
    }
    graph.of_kind(NodeKind::Cause).into_iter().filter(|node| behind[*node]).collect()
}

fn best_look<'k>(knowledge: &'k Knowledge, graph: &Graph, cause: &Id, allowed: Allowed) -> Option<Look<'k>> {
    let verdicts = knowledge
        .all
        .findings
        .iter()
        .filter(|(id, finding)| finding.verdict_on.as_ref() == Some(cause) && graph.findings.contains_key(*id));
    let looks = verdicts.flat_map(|(finding, entry)| {
        let checks = knowledge.all.checks.iter().filter(|(_, check)| may(check, allowed));
        checks.filter(|(_, check)| check.yields.contains(finding)).map(move |(id, check)| Look {
            check: id,
            finding,
            opens: check.opens(),
            rate: (1.0 - entry.error.missed) / whole_minutes(knowledge, check).max(0.1),
        })
    });
    looks.max_by(|a, b| (!a.opens).cmp(&!b.opens).then(a.rate.total_cmp(&b.rate)))
}

fn may(check: &Check, allowed: Allowed) -> bool {
    (allowed.running || check.state != PumpState::Running) && (allowed.opening || !check.opens())
}
