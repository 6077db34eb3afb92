//! Turns the text of knowledge files into a cause graph and a list of everything that is wrong with it.
//!
//! Texts → [`load`] (typed by [`schema`], placed by [`outline`], checked by [`rules`]) → [`Knowledge`] → [`Graph`] of
//! one family. Takes text, never a path; collects problems, does not fail.

mod apart;
mod band;
mod blind_spots;
mod entries;
mod graph;
mod load;
pub mod outline;
mod problem;
mod references;
pub mod rules;
pub mod schema;
mod search;
pub mod sheet;
mod small_file;
mod translate;

pub use apart::{APART, Sign, chances, signs};
pub use band::{Healthy, Scale, ScaleProblem, difference_of, dimension_named, plausible};
pub use blind_spots::{IdleCheck, Link, Rests, Telling, Together, idle_checks, links, rests, together};
pub use entries::{Kind, Knowledge, LinkAt};
pub use graph::{Graph, GraphNode, Leaf, NodeKind, PulledReading, applies};
pub use load::{Loaded, SourceText, load, ron_options};
pub use problem::{Problem, Severity, did_you_mean};
pub use references::Reference;
pub use search::{Hit, search, search_all};
pub use small_file::SmallFile;
pub use translate::problem as ron_problem;

#[cfg(test)]
mod tests;
