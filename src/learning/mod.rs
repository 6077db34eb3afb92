//! Turns finished jobs into counts for the numbers of the cause graph, and the counts into proposals to a supervisor.
//!
//! Journal → [`Told`] (what was said, how it came to be said, what was confirmed) → [`Witness`]es (what an asked answer says
//! about each link it can hang on) → [`Lessons`] (one of each job, whatever the order) → [`LinkCounts`], [`ShareCounts`] →
//! [`Proposal`]s with a 95 % interval → [`Decision`]s of a person, with the edits that an accepted one needs. A confirmed job
//! also makes a case to try the knowledge on ([`own_case`]).
//!
//! Three rules keep the counts honest. Only a job closed with a confirmed cause teaches. Only what was asked is counted: a
//! person volunteers what is there, never what is not, so that a volunteered "yes" would raise every number. And only links
//! to findings are learned: whether a condition in between was there is worked out, never seen by itself.
//!
//! Counting with Beta numbers after Spiegelhalter and Lauritzen (1990), with hidden parents weighed as in expectation
//! maximisation (Dempster, Laird and Rubin 1977); both from memory.

mod case;
mod counts;
mod decision;
mod hidden;
mod number;
mod proposal;
mod reader;
mod rows;
mod told;

pub use case::{NoCase, OWN_LOG, OwnCase, case_entry, own_case};
pub use counts::{Fading, Lessons, LinkCounts, ShareCounts};
pub use decision::{Decision, Edit, Verdict};
pub use hidden::{Witness, witnesses};
pub use number::{Learned, cases_of, quantile};
pub use proposal::{Counts, Proposal, Target, proposals};
pub use reader::{Reader, Taught};
pub use rows::{Part, ROWS_VERSION, Row, rows};
pub use told::{Confirmed, Observation, Said, Told, Untaught};
