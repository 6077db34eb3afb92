//! Turns a pump sheet and what the knowledge says of conditions and readings into the pump model of the physics, and
//! measured numbers into one joint factor. The only place where a condition meets its physical effect.

mod bind;
mod check;
mod data;
mod expect;
mod model;

pub use bind::{Shown, physics_problems, shown};
pub use check::read_pump_sheet;
pub use data::PumpData;
pub use expect::{Expectation, Expected};
pub use model::{ModelError, PumpModel};
