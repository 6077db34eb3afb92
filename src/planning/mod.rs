//! Turns belief and minutes into the next step: the one that shortens the expected job by more than it takes.
//!
//! [`Costs`] (minutes to look at and to put right each cause) + posterior → [`minutes_left`] → [`plan`]: every open
//! check with the minutes it saves, best first. Proposes, never asks; what is unsafe or already implied is filtered
//! before anything is ranked.
//!
//! End game: [`Sketch`] (weighted fault sets, few questions, no graph) and [`State`] → [`joint_list`] → [`advise`]: the
//! best actions compared by thinking ahead within a work budget.

mod ahead;
mod chosen;
mod complete;
mod costs;
mod end_game;
mod joint_list;
mod list;
mod screening;
mod sketch;
mod steps;
mod walk;

pub use ahead::{Advice, Pass, Ranked, Work, advise, base_rule};
pub use chosen::{minutes_to_repair, step_of};
pub use complete::Complete;
pub use costs::{CauseCost, Costs, Openings, WHILE_THERE, openings};
pub use joint_list::{JointEntry, JointList, joint_list};
pub use list::{ListEntry, OVERSTATED, in_order, minutes_left};
pub use sketch::{
    Causes, FaultSet, LookError, NO, Sketch, SketchError, SketchParts, SketchQuestion, YES, bit, members,
};
pub use steps::{Allowed, Asked, Plan, Planner, Proposal, Proposed, Rule, Step, plan};
pub use walk::{Action, Branch, Place, Record, State};

#[cfg(test)]
mod sketch_tests;
#[cfg(test)]
mod tests;
