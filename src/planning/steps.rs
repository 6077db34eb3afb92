//! Turns open checks into steps with the minutes each saves, best first.

use super::costs::{Costs, Openings, openings, own_minutes};
use super::end_game::end_game;
use super::list::{ListEntry, OVERSTATED, in_order, minutes_left};
use super::screening::{Candidate, best_candidates};
use crate::belief::{BeliefError, Likelihood, Network, Outcomes, Question, outcomes};
use crate::knowledge::schema::{Id, PumpState};
use crate::knowledge::{Graph, Knowledge, NodeKind, applies};
use indexmap::{IndexMap, IndexSet};

/// Share of the belief carried by the last suspects from which steps are chosen by thinking ahead.
const END_GAME: f64 = 0.9;
/// Minutes that a bit of uncertainty counts for. A list alone is blind to what only halves it: with 0 a job of the graph took
/// 447 minutes and 53 % were solved within sixty steps, with 30 to 100 some 340 and 70 to 73 % (100 paired jobs); 100 finds
/// the fault in fewer answers than 30, 200 costs 30 minutes.
const PER_BIT: f64 = 100.0;
/// Entries of the list that are kept.
const LISTED: usize = 8;

/// What is settled already, and what may be done.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Asked {
    /// Findings and readings that need no asking: answered, measured, implied, or not to be had now.
    pub closed: IndexSet<Id>,
    /// Checks begun: what they still yield costs next to nothing.
    pub begun: IndexSet<Id>,
    /// Checks that cannot be done now.
    pub barred: IndexSet<Id>,
    /// Openings done.
    pub opened: Openings,
}

/// What may be done at all just now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Allowed {
    /// The pump may run.
    pub running: bool,
    /// Opening and reaching in are possible: isolation can be done.
    pub opening: bool,
}

impl Default for Allowed {
    fn default() -> Self {
        Self { running: true, opening: true }
    }
}

/// One check with what it asks and what it saves.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// The check.
    pub check: Id,
    /// Open findings and readings it yields, the most telling first.
    pub asks: Vec<Id>,
    /// Minutes it takes now, openings included.
    pub minutes: f64,
    /// Minutes by which it shortens the expected job, beyond what it takes; by its most telling answer alone, so a
    /// lower bound.
    pub worth: f64,
    /// The opening it is the first to need.
    pub opens: Option<Id>,
    /// Minutes saved by the most telling answer, before what the check takes.
    pub saves: f64,
}

/// How steps are chosen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rule {
    /// How many times longer a list treated without further questions is than the job it stands for.
    pub overstated: f64,
    /// Share of the belief that the last few suspects must carry before steps are chosen by thinking ahead; above 1 never.
    pub end_game: f64,
    /// Minutes that a bit of uncertainty about what has to be put right counts for, beside those of the list.
    pub per_bit: f64,
}

impl Default for Rule {
    /// The rule of the program; settled by paired jobs, see DEVELOPERS.md.
    fn default() -> Self {
        Self { overstated: OVERSTATED, end_game: END_GAME, per_bit: PER_BIT }
    }
}

/// Something to do next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Proposal {
    /// A check, for the sake of one finding or reading first.
    Check {
        /// The check.
        check: Id,
        /// The finding or reading it is done for.
        ask: Id,
    },
    /// Putting a cause right without looking at it first.
    Repair {
        /// Place among the causes of the graph.
        cause: usize,
    },
    /// Nothing in reach helps: call for help.
    Nothing,
}

/// A proposal with what it comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposed {
    /// What to do.
    pub proposal: Proposal,
    /// Expected minutes to a pump that is fixed, if it is done next.
    pub minutes: f64,
}

/// The plan from here.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Plan {
    /// Expected minutes to a pump that is fixed, without further questions.
    pub minutes_left: f64,
    /// All open checks, best first.
    pub steps: Vec<Step>,
    /// What to do if nothing is worth asking: causes to treat one after the other.
    pub list: Vec<ListEntry>,
    /// Minutes each open finding or reading would save, before what it takes.
    pub saves: IndexMap<Id, f64>,
    /// What to do next, best first: by the list while many causes are open, by thinking ahead once few are.
    pub proposed: Vec<Proposed>,
    /// Share of the belief on which the minutes saved do not rest: lighter sets of a joint factor. Zero without numbers.
    pub left_out: f64,
}

