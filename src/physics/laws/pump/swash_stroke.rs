//! Turns the circle and the tilt of a swash or wobble plate into the stroke.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const CIRCLE: Input =
    Input::new("circle", "diameter of the circle of the pistons", Dimension::Length, "mm", (1e-3, 2.0));
const TILT: Input = Input::new("tilt", "angle of the plate", Dimension::Angle, "°", (0.0, 0.79))
    .meaningful(0.0, 1.5)
    .advice("plates are tilted up to 45°, mostly 5 to 20°");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "swash_stroke",
    formula: "s = D_circle·tan θ",
    inputs: [CIRCLE, TILT],
    outputs: [Output::new("stroke", Dimension::Length, "mm")],
    range: "axial pistons on a flat plate",
    source: "Esposito, example 5.7 (textbook companion)",
    compute: |[circle, tilt]| Ok([circle * libm::tan(tilt)]),
};

/// Metres from metres and radians.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn swash_stroke(circle: f64, tilt: f64) -> Result<f64, OutOfRange> {
    LAW.one([circle, tilt])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::swash_stroke;
    use crate::physics::laws::{near, si};

    /// Esposito, example 5.7, p. 183 (textbook companion): 9 pistons of 15 mm on 125 mm at 10°, 1000 rpm, 94 %: 0.549 L/s.
    #[test]
    fn worked_example() {
        let stroke = swash_stroke(0.125, si(10.0, "°")).unwrap();
        let ideal = crate::physics::laws::pump::displacement(9.0, 0.015, stroke, 1000.0 / 60.0).unwrap();
        near(0.94 * ideal, 0.549e-3, 0.002e-3);
    }
}
