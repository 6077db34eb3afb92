//! Turns the Reynolds number and the roughness into the friction factor of any flow.

use super::friction_colebrook;
use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{REYNOLDS, ROUGHNESS};
use crate::quantity::Dimension;

const LAMINAR_TO: f64 = 2000.0;
const TURBULENT_FROM: f64 = 4000.0;

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "friction_factor",
    formula: "laminar 64/Re to Re 2000, Colebrook from 4000, between them the larger of the two",
    inputs: [REYNOLDS, ROUGHNESS],
    outputs: [Output::new("friction", Dimension::Number, "")],
    range: "Re 1 to 1e8, ε/D 0 to 0.05; between 2000 and 4000 the flow is undetermined and the larger factor is safe; roughness (from memory): steel 0.045 mm, drawn tube and smooth plastic 0.0015, galvanised 0.15, cast iron 0.26, rubber hose 0.006 to 0.07",
    source: "Hagen-Poiseuille and Colebrook 1939",
    compute: |[reynolds, roughness]| {
        if reynolds < LAMINAR_TO {
            return Ok([64.0 / reynolds]);
        }
        let turbulent = friction_colebrook::LAW.anywhere([reynolds, roughness])?.0;
        Ok([if reynolds < TURBULENT_FROM { turbulent[0].max(64.0 / reynolds) } else { turbulent[0] }])
    },
};

/// Darcy factor from the Reynolds number and roughness over bore.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn friction_factor(reynolds: f64, relative_roughness: f64) -> Result<f64, OutOfRange> {
    LAW.one([reynolds, relative_roughness])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::friction_factor;
    use crate::physics::laws::near;

    /// 64/1000; between the two the larger; `fluids` 1.3.1 `Colebrook(51721, 45e-6/0.04089)`: 0.02419.
    #[test]
    fn worked_example() {
        near(friction_factor(1000.0, 1e-3).unwrap(), 0.064, 1e-12);
        near(friction_factor(51_721.0, 45e-6 / 0.040_89).unwrap(), 0.024_19, 0.000_01);
        assert!(64.0 / 2500.0 < friction_factor(2500.0, 1e-3).unwrap());
    }
}
