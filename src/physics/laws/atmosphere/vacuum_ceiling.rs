//! Turns the local air pressure and the vapour pressure into the deepest vacuum an honest gauge can show.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{BAROMETER, VAPOUR};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "vacuum_ceiling",
    formula: "p_gauge,lowest = -(p_atm - p_v)",
    inputs: [BAROMETER, VAPOUR],
    outputs: [Output::new("lowest_gauge", Dimension::GaugePressure, "inHg")],
    range: "any liquid; a gauge that shows more vacuum is faulty, or the altitude is wrong",
    source: "derived: a liquid under less than its vapour pressure is vapour",
    compute: |[barometer, vapour]| Ok([-(barometer - vapour).max(0.0) + 0.0]),
};

/// Gauge pressure in Pa (negative) from two absolute pressures in Pa.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn vacuum_ceiling(barometer: f64, vapour_pressure: f64) -> Result<f64, OutOfRange> {
    LAW.one([barometer, vapour_pressure])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::vacuum_ceiling;
    use crate::physics::laws::{near, si};

    /// 1500 m, water at 20 °C: 24.97 - 0.69 = 24.28 inHg (US Standard Atmosphere 1976 and IAPWS-IF97).
    #[test]
    fn worked_example() {
        near(vacuum_ceiling(84_559.68, 2339.21).unwrap(), -si(24.28, "inHg"), si(0.01, "inHg"));
    }

    #[test]
    fn a_boiling_liquid_bears_no_vacuum() {
        near(vacuum_ceiling(84_559.68, 99_000.0).unwrap(), 0.0, 0.0);
    }
}
