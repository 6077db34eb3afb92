//! What learning is tried on: confirmed jobs drawn from a graph whose numbers differ from those of the knowledge.

#![allow(dead_code)]

#[path = "../paired/dice.rs"]
pub mod dice;
pub mod draw;
#[path = "../paired/world.rs"]
pub mod world;
