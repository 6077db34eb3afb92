//! Turns a job and the knowledge into belief and plan, kept up to date event by event.

use super::event::{Entry, Event, JOURNAL_VERSION};
use super::fold::Job;
use super::gates::{FirstRun, Gates, Isolation};
use super::status::{Status, statuses};
use super::work::{network_now, stale, weigh_repairs};
use crate::belief::{
    BeliefError, FOR_BELIEF, FOR_PLANNING, Lightened, Network, NetworkError, Posterior, Question, Thinned,
    causes_posterior, contradicting, lighten, posterior, thinned, without,
};
use crate::evidence::{Answer, Evidence, Facts, PumpData, PumpModel, Why, network, of_key, question_of, weigh};
use crate::knowledge::schema::Id;
use crate::knowledge::{Graph, Knowledge, NodeKind};
use crate::planning::{Allowed, Asked, Openings, Plan, Planner, Rule, openings, plan};
use indexmap::IndexSet;
use std::cell::OnceCell;
use std::rc::Rc;
use thiserror::Error;

/// The opening that stands for a proved isolation.
const ISOLATE: &str = "isolate";
/// Sets of suspects of the pump's model made in one portion: some milliseconds.
const PORTION: usize = 60;

/// Why a job cannot be taken up.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SittingError {
    /// The first event is missing.
    #[error("this journal does not begin with the opening of a job")]
    NotOpened,
    /// A newer program wrote it.
    #[error("this journal has version {0}; this program reads version {JOURNAL_VERSION}: use a newer program")]
    Newer(u32),
    /// Nothing is known of the family.
    #[error("the knowledge has no causes for the pump family `{0}`")]
    NoSuchFamily(String),
    /// The numbers of the graph are not probabilities.
    #[error("the knowledge does not make a graph: {0}")]
    Graph(#[from] NetworkError),
}

/// A job at work.
pub struct Sitting {
    /// What is known of pumps.
    pub knowledge: Rc<Knowledge>,
    /// The graph of the job's family.
    pub graph: Graph,
    /// The job so far.
    pub job: Job,
    /// What was said and measured, weighed.
    pub evidence: Evidence,
    pub(super) gates: Gates,
    pub(super) network: Network,
    pub(super) facts: Facts,
    pub(super) belief: Result<Posterior, BeliefError>,
    /// What this pump should read, as far as its sheet or its usual values tell; where they make no pump, numbers are left
    /// to their declared bands.
    pub(super) pump: Option<PumpModel>,
    /// The numbers of the sheet it was made from.
    bound: PumpData,
    /// Table entries that one belief takes.
    cells: usize,
    /// Posterior of every node, computed when first asked for.
    inner: OnceCell<Option<Posterior>>,
    pub(super) plan: OnceCell<Plan>,
    /// The evidence that planning works on, made when first asked for; none where it cannot be thinned.
    for_planning: OnceCell<Option<Thinned>>,
    rule: Rule,
    pub(super) statuses: Vec<(usize, Status)>,
}

impl Sitting {
    /// Takes up a job from its events.
    pub fn new(knowledge: Rc<Knowledge>, entries: Vec<Entry>) -> Result<Self, SittingError> {
        let mut entries = entries.into_iter();
        let first = entries.next().ok_or(SittingError::NotOpened)?;
        let Event::Opened { version, family, pump, .. } = &first.event else { return Err(SittingError::NotOpened) };
        if JOURNAL_VERSION < *version {
            return Err(SittingError::Newer(*version));
        }
        let graph = Graph::new(&knowledge, family, pump.as_ref().and_then(|pump| pump.fitted.as_deref()));
        if graph.of_kind(NodeKind::Cause).is_empty() {
            return Err(SittingError::NoSuchFamily(family.clone()));
        }
        let network = network(&graph)?;
        let mut job = Job::default();
        job.apply(first);
        for entry in entries {
            job.apply(entry);
        }
        let mut sitting = Self {
            knowledge,
            graph,
            job,
            evidence: Evidence::default(),
            gates: Gates::default(),
            network,
            facts: Facts::default(),
            pump: None,
            bound: PumpData::default(),
            belief: Err(BeliefError::Impossible),
            cells: 0,
            inner: OnceCell::new(),
            plan: OnceCell::new(),
            for_planning: OnceCell::new(),
            rule: Rule::default(),
            statuses: Vec::new(),
        };
        sitting.think();
        Ok(sitting)
    }

