//! Turns a gauge reading and the local air pressure into the absolute pressure.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{BAROMETER, GAUGE};
use crate::quantity::Dimension;

const ANY_GAUGE: Input = GAUGE.named("gauge", "reading, a vacuum negative").within(-110e3, 2e8);

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "absolute_pressure",
    formula: "p_abs = p_atm + p_gauge",
    inputs: [BAROMETER, ANY_GAUGE],
    outputs: [Output::new("absolute", Dimension::AbsolutePressure, "kPa")],
    range: "any",
    source: "definition; Esposito, example 2.7 (textbook companion)",
    compute: |[barometer, gauge]| {
        if barometer + gauge < 0.0 {
            return Err(ANY_GAUGE.refused(gauge, (-barometer, 2e8), GAUGE.advice));
        }
        Ok([barometer + gauge])
    },
};

/// Pa (absolute) from Pa.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn absolute_pressure(barometer: f64, gauge: f64) -> Result<f64, OutOfRange> {
    LAW.one([barometer, gauge])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::absolute_pressure;
    use crate::physics::laws::{near, si};

    /// Esposito, example 2.7, p. 51 (textbook companion): -5 psig at 14.7 psia are 9.7 psia.
    #[test]
    fn worked_example() {
        near(absolute_pressure(si(14.7, "psi"), -si(5.0, "psi")).unwrap(), si(9.7, "psi"), 1e-9);
    }

    #[test]
    fn more_vacuum_than_air_is_refused() {
        assert!(absolute_pressure(90e3, -95e3).unwrap_err().to_string().contains("no gauge can show"));
    }
}
