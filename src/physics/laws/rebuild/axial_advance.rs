//! Turns turns of an adjuster and its pitch into the axial advance.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::PITCH;
use crate::quantity::Dimension;

const TURN: Input =
    Input::new("turn", "how far it is turned, back negative", Dimension::Angle, "turn", (-200.0, 200.0));

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "axial_advance",
    formula: "e = pitch·turns",
    inputs: [PITCH, TURN],
    outputs: [Output::new("advance", Dimension::Length, "mm")],
    range: "shows how far the thread moves, not the end play: seating can take up half of it; demand a dial reading",
    source: "definition",
    compute: |[pitch, turn]| Ok([pitch * turn / std::f64::consts::TAU]),
};

/// Metres from metres and radians.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn axial_advance(pitch: f64, turn: f64) -> Result<f64, OutOfRange> {
    LAW.one([pitch, turn])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::axial_advance;
    use crate::physics::laws::{near, si};

    /// A quarter turn: 20 an inch 0.01250 in, M8×1.25 0.3125 mm, M10×1.5 0.375 mm, 18 an inch 0.01389 in (pitch × turns).
    #[test]
    fn worked_example() {
        let quarter = si(0.25, "turn");
        near(axial_advance(si(0.05, "in"), quarter).unwrap(), si(0.0125, "in"), 1e-12);
        near(axial_advance(0.001_25, quarter).unwrap(), 0.312_5e-3, 1e-12);
        near(axial_advance(0.0015, quarter).unwrap(), 0.375e-3, 1e-12);
        near(axial_advance(si(1.0 / 18.0, "in"), quarter).unwrap(), si(0.013_89, "in"), si(0.000_01, "in"));
    }
}
