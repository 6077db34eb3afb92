//! Turns a lesson, a pump that answers and moves into a practice job: what was found, what it took, what was unsafe.

use super::moves::Move;
use crate::job::{CautionView, Entry, Event, GateKind, Look, Next, Sitting, SittingError, StepView, StopView};
use crate::knowledge::Knowledge;
use crate::knowledge::schema::{Help, Id, Lesson, PumpState};
use crate::rig::Rig;
use jiff::Timestamp;
use std::rc::Rc;
use thiserror::Error;

/// Who answers the gates of a practice job.
const TRAINEE: &str = "trainee, in practice";
/// Below this gain over cost, a check while a much better one was open counts as idle.
const IDLE: f64 = 0.1;

/// Why a practice job cannot be begun or a move cannot be made; nothing has changed then.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ExerciseError {
    /// No such lesson.
    #[error("there is no lesson `{0}`; `practice list` shows them")]
    NoSuchLesson(Id),
    /// More help than the lesson allows.
    #[error("this lesson allows no more help than `{0}`")]
    HelpLocked(&'static str),
    /// The job could not be opened.
    #[error(transparent)]
    Sitting(#[from] SittingError),
    /// No such check on this pump family.
    #[error("there is no check `{0}` on this pump; search by words")]
    NoSuchCheck(Id),
    /// The lesson bars the check.
    #[error("not possible on this job: {0}")]
    Unavailable(String),
    /// It cannot be done now.
    #[error("it cannot be done now: {0}")]
    NotNow(String),
    /// It was done already and has nothing left to tell.
    #[error("that is known already: it has nothing left to tell")]
    NothingLeft,
    /// Nothing of this name can be the matter.
    #[error("there is no cause, condition or damage `{0}` on this pump; search by words")]
    NoSuchNode(Id),
    /// How sure must be between nothing and everything.
    #[error("say how sure you are between 1 and 99 %")]
    NotSure,
    /// Nothing calls for it.
    #[error("nothing calls for that now")]
    NotCalledFor,
    /// The job is over.
    #[error("this job is over")]
    Over,
}

/// One thing that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Finding or reading.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// The answer in words, or the number with its unit.
    pub words: String,
}

/// A check that was done.
#[derive(Debug, Clone, PartialEq)]
pub struct Done {
    /// Check.
    pub check: Id,
    /// Its name.
    pub name: String,
    /// Minutes it took, openings included.
    pub minutes: f64,
    /// Minutes its most telling answer saved, as far as could be known before.
    pub saves: f64,
    /// The best check open then, with its minutes and the minutes it would have saved; none if nothing was worth asking.
    pub best: Option<(Id, f64, f64)>,
    /// What came of it.
    pub found: Vec<Found>,
}

impl Done {
    /// Minutes saved per minute.
    pub fn rate(&self) -> f64 {
        self.saves.max(0.0) / self.minutes.max(0.1)
    }

    /// The same of the best check open then; never less than that of the check done.
    pub fn best_rate(&self) -> f64 {
        let best = self.best.as_ref().map_or(0.0, |(_, minutes, saves)| saves.max(0.0) / minutes.max(0.1));
        best.max(self.rate())
    }

    /// True if it could tell next to nothing for what it took while something much better was open.
    pub fn is_idle(&self) -> bool {
        self.saves < IDLE * self.minutes && 1.0 < self.best_rate()
    }
}

/// Something unsafe; a job with one of these fails.
#[derive(Debug, Clone, PartialEq)]
pub struct Miss {
    /// What was done.
    pub what: String,
    /// What should have come before, in words and as a move.
    pub instead: (String, Move),
    /// Cautions of what was about to be done, gravest first.
    pub cautions: Vec<CautionView>,
}

/// What came of a move.
#[derive(Debug, Clone, PartialEq)]
pub enum Happened {
    /// A check was done.
    Done(Done),
    /// It would have been unsafe: it was not done, and the job fails.
    Unsafe(Miss),
    /// Noted.
    Noted,
    /// The job is over.
    Over,
}

/// A practice job at work.
pub struct Exercise {
    /// The lesson.
    pub lesson: (Id, Lesson),
    /// Seed of its pump.
    pub seed: u64,
    /// Help chosen.
    pub help: Help,
    /// The job as a perfect listener would keep it.
    pub sitting: Sitting,
    /// Checks done, in order.
    pub done: Vec<Done>,
    /// Unsafe moves.
    pub misses: Vec<Miss>,
    /// What somebody thought it was, and after how many checks.
    pub thoughts: Vec<(usize, Id)>,
    /// What was named at the end, each with how sure; none before, empty if it was given up.
    pub named: Option<Vec<(Id, f64)>>,
    /// Minutes of isolating.
    isolating: f64,
    pump: Box<dyn Rig>,
}

