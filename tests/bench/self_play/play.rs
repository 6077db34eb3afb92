//! Turns one fault and a seed into a job whose answers the graph draws and whose questions the planner's base rule asks.

use super::planned::planned;
use super::world::{World, settled_by};
use indexmap::{IndexMap, IndexSet};
use weephole::belief::{Leaf, Likelihood, Network, Question};
use weephole::evidence::{Facts, network, question_of};
use weephole::knowledge::schema::{Id, PumpState};
use weephole::knowledge::{Graph, Healthy, Knowledge, NodeKind, Scale};
use weephole::planning::{Asked, Plan, Proposal, Rule, openings};
use weephole::quantity::Quantity;
use weephole::trial::{MOST_ANSWERS, Ranking};

/// Table entries of a belief, at most: wider answers are set aside, as the program does at ten times as many.
const CELLS: usize = 30_000;
/// A cause seen by a direct look is confirmed at this probability.
const CONFIRMED: f64 = 0.95;
/// Worlds tried until one shows something to complain of.
const TRIES: u64 = 60;

/// How jobs are played.
#[derive(Debug, Clone, Copy)]
pub struct Manner {
    /// Complaints told at the beginning, at most.
    pub complaints: usize,
    /// A check is answered in full and counts once; otherwise each answer counts.
    pub whole_checks: bool,
}

/// What all plays of a family share.
pub struct Table<'a> {
    pub knowledge: &'a Knowledge,
    pub graph: &'a Graph,
    network: Network,
    /// Usual values in the middle of each scale: a pump with a sheet.
    facts: Facts,
    /// Findings that bring somebody to call: everyday words, seen without opening anything.
    complaints: Vec<Id>,
    manner: Manner,
}

/// How a play went.
#[derive(Debug, Clone)]
pub struct Outcome {
    /// Rank of the true cause's decision class.
    pub rank: usize,
    /// The cause that stands first.
    pub first: Id,
    /// Answers, or checks, it took.
    pub answers: usize,
    /// Checks that were the best in some state.
    pub best: IndexSet<Id>,
}

impl<'a> Table<'a> {
    pub fn new(knowledge: &'a Knowledge, graph: &'a Graph, manner: Manner) -> Self {
        let mut facts = Facts::default();
        for (id, reading) in &knowledge.all.readings {
            let Ok(scale) = Scale::of(reading) else { continue };
            if let Healthy::OfUsual(..) = scale.healthy {
                let middle = f64::midpoint(scale.low.max(0.0), scale.high);
                facts.usual.insert(id.clone(), Quantity::new(scale.dimension, middle).unwrap());
            }
        }
        let called = knowledge.all.findings.iter().filter(|(_, finding)| {
            let outside = matches!(finding.state, PumpState::Running | PumpState::Stopped | PumpState::Any);
            !finding.aliases.is_empty() && finding.verdict_on.is_none() && outside
        });
        let complaints = called.map(|(id, _)| id).filter(|id| without_opening(knowledge, id)).cloned().collect();
        Self { knowledge, graph, network: network(graph).unwrap(), facts, complaints, manner }
    }

    fn question(&self, id: &str) -> Option<Question> {
        question_of(self.knowledge, self.graph, &self.facts, id)
    }

    /// Causes that somebody can find.
    pub fn causes(&self) -> Vec<usize> {
        let causes = self.graph.of_kind(NodeKind::Cause).into_iter();
        causes.filter(|&node| !self.knowledge.all.causes[&self.graph.nodes[node].id].stands_for_unknown).collect()
    }

    /// Plays one job with this fault alone; nothing if such a pump shows nothing to complain of.
    pub fn play(&self, cause: usize, seed: u64) -> Option<Outcome> {
        (0..TRIES).find_map(|more| Play::begin(self, cause, seed.wrapping_mul(1000) + more)).map(|play| play.go(cause))
    }
}

/// True if some check yields the finding with everything shut.
fn without_opening(knowledge: &Knowledge, id: &Id) -> bool {
    knowledge.all.checks.values().any(|check| check.yields.contains(id) && check.opening.is_none())
}

struct Play<'a> {
    table: &'a Table<'a>,
    world: World<'a>,
    told: IndexMap<Id, Likelihood>,
    asked: Asked,
    found: IndexSet<Id>,
    outcome: Outcome,
}

impl<'a> Play<'a> {
    /// True complaints that the fault itself shows, drawn among all, and the first minute.
    fn begin(table: &'a Table<'a>, cause: usize, seed: u64) -> Option<Self> {
        let world = World::with_fault(table.graph, cause, seed);
        let mut shown: Vec<&Id> = table.complaints.iter().filter(|id| shown_by_something(&world, id)).collect();
        shown.sort_by(|a, b| world.luck(a).total_cmp(&world.luck(b)));
        shown.truncate(table.manner.complaints);
        shown.first()?;
        let outcome = Outcome { rank: 0, first: Id::new(), answers: 0, best: IndexSet::new() };
        let (told, asked, found) = (IndexMap::new(), Asked::default(), IndexSet::new());
        let mut play = Self { table, world, told, asked, found, outcome };
        for complaint in shown {
            play.hear(complaint, true);
        }
        for question in table.knowledge.all.first_minute.values() {
            let true_one = question.choices.iter().find(|choice| {
                let is = |id: &Id, yes: bool| play.answer(id).is_some_and(|(at, _)| (at == 0) == yes);
                choice.yes.iter().all(|id| is(id, true)) && choice.no.iter().all(|id| is(id, false))
            });
            for (ids, yes) in true_one.into_iter().flat_map(|choice| [(&choice.yes, true), (&choice.no, false)]) {
                for id in ids {
                    play.hear(id, yes);
                }
            }
        }
        Some(play)
    }

