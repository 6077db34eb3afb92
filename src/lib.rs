//! From a complaint at the pump to a named cause: the way of the data, folder by folder.
//!
//! Knowledge files → [`knowledge`] (text to graph and problems) → [`evidence`] (graph and answers to likelihoods; numbers
//! with units by [`quantity`]) → [`belief`] (likelihoods to exact posteriors) → [`planning`] (posteriors and minutes to
//! the next step) → [`job`] (events to job, job to views) → [`screen`] or [`line`] → answer → event → journal in
//! [`store`] → [`record`]. [`trial`] plays cases whose cause is known; [`learning`] counts what confirmed jobs say;
//! [`exchange`] writes the graph for other programs, [`picture`] for paper; [`editing`] changes knowledge files and
//! [`proof`] says what that does to the cases; [`simulation`] is a pump that is not there, which [`rig`] puts in front of a
//! job, [`practice`] in front of somebody who learns, and [`exam`] in front of the planner to be marked; [`command`] joins
//! them; [`text`] cleans and cuts what comes from outside.
//!
//! The core (`quantity`, `physics`, `simulation`, `knowledge`, `belief`, `evidence`, `planning`, `job`, `trial`, `rig`,
//! `exam`, `practice`, `learning`, `record`, `exchange`, `editing`, `proof`, `picture`) is pure: no files, no clock, no randomness, no
//! printing. Only `store` touches the disk and the clock.

pub mod text;

pub mod quantity;

pub mod physics;

pub mod simulation;

pub mod knowledge;

pub mod belief;

pub mod evidence;

pub mod planning;

pub mod job;

pub mod trial;

pub mod rig;

pub mod exam;

pub mod learning;
pub mod practice;

pub mod record;

pub mod exchange;

pub mod editing;

pub mod proof;

pub mod picture;

pub mod store;

pub mod screen;

pub mod line;

pub mod command;
