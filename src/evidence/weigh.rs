//! Turns facts into likelihoods: one per thing observed, each applied once.

use super::answer::{Answer, answered};
use super::facts::Facts;
use super::number::{bins, density};
use crate::belief::{self, Likelihood, Question};
use crate::knowledge::schema::Id;
use crate::knowledge::{self, Graph, Knowledge, Scale};

/// What belief gets, and what it does not get.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Evidence {
    /// Findings and readings that count, in the order of their ids.
    pub used: Vec<(Id, Likelihood)>,
    /// What was said or measured but does not count, with the reason.
    pub set_aside: Vec<SetAside>,
}

/// Something said or measured that does not count.
#[derive(Debug, Clone, PartialEq)]
pub struct SetAside {
    /// Finding or reading.
    pub id: Id,
    /// Why.
    pub why: Why,
}

/// Why something does not count.
#[derive(Debug, Clone, PartialEq)]
pub enum Why {
    /// Another finding or reading observes the same thing and counts instead.
    SameAs(Id),
    /// The band is a share of this pump's usual value, which is not known.
    NoUsualValue,
    /// Nothing in this family shows itself this way.
    NothingShowsIt,
    /// It hangs together with the other answers too tightly to be computed with them.
    TooTangled,
    /// It cannot be true together with the other answers.
    Contradicts,
}

impl Evidence {
    /// The likelihoods alone.
    pub fn likelihoods(&self) -> Vec<Likelihood> {
        self.used.iter().map(|(_, likelihood)| likelihood.clone()).collect()
    }

    /// Sets aside what stands at these positions, which must be in order.
    pub fn leave_out(&mut self, positions: &[usize], why: &Why) {
        for &position in positions.iter().rev() {
            let (id, _) = self.used.remove(position);
            self.set_aside(&id, why.clone());
        }
    }

    fn set_aside(&mut self, id: &str, why: Why) {
        self.set_aside.push(SetAside { id: id.to_owned(), why });
    }
}

/// A leaf of the graph as belief takes it.
pub fn leaf(leaf: &knowledge::Leaf) -> belief::Leaf {
    belief::Leaf { leak: leaf.leak, parents: leaf.parents.clone() }
}

/// Weighs all facts. The result does not depend on the order in which they came.
pub fn weigh(knowledge: &Knowledge, graph: &Graph, facts: &Facts) -> Evidence {
    let mut evidence = Evidence::default();
    let mut findings = facts.findings();
    findings.sort();
    for (id, answer) in findings {
        weigh_finding(knowledge, graph, facts, (id, answer), &mut evidence);
    }
    let mut numbers: Vec<&Id> = facts.numbers.keys().collect();
    numbers.sort();
    for id in numbers {
        weigh_number(knowledge, graph, facts, id, &mut evidence);
    }
    evidence
}

fn weigh_finding(
    knowledge: &Knowledge,
    graph: &Graph,
    facts: &Facts,
    (id, answer): (&Id, Answer),
    evidence: &mut Evidence,
) {
    let error = knowledge.all.findings.get(id).map(|finding| finding.error).unwrap_or_default();
    let Some((if_true, if_false)) = answer.likelihood() else { return };
    if let Some(other) = counts_instead(knowledge, graph, facts, id) {
        return evidence.set_aside(id, Why::SameAs(other));
    }
    match graph.findings.get(id) {
        Some(found) => {
            let likelihood = Likelihood::Leaf { leaf: answered(&leaf(found), error), if_true, if_false };
            evidence.used.push((id.clone(), likelihood));
        }
        None => evidence.set_aside(id, Why::NothingShowsIt),
    }
}

