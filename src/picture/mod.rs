//! Turns knowledge into pictures for paper and other programs: the cause graph or a neighbourhood as DOT or SVG, and
//! tables of causes per symptom for the wall.
//!
//! [`Sketch`] (nodes and links to draw) → [`dot`], or [`layers`] → [`svg`]; a graph of one family → [`wall`]. Yields
//! text, writes nothing.

mod dot;
mod layers;
mod sketch;
mod svg;
mod wall;

pub use dot::dot;
pub use sketch::{Arrow, Sketch, Spot, SpotKind};
pub use svg::svg;
pub use wall::{Wall, WallRow, WallTable, wall};

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests;
