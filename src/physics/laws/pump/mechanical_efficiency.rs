//! Turns overall and volumetric efficiency into the mechanical one.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const OVERALL: Input = Input::new("overall", "overall efficiency", Dimension::Ratio, "%", (0.0, 1.0));
const VOLUMETRIC: Input = Input::new("volumetric", "volumetric efficiency", Dimension::Ratio, "%", (0.01, 1.0));

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "mechanical_efficiency",
    formula: "η_m = η/η_v",
    inputs: [OVERALL, VOLUMETRIC],
    outputs: [Output::new("efficiency", Dimension::Ratio, "%")],
    range: "above 100 %, one of the two is measured wrong",
    source: "definition",
    compute: |[overall, volumetric]| Ok([overall / volumetric]),
};

/// A share from shares.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn mechanical_efficiency(overall: f64, volumetric: f64) -> Result<f64, OutOfRange> {
    LAW.one([overall, volumetric])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::mechanical_efficiency;
    use crate::physics::laws::near;

    /// Sullivan, example 7.3 (textbook companion): 87 % overall, 94 % volumetric: 92.55 %.
    #[test]
    fn worked_example() {
        near(mechanical_efficiency(0.87, 0.94).unwrap(), 0.9255, 0.0001);
    }
}
