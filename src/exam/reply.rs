//! Turns a simulated pump into what somebody answers who errs and cannot tell everything.

use crate::evidence::Answer;
use crate::knowledge::Knowledge;
use crate::knowledge::schema::Id;
use crate::rig::{Rig as _, RigError, SimulatedPump};
use crate::simulation::Chance;
use crate::simulation::person::Sound;
use std::rc::Rc;

/// Who stands at the pump of one job. The same finding gets the same answer whoever asks, and whenever.
pub struct Replier<'a> {
    knowledge: &'a Rc<Knowledge>,
    sound: &'a Rc<Sound>,
    pump: SimulatedPump,
    seed: u64,
    wrong: f64,
    cannot_tell: f64,
}

impl<'a> Replier<'a> {
    /// At a pump with these faults; shares of wrong answers and of what nobody can tell.
    pub fn new(
        (knowledge, sound): (&'a Rc<Knowledge>, &'a Rc<Sound>),
        faults: &[(Id, f64)],
        (seed, wrong, cannot_tell): (u64, f64, f64),
    ) -> Result<Self, RigError> {
        let pump = SimulatedPump::on(knowledge, sound, faults, (seed, 1.0))?;
        Ok(Self { knowledge, sound, pump, seed, wrong, cannot_tell })
    }

    /// The same person once only these faults are left.
    pub fn only(&mut self, faults: &[(Id, f64)]) -> Result<(), RigError> {
        self.pump = SimulatedPump::on(self.knowledge, self.sound, faults, (self.seed, 1.0))?;
        Ok(())
    }

    /// What the person says of a finding.
    pub fn finding(&mut self, id: &str) -> Result<Answer, RigError> {
        if self.cannot(id) {
            return Ok(Answer::CantTell);
        }
        let is_wrong = Chance::of(self.seed, &[id, "wrong"]).happens(self.wrong);
        Ok(if self.pump.shows(id)? == is_wrong { Answer::No } else { Answer::Yes })
    }

    /// What the instrument of a reading shows, SI; `None` where nobody can read it.
    pub fn reading(&mut self, id: &str) -> Option<f64> {
        if self.cannot(id) { None } else { self.pump.read(id) }
    }

    fn cannot(&self, id: &str) -> bool {
        Chance::of(self.seed, &[id, "cannot tell"]).happens(self.cannot_tell)
    }
}
