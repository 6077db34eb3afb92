//! Turns the pump that is not there into what a job asks for: findings and readings by their ids in the knowledge.
//!
//! The knowledge gives ids alone, and which number a reading shows; what a person finds and what an instrument reads comes
//! from [`simulation`](crate::simulation), which never reads the knowledge.

mod asked;
mod lessons;
mod make;
mod simulated;

pub use asked::Rig;
pub use lessons::lesson_problems;
pub use make::{made, sound};
pub use simulated::{RigError, SimulatedPump};

#[cfg(test)]
mod tests;
