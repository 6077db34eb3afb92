//! Turns preload and grip into the stretch of a bolt and the turn of the nut.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{AREA, PITCH, PRELOAD};
use crate::quantity::Dimension;

const GRIP: Input = Input::new("grip", "clamped length", Dimension::Length, "mm", (1e-3, 2.0));
const MODULUS: Input =
    Input::new("modulus", "Young's modulus of the bolt", Dimension::PressureDifference, "GPa", (1e9, 1e12))
        .advice("steel has 207 GPa (30 million psi)");

/// The law as data.
pub static LAW: Law<5, 2> = Law {
    name: "bolt_stretch",
    formula: "δ = F·L/(A·E), θ = δ/p turns",
    inputs: [PRELOAD, GRIP, AREA, MODULUS, PITCH],
    outputs: [Output::new("stretch", Dimension::Length, "mm"), Output::new("turn", Dimension::Angle, "°")],
    range: "after the joint is snug; parts stiff against the bolt",
    source: "Wentzell, example 6.2 (textbook companion)",
    compute: |[preload, grip, area, modulus, pitch]| {
        let stretch = preload * grip / (area * modulus);
        Ok([stretch, std::f64::consts::TAU * stretch / pitch])
    },
};

/// Metres and radians from N, metres, m² and Pa.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn bolt_stretch(preload: f64, grip: f64, area: f64, modulus: f64, pitch: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([preload, grip, area, modulus, pitch])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::bolt_stretch;
    use crate::physics::laws::{near, si};

    /// Wentzell, example 6.2, p. 121 (textbook companion): 5 in grip, pitch 0.1 in, E 30e6 psi: 0.01204 in and 43.35°.
    #[test]
    fn worked_example() {
        let preload = si(0.85 * 0.334 * 85_000.0, "lbf");
        let [stretch, turn] =
            bolt_stretch(preload, si(5.0, "in"), si(0.334, "in2"), si(30e6, "psi"), si(0.1, "in")).unwrap();
        near(stretch, si(0.012_04, "in"), si(0.000_01, "in"));
        near(turn, si(43.35, "°"), si(0.05, "°"));
    }
}