    /// The same job with its steps chosen by another rule than the program's.
    #[must_use]
    pub fn choosing_by(mut self, rule: Rule) -> Self {
        self.rule = rule;
        self.plan = OnceCell::new();
        self
    }

    /// Adds one event, after the caller has saved it.
    pub fn apply(&mut self, entry: Entry) {
        self.job.apply(entry);
        self.think();
    }

    /// Belief anew from all facts. Answers that hang together too tightly to be computed, or contradict the others, are set
    /// aside, and said.
    fn think(&mut self) {
        self.gates = Gates::of(&self.knowledge, &self.job.entries);
        let facts = self.job.facts(&self.knowledge);
        let data = self.job.pump.as_ref().map(|pump| pump.data.clone()).unwrap_or_default();
        if self.pump.is_none() || facts.usual != self.facts.usual || data != self.bound {
            self.pump = PumpModel::of(&self.knowledge, &self.graph, &data, &facts.usual).ok().flatten();
            self.bound = data;
        }
        self.facts = facts;
        self.evidence = weigh(&self.knowledge, &self.graph, &self.facts, self.pump.as_ref());
        let old = stale(&self.knowledge, &self.graph, &self.job, &self.evidence);
        if !old.is_empty() {
            self.facts.forget(&old);
            self.evidence = weigh(&self.knowledge, &self.graph, &self.facts, self.pump.as_ref());
            self.evidence.set_all_aside(&old, &Why::BeforeRepair);
        }
        weigh_repairs(&self.knowledge, &self.graph, &self.job, &mut self.evidence);
        if !self.job.work.repairs.is_empty()
            && let Ok(network) = network_now(&self.knowledge, &self.graph, &self.job)
        {
            self.network = network;
        }
        let light = lighten(&self.network, &self.evidence.likelihoods(), FOR_BELIEF);
        self.evidence.leave_out(&light.left_out, &Why::TooTangled);
        self.cells = light.cells;
        self.belief = causes_posterior(&self.network, &self.evidence.likelihoods());
        if self.belief == Err(BeliefError::Impossible) {
            let contradicting = contradicting(&self.network, &self.evidence.likelihoods());
            self.evidence.leave_out(&contradicting, &Why::Contradicts);
            self.belief = causes_posterior(&self.network, &self.evidence.likelihoods());
        }
        self.inner = OnceCell::new();
        self.plan = OnceCell::new();
        self.for_planning = OnceCell::new();
        self.statuses = statuses(self);
    }

    /// Posterior of a node; the prior where there is no belief.
    pub fn present(&self, node: usize) -> f64 {
        let Ok(belief) = &self.belief else { return self.graph.nodes[node].leak };
        if self.graph.nodes[node].kind == NodeKind::Cause {
            return belief.present[node];
        }
        self.every_node().unwrap_or(belief).present[node]
    }

    /// Posterior of every node, not of the causes alone; none without a belief.
    fn every_node(&self) -> Option<&Posterior> {
        self.inner.get_or_init(|| posterior(&self.network, &self.evidence.likelihoods()).ok()).as_ref()
    }

    /// Conditions and damage that hang together too tightly to be worked out: their chances are estimates.
    pub fn estimated(&self) -> Vec<String> {
        let nodes = self.every_node().map(|belief| belief.estimated.as_slice()).unwrap_or_default();
        nodes.iter().map(|&node| self.graph.nodes[node].name.clone()).collect()
    }

