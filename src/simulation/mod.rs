//! Turns a pump, what is wrong with it and a running state into what it does from moment to moment: the pump that is not
//! there.
//!
//! The way of the data: the steady model's pump → [`Works`] (all parts) → faults put in → [`settle`] or [`trace`] →
//! [`Settled`] readings or a curve → instruments with their errors, and a person who sees, hears and feels.

mod chance;
pub mod faults;
pub mod instruments;
pub mod person;
pub mod pump;
mod run;
mod settled;
mod smooth;
mod works;

#[cfg(test)]
mod tests;

pub use chance::Chance;
pub use run::Run;
pub use settled::{Detail, Point, Settled, settle, trace, warm_up};
pub use works::{Misread, Works};
