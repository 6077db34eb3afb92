//! Turns a network of causes, conditions and damage plus likelihoods into exact posteriors, and open questions into
//! what each of their answers would do to those posteriors.
//!
//! This folder sees indices and numbers, no wording. The way through it: [`Network`] + [`Likelihood`]s → [`factors`]
//! (prune, split) → [`order`] → [`tree`] (tables) → [`pass`] (up and down) → [`solver`] (sums over cases) →
//! [`Posterior`], [`Outcomes`], [`Explanation`].
//!
//! Method: bucket elimination on the pruned network, every noisy-OR with many parents split by an auxiliary variable
//! of two states so that its table never grows with the number of parents (Díez and Galán 2003; Savický and Vomlel
//! 2007), messages up and down without division (Shafer and Shenoy 1990). All numbers are exact but for rounding.

mod cases;
mod contradiction;
mod explain;
mod factors;
mod fault_sets;
mod glance;
mod lighten;
mod network;
mod order;
mod outcomes;
mod pass;
mod posterior;
mod sensitivity;
mod sift;
mod solver;
mod tree;

pub use contradiction::contradicting;
pub use explain::{Explanation, UNEXPLAINED, explain, in_order, under_set};
pub use fault_sets::{FaultSets, fault_sets};
pub use glance::{GivenSet, Glance, RoughAnswer, given_sets, glance};
pub use lighten::{FOR_BELIEF, FOR_PLANNING, Lightened, lighten, without};
pub use network::{Leaf, Likelihood, Network, NetworkError, Node, Sets};
pub use outcomes::{Outcome, Outcomes, Question, bits, outcomes};
pub use posterior::{Posterior, causes_posterior, posterior};
pub use sensitivity::{Change, STEP, Trial, Turn, decibans_between, half_and_double, heard, moved, turns};
pub use sift::{affordable, sift};
pub use solver::{Thinned, thinned};
pub use tree::BeliefError;

#[cfg(test)]
mod enumeration;
#[cfg(test)]
mod reason_tests;
#[cfg(test)]
mod tests;
