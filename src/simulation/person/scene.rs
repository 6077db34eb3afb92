//! Turns a pump with faults into what it does in every state that someone asks for, and the same pump sound.

use crate::physics::OutOfRange;
use crate::physics::steady::{Pump, State};
use crate::simulation::faults::{self, Present};
use crate::simulation::{Detail, Settled, Works, settle};
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

/// A pump with faults before a person.
#[derive(Debug, Clone)]
pub struct Scene {
    faults: Vec<Present>,
    sound: Works,
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
        Self {
            faults: present.to_vec(),
            sound: faults::put(pump, &[]),
            works: faults::put(pump, present),
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
                let sound = settle(&self.sound, state, Detail::Settled)?;
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
