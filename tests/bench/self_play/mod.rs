//! Turns the graph into jobs played against itself; shared by the program and the sample in the tests.

pub mod apart;
#[path = "../paired/dice.rs"]
pub mod dice;
#[path = "../paired/planned.rs"]
pub mod planned;
pub mod play;
#[path = "../paired/world.rs"]
pub mod world;
