//! Turns settings and a pump into the ground that jobs are played on: the sound pump, and what the planner believes.

use super::draw::{Drawn, ExamError};
use super::fixed;
use super::marks::JobMarks;
use super::noise::noisy;
use super::play::Play;
use super::reply::Replier;
use super::work::Work;
use super::{Effort, Settings};
use crate::evidence::{Output, State, shown};
use crate::job::{Entry, Event, PumpNote, Sitting};
use crate::knowledge::schema::Id;
use crate::knowledge::{Graph, Knowledge};
use crate::planning::Rule;
use crate::rig::{SimulatedPump, sound};
use crate::simulation::Chance;
use crate::simulation::person::Sound;
use jiff::{SignedDuration, Timestamp};
use std::rc::Rc;

/// Pumps that the jobs take turns on: few, so that what each does when sound is worked out once.
pub const PUMPS: usize = 12;

/// A pump to play jobs on.
pub struct Ground {
    pub(super) settings: Settings,
    /// As the files have it.
    pub(super) knowledge: Rc<Knowledge>,
    /// With noise: what the planner believes in.
    believed: Rc<Knowledge>,
    pub(super) graph: Graph,
    pub(super) sound: Rc<Sound>,
    note: PumpNote,
}

impl Ground {
    /// The pump that a job of this number stands on, with what people know of it.
    ///
    /// # Errors
    /// [`ExamError`] where there is no such pump.
    pub fn new(knowledge: &Rc<Knowledge>, settings: &Settings, number: usize) -> Result<Self, ExamError> {
        let pump = Self::pump_of(number);
        let seed = Chance::of(settings.seed, &["pump", &pump.to_string()]).bits();
        let sound = sound(seed).map_err(crate::rig::RigError::from)?;
        let believed = match settings.mismatch {
            0.0 => Rc::clone(knowledge),
            mismatch => Rc::new(noisy(knowledge, mismatch, seed)),
        };
        let note =
            PumpNote { name: format!("pump {}", pump + 1), usual: usual(knowledge, &sound)?, ..Default::default() };
        let graph = Graph::new(&believed, &settings.family, None);
        Ok(Self { settings: settings.clone(), knowledge: Rc::clone(knowledge), believed, graph, sound, note })
    }

    /// The pump of a job.
    pub fn pump_of(number: usize) -> usize {
        number % PUMPS
    }

    /// Plays the job of a number by the base rule, and beside it the fixed order.
    ///
    /// # Errors
    /// [`ExamError`] where no such job can be drawn or opened.
    pub fn play(&self, number: usize) -> Result<JobMarks, ExamError> {
        let drawn = self.draw(number)?;
        let base = Rule { end_game: f64::INFINITY, ..Rule::default() };
        let mut play = Play::new(self.sitting(&drawn, base)?, self.work(&drawn)?, self.truth(&drawn)?);
        play.go()?;
        let fixed = if self.settings.outside { None } else { Some(self.in_fixed_order(&drawn)?) };
        Ok(JobMarks {
            number,
            truth: drawn.faults.iter().map(|(id, _)| id.clone()).collect(),
            severity: drawn.faults.iter().map(|(_, severity)| *severity).collect(),
            complaint: drawn.complaint,
            redrawn: drawn.redrawn,
            planned: play.work.effort(),
            stands: play.stands,
            believed: play.believed,
            trail: play.trail,
            fixed,
        })
    }

    /// What the same job takes by the rule of the screen.
    ///
    /// # Errors
    /// As [`Ground::play`].
    pub fn by_the_full_rule(&self, number: usize) -> Result<Effort, ExamError> {
        let drawn = self.draw(number)?;
        let sitting = self.sitting(&drawn, Rule::default())?;
        let mut play = Play::new(sitting, self.work(&drawn)?, self.truth(&drawn)?);
        play.go()?;
        Ok(play.work.effort())
    }

    fn in_fixed_order(&self, drawn: &Drawn) -> Result<Effort, ExamError> {
        let mut sitting = self.sitting(drawn, Rule::default())?;
        while let Some(stop) = sitting.stop() {
            sitting.apply(at(sitting.job.entries.len(), obeyed(stop.rule)));
        }
        let allowed = sitting.allowed();
        Ok(fixed::go((&self.knowledge, &self.graph), &drawn.complaint, allowed, self.work(drawn)?)?)
    }

    /// The causes whose place in the list is noted: the faults, or for one outside the graph what stands for the unknown.
    fn truth(&self, drawn: &Drawn) -> Result<Vec<Id>, ExamError> {
        if !self.settings.outside {
            return Ok(drawn.faults.iter().map(|(id, _)| id.clone()).collect());
        }
        let unknown = self.knowledge.all.causes.iter().find(|(_, cause)| cause.stands_for_unknown);
        unknown.map(|(id, _)| vec![id.clone()]).ok_or(ExamError::NoUnknown)
    }

    fn work(&self, drawn: &Drawn) -> Result<Work<'_>, ExamError> {
        let Settings { wrong, cannot_tell, .. } = self.settings;
        let pump = (&self.knowledge, &self.sound);
        let replier = Replier::new(pump, &drawn.faults, (drawn.seed, wrong, cannot_tell))?;
        Ok(Work::new(&self.knowledge, replier, &drawn.faults))
    }

    /// The job as opened: the pump with what it usually reads, and the complaint.
    fn sitting(&self, drawn: &Drawn, rule: Rule) -> Result<Sitting, ExamError> {
        let known = (self.believed.release.as_str(), self.believed.hash.as_str());
        let opened = Event::opened(&self.settings.family, known, Some(self.note.clone()));
        let complaint = Event::Complaint { words: drawn.complaint.join("; "), findings: drawn.complaint.clone() };
        let entries = vec![at(0, opened), at(1, complaint)];
        Ok(Sitting::new(Rc::clone(&self.believed), entries)?.choosing_by(rule))
    }
}

/// An event with a time of its own, a second after the last: repairs tell by time what was known before them, and pauses
/// would need isolation proved again.
pub fn at(place: usize, event: Event) -> Entry {
    let seconds = i64::try_from(place).unwrap_or(i64::MAX);
    Entry { at: Timestamp::UNIX_EPOCH.checked_add(SignedDuration::from_secs(seconds)).unwrap_or_default(), event }
}

/// A stop rule that is obeyed.
pub fn obeyed(rule: Id) -> Event {
    Event::StopAnswered { rule, stopped: true, words: "shut down".to_owned() }
}

/// What people know of a sound pump: its outlet pressure and its flow.
fn usual(knowledge: &Rc<Knowledge>, sound: &Rc<Sound>) -> Result<Vec<(Id, String, f64)>, ExamError> {
    let mut pump = SimulatedPump::on(knowledge, sound, &[], (0, 0.0))?;
    let is_known = |id: &Id| {
        let shown = knowledge.all.readings.get(id).and_then(shown).and_then(Result::ok);
        let known = [Output::OutletPressure, Output::DeliveredFlow];
        shown.is_some_and(|one| known.contains(&one.output) && one.state == State::default() && !one.of_healthy)
    };
    let ids = knowledge.all.readings.keys().filter(|id| is_known(id));
    Ok(ids.filter_map(|id| pump.usual(id).map(|si| (id.clone(), String::new(), si))).collect())
}