    /// Why there is no belief, if there is none.
    pub fn no_belief(&self) -> Option<String> {
        let names =
            |nodes: &[usize]| -> Vec<&str> { nodes.iter().map(|&n| self.graph.nodes[n].name.as_str()).collect() };
        match self.belief.as_ref().err()? {
            BeliefError::TooTangled { ties, .. } if !ties.is_empty() => {
                Some(format!("too tangled to be computed; settle one of these first: {}", names(ties).join("; ")))
            }
            error => Some(error.to_string()),
        }
    }

    /// What the list of causes leaves out, and why, in a sentence.
    pub fn trouble(&self) -> Option<String> {
        if let Some(why) = self.no_belief() {
            return Some(format!("This list leaves all answers out: {why}."));
        }
        let aside = self.evidence.set_aside.iter().filter(|aside| aside.why == Why::Contradicts);
        let names: Vec<String> = aside.map(|aside| format!("\"{}\"", self.name_of(&aside.id))).collect();
        if self.evidence.misfit && names.is_empty() {
            let hint = "check the pump sheet, the gauge and the unit";
            return Some(format!("No fault known here makes this pump show these numbers together: {hint}."));
        }
        (!names.is_empty()).then(|| {
            format!("Not all answers can be true together; this list leaves out, as the odd one: {}.", names.join("; "))
        })
    }

    /// Nodes that the belief had to be worked out over case by case: exact, only slower.
    pub fn by_cases(&self) -> Vec<String> {
        let nodes = self.belief.as_ref().map(|belief| belief.by_cases.clone()).unwrap_or_default();
        nodes.into_iter().map(|node| self.graph.nodes[node].name.clone()).collect()
    }

    /// Bound on the numerical error of the belief.
    pub fn error_bound(&self) -> f64 {
        self.belief.as_ref().map_or(1.0, |belief| belief.error_bound)
    }

    /// The facts belief works on.
    pub fn facts(&self) -> &Facts {
        &self.facts
    }

    /// The plan from here, computed when first asked for.
    pub fn plan(&self) -> &Plan {
        self.plan.get_or_init(|| self.make_plan())
    }

    fn make_plan(&self) -> Plan {
        let made = self.with_planner(|planner| plan(planner, |id| self.question(id)).unwrap_or_default());
        made.unwrap_or_default()
    }

    /// Lets something be planned from here; `None` without a belief.
    pub(super) fn with_planner<T>(&self, work: impl FnOnce(&Planner) -> T) -> Option<T> {
        let Ok(belief) = &self.belief else { return None };
        let thin = self.for_planning.get_or_init(|| self.light_enough_to_plan()).as_ref()?;
        let asked = self.asked();
        let planner = Planner {
            knowledge: &self.knowledge,
            graph: &self.graph,
            network: &self.network,
            likelihoods: &thin.likelihoods,
            cells: thin.cells,
            left_out: thin.left_out,
            present: &belief.present,
            asked: &asked,
            allowed: self.allowed(),
            rule: self.rule,
        };
        Some(work(&planner))
    }

    fn light_enough_to_plan(&self) -> Option<Thinned> {
        let all = self.evidence.likelihoods();
        let light = if self.cells <= FOR_PLANNING {
            Lightened { left_out: Vec::new(), cells: self.cells }
        } else {
            lighten(&self.network, &all, FOR_PLANNING)
        };
        let thin = thinned(&self.network, &without(&all, &light.left_out)).ok()?;
        Some(Thinned { cells: light.cells.max(thin.cells), ..thin })
    }

    /// Makes a portion of what a number of this reading will take, while the person is at the gauge; true once there is
    /// nothing more to make.
    pub fn prepare_for(&self, key: &str) -> bool {
        let usual = self.facts.usual.get(key).map(|quantity| quantity.si());
        let Some(pump) = &self.pump else { return true };
        let Some(number) = pump.number(&self.knowledge, key, 0.0, usual) else { return true };
        let others = pump.numbers(&self.knowledge, &self.facts).into_iter().map(|(_, number)| number);
        let numbers: Vec<_> = others.chain(std::iter::once(number)).collect();
        pump.prepare_some(&numbers, PORTION).unwrap_or(true)
    }

