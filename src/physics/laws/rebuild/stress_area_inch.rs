//! Turns size and pitch of an inch thread into its stress area.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::PITCH;
use crate::quantity::Dimension;

const DIAMETER: Input = Input::new("diameter", "nominal diameter of the bolt", Dimension::Length, "mm", (1e-3, 0.2));

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "stress_area_inch",
    formula: "A_s = π/4·(d - 0.9743/n)², n threads an inch, p = 1/n",
    inputs: [DIAMETER, PITCH],
    outputs: [Output::new("area", Dimension::Area, "mm2")],
    range: "60° threads",
    source: "unified thread formula; Wentzell, chapter 6 (textbook companion)",
    compute: |[diameter, pitch]| {
        let core = diameter - 0.9743 * pitch;
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
pub fn stress_area_inch(diameter: f64, pitch: f64) -> Result<f64, OutOfRange> {
    LAW.one([diameter, pitch])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::stress_area_inch;
    use crate::physics::laws::{near, si};

    /// Wentzell, chapter 6, p. 120 (textbook companion): 3/4-10 has 0.334 in².
    #[test]
    fn worked_example() {
        near(stress_area_inch(si(0.75, "in"), si(0.1, "in")).unwrap(), si(0.334, "in2"), si(0.001, "in2"));
    }
}
