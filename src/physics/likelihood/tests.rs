//! Checks likelihoods.
