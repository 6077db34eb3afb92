//! Turns chambers, plunger, stroke and speed into the ideal flow of a pump.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{CHAMBERS, PLUNGER, SPEED, STROKE};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<4, 1> = Law {
    name: "displacement",
    formula: "Q_th = N·A·s·n; Q[gpm] = N·A_in²·s_in·n/231",
    inputs: [CHAMBERS, PLUNGER, STROKE, SPEED],
    outputs: [Output::new("displacement", Dimension::Flow, "L/min")],
    range: "any pump of equal single-acting chambers; count a double-acting cylinder as two, less the rod",
    source: "definition",
    compute: |[chambers, plunger, stroke, speed]| {
        Ok([chambers * std::f64::consts::FRAC_PI_4 * plunger * plunger * stroke * speed])
    },
};

/// m³/s from a whole number, metres and rev/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn displacement(chambers: f64, plunger: f64, stroke: f64, speed: f64) -> Result<f64, OutOfRange> {
    LAW.one([chambers, plunger, stroke, speed])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::displacement;
    use crate::physics::laws::{near, si};

    /// Triplex, 2 in × 5 in, 360 rpm: 73.44 US gpm (formula; GPSA-type example).
    #[test]
    fn worked_example() {
        let flow = displacement(3.0, si(2.0, "in"), si(5.0, "in"), 6.0).unwrap();
        near(flow, si(73.44, "US gpm"), si(0.01, "US gpm"));
    }
}
