//! Turns the graph of a pump family into a file that general-purpose Bayesian-network libraries open.
//!
//! Graph + knowledge → [`Tables`] (every node with its states and conditional probabilities) → [`bif`] text. The
//! tables say what [`crate::belief`] computes: noisy-OR nodes, findings as they are answered, readings as their bands,
//! and what every belief is conditioned on.

mod bif;
mod branches;
mod tables;
mod writer;

pub use bif::bif;
pub use tables::Tables;
pub use writer::Variable;

#[cfg(test)]
mod tests;
