//! Turns a pump with faults into what it does in every state that someone asks for, and the same pump sound.

use crate::physics::OutOfRange;
use crate::physics::steady::{Output, Pump, State};
use crate::simulation::faults::{self, Present};
use crate::simulation::{Detail, Settled, Works, settle};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::rc::Rc;

/// A pump before anything was wrong. Many scenes may share one: each of its states is worked out once.
#[derive(Debug, Clone)]
pub struct Sound {
    pump: Pump,
    works: Works,
    settled: RefCell<BTreeMap<State, Settled>>,
}

impl Sound {
    /// A pump as built.
    pub fn of(pump: &Pump) -> Self {
        Self { pump: *pump, works: faults::put(pump, &[]), settled: RefCell::default() }
    }

    /// How many chambers it has.
    pub fn chambers(&self) -> usize {
        self.works.chambers.len()
    }

    /// True if the inlet is not under vacuum at work.
    pub fn is_under_pressure(&self) -> bool {
        self.settled(State::default()).is_ok_and(|sound| 0.0 <= sound.of(Output::InletPressure))
    }

    /// What it settles to in a state.
    ///
    /// # Errors
    /// [`OutOfRange`] for numbers that describe no pump.
    fn settled(&self, state: State) -> Result<Settled, OutOfRange> {
        if let Some(known) = self.settled.borrow().get(&state) {
            return Ok(known.clone());
        }
        let settled = settle(&self.works, state, Detail::Settled)?;
        self.settled.borrow_mut().insert(state, settled.clone());
        Ok(settled)
    }
}

/// A pump with faults before a person.
#[derive(Debug, Clone)]
pub struct Scene {
    faults: Vec<Present>,
    sound: Rc<Sound>,
    works: Works,
    settled: BTreeMap<State, Pair>,
}

/// The same state of two pumps.
#[derive(Debug, Clone)]
pub struct Pair {
    /// Without faults.
    pub sound: Settled,
    /// With them.
    pub now: Settled,
}

impl Scene {
    /// A pump as built, with faults put in.
    pub fn new(pump: &Pump, present: &[Present]) -> Self {
        Self::on(&Rc::new(Sound::of(pump)), present)
    }

    /// The same on a pump that others stand at too.
    pub fn on(sound: &Rc<Sound>, present: &[Present]) -> Self {
        Self {
            faults: present.to_vec(),
            works: faults::put(&sound.pump, present),
            sound: Rc::clone(sound),
            settled: BTreeMap::new(),
        }
    }

    /// What both pumps settle to in a state; worked out once.
    ///
    /// # Errors
    /// [`OutOfRange`] for numbers that describe no pump.
    pub fn settled(&mut self, state: State) -> Result<&Pair, OutOfRange> {
        match self.settled.entry(state) {
            Entry::Occupied(pair) => Ok(pair.into_mut()),
            Entry::Vacant(place) => {
                let sound = self.sound.settled(state)?;
                let now = settle(&self.works, state, Detail::Settled)?;
                Ok(place.insert(Pair { sound, now }))
            }
        }
    }

    /// The faults.
    pub fn faults(&self) -> &[Present] {
        &self.faults
    }

    /// The pump with its faults.
    pub fn works(&self) -> &Works {
        &self.works
    }
}
