//! Turns the final torque into the torques of three passes.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const TORQUE: Input = Input::new("torque", "final torque", Dimension::Torque, "N m", (0.0, 1e5));

/// The law as data.
pub static LAW: Law<1, 3> = Law {
    name: "bolt_passes",
    formula: "T1 = 0.3·T, T2 = 0.6·T, T3 = T",
    inputs: [TORQUE],
    outputs: [
        Output::new("first", Dimension::Torque, "N m"),
        Output::new("second", Dimension::Torque, "N m"),
        Output::new("last", Dimension::Torque, "N m"),
    ],
    range: "cross pattern, then one circular pass at the last torque; again after 24 h or the first heat",
    source: "ASME PCC-1 style (from memory)",
    compute: |[torque]| Ok([0.3 * torque, 0.6 * torque, torque]),
};

/// N m from N m.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn bolt_passes(torque: f64) -> Result<[f64; 3], OutOfRange> {
    LAW.at([torque])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::bolt_passes;
    use crate::physics::laws::near;

    /// ASME PCC-1 style (from memory): 30, 60 and 100 %.
    #[test]
    fn worked_example() {
        let [first, second, last] = bolt_passes(50.0).unwrap();
        near(first, 15.0, 1e-12);
        near(second, 30.0, 1e-12);
        near(last, 50.0, 1e-12);
    }
}
