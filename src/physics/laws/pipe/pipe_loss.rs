//! Turns friction, fittings and velocity into the head and pressure lost in a pipe.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::GRAVITY;
use crate::physics::laws::inputs::{BORE, DENSITY, FRICTION, LOSSES, PIPE_LENGTH, VELOCITY};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<6, 2> = Law {
    name: "pipe_loss",
    formula: "h_f = (f·L/D + ΣK)·v²/(2g), Δp = ρ·g·h_f",
    inputs: [FRICTION, PIPE_LENGTH, BORE, LOSSES, VELOCITY, DENSITY],
    outputs: [Output::new("head", Dimension::Length, "m"), Output::new("drop", Dimension::PressureDifference, "kPa")],
    range: "steady flow in a full pipe",
    source: "Darcy-Weisbach",
    compute: |[friction, length, bore, losses, velocity, density]| {
        let head = (friction * length / bore + losses) * velocity * velocity / (2.0 * GRAVITY);
        Ok([head, density * GRAVITY * head])
    },
};

/// Metres and Pa from numbers, metres, m/s and kg/m³.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn pipe_loss(
    friction: f64,
    length: f64,
    bore: f64,
    losses: f64,
    velocity: f64,
    density: f64,
) -> Result<[f64; 2], OutOfRange> {
    LAW.at([friction, length, bore, losses, velocity, density])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::pipe_loss;
    use crate::physics::laws::{near, si};

    /// Cengel and Cimbala, example 8-3, p. 360 (textbook companion): 96.5 kPa, 9.85 m with f 0.0172.
    #[test]
    fn worked_example() {
        let velocity = 0.006 / (std::f64::consts::FRAC_PI_4 * 0.05 * 0.05);
        let [head, drop] = pipe_loss(0.0172, 60.0, 0.05, 0.0, velocity, 999.0).unwrap();
        near(head, 9.85, 0.01 * 9.85);
        near(drop, 96.5e3, 0.01 * 96.5e3);
    }

    /// Sullivan, example 5.1, p. 82 (textbook companion): 200 gpm, 2 in, f 0.05, 800 ft, specific gravity 0.91: 612 psi.
    #[test]
    fn an_oil_line() {
        let velocity = si(200.0, "US gpm") / (std::f64::consts::FRAC_PI_4 * si(2.0, "in") * si(2.0, "in"));
        let [_, drop] = pipe_loss(0.05, si(800.0, "ft"), si(2.0, "in"), 0.0, velocity, 910.0).unwrap();
        near(drop, si(612.0, "psi"), 0.01 * si(612.0, "psi"));
    }
}
