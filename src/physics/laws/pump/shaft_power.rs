//! Turns power in the liquid and mechanical efficiency into the power at the shaft.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const HYDRAULIC: Input = Input::new("hydraulic", "power in the liquid", Dimension::Power, "kW", (0.0, 2e6));
const EFFICIENCY: Input = Input::new("efficiency", "mechanical efficiency", Dimension::Ratio, "%", (0.3, 1.0))
    .advice("power pumps have 85 to 92 %");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "shaft_power",
    formula: "P_shaft = P_hyd/η_m",
    inputs: [HYDRAULIC, EFFICIENCY],
    outputs: [Output::new("power", Dimension::Power, "kW")],
    range: "power pumps have η_m 0.85 to 0.92 (from memory)",
    source: "definition",
    compute: |[hydraulic, efficiency]| Ok([hydraulic / efficiency]),
};

/// W from W and a share.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn shaft_power(hydraulic: f64, efficiency: f64) -> Result<f64, OutOfRange> {
    LAW.one([hydraulic, efficiency])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::shaft_power;
    use crate::physics::laws::near;

    /// Arithmetic: 9 kW at 90 % take 10 kW.
    #[test]
    fn worked_example() {
        near(shaft_power(9e3, 0.9).unwrap(), 10e3, 1e-9);
    }
}