impl Exercise {
    /// Begins a lesson on a pump that answers.
    pub fn begin(
        knowledge: &Rc<Knowledge>,
        lesson: &str,
        (seed, help): (u64, Help),
        pump: Box<dyn Rig>,
    ) -> Result<Self, ExerciseError> {
        let entry = knowledge.all.lessons.get(lesson).ok_or_else(|| ExerciseError::NoSuchLesson(lesson.to_owned()))?;
        if help < entry.help {
            return Err(ExerciseError::HelpLocked(entry.help.word()));
        }
        let opened = Event::opened(&entry.family, (&knowledge.release, &knowledge.hash), None);
        let mut sitting = Sitting::new(Rc::clone(knowledge), vec![at(opened)])?;
        sitting.apply(at(sitting.complaint(&entry.told, &entry.complaint)));
        for (check, reason) in &entry.unavailable {
            sitting.apply(at(Event::Barred { check: check.clone(), reason: reason.clone() }));
        }
        let lesson = (lesson.to_owned(), entry.clone());
        let (done, misses, thoughts) = Default::default();
        Ok(Self { lesson, seed, help, sitting, done, misses, thoughts, named: None, isolating: 0.0, pump })
    }

    /// Minutes spent so far, on checks and on isolating.
    pub fn minutes(&self) -> f64 {
        self.done.iter().fold(self.isolating, |sum, done| sum + done.minutes)
    }

    /// The needle of a reading while somebody watches: seconds and SI.
    pub fn needle(&mut self, reading: &str) -> Vec<(f64, f64)> {
        self.pump.needle(reading)
    }

    /// Ends of the dial of a reading's gauge, SI; none where the pump has no such gauge.
    pub fn face(&self, reading: &str) -> Option<(f64, f64)> {
        self.pump.face(reading)
    }

    /// Makes a move.
    ///
    /// # Errors
    /// [`ExerciseError`]: what stands against it; nothing has changed then.
    pub fn make(&mut self, made: &Move) -> Result<Happened, ExerciseError> {
        self.may(made)?;
        self.act(made)
    }

    /// Whether a move can be made now, so that it can be saved before it is made.
    ///
    /// # Errors
    /// [`ExerciseError`]: what stands against it.
    pub fn may(&self, made: &Move) -> Result<(), ExerciseError> {
        let called_for = |is_so: bool| if is_so { Ok(()) } else { Err(ExerciseError::NotCalledFor) };
        if self.named.is_some() {
            return Err(ExerciseError::Over);
        }
        match made {
            Move::Thinks { node } => self.known(node),
            Move::Does { check } => self.is_open(check),
            Move::Stops => called_for(self.sitting.stop().is_some()),
            Move::Isolates => called_for(!self.sitting.is_passed(GateKind::Isolation)),
            Move::Readies => called_for(!self.sitting.is_passed(GateKind::FirstRun)),
            Move::Names { nodes } => {
                if nodes.is_empty() || nodes.iter().any(|(_, sure)| !(0.01..=0.99).contains(sure)) {
                    return Err(ExerciseError::NotSure);
                }
                nodes.iter().try_for_each(|(node, _)| self.known(node))
            }
            Move::GivesUp | Move::Began { .. } | Move::Marked { .. } => Ok(()),
        }
    }

    /// Makes a move that may be made.
    pub(super) fn act(&mut self, made: &Move) -> Result<Happened, ExerciseError> {
        match made {
            Move::Thinks { node } => self.thoughts.push((self.done.len(), node.clone())),
            Move::Does { check } => return self.check(check),
            Move::Stops => {
                if let Some(stop) = self.sitting.stop() {
                    self.stop(stop.rule);
                }
            }
            Move::Isolates => self.pass(GateKind::Isolation),
            Move::Readies => self.pass(GateKind::FirstRun),
            Move::Names { nodes } => {
                if let Some(stop) = self.sitting.stop() {
                    self.miss(stop_missed(stop));
                }
                self.named = Some(nodes.clone());
                return Ok(Happened::Over);
            }
            Move::GivesUp => {
                self.named = Some(Vec::new());
                return Ok(Happened::Over);
            }
            Move::Began { .. } | Move::Marked { .. } => {}
        }
        Ok(Happened::Noted)
    }

    /// What the planner would do now; naming what it holds for confirmed, or most probable, at the end.
    pub fn planned(&self) -> Move {
        match self.sitting.next() {
            Next::Stop(_) => Move::Stops,
            Next::Gate(gate) if gate.kind == GateKind::Isolation => Move::Isolates,
            Next::Gate(_) => Move::Readies,
            Next::Ask(step) => Move::Does { check: step.check },
            _ => {
                let first = self.sitting.likely(1).into_iter().next();
                match first {
                    Some(row) => Move::Names { nodes: vec![(row.id, row.probability.clamp(0.01, 0.99))] },
                    None => Move::GivesUp,
                }
            }
        }
    }

    fn known(&self, node: &Id) -> Result<(), ExerciseError> {
        self.sitting.graph.node(node).map(|_| ()).ok_or_else(|| ExerciseError::NoSuchNode(node.clone()))
    }

