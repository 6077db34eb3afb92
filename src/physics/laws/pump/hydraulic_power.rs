//! Turns flow and pressure rise into the power in the liquid.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{FLOW, RISE};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "hydraulic_power",
    formula: "P = Q·Δp; kW = L/min·bar/600; hp = gpm·psi/1714.2857",
    inputs: [FLOW, RISE],
    outputs: [Output::new("power", Dimension::Power, "kW")],
    range: "any",
    source: "definition",
    compute: |[flow, rise]| Ok([flow * rise]),
};

/// W from m³/s and Pa.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn hydraulic_power(flow: f64, rise: f64) -> Result<f64, OutOfRange> {
    LAW.one([flow, rise])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::hydraulic_power;
    use crate::physics::laws::{near, si};

    /// Esposito, example 8.2, p. 299 (textbook companion): 1000 psi and 20 gpm: 11.7 hp. 600 L/min at 1 bar: 1 kW.
    #[test]
    fn worked_example() {
        near(hydraulic_power(si(20.0, "US gpm"), si(1000.0, "psi")).unwrap(), si(11.7, "hp"), si(0.05, "hp"));
        near(hydraulic_power(si(600.0, "L/min"), 1e5).unwrap(), 1000.0, 1e-9);
    }
}
