//! Turns a relief valve's spring and seat into its cracking and full-flow pressures.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const STIFFNESS: Input = Input::new("stiffness", "spring rate", Dimension::Stiffness, "N/mm", (100.0, 1e8));
const PRELOAD: Input =
    Input::new("preload", "how far the spring is pressed when shut", Dimension::Length, "mm", (0.0, 0.2));
const LIFT: Input = Input::new("lift", "lift at full flow", Dimension::Length, "mm", (0.0, 0.05));
const SEAT: Input = Input::new("seat", "area of the seat", Dimension::Area, "cm2", (1e-7, 0.1));

/// The law as data.
pub static LAW: Law<4, 2> = Law {
    name: "relief_spring",
    formula: "p_crack = k·x0/A, p_full = k·(x0 + lift)/A",
    inputs: [STIFFNESS, PRELOAD, LIFT, SEAT],
    outputs: [
        Output::new("crack", Dimension::PressureDifference, "bar"),
        Output::new("full", Dimension::PressureDifference, "bar"),
    ],
    range: "a simple spring-loaded valve",
    source: "Esposito, example 8.1 (textbook companion)",
    compute: |[stiffness, preload, lift, seat]| Ok([stiffness * preload / seat, stiffness * (preload + lift) / seat]),
};

/// Pa from N/m, metres and m².
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn relief_spring(stiffness: f64, preload: f64, lift: f64, seat: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([stiffness, preload, lift, seat])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::relief_spring;
    use crate::physics::laws::{near, si};

    /// Esposito, example 8.1, p. 293 (textbook companion): cracks at 667 psi, full flow at 1000 psi.
    #[test]
    fn worked_example() {
        let [crack, full] = relief_spring(si(2500.0, "lbf/in"), si(0.2, "in"), si(0.1, "in"), si(0.75, "in2")).unwrap();
        near(crack, si(667.0, "psi"), si(1.0, "psi"));
        near(full, si(1000.0, "psi"), si(1.0, "psi"));
    }
}
