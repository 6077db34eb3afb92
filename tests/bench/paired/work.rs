//! Turns a world and a rule into the minutes until the pump is well: questions, looks and repairs as the planner proposes
//! them, every repair tried out.

use super::planned::planned;
use super::world::{World, settled_by};
use std::collections::HashMap;
use weephole::belief::{Likelihood, Network, Question};
use weephole::evidence::{Facts, network, question_of};
use weephole::knowledge::schema::Id;
use weephole::knowledge::{Knowledge, NodeKind};
use weephole::planning::{Asked, Plan, Proposal, Rule, WHILE_THERE, openings};

/// Minutes after which a job is given up.
const TOO_LONG: f64 = 24.0 * 60.0;
/// Steps after which a job is given up.
const TOO_MANY: usize = 60;

/// How a job went.
#[derive(Debug, Clone, Copy, Default)]
pub struct Outcome {
    pub minutes: f64,
    pub answers: usize,
    pub repairs: usize,
    pub wasted: usize,
    pub solved: bool,
}

/// What was answered, and the causes repaired at the time.
struct Told {
    likelihood: Likelihood,
    is_yes: bool,
}

/// A job at work.
pub struct Work<'a> {
    knowledge: &'a Knowledge,
    world: World<'a>,
    network: Network,
    rule: Rule,
    cells: usize,
    told: HashMap<Id, Told>,
    asked: Asked,
    repaired: Vec<usize>,
    outcome: Outcome,
}

impl<'a> Work<'a> {
    /// A job with one true complaint; nothing if this pump shows nothing to complain of.
    pub fn new(knowledge: &'a Knowledge, world: World<'a>, (rule, cells): (Rule, usize)) -> Option<Self> {
        let network = network(world.graph()).ok()?;
        let mut work = Self {
            knowledge,
            world,
            network,
            rule,
            cells,
            told: HashMap::new(),
            asked: Asked::default(),
            repaired: Vec::new(),
            outcome: Outcome::default(),
        };
        let findings = &knowledge.all.findings;
        let complaints = findings.iter().filter(|(_, finding)| !finding.aliases.is_empty()).map(|(id, _)| id);
        let mut shown: Vec<&Id> = complaints.filter(|id| work.answer(id).is_some_and(|(at, _)| at == 0)).collect();
        shown.sort_by(|a, b| work.world.luck(a).total_cmp(&work.world.luck(b)));
        let complaint = (*shown.first()?).clone();
        work.tell(&complaint);
        Some(work)
    }

    fn question(&self, id: &str) -> Option<Question> {
        question_of(self.knowledge, self.world.graph(), &Facts::default(), id)
    }

    /// Which answer this pump gives to a question, with its likelihood.
    fn answer(&self, id: &str) -> Option<(usize, Likelihood)> {
        self.world.answer(id, &self.question(id)?)
    }

    fn tell(&mut self, id: &Id) {
        let Some((at, likelihood)) = self.answer(id) else { return };
        self.outcome.answers += 1;
        self.asked.closed.insert(id.clone());
        self.asked.closed.extend(settled_by(self.knowledge, id, at == 0));
        self.told.insert(id.clone(), Told { likelihood, is_yes: at == 0 });
    }

    fn evidence(&self) -> Vec<Likelihood> {
        let mut told: Vec<(&Id, &Told)> = self.told.iter().collect();
        told.sort_by_key(|(id, _)| *id);
        let repaired = self.repaired.iter().map(|&node| Likelihood::Leaf {
            leaf: weephole::belief::Leaf::of(node),
            if_true: 0.0,
            if_false: 1.0,
        });
        told.into_iter().map(|(_, told)| told.likelihood.clone()).chain(repaired).collect()
    }

    /// Goes on until the pump is well.
    pub fn go(mut self) -> Outcome {
        for _ in 0..TOO_MANY {
            if TOO_LONG < self.outcome.minutes {
                break;
            }
            let Some(plan) = self.plan() else { break };
            let proposal = plan.proposed.first().map(|first| first.proposal.clone());
            match proposal {
                Some(Proposal::Check { check, ask }) => self.check(&check, &ask),
                Some(Proposal::Repair { cause }) => {
                    if self.repair(cause) {
                        self.outcome.solved = true;
                        break;
                    }
                }
                Some(Proposal::Nothing) | None => break,
            }
        }
        if !self.outcome.solved {
            self.outcome.minutes += TOO_LONG / 3.0;
        }
        self.outcome
    }

    fn plan(&self) -> Option<Plan> {
        let pump = (self.knowledge, self.world.graph(), &self.network);
        planned(pump, (&self.evidence(), self.cells), (&self.asked, self.rule), |id| self.question(id))
            .map(|(_, plan)| plan)
    }

    fn check(&mut self, check: &Id, ask: &Id) {
        let Some(entry) = self.knowledge.all.checks.get(check) else { return };
        let needed = openings(self.knowledge, entry.opening.as_ref());
        let own = if self.asked.begun.contains(check) { entry.minutes.min(WHILE_THERE) } else { entry.minutes };
        self.outcome.minutes += own + self.open(needed);
        self.asked.begun.insert(check.clone());
        self.tell(ask);
    }

    fn open(&mut self, needed: u64) -> f64 {
        let all = self.knowledge.all.openings.values().enumerate();
        let missing = needed & !self.asked.opened;
        self.asked.opened |= needed;
        all.filter(|(bit, _)| *bit < 64 && missing >> bit & 1 == 1).map(|(_, opening)| opening.minutes).sum()
    }

    /// Puts a cause right and tries the pump; true if it is well. Every "no" stays; a "yes" that hangs on the cause is
    /// dropped and may be asked again.
    fn repair(&mut self, cause: usize) -> bool {
        let graph = self.world.graph();
        let node = graph.of_kind(NodeKind::Cause)[cause];
        let remedy = self.knowledge.all.causes.get(&graph.nodes[node].id).and_then(|entry| entry.remedy.as_ref());
        let remedy = remedy.and_then(|remedy| self.knowledge.all.remedies.get(remedy));
        let needed = remedy.map_or(0, |remedy| openings(self.knowledge, remedy.opening.as_ref()));
        self.outcome.minutes += remedy.map_or(240.0, |remedy| remedy.minutes + remedy.part_minutes) + self.open(needed);
        self.outcome.repairs += 1;
        self.outcome.wasted += usize::from(!self.world.present[node]);
        self.repaired.push(node);
        self.world.settle(&self.repaired);
        self.forget_what_hangs_on(node);
        self.world.faults() == 0
    }

    fn forget_what_hangs_on(&mut self, cause: usize) {
        let nodes = &self.world.graph().nodes;
        let mut below = vec![false; nodes.len()];
        below[cause] = true;
        for at in 0..nodes.len() {
            below[at] |= nodes[at].parents.iter().any(|(parent, _)| below[*parent]);
        }
        let stale: Vec<Id> = self
            .told
            .iter()
            .filter(|(_, told)| told.is_yes && told.likelihood.parents().iter().any(|parent| below[*parent]))
            .map(|(id, _)| id.clone())
            .collect();
        for id in stale {
            self.told.remove(&id);
            self.asked.closed.shift_remove(&id);
        }
    }
}