    fn pass(&mut self, kind: GateKind) {
        if kind == GateKind::Isolation {
            self.isolating += self.sitting.minutes_to_isolate();
        }
        for event in self.sitting.gate(kind).all_yes(TRAINEE) {
            self.sitting.apply(at(event));
        }
    }

    fn stop(&mut self, rule: Id) {
        self.sitting.apply(at(Event::StopAnswered { rule, stopped: true, words: TRAINEE.to_owned() }));
    }

    fn miss(&mut self, miss: Miss) -> Happened {
        self.misses.push(miss.clone());
        Happened::Unsafe(miss)
    }

    /// A check that the pump and the lesson have; while a stop rule waits, what else stands against it is not asked yet.
    fn is_open(&self, id: &str) -> Result<(), ExerciseError> {
        if !self.sitting.knowledge.all.checks.contains_key(id) {
            return Err(ExerciseError::NoSuchCheck(id.to_owned()));
        }
        if let Some(reason) = self.lesson.1.unavailable.get(id) {
            return Err(ExerciseError::Unavailable(reason.clone()));
        }
        if self.sitting.stop().is_some() { Ok(()) } else { self.step(id).map(drop) }
    }

    fn check(&mut self, id: &str) -> Result<Happened, ExerciseError> {
        let Some(check) = self.sitting.knowledge.all.checks.get(id) else {
            return Err(ExerciseError::NoSuchCheck(id.to_owned()));
        };
        let (name, yields, state) = (check.name.clone(), check.yields.clone(), check.state);
        if let Some(stop) = self.sitting.stop() {
            self.stop(stop.rule.clone());
            if state == PumpState::Running {
                return Ok(self.miss(stop_missed(stop)));
            }
        }
        let step = self.step(id)?;
        if let Some(gate) = self.sitting.gate_before(&step) {
            let instead = match gate.kind {
                GateKind::Isolation => ("prove zero energy first".to_owned(), Move::Isolates),
                GateKind::FirstRun => ("walk the list before the first run first".to_owned(), Move::Readies),
            };
            return Ok(self.miss(Miss { what: name, instead, cautions: gate.cautions }));
        }
        let best = self.best();
        let found = yields.iter().filter_map(|item| self.ask(item, id)).collect();
        let (minutes, saves) = (step.minutes, step.worth + step.minutes);
        let done = Done { check: id.to_owned(), name, minutes, saves, best, found };
        self.done.push(done.clone());
        Ok(Happened::Done(done))
    }

    /// A check as a step, with what it takes and saves now.
    fn step(&self, id: &str) -> Result<StepView, ExerciseError> {
        match self.sitting.idea(id).map(|idea| idea.look) {
            Some(Look::Ready { step, .. }) => Ok(step),
            Some(Look::NotNow { why, .. }) => Err(ExerciseError::NotNow(why)),
            Some(Look::Nothing) => Err(ExerciseError::NothingLeft),
            None => Err(ExerciseError::NoSuchCheck(id.to_owned())),
        }
    }

    /// The check that saves most per minute now.
    fn best(&self) -> Option<(Id, f64, f64)> {
        let rate = |step: &&crate::planning::Step| step.saves / step.minutes.max(0.1);
        let steps = self.sitting.plan().steps.iter().filter(|step| 0.0 < step.worth);
        let best = steps.max_by(|a, b| rate(a).total_cmp(&rate(b)))?;
        Some((best.check.clone(), best.minutes, best.saves))
    }

    /// Asks the pump for a finding or reading that is not known yet.
    fn ask(&mut self, item: &Id, check: &str) -> Option<Found> {
        if self.sitting.settled().contains(item) || self.judges_a_condition(item) {
            return None;
        }
        let name = self.sitting.name_of(item);
        let (event, words) = if self.sitting.knowledge.all.findings.contains_key(item) {
            let answer = self.pump.look(item);
            (self.sitting.answer(item, answer, Some(check)).ok()?, answer.words().to_owned())
        } else {
            let shown = self.pump.read(item);
            self.sitting.entered_si(item, shown, Some(check))?
        };
        self.sitting.apply(at(event));
        Some(Found { id: item.clone(), name, words })
    }

    /// Nobody sees a condition itself, only what it shows.
    fn judges_a_condition(&self, item: &str) -> bool {
        let all = &self.sitting.knowledge.all;
        let verdict = all.findings.get(item).and_then(|finding| finding.verdict_on.as_ref());
        verdict.is_some_and(|node| all.conditions.contains_key(node))
    }
}

fn stop_missed(stop: StopView) -> Miss {
    Miss {
        what: format!("the pump ran on: {}", stop.name),
        instead: ("stop the pump at once".to_owned(), Move::Stops),
        cautions: stop.cautions,
    }
}

fn at(event: Event) -> Entry {
    Entry { at: Timestamp::UNIX_EPOCH, event }
}
