//! Turns numbers read at a pump into their likelihood for every set of suspects, by the steady model.
//!
//! A reading is moved by most faults, their effects do not add up, and two readings share severities and errors of the
//! sheet. So all numbers are weighed together, set by set: 16 draws of the severities, the covariance that the sheet's
//! errors give, the gauges' errors, and what the model itself may be off by. That density is averaged half and half with
//! the product of the single ones, each with 2 % from anywhere: one wild gauge or a wrong sheet must not outvote all else.
//!
//! The way of the data: a [`Built`](super::sheet::Built) pump and [`Suspect`]s → [`Expected`] (rows of readings, made when
//! first needed) → with [`Number`]s → [`Weighed`] likelihoods, or [`Band`]s for a dial.

mod band;
mod dense;
mod expected;
mod number;
mod severity;
#[cfg(test)]
mod tests;
mod weigh;

pub use band::Band;
pub use expected::{Expected, Suspect, sets_of};
pub use number::{Misread, Number};
pub use severity::{GOLDEN, mixed};
pub use weigh::Weighed;
