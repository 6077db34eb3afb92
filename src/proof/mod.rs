//! Turns two states of the knowledge into what lies between them: changes in words, problems new and gone, and the cases
//! that come out otherwise.
//!
//! [`compare`](crate::editing::compare) → changes → [`cases_touched`] → [`play`] for each of these cases (by itself, so that
//! the caller may play several at once) → [`Proof`] → [`told`]. Nothing here prints or uses threads.

mod flips;
mod told;
mod touched;

pub use flips::{Flip, Played, Proof, Standing, Turn, play};
pub use told::{flip_in_words, told};
pub use touched::cases_touched;

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests;
