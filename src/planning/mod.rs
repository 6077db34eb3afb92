//! Turns belief and minutes into the next step: the one that shortens the expected job by more than it takes.
//!
//! [`Costs`] (minutes to look at and to put right each cause) + posterior → [`minutes_left`] → [`plan`]: every open
//! check with the minutes it saves, best first. Proposes, never asks; what is unsafe or already implied is filtered
//! before anything is ranked.

mod costs;
mod list;
mod screening;
mod steps;

pub use costs::{CauseCost, Costs, Openings, openings};
pub use list::{ListEntry, OVERSTATED, in_order, minutes_left};
pub use steps::{Allowed, Asked, Plan, Planner, Step, plan};

#[cfg(test)]
mod tests;
