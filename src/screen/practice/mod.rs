//! Turns practice into full-screen pages: choose a lesson, ask the pump, name what it is, hear what there is to learn.
//!
//! A second program beside the job's, on the same terminal, sheets, key tables and theme. Every move goes through
//! [`Room`](crate::practice::Room), which saves it before it makes it; nothing here knows how the pump answers.

mod app;
mod checks;
mod choose;
mod debriefed;
mod gate;
mod gauges;
mod helps;
mod job;
mod missed;
mod naming;
mod page;
mod progress;
mod search;
mod small;

pub use app::{PracticeApp, PracticeOptions};
