//! Turns a pump, what is wrong with it and the running state into what every gauge should show: the steady model.
//!
//! The way of the data: [`Part`] (a table of everything that describes a pump) → [`Pump`] → [`Effect`] at a severity →
//! [`State`] → [`Steady::solve`] → [`Readings`], by [`Output`]. Formulas are those of [`super::laws`]; what no law covers
//! is marked assumed where it stands.

pub mod drive;
mod effect;
mod outlet;
mod output;
mod part;
mod pump;
mod solve;
mod state;
pub mod suction;
mod wave;

#[cfg(test)]
mod tests;

pub use effect::{Change, Effect, Move, Spread};
pub use outlet::Ways;
pub use output::{OUTPUTS, Output, OutputCard, Readings};
pub use part::{CARDS, PARTS, Part, PartCard, Width};
pub use pump::{Design, Liquid, Pump};
pub use solve::Steady;
pub(crate) use solve::no_readings;
pub use state::{Inlet, Oil, Orifice, Outlet, State};
