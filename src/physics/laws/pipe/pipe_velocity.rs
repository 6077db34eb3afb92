//! Turns flow and bore into the mean velocity in a pipe.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{BORE, FLOW};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "pipe_velocity",
    formula: "v = Q/(π/4·D²); v[ft/s] = 0.4085·gpm/d_in²",
    inputs: [FLOW, BORE],
    outputs: [Output::new("velocity", Dimension::Velocity, "m/s")],
    range: "any full pipe",
    source: "continuity",
    compute: |[flow, bore]| Ok([flow / (std::f64::consts::FRAC_PI_4 * bore * bore)]),
};

/// m/s from m³/s and metres.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn pipe_velocity(flow: f64, bore: f64) -> Result<f64, OutOfRange> {
    LAW.one([flow, bore])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::pipe_velocity;
    use crate::physics::laws::{near, si};

    /// 8 m³/h in 52.48 mm: 1.0273 m/s. The constant of the trade, 0.4085 (ft/s)·in²/gpm.
    #[test]
    fn worked_example() {
        near(pipe_velocity(si(8.0, "m3/h"), 0.052_48).unwrap(), 1.0273, 0.0001);
        near(pipe_velocity(si(1.0, "US gpm"), si(1.0, "in")).unwrap(), si(0.4085, "ft/s"), si(0.0001, "ft/s"));
    }
}