/// Everything a plan is made from.
pub struct Planner<'a> {
    /// Entries.
    pub knowledge: &'a Knowledge,
    /// Graph of the family.
    pub graph: &'a Graph,
    /// Its network.
    pub network: &'a Network,
    /// Evidence so far.
    pub likelihoods: &'a [Likelihood],
    /// Table entries that one belief on it takes.
    pub cells: usize,
    /// Share of the belief that the evidence above leaves out: lighter sets of a joint factor.
    pub left_out: f64,
    /// Posterior of every node.
    pub present: &'a [f64],
    /// What is settled.
    pub asked: &'a Asked,
    /// What may be done.
    pub allowed: Allowed,
    /// How steps are chosen.
    pub rule: Rule,
}

/// Ranks every open check. `question` gives the open question behind a finding or reading.
pub fn plan(planner: &Planner, question: impl Fn(&str) -> Option<Question>) -> Result<Plan, BeliefError> {
    let costs = planner.costs();
    let causes = planner.graph.of_kind(NodeKind::Cause);
    let present: Vec<f64> = causes.iter().map(|&cause| planner.present[cause]).collect();
    let value = |present: &[f64]| planner.value(&costs, present);
    let minutes = value(&present);
    let mut list = in_order(&costs, &present, planner.asked.opened);
    list.truncate(LISTED);
    let open = planner.open_items();
    let candidates: Vec<Candidate> =
        open.into_iter().filter_map(|id| question(&id).map(|question| Candidate { id, question })).collect();
    let listed: Vec<usize> = list.iter().map(|entry| causes[entry.cause]).collect();
    let candidates = best_candidates(planner, &costs, &candidates, (&listed, &value))?;
    let (ids, questions): (Vec<Id>, Vec<Question>) = candidates.into_iter().map(|c| (c.id, c.question)).unzip();
    let asked: IndexMap<Id, Question> = ids.iter().cloned().zip(questions.iter().cloned()).collect();
    let saves = planner.saved(&costs, (ids, questions))?;
    let steps = planner.steps(&costs, &saves);
    let proposed = end_game(planner, &costs, planner.rule, (&steps, &asked))
        .unwrap_or_else(|| by_the_list(&costs, &steps, (minutes, &list)));
    Ok(Plan { minutes_left: minutes, steps, list, saves, proposed, left_out: planner.left_out })
}

/// The checks that save more than they take, then the first entry of the list.
fn by_the_list(costs: &Costs, steps: &[Step], (minutes, list): (f64, &[ListEntry])) -> Vec<Proposed> {
    let of_step = |step: &Step| {
        let proposal = Proposal::Check { check: step.check.clone(), ask: step.asks[0].clone() };
        Proposed { proposal, minutes: minutes - step.worth }
    };
    let mut proposed: Vec<Proposed> = steps.iter().filter(|step| 0.0 < step.worth).map(of_step).collect();
    if let Some(first) = list.first() {
        let look = costs.causes[first.cause].look.as_ref().filter(|_| !first.repair_now);
        let step = look.and_then(|look| steps.iter().find(|step| step.check == *look));
        let proposal = step.map_or(Proposal::Repair { cause: first.cause }, |step| of_step(step).proposal);
        proposed.push(Proposed { proposal, minutes });
    }
    proposed
}

