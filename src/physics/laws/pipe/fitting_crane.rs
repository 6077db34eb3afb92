//! Turns a fitting's equivalent length and the friction of full turbulence into its loss coefficient.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::FRICTION;
use crate::quantity::Dimension;

const EQUIVALENT: Input = Input::new(
    "equivalent",
    "equivalent length of the fitting over its bore (n)",
    Dimension::Number,
    "",
    (0.0, 1000.0),
)
.advice("a threaded elbow has 30, a globe valve 340");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "fitting_crane",
    formula: "K = n·f_T",
    inputs: [EQUIVALENT, FRICTION],
    outputs: [Output::new("losses", Dimension::Number, "")],
    range: "n (from memory): threaded elbow 30, gate valve 8, ball valve 3, globe valve 340, swing check 50 to 100, foot valve 420 or hinged 75, tee run 20, tee branch 60; entrance K 0.5 sharp, 0.78 inward; exit 1",
    source: "Crane TP-410 (2009)",
    compute: |[equivalent, friction]| Ok([equivalent * friction]),
};

/// A number from numbers.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn fitting_crane(equivalent: f64, friction: f64) -> Result<f64, OutOfRange> {
    LAW.one([equivalent, friction])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::fitting_crane;
    use crate::physics::laws::near;

    /// Arithmetic with `f_T` 0.0189 of a 2 in pipe: an elbow of 30 has 0.567.
    #[test]
    fn worked_example() {
        near(fitting_crane(30.0, 0.0189).unwrap(), 0.567, 1e-9);
    }
}
