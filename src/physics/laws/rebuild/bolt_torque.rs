//! Turns bolt size and preload into the tightening torque.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::PRELOAD;
use crate::quantity::Dimension;

const FACTOR: Input =
    Input::new("factor", "nut factor (K)", Dimension::Number, "", (0.05, 0.5)).advice("0.20 dry, 0.15 lubricated");
const DIAMETER: Input = Input::new("diameter", "nominal diameter of the bolt", Dimension::Length, "mm", (1e-3, 0.2));

/// The law as data.
pub static LAW: Law<3, 1> = Law {
    name: "bolt_torque",
    formula: "T = K·d·F",
    inputs: [FACTOR, DIAMETER, PRELOAD],
    outputs: [Output::new("torque", Dimension::Torque, "N m")],
    range: "K 0.20 dry, 0.15 lubricated, 25 to 30 % scatter (from memory)",
    source: "Wentzell, example 6.1 (textbook companion)",
    compute: |[factor, diameter, preload]| Ok([factor * diameter * preload]),
};

/// N m from a number, metres and N.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn bolt_torque(factor: f64, diameter: f64, preload: f64) -> Result<f64, OutOfRange> {
    LAW.one([factor, diameter, preload])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::bolt_torque;
    use crate::physics::laws::{near, si};

    /// Wentzell, example 6.1, p. 120 (textbook companion): 3/4 in, 0.85 · 0.334 in² · 85 000 psi, K 0.2: 3620 lbf in.
    #[test]
    fn worked_example() {
        let torque = bolt_torque(0.2, si(0.75, "in"), si(0.85 * 0.334 * 85_000.0, "lbf")).unwrap();
        near(torque, si(3619.7, "lbf in"), si(1.0, "lbf in"));
    }
}
