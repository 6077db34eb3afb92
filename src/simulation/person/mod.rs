//! Turns a pump with faults into what a person at it sees, hears, feels, is told or finds.
//!
//! Three sources, joined as chances that do not know of each other: the pump's numbers ([`numbers`]), a table of what
//! each fault shows beside them ([`table`]), and a small share of what turns up anyway. Whether a finding shows hangs on
//! the seed and its id alone: who asks twice gets the same pump. On top comes the person's own error.

mod numbers;
mod scene;
mod story;
pub mod table;
mod taken;

use super::chance::Chance;
use super::faults::{Fault, Onset, Present};
use crate::physics::OutOfRange;

pub use numbers::ids as from_numbers;
pub use scene::{Pair, Scene, Sound};
pub use story::complaints;
pub use taken::{ids as taken_by_hand, taken};

/// What a person says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Answer {
    /// It is so.
    Yes,
    /// It is not.
    No,
    /// Not seen, not remembered, out of reach.
    CannotTell,
}

/// A kind of finding: how often it turns up anyway, and how people err. All common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Kind {
    /// Share of jobs in which it shows without a fault that has it.
    pub anyway: f64,
    /// Yes although it is not so.
    pub false_yes: f64,
    /// No although it is so.
    pub missed: f64,
    /// Cannot tell.
    pub unknown: f64,
}

/// A direct look at one thing, ending in a verdict.
const VERDICT: Kind = Kind { anyway: 0.0, false_yes: 0.03, missed: 0.06, unknown: 0.02 };
/// A look at a part or a place.
const LOOK: Kind = Kind { anyway: 0.03, false_yes: 0.03, missed: 0.08, unknown: 0.04 };
/// What someone remembers.
const HISTORY: Kind = Kind { anyway: 0.08, false_yes: 0.05, missed: 0.12, unknown: 0.2 };
/// How the last work was done: habits are common, fault or not.
const LAST_WORK: Kind = Kind { anyway: 0.15, false_yes: 0.04, missed: 0.2, unknown: 0.35 };
/// What is heard, felt, read or tried.
const NOTICED: Kind = Kind { anyway: 0.02, false_yes: 0.04, missed: 0.08, unknown: 0.05 };

/// Beginnings of ids that ask what someone remembers.
const REMEMBERED: &[&str] =
    &["came_", "changed_", "touched_", "since_", "worse_", "better_", "never_", "comes_and", "after_"];

/// How often a fault's way of coming is remembered as such.
const ONSETS: [(Onset, &str, f64); 3] =
    [(Onset::AtOnce, "came_suddenly", 0.6), (Onset::Slow, "came_slowly", 0.6), (Onset::WithWork, "after_work", 0.6)];

/// The kind of a finding, from its id.
pub fn kind(finding: &str) -> Kind {
    if finding.starts_with("found_") {
        VERDICT
    } else if finding.starts_with("rebuild_") {
        LAST_WORK
    } else if finding.starts_with("look_") || finding.ends_with("_seen") {
        LOOK
    } else if REMEMBERED.iter().any(|start| finding.starts_with(start)) {
        HISTORY
    } else {
        NOTICED
    }
}

/// Share of jobs with these faults in which a finding shows.
///
/// # Errors
/// [`OutOfRange`] for numbers that describe no pump.
pub fn share(finding: &str, scene: &mut Scene) -> Result<f64, OutOfRange> {
    let numbers = numbers::share(finding, scene)?;
    // What follows from numbers does not turn up anyway: the person's error is all there is.
    let mut absent = 1.0 - numbers.unwrap_or(kind(finding).anyway);
    for present in scene.faults() {
        absent *= 1.0 - of_fault(finding, present);
    }
    Ok((1.0 - absent).clamp(0.0, 1.0))
}

/// Share of jobs with one fault in which a finding shows, beside what the numbers tell.
fn of_fault(finding: &str, present: &Present) -> f64 {
    let Some(severity) = present.now() else { return 0.0 };
    noticed(present.fault, finding, severity)
}

/// The same for a fault of a severity from 0 to 1; what turns up anyway is not in it.
pub fn noticed(fault: &Fault, finding: &str, severity: f64) -> f64 {
    if let Some(share) = table::share(fault.id, finding, severity) {
        return share;
    }
    let onset = ONSETS.iter().find(|onset| onset.0 == fault.onset && onset.1 == finding);
    onset.map_or(0.0, |onset| onset.2)
}

/// A person at the pump.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Person {
    /// The same seed, the same answers.
    pub seed: u64,
    /// Times the usual errors: 0 never errs, 1 is usual.
    pub errs: f64,
}

impl Person {
    /// What the person says of a finding.
    ///
    /// # Errors
    /// [`OutOfRange`] for numbers that describe no pump.
    pub fn answer(&self, finding: &str, scene: &mut Scene) -> Result<Answer, OutOfRange> {
        let shows = self.shows(finding, scene)?;
        let kind = kind(finding);
        let mut chance = Chance::of(self.seed, &[finding, "says"]);
        if chance.happens(self.errs * kind.unknown) {
            return Ok(Answer::CannotTell);
        }
        let wrong = chance.happens(self.errs * if shows { kind.missed } else { kind.false_yes });
        Ok(if shows == wrong { Answer::No } else { Answer::Yes })
    }

    /// Whether a finding shows at this pump, whatever the person makes of it.
    ///
    /// # Errors
    /// As [`Person::answer`].
    pub fn shows(&self, finding: &str, scene: &mut Scene) -> Result<bool, OutOfRange> {
        Ok(Chance::of(self.seed, &[finding, "shows"]).happens(share(finding, scene)?))
    }
}
