//! The source files of the program as far as readers and line-by-line work need them: without the full screen and the commands,
//! whose dependencies are most of what a build takes.

#![allow(missing_docs)]

#[path = "../../src/belief/mod.rs"]
pub mod belief;
#[path = "../../src/editing/mod.rs"]
pub mod editing;
#[path = "../../src/evidence/mod.rs"]
pub mod evidence;
#[path = "../../src/job/mod.rs"]
pub mod job;
#[path = "../../src/knowledge/mod.rs"]
pub mod knowledge;
#[path = "../../src/learning/mod.rs"]
pub mod learning;
#[path = "../../src/line/mod.rs"]
pub mod line;
#[path = "../../src/physics/mod.rs"]
pub mod physics;
#[path = "../../src/picture/mod.rs"]
pub mod picture;
#[path = "../../src/planning/mod.rs"]
pub mod planning;
#[path = "../../src/practice/mod.rs"]
pub mod practice;
#[path = "../../src/quantity/mod.rs"]
pub mod quantity;
#[path = "../../src/record/mod.rs"]
pub mod record;
#[path = "../../src/rig/mod.rs"]
pub mod rig;
#[path = "../../src/simulation/mod.rs"]
pub mod simulation;
#[path = "../../src/store/mod.rs"]
pub mod store;
#[path = "../../src/text/mod.rs"]
pub mod text;
#[path = "../../src/trial/mod.rs"]
pub mod trial;
