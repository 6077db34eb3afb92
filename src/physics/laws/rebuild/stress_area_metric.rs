//! Turns size and pitch of a metric thread into its stress area.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::PITCH;
use crate::quantity::Dimension;

const DIAMETER: Input = Input::new("diameter", "nominal diameter of the bolt", Dimension::Length, "mm", (1e-3, 0.2));

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "stress_area_metric",
    formula: "A_s = π/4·(d - 0.9382·p)²",
    inputs: [DIAMETER, PITCH],
    outputs: [Output::new("area", Dimension::Area, "mm2")],
    range: "60° threads",
    source: "ISO 898-1",
    compute: |[diameter, pitch]| {
        let core = diameter - 0.9382 * pitch;
        if core <= 0.0 {
            return Err(PITCH.refused(pitch, (0.0, diameter), "the pitch is wider than the bolt: check both"));
        }
        Ok([std::f64::consts::FRAC_PI_4 * core * core])
    },
};

/// m² from metres.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn stress_area_metric(diameter: f64, pitch: f64) -> Result<f64, OutOfRange> {
    LAW.one([diameter, pitch])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::stress_area_metric;
    use crate::physics::laws::near;

    /// ISO 898-1 formula: M10×1.5 57.99 mm².
    #[test]
    fn worked_example() {
        near(stress_area_metric(0.010, 0.0015).unwrap(), 57.99e-6, 0.02e-6);
    }

    #[test]
    fn a_pitch_wider_than_the_bolt_is_refused() {
        assert_eq!(stress_area_metric(0.001, 0.005).unwrap_err().input, "pitch");
    }
}
