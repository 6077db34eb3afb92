//! Turns a named fault of a severity into a spoilt pump.
//!
//! Every fault has an id, a name and an onset, changes parts of [`Works`] and says what it leaves alone. Sizes from slight
//! (severity 0) to grave (1) are assumed where no law stands beside them. Faults combine: each is put in after the last.

mod drive;
mod inlet;
mod liquid;
mod oil;
mod outlet;
mod outside;
mod supply;
mod valves;

use super::works::Works;
use crate::physics::steady::{Part, Pump, Spread};

/// How a fault comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Onset {
    /// From one moment to the next.
    AtOnce,
    /// Over hours to weeks.
    Slow,
    /// With work that was done on the pump.
    WithWork,
}

/// A fault that can be put in.
#[derive(Debug, Clone, Copy)]
pub struct Fault {
    /// Its id.
    pub id: &'static str,
    /// What a person calls it.
    pub name: &'static str,
    /// How it comes.
    pub onset: Onset,
    /// No list of known causes has it.
    pub outside: bool,
    /// It draws air in: where the inlet is under pressure nothing comes of it but a drip.
    pub by_vacuum: bool,
    /// What of it the pump's numbers do not show; empty where they show all.
    pub untouched: &'static str,
    act: fn(&mut Works, Bad),
}

/// How bad a fault is, and where.
#[derive(Debug, Clone, Copy)]
pub struct Bad {
    /// From 0, slight, to 1, grave.
    pub severity: f64,
    /// The chamber that has it, where one has it.
    pub chamber: usize,
}

/// A fault that is there.
#[derive(Debug, Clone, Copy)]
pub struct Present {
    /// Which.
    pub fault: &'static Fault,
    /// From 0, slight, to 1, grave.
    pub severity: f64,
    /// The chamber that has it; counted round where the pump has fewer.
    pub chamber: usize,
    /// Hours since it began; a slow one is fully there after [`SLOW`].
    pub hours: f64,
}

/// Hours in which a slow fault comes to its severity.
pub const SLOW: f64 = 100.0;

impl Bad {
    /// Evenly between two numbers.
    fn even(self, slight: f64, grave: f64) -> f64 {
        Spread::Even.between(slight, grave, self.severity)
    }

    /// Evenly between their logarithms.
    fn log(self, slight: f64, grave: f64) -> f64 {
        Spread::Log.between(slight, grave, self.severity)
    }
}

const fn fault(id: &'static str, name: &'static str, onset: Onset, act: fn(&mut Works, Bad)) -> Fault {
    Fault { id, name, onset, outside: false, by_vacuum: false, untouched: "", act }
}

impl Fault {
    const fn leaves(mut self, untouched: &'static str) -> Self {
        self.untouched = untouched;
        self
    }

    const fn by_vacuum(mut self) -> Self {
        self.by_vacuum = true;
        self
    }

    const fn outside(mut self) -> Self {
        self.outside = true;
        self
    }

    /// The fault fully there, in the first chamber.
    pub fn at(&'static self, severity: f64) -> Present {
        Present { fault: self, severity: possible(severity), chamber: 0, hours: SLOW }
    }
}

impl Present {
    /// The same in another chamber.
    #[must_use]
    pub fn in_chamber(mut self, chamber: usize) -> Self {
        self.chamber = chamber;
        self
    }

    /// The same so many hours after it began.
    #[must_use]
    pub fn after(mut self, hours: f64) -> Self {
        self.hours = hours;
        self
    }

    /// How bad it is by now; `None` before it began.
    pub fn now(&self) -> Option<f64> {
        if self.hours < 0.0 {
            return None;
        }
        let grown = if self.fault.onset == Onset::Slow { (self.hours / SLOW).min(1.0) } else { 1.0 };
        Some(possible(self.severity * grown))
    }
}

/// A severity from 0 to 1; what is no number counts as none.
#[allow(clippy::manual_clamp)] // `clamp` would keep what is no number
fn possible(severity: f64) -> f64 {
    severity.max(0.0).min(1.0)
}

/// Every fault, by place from the supply to the instruments; the last ones are on no list.
pub fn all() -> impl Iterator<Item = &'static Fault> {
    [supply::FAULTS, inlet::FAULTS, valves::FAULTS, oil::FAULTS, outlet::FAULTS, drive::FAULTS, liquid::FAULTS]
        .into_iter()
        .chain([outside::FAULTS])
        .flatten()
}

/// The fault of an id.
pub fn named(id: &str) -> Option<&'static Fault> {
    all().find(|fault| fault.id == id)
}

/// The pump with faults put in.
pub fn put(pump: &Pump, faults: &[Present]) -> Works {
    let mut works = Works::of(pump, pump);
    let chambers = works.chambers.len();
    for present in faults {
        if let Some(severity) = present.now() {
            (present.fault.act)(&mut works, Bad { severity, chamber: present.chamber % chambers });
        }
    }
    works
}

/// Multiplies a part of the steady model.
fn times(works: &mut Works, part: Part, by: f64) {
    works.pump[part] *= by;
}

/// Adds to a part of the steady model.
fn add(works: &mut Works, part: Part, by: f64) {
    works.pump[part] += by;
}
