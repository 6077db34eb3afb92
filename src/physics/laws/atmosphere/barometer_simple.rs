//! Turns an altitude into the air pressure by the short form found in tables.

use super::barometer_at_altitude::ALTITUDE;
use crate::physics::law::{Law, OutOfRange, Output};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<1, 1> = Law {
    name: "barometer_simple",
    formula: "p = 101325·(1 - 2.25577e-5·Z)^5.25588 Pa, Z in m",
    inputs: [ALTITUDE.within(-5000.0, 5000.0)],
    outputs: [Output::new("barometer", Dimension::AbsolutePressure, "kPa")],
    range: "up to 5 km, within 0.06 % of the standard atmosphere",
    source: "US Standard Atmosphere 1976, altitude taken as geopotential",
    compute: |[altitude]| Ok([101_325.0 * libm::pow(1.0 - 2.25577e-5 * altitude, 5.255_88)]),
};

/// Pa from metres above sea level.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn barometer_simple(altitude: f64) -> Result<f64, OutOfRange> {
    LAW.one([altitude])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::barometer_simple;
    use crate::physics::laws::near;

    /// Within 0.06 % of the standard atmosphere (84 559.68 Pa at 1500 m, 54 048.29 Pa at 5000 m, `fluids` 1.3.1).
    #[test]
    fn worked_example() {
        near(barometer_simple(1500.0).unwrap(), 84_559.68, 0.0006 * 84_559.68);
        near(barometer_simple(5000.0).unwrap(), 54_048.29, 0.0006 * 54_048.29);
    }
}