impl Planner<'_> {
    /// Minutes of looking at each cause and of putting it right, as things stand.
    pub fn costs(&self) -> Costs {
        let may = |check: &str, finding: &str| self.may(check) && !self.asked.closed.contains(finding);
        Costs::new(self.knowledge, self.graph, &self.asked.begun, may)
    }

    /// Minutes left with such a belief in the causes, as the rule counts them.
    fn value(&self, costs: &Costs, present: &[f64]) -> f64 {
        let list = minutes_left(costs, present, self.asked.opened) / self.rule.overstated;
        if self.rule.per_bit <= 0.0 { list } else { list + self.rule.per_bit * costs.bits(present) }
    }

    /// Minutes that each question saves, before what it takes; those too wide to be computed are left out.
    pub(super) fn saved(
        &self,
        costs: &Costs,
        (ids, questions): (Vec<Id>, Vec<Question>),
    ) -> Result<IndexMap<Id, f64>, BeliefError> {
        let causes = self.graph.of_kind(NodeKind::Cause);
        let now = self.value(costs, &causes.iter().map(|&cause| self.present[cause]).collect::<Vec<_>>());
        let after = |outcomes: &Outcomes| -> f64 {
            outcomes.outcomes.iter().map(|outcome| outcome.probability * self.value(costs, &outcome.present)).sum()
        };
        let found = outcomes(self.network, self.likelihoods, &questions, &causes)?;
        Ok(ids.into_iter().zip(&found).filter_map(|(id, found)| Some((id, now - after(found.as_ref()?)))).collect())
    }

    /// Every allowed check that saves something computed, best first.
    pub(super) fn steps(&self, costs: &Costs, saves: &IndexMap<Id, f64>) -> Vec<Step> {
        let checks = self.knowledge.all.checks.keys();
        let mut steps: Vec<Step> = checks.filter_map(|id| self.step(costs, id, saves)).collect();
        steps.sort_by(|a, b| b.worth.total_cmp(&a.worth).then_with(|| a.check.cmp(&b.check)));
        steps
    }

    /// True if a check may be done now on this pump.
    pub fn may(&self, id: &str) -> bool {
        let Some(check) = self.knowledge.all.checks.get(id) else { return false };
        let family = applies(&check.families, &self.graph.family);
        let running = self.allowed.running || check.state != PumpState::Running;
        let opens = check.opens();
        family && running && (self.allowed.opening || !opens) && !self.asked.barred.contains(id)
    }

    /// Findings and readings that some allowed check yields and that are not settled.
    pub(super) fn open_items(&self) -> Vec<Id> {
        let checks = self.knowledge.all.checks.iter().filter(|(id, _)| self.may(id));
        let items: IndexSet<&Id> = checks.flat_map(|(_, check)| &check.yields).collect();
        items.into_iter().filter(|id| self.is_open(id)).cloned().collect()
    }

    /// True for a finding or reading that may be asked for.
    pub(super) fn is_open(&self, id: &str) -> bool {
        !self.asked.closed.contains(id) && !self.judges_a_condition(id)
    }

    /// Nobody sees a condition itself, only what it shows: a verdict on one can be told, but is not asked for.
    fn judges_a_condition(&self, finding: &str) -> bool {
        let verdict = self.knowledge.all.findings.get(finding).and_then(|finding| finding.verdict_on.as_ref());
        verdict.is_some_and(|node| self.knowledge.all.conditions.contains_key(node))
    }

    /// Minutes a check takes now, openings included.
    pub(super) fn minutes_of(&self, costs: &Costs, id: &str) -> Option<f64> {
        let check = self.knowledge.all.checks.get(id)?;
        let own = own_minutes(&self.asked.begun, id, check.minutes);
        Some(own + costs.minutes_to_open(openings(self.knowledge, check.opening.as_ref()), self.asked.opened))
    }

    pub(super) fn step(&self, costs: &Costs, id: &Id, saves: &IndexMap<Id, f64>) -> Option<Step> {
        let check = self.knowledge.all.checks.get(id).filter(|_| self.may(id))?;
        let mut asks: Vec<(&Id, f64)> =
            check.yields.iter().filter_map(|item| saves.get(item).map(|saved| (item, *saved))).collect();
        asks.sort_by(|a, b| b.1.total_cmp(&a.1));
        let (_, telling) = *asks.first()?;
        let minutes = self.minutes_of(costs, id)?;
        let still_shut = openings(self.knowledge, check.opening.as_ref()) & !self.asked.opened != 0;
        let opens = check.opening.clone().filter(|_| still_shut);
        Some(Step {
            check: id.clone(),
            asks: asks.into_iter().map(|(item, _)| item.clone()).collect(),
            minutes,
            worth: telling - minutes,
            opens,
            saves: telling,
        })
    }
}
