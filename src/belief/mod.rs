//! Turns a network of causes, conditions and damage plus likelihoods into exact posteriors, and open questions into
//! what each of their answers would do to those posteriors.
//!
//! This folder sees indices and numbers, no wording. The way through it: [`Network`] + [`Likelihood`]s → [`tree`]
//! (prune, order, tables) → [`pass`] (up and down) → [`Posterior`], [`Outcomes`], [`Explanation`].
//!
//! Method: bucket elimination on the pruned network, every noisy-OR with many parents split by an auxiliary variable
//! of two states so that its table never grows with the number of parents (Díez and Galán 2003; Savický and Vomlel
//! 2007), messages up and down without division (Shafer and Shenoy 1990). All numbers are exact but for rounding.

mod explain;
mod glance;
mod lighten;
mod network;
mod order;
mod outcomes;
mod pass;
mod posterior;
mod tree;

pub use explain::{Explanation, explain};
pub use glance::{Glance, RoughAnswer, glance};
pub use lighten::{FOR_BELIEF, FOR_PLANNING, lighten, without};
pub use network::{Leaf, Likelihood, Network, NetworkError, Node};
pub use outcomes::{Outcome, Outcomes, Question, outcomes};
pub use posterior::{Posterior, posterior};
pub use tree::BeliefError;

#[cfg(test)]
mod enumeration;
#[cfg(test)]
mod tests;
