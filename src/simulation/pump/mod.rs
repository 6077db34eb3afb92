//! Turns one step of the shaft into pressures, flows and lifts everywhere in the pump: one file per part.

pub mod chamber;
pub mod inlet;
pub mod oil;
pub mod outlet;
pub mod step;
pub mod turn;
pub mod valve;
