//! Turns the Reynolds number and the roughness of a turbulent flow into its friction factor, exactly.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::ROUGHNESS;
use crate::quantity::Dimension;

const REYNOLDS: Input = Input::new("reynolds", "Reynolds number", Dimension::Number, "", (4000.0, 1e8))
    .meaningful(100.0, 1e12)
    .advice("below 4000 the flow is not fully turbulent: take friction_factor");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "friction_colebrook",
    formula: "1/sqrt(f) = -2·log10[(ε/D)/3.7 + 2.51/(Re·sqrt(f))]",
    inputs: [REYNOLDS, ROUGHNESS],
    outputs: [Output::new("friction", Dimension::Number, "")],
    range: "Re 4000 to 1e8, ε/D 0 to 0.05; Darcy's factor",
    source: "Colebrook 1939",
    compute: |[reynolds, roughness]| Ok([solve(reynolds, roughness)]),
};

/// Darcy factor from the Reynolds number and roughness over bore.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn friction_colebrook(reynolds: f64, relative_roughness: f64) -> Result<f64, OutOfRange> {
    LAW.one([reynolds, relative_roughness])
}

/// Newton's method on x = 1/sqrt(f), which is nearly linear: six steps from Haaland's value reach rounding error.
fn solve(reynolds: f64, roughness: f64) -> f64 {
    let rough = roughness / 3.7;
    let smooth = 2.51 / reynolds;
    let mut x = -1.8 * libm::log10(libm::pow(rough, 1.11) + 6.9 / reynolds);
    for _ in 0..6 {
        let inside = rough + smooth * x;
        let error = x + 2.0 * libm::log10(inside);
        x -= error / (1.0 + 2.0 / std::f64::consts::LN_10 * smooth / inside);
    }
    1.0 / (x * x)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::friction_colebrook;
    use crate::physics::laws::near;

    /// `fluids` 1.3.1, `Colebrook(Re, eD, tol=0)` (Lambert W).
    #[test]
    fn worked_example() {
        for (reynolds, roughness, factor) in [
            (1e4, 1e-4, 0.031_037_21),
            (1e5, 0.0, 0.017_989_77),
            (1e5, 1e-4, 0.018_513_87),
            (1e5, 1e-3, 0.022_174_54),
            (1e6, 1e-4, 0.013_441_44),
            (5e4, 2e-3, 0.026_505_59),
            (4e3, 1e-3, 0.040_910_39),
        ] {
            near(friction_colebrook(reynolds, roughness).unwrap(), factor, 6e-9);
        }
    }
}
