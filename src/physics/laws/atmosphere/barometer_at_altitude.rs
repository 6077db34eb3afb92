//! Turns an altitude into the air pressure of the standard atmosphere.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

/// Height above sea level; also of the simple form.
pub(super) const ALTITUDE: Input =
    Input::new("altitude", "height above sea level", Dimension::Length, "m", (-5000.0, 11_000.0))
        .strict()
        .advice("above 11 km and below -5 km another formula holds; read a barometer instead");

// All as in the standard; its gas constant is its own.
const SEA_LEVEL: f64 = 101_325.0;
const WARMTH: f64 = 288.15;
const LAPSE: f64 = -0.0065;
const GRAVITY: f64 = 9.806_65;
const MOLAR_MASS: f64 = 0.028_964_4;
const GAS_CONSTANT: f64 = 8.314_32;
const EARTH_RADIUS: f64 = 6_356_766.0;

/// The law as data.
pub static LAW: Law<1, 1> = Law {
    name: "barometer_at_altitude",
    formula: "p = p0·[T0/(T0 + L·H)]^(g0·M/(R·L)), H = r0·Z/(r0 + Z); p0 101325 Pa, T0 288.15 K, L -0.0065 K/m, g0 9.80665 m/s2, M 0.0289644 kg/mol, R 8.31432 J/(mol K), r0 6356766 m",
    inputs: [ALTITUDE],
    outputs: [Output::new("barometer", Dimension::AbsolutePressure, "kPa")],
    range: "-5 to 11 km; weather moves the true barometer by about 3 % (from memory), so a local reading goes first",
    source: "US Standard Atmosphere 1976, part 1 (ISO 2533:1975 below 32 km)",
    compute: |[altitude]| {
        let height = EARTH_RADIUS * altitude / (EARTH_RADIUS + altitude);
        let exponent = GRAVITY * MOLAR_MASS / (GAS_CONSTANT * LAPSE);
        Ok([SEA_LEVEL * libm::pow(WARMTH / (WARMTH + LAPSE * height), exponent)])
    },
};

/// Pa from metres above sea level.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn barometer_at_altitude(altitude: f64) -> Result<f64, OutOfRange> {
    LAW.one([altitude])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::barometer_at_altitude;
    use crate::physics::laws::{near, si};

    /// US Standard Atmosphere 1976 by `fluids` 1.3.1, `ATMOSPHERE_1976(Z).P`.
    #[test]
    fn worked_example() {
        near(barometer_at_altitude(-300.0).unwrap(), 104_981.4, 0.1);
        near(barometer_at_altitude(250.0).unwrap(), 98_357.7, 0.1);
        near(barometer_at_altitude(si(8000.0, "ft")).unwrap(), 75_271.0, 1.0);
    }

    #[test]
    fn the_refusal_says_what_to_do() {
        let error = barometer_at_altitude(20_000.0).unwrap_err().to_string();
        assert_eq!(
            error,
            "`altitude` of 20000 m is outside -5000 m to 11000 m: above 11 km and below -5 km another formula holds; read a barometer instead"
        );
    }
}
