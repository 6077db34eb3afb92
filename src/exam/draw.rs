//! Turns a number into a job: faults, how bad they are, and what the operator complains of.

use super::ground::Ground;
use super::marks::kept;
use crate::job::SittingError;
use crate::knowledge::schema::Id;
use crate::physics::steady::{Output, State};
use crate::rig::{RigError, SimulatedPump};
use crate::simulation::Chance;
use crate::simulation::faults::{self, Fault};
use crate::trial::decision_class;
use thiserror::Error;

/// Pumps drawn for the same faults before other faults are drawn, and times that other faults are.
const TRIES: usize = 30;

/// Why a job could not be played.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ExamError {
    /// No fault can be drawn.
    #[error("the simulation has too few faults for the pump family `{0}`; take fewer faults a job, or another family")]
    NoFaults(Id),
    /// Nothing shows.
    #[error("job {0}: none of many pumps showed anything to complain of that the knowledge has a finding for")]
    NothingShows(usize),
    /// No cause of the graph stands for what is not in it.
    #[error("this knowledge has no cause that stands for the unknown (`stands_for_unknown: true`)")]
    NoUnknown,
    /// The simulated pump could not be made.
    #[error(transparent)]
    Rig(#[from] RigError),
    /// The job could not be opened.
    #[error(transparent)]
    Sitting(#[from] SittingError),
}

/// A job to be played.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn {
    /// Its number.
    pub number: usize,
    /// Seed of everything that shows and is said.
    pub seed: u64,
    /// Faults, each with its severity from 0 to 1.
    pub faults: Vec<(Id, f64)>,
    /// What the operator complains of.
    pub complaint: Vec<Id>,
    /// Pumps drawn before this one that showed nothing to complain of.
    pub redrawn: usize,
}

impl Ground {
    /// The job of a number. Where nothing that the operator tells shows at the pump, severity and seed are drawn again.
    ///
    /// # Errors
    /// [`ExamError`] where no such job can be drawn.
    pub fn draw(&self, number: usize) -> Result<Drawn, ExamError> {
        let mut chance = Chance::of(self.settings.seed, &["job", &number.to_string()]);
        let mut redrawn = 0;
        for _ in 0..TRIES {
            let present = self.faults(&mut chance)?;
            for _ in 0..TRIES {
                let faults: Vec<(Id, f64)> =
                    present.iter().map(|fault| (fault.id.to_owned(), kept(chance.even()))).collect();
                let seed = chance.bits();
                let complaint = self.complaint(&faults, seed)?;
                if !complaint.is_empty() {
                    return Ok(Drawn { number, seed, faults, complaint, redrawn });
                }
                redrawn += 1;
            }
        }
        Err(ExamError::NothingShows(number))
    }

    /// What the operator tells; nothing if none of it shows.
    fn complaint(&self, faults: &[(Id, f64)], seed: u64) -> Result<Vec<Id>, RigError> {
        let mut pump = SimulatedPump::on(&self.knowledge, &self.sound, faults, (seed, 1.0))?;
        let mut told = pump.complaints()?;
        told.retain(|finding| self.graph.findings.contains_key(*finding));
        let mut shows = false;
        for finding in &told {
            shows |= pump.shows(finding)?;
        }
        Ok(if shows { told.into_iter().map(str::to_owned).collect() } else { Vec::new() })
    }

    /// Faults of one job, no two of which have the same remedy or rule each other out.
    fn faults(&self, chance: &mut Chance) -> Result<Vec<&'static Fault>, ExamError> {
        let mut left: Vec<(&'static Fault, f64)> = self.weighed().collect();
        let mut picked = Vec::new();
        while picked.len() < self.settings.faults {
            let total: f64 = left.iter().map(|(_, weight)| weight).sum();
            let mut at = chance.even() * total;
            let place = left.iter().position(|(_, weight)| {
                at -= weight;
                at < 0.0
            });
            let fault = place.and_then(|place| left.get(place)).map(|(fault, _)| *fault);
            let fault = fault.ok_or_else(|| ExamError::NoFaults(self.settings.family.clone()))?;
            left.retain(|(other, _)| self.go_together(fault, other));
            picked.push(fault);
        }
        Ok(picked)
    }

    /// Faults that may be drawn, each with how often it comes.
    /// Nobody is called for air that a joint would draw on a pump whose inlet is under pressure.
    fn weighed(&self) -> impl Iterator<Item = (&'static Fault, f64)> {
        let (settings, causes) = (&self.settings, &self.knowledge.all.causes);
        let under_pressure = self.is_under_pressure();
        let can_be = move |fault: &Fault| !(fault.by_vacuum && under_pressure);
        let known = move |fault: &Fault| can_be(fault) && (settings.outside || self.graph.node(fault.id).is_some());
        let all = faults::all().filter(move |fault| fault.outside == settings.outside && known(fault));
        all.map(|fault| {
            let share = causes.get(fault.id).and_then(|cause| cause.shares.get(&settings.family));
            (fault, if settings.evenly { 1.0 } else { share.copied().unwrap_or(1.0) })
        })
    }

    /// True if the sound pump's inlet is not under vacuum at work.
    fn is_under_pressure(&self) -> bool {
        let sound = self.sound.settled(State::default());
        sound.is_ok_and(|sound| 0.0 <= sound.of(Output::InletPressure))
    }

    fn go_together(&self, a: &Fault, b: &Fault) -> bool {
        let class = |fault: &Fault| decision_class(&self.knowledge, fault.id).to_owned();
        let node = |fault: &Fault| self.graph.node(fault.id);
        let excluded = |group: &Vec<usize>| [a, b].iter().all(|fault| node(fault).is_some_and(|n| group.contains(&n)));
        class(a) != class(b) && !self.graph.excludes.iter().any(excluded)
    }
}
