//! Turns a sketch and what has been done so far into what may be done next, and where each outcome leads.
//!
//! Evidence is a weight per fault set of the *beginning* of the job; what is repaired is kept beside it. That, with the
//! records of the questions, is exactly Bayesian with the hidden noise shared between before and after a repair: with
//! g(R) = P(no | set with R repaired), a record is worth g(R) for "no", 1 − g(R) for "yes" and g(R₁) − g(R₀) for "yes"
//! at R₀, then "no" at R₁.

use super::costs::Openings;
use super::sketch::{Causes, NO, Sketch, YES, bit, members};

/// Outcomes less probable than this do not happen.
const NEVER: f64 = 1e-12;

/// What was answered to a question.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Record {
    /// Not asked.
    #[default]
    Open,
    /// Answered when `at` had been repaired (of the causes that can change the answer).
    Told {
        /// The answer.
        answer: usize,
        /// Repaired at the time.
        at: Causes,
    },
    /// "Yes" at first, "no" after a repair.
    Gone {
        /// Repaired at the last "yes".
        yes_at: Causes,
        /// Repaired at the "no".
        no_at: Causes,
    },
}

/// What has been done in a job.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct State {
    /// Per question of the sketch.
    pub records: Vec<Record>,
    /// Causes looked at and found fine.
    pub fine: Causes,
    /// Causes looked at and found bad.
    pub bad: Causes,
    /// Causes put right. After every repair the pump was tried and was still not well.
    pub repaired: Causes,
    /// Openings paid.
    pub paid: Openings,
}

impl State {
    /// The beginning: nothing done.
    pub fn new(sketch: &Sketch) -> Self {
        Self { records: vec![Record::Open; sketch.questions().len()], ..Self::default() }
    }
}

/// Something to do next. The order is the preference among equals: ask, look, repair.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Action {
    /// Ask a question.
    Ask(usize),
    /// Look at a cause.
    Look(usize),
    /// Repair a cause and try the pump.
    Repair(usize),
}

/// A state with the weight of every fault set in it.
#[derive(Debug, Clone)]
pub struct Place<'a> {
    /// The picture.
    pub sketch: &'a Sketch,
    /// What has been done.
    pub state: State,
    /// Joint weight of each set and everything seen; zero where nothing is left to repair.
    pub weights: Vec<f64>,
    /// Sum of the weights.
    pub mass: f64,
}

/// One outcome of an action.
#[derive(Debug, Clone)]
pub struct Branch<'a> {
    /// Its probability.
    pub probability: f64,
    /// Where it leads; nothing if the pump is well.
    pub after: Option<Place<'a>>,
}

impl<'a> Place<'a> {
    /// The place a state stands for. Records beyond the questions of the sketch are not looked at.
    pub fn new(sketch: &'a Sketch, state: State) -> Self {
        let mut state = state;
        state.records.resize(sketch.questions().len(), Record::Open);
        let weights = (0..sketch.sets().len()).map(|set| weight(sketch, &state, set)).collect();
        Self::of(sketch, state, weights)
    }

    fn of(sketch: &'a Sketch, state: State, weights: Vec<f64>) -> Self {
        let mass = weights.iter().sum();
        Self { sketch, state, weights, mass }
    }

    /// Chance that a cause is present and not yet repaired.
    pub fn present(&self, cause: usize) -> f64 {
        if self.state.repaired & bit(cause) != 0 || self.mass <= 0.0 {
            return 0.0;
        }
        let sets = self.sketch.sets().iter().zip(&self.weights);
        sets.filter(|(set, _)| set.causes & bit(cause) != 0).map(|(_, weight)| weight).sum::<f64>() / self.mass
    }

    /// Everything that may be done: questions, looks, repairs.
    pub fn actions(&self) -> Vec<Action> {
        let asks = (0..self.sketch.questions().len()).map(Action::Ask);
        let causes = 0..self.sketch.costs().causes.len();
        let all = asks.chain(causes.clone().map(Action::Look)).chain(causes.map(Action::Repair));
        all.filter(|action| self.open(*action)).collect()
    }

    /// Minutes an action takes now, openings included.
    pub fn minutes(&self, action: Action) -> f64 {
        let (minutes, needed) = self.bill(action);
        minutes + self.sketch.costs().minutes_to_open(needed, self.state.paid)
    }

