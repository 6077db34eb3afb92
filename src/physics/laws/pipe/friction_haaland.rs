//! Turns the Reynolds number and the roughness of a turbulent flow into its friction factor by one line.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::ROUGHNESS;
use crate::quantity::Dimension;

const REYNOLDS: Input = Input::new("reynolds", "Reynolds number", Dimension::Number, "", (4000.0, 1e8))
    .meaningful(100.0, 1e12)
    .advice("below this the flow is not fully turbulent: take friction_factor");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "friction_haaland",
    formula: "1/sqrt(f) = -1.8·log10[((ε/D)/3.7)^1.11 + 6.9/Re]",
    inputs: [REYNOLDS, ROUGHNESS],
    outputs: [Output::new("friction", Dimension::Number, "")],
    range: "Re 4000 to 1e8, ε/D 0 to 0.05; within about 1.4 % of Colebrook",
    source: "Haaland 1983",
    compute: |[reynolds, roughness]| {
        let root = -1.8 * libm::log10(libm::pow(roughness / 3.7, 1.11) + 6.9 / reynolds);
        Ok([1.0 / (root * root)])
    },
};

/// Darcy factor from the Reynolds number and roughness over bore.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn friction_haaland(reynolds: f64, relative_roughness: f64) -> Result<f64, OutOfRange> {
    LAW.one([reynolds, relative_roughness])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::friction_haaland;
    use crate::physics::laws::near;

    /// Colebrook's factor by `fluids` 1.3.1 (Lambert W).
    #[test]
    fn worked_example() {
        for (reynolds, roughness, factor) in
            [(1e4, 1e-4, 0.031_037_21), (1e5, 1e-4, 0.018_513_87), (1e5, 1e-3, 0.022_174_54), (5e4, 2e-3, 0.026_505_59)]
        {
            near(friction_haaland(reynolds, roughness).unwrap(), factor, 0.015 * factor);
        }
    }
}
