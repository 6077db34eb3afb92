//! Turns a reading's place on the scale and the gauge's grade into its error.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::SPAN;
use crate::quantity::Dimension;

const READING: Input =
    Input::new("reading", "reading above the lowest mark", Dimension::PressureDifference, "bar", (0.0, 2e8));
const MIDDLE: Input = Input::new("middle", "allowed error in the middle half", Dimension::Ratio, "%", (0.0, 0.2));
const ENDS: Input = Input::new("ends", "allowed error in the outer quarters", Dimension::Ratio, "%", (0.0, 0.2));

/// The law as data.
pub static LAW: Law<4, 1> = Law {
    name: "gauge_grade",
    formula: "error = middle·span in the middle half of the scale, ends·span in the outer quarters",
    inputs: [SPAN, READING, MIDDLE, ENDS],
    outputs: [Output::new("error", Dimension::PressureDifference, "bar")],
    range: "ends/middle in % of span: 4A 0.1, 3A 0.25, 2A 0.5, 1A 1, A 2/1, B 3/2, C 4/3, D 5",
    source: "ASME B40.100 (from memory; the pattern of grade A read)",
    compute: |[span, reading, middle, ends]| {
        if span < reading {
            return Err(READING.refused(reading, (0.0, span), "it is beyond the scale"));
        }
        let share = reading / span;
        Ok([span * if (0.25..=0.75).contains(&share) { middle } else { ends }])
    },
};

/// Pa either way from Pa and shares.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn gauge_grade(span: f64, reading: f64, middle: f64, ends: f64) -> Result<f64, OutOfRange> {
    LAW.one([span, reading, middle, ends])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::gauge_grade;
    use crate::physics::laws::{near, si};

    /// ASME B40.100, grade B (3/2/3): 100 psi, 2 psi at mid-scale, 3 psi at 10 psi.
    #[test]
    fn worked_example() {
        near(gauge_grade(si(100.0, "psi"), si(50.0, "psi"), 0.02, 0.03).unwrap(), si(2.0, "psi"), 1e-6);
        near(gauge_grade(si(100.0, "psi"), si(10.0, "psi"), 0.02, 0.03).unwrap(), si(3.0, "psi"), 1e-6);
    }

    #[test]
    fn a_reading_beyond_the_scale_is_refused() {
        assert_eq!(gauge_grade(1e5, 2e5, 0.02, 0.03).unwrap_err().input, "reading");
    }
}
