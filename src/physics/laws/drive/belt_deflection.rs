//! Turns shaft distance and sheaves into the belt span and the deflection to set the tension by.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{MOTOR_SHEAVE, PUMP_SHEAVE};
use crate::quantity::Dimension;

const DISTANCE: Input = Input::new("distance", "distance of the two shafts", Dimension::Length, "mm", (0.02, 10.0));

/// The law as data.
pub static LAW: Law<3, 2> = Law {
    name: "belt_deflection",
    formula: "span = sqrt[C² - ((D - d)/2)²], deflection = span/64",
    inputs: [DISTANCE, MOTOR_SHEAVE, PUMP_SHEAVE],
    outputs: [Output::new("span", Dimension::Length, "mm"), Output::new("deflection", Dimension::Length, "mm")],
    range: "V-belts, at mid-span under the force for the section; new belts again after 24 to 48 h (from memory)",
    source: "belt trade rule, 1/64 in per inch of span (common practice, from memory)",
    compute: |[distance, small, large]| {
        let half = (large - small).abs() / 2.0;
        if distance <= half {
            return Err(DISTANCE.refused(
                distance,
                (half, 10.0),
                "the sheaves would touch: give the distance of the shafts",
            ));
        }
        let span = (distance * distance - half * half).sqrt();
        Ok([span, span / 64.0])
    },
};

/// Metres from metres.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn belt_deflection(distance: f64, motor_sheave: f64, pump_sheave: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([distance, motor_sheave, pump_sheave])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::belt_deflection;
    use crate::physics::laws::{near, si};

    /// Derived: 30 in, 5 and 18 in: span 29.29 in, 0.458 in.
    #[test]
    fn worked_example() {
        let [span, deflection] = belt_deflection(si(30.0, "in"), si(5.0, "in"), si(18.0, "in")).unwrap();
        near(span, si(29.29, "in"), si(0.005, "in"));
        near(deflection, si(0.458, "in"), si(0.005, "in"));
    }

    #[test]
    fn sheaves_that_touch_are_refused() {
        assert_eq!(belt_deflection(0.1, 0.1, 0.5).unwrap_err().input, "distance");
    }
}
