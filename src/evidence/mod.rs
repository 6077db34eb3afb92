//! Turns the graph of a family and what was said and measured in a job into the numbers that belief works on.
//!
//! [`Facts`] → [`weigh`] → likelihoods in the order of their ids (so that the order of the answers cannot matter), and
//! what was set aside with the reason. This is the only place where an answer's words meet their probabilities.

mod answer;
mod facts;
mod facts_file;
mod network;
mod number;
mod pump;
mod weigh;

pub use answer::{Answer, answered};
pub use facts::{Facts, Measured, number_key, of_key, quantity_of};
pub use facts_file::{FactsFile, ReadFacts, read_facts};
pub use network::network;
pub use number::{Bin, bins, density};
pub use pump::{
    Expectation, Expected, ModelError, PumpData, PumpModel, Shown, physics_problems, read_pump_sheet, shown,
};
pub use weigh::{Evidence, SetAside, Why, bands, leaf, question_of, weigh};

// Words of the physics that jobs use.
pub use crate::physics::likelihood::{Band, Number};
pub use crate::physics::sheet::{Rebuild, rebuild};
pub use crate::physics::steady::{Output, State};

#[cfg(test)]
mod tests;
