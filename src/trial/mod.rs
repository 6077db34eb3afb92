//! Turns cases whose true cause is known into marks of the knowledge: where the true cause stands, and what is advised.
//!
//! [`Case`](crate::knowledge::schema::Case) → job, told everything at once or asked step by step ([`play`]) →
//! [`Ranking`] by what would be done about each cause → [`CaseMarks`] → [`Report`]. Nothing here prints or uses threads:
//! each case stands by itself, so that the caller may try several at once.

mod marks;
mod play;
mod ranking;
mod report;

pub use marks::{CaseMarks, Mark, Outcome, mark, outcome};
pub use play::{MOST_ANSWERS, TrialError, asked, given};
pub use ranking::{DecisionClass, Ranking, decision_class};
pub use report::{Asked, Failing, Report, Shares, report};

#[cfg(test)]
mod tests;