fn weigh_number(knowledge: &Knowledge, graph: &Graph, facts: &Facts, id: &Id, evidence: &mut Evidence) {
    if let Some(other) = counts_instead(knowledge, graph, facts, id) {
        return evidence.set_aside(id, Why::SameAs(other));
    }
    let (Some(pulled), Some(reading)) = (graph.readings.get(id), knowledge.all.readings.get(id)) else {
        return evidence.set_aside(id, Why::NothingShowsIt);
    };
    match number_density(reading, facts, id) {
        Some(density) => {
            let likelihood = Likelihood::Pulls { down: leaf(&pulled.down), up: leaf(&pulled.up), density };
            evidence.used.push((id.clone(), likelihood));
        }
        None => evidence.set_aside(id, Why::NoUsualValue),
    }
}

fn number_density(reading: &crate::knowledge::schema::Reading, facts: &Facts, id: &str) -> Option<[f64; 4]> {
    let scale = Scale::of(reading).ok()?;
    let usual = facts.usual.get(id).map(|quantity| quantity.si());
    density(&scale, facts.numbers.get(id)?.quantity.si(), usual)
}

/// The member of a same-observation group that counts instead of `id`: verdicts and yeses before noes, then the group's
/// order.
fn counts_instead(knowledge: &Knowledge, graph: &Graph, facts: &Facts, id: &str) -> Option<Id> {
    knowledge
        .all
        .same_observation
        .values()
        .filter(|group| group.iter().any(|member| member == id))
        .filter_map(|group| group_speaker(knowledge, graph, facts, group))
        .find(|speaker| speaker != id)
}

fn group_speaker(knowledge: &Knowledge, graph: &Graph, facts: &Facts, group: &[Id]) -> Option<Id> {
    let speaks = |id: &&Id| {
        let number = graph.readings.contains_key(*id)
            && knowledge.all.readings.get(*id).is_some_and(|reading| number_density(reading, facts, id).is_some());
        let finding = graph.findings.contains_key(*id) && facts.answer(id).is_some_and(Answer::speaks);
        number || finding
    };
    // A verdict speaks whichever way it goes; among other words for the same thing a yes says more than a no.
    let is_verdict = |id: &Id| knowledge.all.findings.get(id).is_some_and(|finding| finding.verdict_on.is_some());
    let is_no = |id: &&Id| !is_verdict(id) && facts.answer(id).is_some_and(|answer| !answer.leans_yes());
    let mut speakers: Vec<&Id> = group.iter().filter(speaks).collect();
    speakers.sort_by_key(is_no);
    speakers.first().map(|id| (*id).clone())
}

/// The open question behind a finding or reading, with the likelihood of each answer; `None` if nothing hangs on it.
pub fn question_of(knowledge: &Knowledge, graph: &Graph, facts: &Facts, id: &str) -> Option<Question> {
    if let Some(found) = graph.findings.get(id) {
        let error = knowledge.all.findings.get(id)?.error;
        let answers = [Answer::Yes, Answer::No].iter().filter_map(|answer| answer.likelihood()).collect();
        return Some(Question::Leaf { leaf: answered(&leaf(found), error), answers });
    }
    let (pulled, reading) = (graph.readings.get(id)?, knowledge.all.readings.get(id)?);
    let scale = Scale::of(reading).ok()?;
    let answers = match facts.usual.get(id) {
        Some(usual) => bins(&scale, Some(usual.si()))?,
        None => bins(&scale, None).or_else(|| unsure_bins(&scale))?,
    };
    Some(Question::Pulls { down: leaf(&pulled.down), up: leaf(&pulled.up), answers })
}

/// Bins of a reading of a pump nobody has described: a usual value stands in the middle of the scale.
pub fn bands(scale: &Scale) -> Option<Vec<[f64; 4]>> {
    bins(scale, Some(f64::midpoint(scale.low.max(0.0), scale.high)))
}

/// Bins of a reading whose usual value nobody has told yet: half the time nobody will know it, and then it says nothing.
fn unsure_bins(scale: &Scale) -> Option<Vec<[f64; 4]>> {
    let known = bands(scale)?;
    let even = 1.0 / f64::from(u32::try_from(known.len()).ok()?);
    Some(known.into_iter().map(|bin| bin.map(|chance| f64::midpoint(chance, even))).collect())
}
