//! Turns a bucket and a watch into the flow and its uncertainty.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const VOLUME: Input = Input::new("volume", "volume caught", Dimension::Volume, "L", (1e-6, 100.0));
const TIME: Input = Input::new("time", "time it took", Dimension::Time, "s", (1.0, 86_400.0));
const VOLUME_ERROR: Input =
    Input::new("volume_error", "how far the volume may be off", Dimension::Volume, "L", (0.0, 10.0));
const TIME_ERROR: Input = Input::new("time_error", "how far the time may be off", Dimension::Time, "s", (0.0, 60.0));

/// The law as data.
pub static LAW: Law<4, 2> = Law {
    name: "bucket_flow",
    formula: "Q = V/t, u(Q)/Q = sqrt[(u_V/V)² + (u_t/t)²]",
    inputs: [VOLUME, TIME, VOLUME_ERROR, TIME_ERROR],
    outputs: [Output::new("flow", Dimension::Flow, "L/min"), Output::new("uncertainty", Dimension::Ratio, "%")],
    range: "steady flow",
    source: "definition and propagation of uncertainty",
    compute: |[volume, time, volume_error, time_error]| {
        Ok([volume / time, libm::hypot(volume_error / volume, time_error / time)])
    },
};

/// m³/s and a share from m³ and seconds.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn bucket_flow(volume: f64, time: f64, volume_error: f64, time_error: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([volume, time, volume_error, time_error])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::bucket_flow;
    use crate::physics::laws::{near, si};

    /// 20 L within 0.2 L in 60 s within 0.5 s: 20 L/min within 1.3 % (formula).
    #[test]
    fn worked_example() {
        let [flow, uncertainty] = bucket_flow(0.020, 60.0, 0.0002, 0.5).unwrap();
        near(flow, si(20.0, "L/min"), 1e-12);
        near(uncertainty, 0.013, 0.0005);
    }
}
