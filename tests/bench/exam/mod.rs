//! Turns seeded numbers into small jobs whose optimum is known, and step rules into their exact cost beside it.
#![allow(dead_code)] // one program and one test share this, each uses its part
#![allow(missing_docs, clippy::cast_possible_truncation, clippy::cast_sign_loss)]

pub mod instances;
pub mod optimum;
pub mod policies;
pub mod score;
