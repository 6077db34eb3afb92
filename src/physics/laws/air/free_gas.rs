//! Turns free gas in the suction stream into the volumetric efficiency left for the liquid.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::GAS;
use crate::quantity::Dimension;

const REGROWTH: Input = Input::new(
    "regrowth",
    "gas that comes back from the clearance, over the gas drawn (g)",
    Dimension::Number,
    "",
    (0.0, 50.0),
)
.advice("0 to clearance over displacement");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "free_gas",
    formula: "η_v = 1 - φ·(1 + g)",
    inputs: [GAS, REGROWTH],
    outputs: [Output::new("efficiency", Dimension::Ratio, "%")],
    range: "φ at suction pressure; g 0 without re-expansion up to c/d well mixed, about 0.7·c/d in a time-domain model",
    source: "derived: gas displaces liquid one for one",
    compute: |[gas, regrowth]| Ok([(1.0 - gas * (1.0 + regrowth)).max(0.0)]),
};

/// A share from a share and a number.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn free_gas(gas: f64, regrowth: f64) -> Result<f64, OutOfRange> {
    LAW.one([gas, regrowth])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::free_gas;
    use crate::physics::laws::near;

    /// Derived: 2 % gas with g 1 costs 4 %; enough gas leaves nothing.
    #[test]
    fn worked_example() {
        near(free_gas(0.02, 1.0).unwrap(), 0.96, 1e-12);
        near(free_gas(0.5, 3.0).unwrap(), 0.0, 0.0);
    }
}
