//! Turns the clearance of a chamber into the highest pressure ratio it can pump gas against.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const CLEARANCE: Input = Input::new(
    "clearance",
    "volume left at the end of the stroke over the volume of the stroke (c/d)",
    Dimension::Number,
    "",
    (0.01, 50.0),
);

/// The law as data.
pub static LAW: Law<1, 1> = Law {
    name: "gas_binding",
    formula: "(p_d/p_s)_max = (c + d)/c",
    inputs: [CLEARANCE],
    outputs: [Output::new("pressure_ratio", Dimension::Ratio, "times")],
    range: "isothermal; a pump that cannot compress its gas must be primed with the outlet open",
    source: "derived: trapped gas fills the whole stroke",
    compute: |[clearance]| Ok([(clearance + 1.0) / clearance]),
};

/// A ratio of absolute pressures from clearance over displacement of a chamber.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn gas_binding(clearance: f64) -> Result<f64, OutOfRange> {
    LAW.one([clearance])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::gas_binding;
    use crate::physics::laws::near;

    /// Derived: c/d 3 compresses gas 1.33:1 and no further.
    #[test]
    fn worked_example() {
        near(gas_binding(3.0).unwrap(), 1.333, 0.0005);
    }
}