    fn answer(&self, id: &str) -> Option<(usize, Likelihood)> {
        self.world.answer(id, &self.table.question(id)?)
    }

    /// Tells what this pump shows, if it is still open.
    fn tell(&mut self, id: &Id) {
        let answer = self.answer(id).filter(|_| !self.asked.closed.contains(id));
        if let Some((at, likelihood)) = answer {
            self.close(id, likelihood, at == 0);
        }
    }

    /// Takes an answer; yes is the first of a finding's answers, no the second.
    fn hear(&mut self, id: &Id, yes: bool) {
        let likelihood = self.table.question(id).and_then(|q| q.likelihoods().into_iter().nth(usize::from(!yes)));
        let Some(likelihood) = likelihood.filter(|_| !self.asked.closed.contains(id)) else { return };
        self.close(id, likelihood, yes);
    }

    fn close(&mut self, id: &Id, likelihood: Likelihood, yes: bool) {
        self.told.insert(id.clone(), likelihood);
        self.asked.closed.insert(id.clone());
        self.asked.closed.extend(settled_by(self.table.knowledge, id, yes));
        let finding = self.table.knowledge.all.findings.get(id);
        self.found.extend(finding.and_then(|finding| finding.verdict_on.clone()).filter(|_| yes));
    }

    /// Goes on until a cause is confirmed, nothing is worth asking, or the answers are used up.
    fn go(mut self, cause: usize) -> Outcome {
        let mut present = Vec::new();
        while let Some((now, plan)) = self.think() {
            present = now;
            let causes = self.table.graph.of_kind(NodeKind::Cause);
            let confirmed =
                |&node: &usize| CONFIRMED <= present[node] && self.found.contains(&self.table.graph.nodes[node].id);
            let done = MOST_ANSWERS <= self.outcome.answers || causes.iter().any(confirmed);
            let Some((check, ask)) = self.next(&plan).filter(|_| !done) else { break };
            self.outcome.best.insert(check.clone());
            self.outcome.answers += 1;
            let entry = &self.table.knowledge.all.checks[&check];
            self.asked.opened |= openings(self.table.knowledge, entry.opening.as_ref());
            self.asked.begun.insert(check);
            self.tell(&ask);
            if self.table.manner.whole_checks {
                for more in &entry.yields {
                    self.tell(more);
                }
            }
        }
        let ranking = self.ranking(&present);
        let truth = [self.table.graph.nodes[cause].id.clone()];
        self.outcome.rank = ranking.rank(self.table.knowledge, &truth).unwrap_or(usize::MAX);
        self.outcome.first = ranking.0.first().map(|class| class.first.clone()).unwrap_or_default();
        self.outcome
    }

    /// Belief and plan.
    fn think(&self) -> Option<(Vec<f64>, Plan)> {
        let mut told: Vec<(&Id, &Likelihood)> = self.told.iter().collect();
        told.sort_by_key(|(id, _)| *id);
        let all: Vec<Likelihood> = told.into_iter().map(|(_, likelihood)| likelihood.clone()).collect();
        let pump = (self.table.knowledge, self.table.graph, &self.table.network);
        let rule = Rule { end_game: f64::INFINITY, ..Rule::default() };
        planned(pump, (&all, CELLS), (&self.asked, rule), |id| self.table.question(id))
    }

    /// The check proposed first and what it is done for; where a repair is proposed, the cheapest look at the first cause
    /// of the list that can be looked at, as the program does.
    fn next(&self, plan: &Plan) -> Option<(Id, Id)> {
        if let Some(Proposal::Check { check, ask }) = plan.proposed.first().map(|first| &first.proposal) {
            return Some((check.clone(), ask.clone()));
        }
        let causes = self.table.graph.of_kind(NodeKind::Cause);
        plan.list.iter().find_map(|entry| {
            let looked_at = &self.table.graph.nodes[*causes.get(entry.cause)?].id;
            let verdict = |id: &&Id| {
                let finding = self.table.knowledge.all.findings.get(*id);
                finding.is_some_and(|finding| finding.verdict_on.as_ref() == Some(looked_at))
            };
            let looks = plan.steps.iter().filter_map(|step| Some((step, step.asks.iter().find(verdict)?)));
            let (step, ask) = looks.min_by(|a, b| a.0.minutes.total_cmp(&b.0.minutes))?;
            Some((step.check.clone(), ask.clone()))
        })
    }

    fn ranking(&self, present: &[f64]) -> Ranking {
        let mut causes = self.table.graph.of_kind(NodeKind::Cause);
        causes.sort_by(|a, b| present[*b].total_cmp(&present[*a]).then(a.cmp(b)));
        let rows = causes.into_iter().map(|node| (self.table.graph.nodes[node].id.clone(), present[node]));
        Ranking::of_causes(self.table.knowledge, rows)
    }
}

/// True if the finding shows itself through something present, not by itself or by a slip.
fn shown_by_something(world: &World, id: &str) -> bool {
    let Some(leaf) = world.graph().findings.get(id) else { return false };
    world.shows(id, &Leaf { leak: 0.0, parents: leaf.parents.clone() })
}
