//! Turns the Reynolds number and the roughness of a turbulent flow into its friction factor without trial.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const REYNOLDS: Input = Input::new("reynolds", "Reynolds number", Dimension::Number, "", (5000.0, 1e8))
    .meaningful(100.0, 1e12)
    .advice("below this the flow is not fully turbulent: take friction_factor");
const ROUGHNESS: Input = Input::new("relative_roughness", "roughness over bore", Dimension::Number, "", (1e-6, 0.05))
    .meaningful(0.0, 1.0)
    .advice("commercial steel in a 50 mm pipe has 0.001; give roughness over bore");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "friction_swamee_jain",
    formula: "f = 0.25/{log10[(ε/D)/3.7 + 5.74/Re^0.9]}²",
    inputs: [REYNOLDS, ROUGHNESS],
    outputs: [Output::new("friction", Dimension::Number, "")],
    range: "Re 5e3 to 1e8, ε/D 1e-6 to 0.05; within 2.2 % of Colebrook from Re 1e4",
    source: "Swamee and Jain 1976",
    compute: |[reynolds, roughness]| {
        let log = libm::log10(roughness / 3.7 + 5.74 / libm::pow(reynolds, 0.9));
        Ok([0.25 / (log * log)])
    },
};

/// Darcy factor from the Reynolds number and roughness over bore.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn friction_swamee_jain(reynolds: f64, relative_roughness: f64) -> Result<f64, OutOfRange> {
    LAW.one([reynolds, relative_roughness])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::friction_swamee_jain;
    use crate::physics::laws::near;

    /// Colebrook's factor by `fluids` 1.3.1 (Lambert W).
    #[test]
    fn worked_example() {
        for (reynolds, roughness, factor) in
            [(1e4, 1e-4, 0.031_037_21), (1e5, 1e-4, 0.018_513_87), (1e5, 1e-3, 0.022_174_54), (5e4, 2e-3, 0.026_505_59)]
        {
            near(friction_swamee_jain(reynolds, roughness).unwrap(), factor, 0.022 * factor);
        }
    }
}
