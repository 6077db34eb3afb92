//! Turns published formulas into checked numbers: one law per file, all of them in one table.
//!
//! The way of the data: values in SI → a law's function ([`laws`]) → a value in SI, or an [`OutOfRange`] that names the
//! input, its value, the allowed range and what to do. The same laws stand as data in [`catalogue`], where quantities
//! with units go in by name. Every number comes with the source of its formula.
//!
//! Pure: no pump sheet, no wording of the knowledge, no files.

pub mod catalogue;
pub mod kinematics;
mod law;
pub mod laws;
pub mod likelihood;
pub mod sheet;
pub mod steady;

#[cfg(test)]
mod tests;

pub use law::{Card, Input, Law, Listed, OutOfRange, Output};