    /// Every outcome of an action that can happen.
    pub fn branches(&self, action: Action) -> Vec<Branch<'a>> {
        let mut branches = Vec::with_capacity(2);
        for outcome in 0..self.outcomes(action) {
            let weights = self.weights_after(action, outcome);
            let after = Self::of(self.sketch, self.state_after(action, outcome), weights);
            if NEVER * self.mass < after.mass {
                branches.push(Branch { probability: after.mass / self.mass, after: Some(after) });
            }
        }
        if let Action::Repair(_) = action {
            let well = 1.0 - branches.first().map_or(0.0, |branch| branch.probability);
            if NEVER < well {
                branches.push(Branch { probability: well, after: None });
            }
        }
        branches
    }

    /// Number of outcomes after which the job goes on.
    pub(super) fn outcomes(&self, action: Action) -> usize {
        match action {
            Action::Ask(question) => self.sketch.questions()[question].answers.len(),
            Action::Look(_) => 2,
            Action::Repair(_) => 1,
        }
    }

    /// Weight of each set after an outcome: answers in order; fine, bad; the pump still not well.
    pub(super) fn weights_after(&self, action: Action, outcome: usize) -> Vec<f64> {
        let sets = self.sketch.sets().iter().zip(&self.weights);
        match action {
            Action::Ask(question) => {
                let chance = |set| self.chance(question, outcome, set);
                self.weights.iter().enumerate().map(|(set, w)| if *w == 0.0 { 0.0 } else { w * chance(set) }).collect()
            }
            Action::Look(cause) => {
                let look = self.sketch.look(cause);
                let chance = |bad: f64| if outcome == 1 { bad } else { 1.0 - bad };
                let (faulty, sound) = (chance(look.sensitivity), chance(look.false_positive));
                sets.map(|(set, w)| w * if set.causes & bit(cause) == 0 { sound } else { faulty }).collect()
            }
            Action::Repair(cause) => {
                let repaired = self.state.repaired | self.sketch.cures(cause);
                sets.map(|(set, w)| if set.causes & !repaired == 0 { 0.0 } else { *w }).collect()
            }
        }
    }

    /// What has been done after an outcome.
    pub(super) fn state_after(&self, action: Action, outcome: usize) -> State {
        let mut state = self.state.clone();
        state.paid |= self.bill(action).1;
        match action {
            Action::Ask(question) => {
                let now = state.repaired & self.sketch.movers(question);
                state.records[question] = match state.records[question] {
                    Record::Told { answer: YES, at } if outcome == NO => Record::Gone { yes_at: at, no_at: now },
                    _ => Record::Told { answer: outcome, at: now },
                };
            }
            Action::Look(cause) if outcome == 0 => state.fine |= bit(cause),
            Action::Look(cause) => state.bad |= bit(cause),
            Action::Repair(cause) => state.repaired |= self.sketch.cures(cause),
        }
        state
    }

    fn bill(&self, action: Action) -> (f64, Openings) {
        match action {
            Action::Ask(question) => {
                let question = &self.sketch.questions()[question];
                (question.minutes, question.openings)
            }
            Action::Look(cause) => {
                let cost = &self.sketch.costs().causes[cause];
                (cost.look_minutes, cost.look_openings)
            }
            Action::Repair(cause) => {
                let cost = &self.sketch.costs().causes[cause];
                (cost.repair_minutes, cost.repair_openings)
            }
        }
    }

    fn open(&self, action: Action) -> bool {
        let looked = self.state.fine | self.state.bad;
        match action {
            Action::Ask(question) => self.askable(question),
            Action::Look(cause) => {
                let may = self.sketch.costs().causes[cause].look.is_some();
                may && (looked | self.state.repaired) & bit(cause) == 0
            }
            Action::Repair(cause) => self.state.repaired & bit(cause) == 0,
        }
    }

    /// A question may be asked once; a "yes" again when something behind it has been repaired.
    fn askable(&self, question: usize) -> bool {
        let now = self.state.repaired & self.sketch.movers(question);
        match self.state.records[question] {
            Record::Open => true,
            Record::Told { answer: YES, at } => at != now && self.sketch.questions()[question].answers.len() == 2,
            Record::Told { .. } | Record::Gone { .. } => false,
        }
    }

    /// Chance of an answer now in a set, given what the question answered before.
    fn chance(&self, question: usize, answer: usize, set: usize) -> f64 {
        let now = self.state.repaired & self.sketch.movers(question);
        let likelihood = |repaired| self.sketch.likelihood(question, NO, set, repaired);
        match self.state.records[question] {
            Record::Told { at, .. } => {
                let (before, after) = (likelihood(at), likelihood(now));
                let gone = if before < 1.0 { ((after - before) / (1.0 - before)).clamp(0.0, 1.0) } else { 0.0 };
                if answer == NO { gone } else { 1.0 - gone }
            }
            _ => self.sketch.likelihood(question, answer, set, now),
        }
    }
}

/// Joint weight of a set and everything done.
fn weight(sketch: &Sketch, state: &State, set: usize) -> f64 {
    let causes = sketch.sets()[set].causes;
    if causes & !state.repaired == 0 {
        return 0.0;
    }
    let mut weight = sketch.sets()[set].weight;
    for (question, record) in state.records.iter().enumerate() {
        let no = |repaired| sketch.likelihood(question, NO, set, repaired);
        weight *= match *record {
            Record::Open => 1.0,
            Record::Told { answer, at } => sketch.likelihood(question, answer, set, at),
            Record::Gone { yes_at, no_at } => (no(no_at) - no(yes_at)).max(0.0),
        };
    }
    for cause in members(state.fine | state.bad) {
        let look = sketch.look(cause);
        let bad = if causes & bit(cause) == 0 { look.false_positive } else { look.sensitivity };
        weight *= if state.bad & bit(cause) == 0 { 1.0 - bad } else { bad };
    }
    weight
}