    /// The open question behind a finding or reading. Where nobody told this pump's usual value, what its model expects of
    /// it when healthy stands for it.
    pub(super) fn question(&self, id: &str) -> Option<Question> {
        match self.expected_healthy(id).filter(|_| !self.facts.usual.contains_key(id)) {
            Some(healthy) => {
                let facts = Facts { usual: [(id.to_owned(), healthy)].into_iter().collect(), ..Facts::default() };
                question_of(&self.knowledge, &self.graph, &facts, id)
            }
            None => question_of(&self.knowledge, &self.graph, &self.facts, id),
        }
    }

    /// What may be done: a stop that was obeyed bars running as long as what triggered it stands, and so does a line of the
    /// first-run gate that is not answered with yes; an isolation that is not possible bars opening.
    pub fn allowed(&self) -> Allowed {
        let stops = self.job.stops.iter().filter(|(_, (stopped, _))| *stopped);
        let stopped = stops.into_iter().any(|(rule, _)| self.triggered(rule));
        let may_start = !matches!(self.gates.first_run, FirstRun::NotYet(_));
        let can_isolate = !matches!(self.gates.isolation, Isolation::NotPossible(_));
        Allowed { running: !stopped && may_start, opening: can_isolate }
    }

    fn asked(&self) -> Asked {
        Asked {
            closed: self.settled(),
            begun: self.job.begun(),
            barred: self.job.barred.keys().cloned().collect(),
            opened: self.opened(),
        }
    }

    /// Minutes that isolating and proving zero energy takes; nothing where it is proved and counts still.
    pub fn minutes_to_isolate(&self) -> f64 {
        let opening = self.knowledge.all.openings.get(ISOLATE).filter(|_| !self.is_isolated());
        opening.map_or(0.0, |opening| opening.minutes)
    }

    /// Findings and readings that need no asking: given already, implied by an answer, or a like observation counts
    /// instead of them.
    pub fn settled(&self) -> IndexSet<Id> {
        let is_old =
            |id: &Id| self.evidence.set_aside.iter().any(|aside| aside.id == *id && aside.why == Why::BeforeRepair);
        // A number taken in another running state answers its reading too: nobody is asked twice.
        let given = self.job.given.keys().filter(|key| !is_old(key));
        let mut settled: IndexSet<Id> = given.map(|key| of_key(key).0.to_owned()).collect();
        for (id, answer) in self.facts.findings() {
            let Some(finding) = self.knowledge.all.findings.get(id) else { continue };
            match answer {
                Answer::Yes => settled.extend(finding.if_yes_skip.iter().cloned()),
                Answer::No | Answer::NotApplicable => settled.extend(finding.if_no_skip.iter().cloned()),
                _ => {}
            }
        }
        for group in self.knowledge.all.same_observation.values() {
            let counts =
                |id: &Id| self.evidence.joint.contains(id) || self.evidence.used.iter().any(|(used, _)| used == id);
            let first = group.iter().position(counts);
            if let Some(first) = first {
                settled.extend(group.iter().skip(first).cloned());
            }
        }
        settled
    }

    /// Openings done since the pump ran last, and isolation while it is proved.
    fn opened(&self) -> Openings {
        let checks = self.gates.open_checks.iter().filter_map(|check| self.knowledge.all.checks.get(check));
        let mut opened = checks.fold(0, |set, check| set | openings(&self.knowledge, check.opening.as_ref()));
        if self.is_isolated() {
            opened |= openings(&self.knowledge, Some(&ISOLATE.to_owned()));
        }
        opened
    }

    /// Status of a cause.
    pub fn status(&self, node: usize) -> Status {
        self.statuses.iter().find(|(n, _)| *n == node).map_or(Status::Possible, |(_, status)| *status)
    }

    /// True once a complaint was heard.
    pub fn has_complaint(&self) -> bool {
        !self.job.words.is_empty()
    }
}
