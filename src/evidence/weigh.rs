//! Turns facts into likelihoods: one per thing observed, each applied once.

use super::answer::{Answer, answered};
use super::facts::{Facts, of_key};
use super::number::{bins, density};
use super::pump::PumpModel;
use crate::belief::{self, Likelihood, Question};
use crate::knowledge::schema::Id;
use crate::knowledge::{self, Graph, Knowledge, Scale};
use crate::physics::likelihood::Number;

/// Squared distance of so many numbers from the best set of suspects above which they fit badly, by their count: the point
/// that one sheet in twenty passes when it is right (from `tests/bench/sheet_exam.rs`).
const MISFIT: [f64; 9] = [f64::INFINITY, 4.0, 4.0, 4.0, 4.0, 4.0, 4.5, 5.0, 5.5];

/// What belief gets, and what it does not get.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Evidence {
    /// Findings and readings that count, in the order of their ids.
    pub used: Vec<(Id, Likelihood)>,
    /// What was said or measured but does not count, with the reason.
    pub set_aside: Vec<SetAside>,
    /// Readings that one joint factor stands for, in the order of their ids; it stands in `used` under the first of them.
    pub joint: Vec<Id>,
    /// True if no healthy or faulty pump of this sheet shows these numbers together: check the sheet or the gauge.
    pub misfit: bool,
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
    /// It was taken in another running state than its band is for, and no pump sheet tells what it should be there.
    OtherState,
    /// It hangs together with the other answers too tightly to be computed with them.
    TooTangled,
    /// It is from before a part was put right that it hangs on.
    BeforeRepair,
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

    /// Says why these do not count; they are not among what does.
    pub fn set_all_aside<'i>(&mut self, ids: impl IntoIterator<Item = &'i Id>, why: &Why) {
        for id in ids {
            self.set_aside(id, why.clone());
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

/// Weighs all facts. The result does not depend on the order in which they came. With a pump, the numbers that its physics
/// knows are weighed together; the others by their declared bands.
pub fn weigh(knowledge: &Knowledge, graph: &Graph, facts: &Facts, pump: Option<&PumpModel>) -> Evidence {
    let all = All { knowledge, graph, facts, pump };
    let mut evidence = Evidence::default();
    let mut findings = facts.findings();
    findings.sort();
    for (id, answer) in findings {
        all.weigh_finding((id, answer), &mut evidence);
    }
    let mut numbers: Vec<&Id> = facts.numbers.keys().collect();
    numbers.sort();
    all.weigh_together(&mut evidence);
    for id in numbers.into_iter().filter(|id| !evidence.joint.contains(*id)).collect::<Vec<_>>() {
        all.weigh_number(id, &mut evidence);
    }
    evidence
}

/// Everything that weighing looks at.
#[derive(Clone, Copy)]
struct All<'a> {
    knowledge: &'a Knowledge,
    graph: &'a Graph,
    facts: &'a Facts,
    pump: Option<&'a PumpModel>,
}

impl All<'_> {
    fn weigh_finding(self, (id, answer): (&Id, Answer), evidence: &mut Evidence) {
        let error = self.knowledge.all.findings.get(id).map(|finding| finding.error).unwrap_or_default();
        let Some((if_true, if_false)) = answer.likelihood() else { return };
        if let Some(other) = self.counts_instead(id) {
            return evidence.set_aside(id, Why::SameAs(other));
        }
        match self.graph.findings.get(id) {
            Some(found) => {
                let likelihood = Likelihood::Leaf { leaf: answered(&leaf(found), error), if_true, if_false };
                evidence.used.push((id.clone(), likelihood));
            }
            None => evidence.set_aside(id, Why::NothingShowsIt),
        }
    }

    /// The numbers that the pump's physics knows, as one factor. Where it fails, they are left to their declared bands.
    fn weigh_together(self, evidence: &mut Evidence) {
        let Some(pump) = self.pump else { return };
        let known = pump.numbers(self.knowledge, self.facts);
        let counts = |(id, _): &(Id, Number)| self.counts_instead(id).is_none();
        let (ids, numbers): (Vec<Id>, Vec<Number>) = known.into_iter().filter(counts).unzip();
        let Some(first) = ids.first() else { return };
        if let Ok(Some((factor, distance))) = pump.factor(&numbers) {
            evidence.used.push((first.clone(), factor));
            evidence.misfit = MISFIT[numbers.len().min(MISFIT.len() - 1)] < distance;
            evidence.joint = ids;
        }
    }

    fn weigh_number(self, id: &Id, evidence: &mut Evidence) {
        if let Some(other) = self.counts_instead(id) {
            return evidence.set_aside(id, Why::SameAs(other));
        }
        if !of_key(id).1.is_empty() {
            return evidence.set_aside(id, Why::OtherState);
        }
        let (Some(pulled), Some(reading)) = (self.graph.readings.get(id), self.knowledge.all.readings.get(id)) else {
            return evidence.set_aside(id, Why::NothingShowsIt);
        };
        match number_density(reading, self.facts, id) {
            Some(density) => {
                let likelihood = Likelihood::Pulls { down: leaf(&pulled.down), up: leaf(&pulled.up), density };
                evidence.used.push((id.clone(), likelihood));
            }
            None => evidence.set_aside(id, Why::NoUsualValue),
        }
    }

    /// The member of a same-observation group that counts instead of `id`: verdicts and yeses before noes, then the
    /// group's order.
    fn counts_instead(self, id: &Id) -> Option<Id> {
        self.knowledge
            .all
            .same_observation
            .values()
            .filter(|group| group.iter().any(|member| member == id))
            .filter_map(|group| self.group_speaker(group))
            .find(|speaker| speaker != id)
    }

    fn group_speaker(self, group: &[Id]) -> Option<Id> {
        let speaks = |id: &&Id| {
            let number = self.graph.readings.contains_key(*id) && self.number_speaks(id);
            let finding = self.graph.findings.contains_key(*id) && self.facts.answer(id).is_some_and(Answer::speaks);
            number || finding
        };
        // A verdict speaks whichever way it goes; among other words for the same thing a yes says more than a no.
        let findings = &self.knowledge.all.findings;
        let is_verdict = |id: &Id| findings.get(id).is_some_and(|finding| finding.verdict_on.is_some());
        let is_no = |id: &&Id| !is_verdict(id) && self.facts.answer(id).is_some_and(|answer| !answer.leans_yes());
        let mut speakers: Vec<&Id> = group.iter().filter(speaks).collect();
        speakers.sort_by_key(is_no);
        speakers.first().map(|id| (*id).clone())
    }

    /// True if a number was read that says something: by its declared band, or by the physics of the pump.
    fn number_speaks(self, id: &Id) -> bool {
        let Some(measured) = self.facts.numbers.get(id) else { return false };
        let reading = self.knowledge.all.readings.get(id);
        let by_band = reading.is_some_and(|reading| number_density(reading, self.facts, id).is_some());
        by_band || self.pump.is_some_and(|pump| pump.number(self.knowledge, id, measured.quantity.si(), None).is_some())
    }
}

fn number_density(reading: &crate::knowledge::schema::Reading, facts: &Facts, id: &str) -> Option<[f64; 4]> {
    let scale = Scale::of(reading).ok()?;
    let usual = facts.usual.get(id).map(|quantity| quantity.si());
    density(&scale, facts.numbers.get(id)?.quantity.si(), usual)
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
