//! Turns the Reynolds number of a laminar flow into its friction factor.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const REYNOLDS: Input = Input::new("reynolds", "Reynolds number", Dimension::Number, "", (1.0, 2300.0))
    .advice("above 2300 the flow is not laminar: take friction_factor");

/// The law as data.
pub static LAW: Law<1, 1> = Law {
    name: "friction_laminar",
    formula: "f = 64/Re",
    inputs: [REYNOLDS],
    outputs: [Output::new("friction", Dimension::Number, "")],
    range: "Re below 2000 to 2300; the factor is Darcy's, four times Fanning's",
    source: "Hagen-Poiseuille",
    compute: |[reynolds]| Ok([64.0 / reynolds]),
};

/// Darcy factor from the Reynolds number.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn friction_laminar(reynolds: f64) -> Result<f64, OutOfRange> {
    LAW.one([reynolds])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::friction_laminar;
    use crate::physics::laws::near;

    /// Esposito, example 4.3, p. 134 (textbook companion): Re 774, from there 60 psi; 64/774 = 0.0827.
    #[test]
    fn worked_example() {
        near(friction_laminar(774.0).unwrap(), 0.0827, 0.0001);
    }
}
