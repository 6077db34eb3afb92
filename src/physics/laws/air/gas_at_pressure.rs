//! Turns free gas at one pressure into free gas at another.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::SHARE;
use crate::quantity::Dimension;

const GAS: Input = SHARE.named("gas", "share of free gas at the first pressure");
const PRESSURE_1: Input = Input::new("pressure_1", "first pressure", Dimension::AbsolutePressure, "kPa", (1e3, 1e8))
    .advice("give absolute pressures");
const PRESSURE_2: Input = Input::new("pressure_2", "second pressure", Dimension::AbsolutePressure, "kPa", (1e3, 1e8))
    .advice("give absolute pressures");

/// The law as data.
pub static LAW: Law<3, 1> = Law {
    name: "gas_at_pressure",
    formula: "φ/(1 - φ) ∝ 1/p: φ2 = r/(1 + r), r = φ1/(1 - φ1)·p1/p2",
    inputs: [GAS, PRESSURE_1, PRESSURE_2],
    outputs: [Output::new("gas", Dimension::Ratio, "%")],
    range: "one temperature, nothing dissolves",
    source: "Boyle's law",
    compute: |[gas, pressure_1, pressure_2]| {
        // Written without the ratio itself, so that pure gas stays pure gas.
        let gas_volume = gas * pressure_1;
        Ok([gas_volume / (gas_volume + (1.0 - gas) * pressure_2)])
    },
};

/// A share from a share and absolute Pa.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn gas_at_pressure(gas: f64, pressure_1: f64, pressure_2: f64) -> Result<f64, OutOfRange> {
    LAW.one([gas, pressure_1, pressure_2])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::gas_at_pressure;
    use crate::physics::laws::near;

    /// Derived: 2 % at 0.5 bar is 1 % at 1 bar.
    #[test]
    fn worked_example() {
        near(gas_at_pressure(0.02, 0.5e5, 1e5).unwrap(), 0.01, 0.0002);
    }
}
