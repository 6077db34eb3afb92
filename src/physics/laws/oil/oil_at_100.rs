//! Turns an oil's grade and viscosity index into its viscosity at 100 °C.

use super::d2270;
use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::OIL_VISCOSITY;
use crate::quantity::Dimension;

pub(super) const AT_40: Input = OIL_VISCOSITY
    .named("at_40", "viscosity at 40 °C, the number of the ISO grade")
    .within(5e-6, 2e-3)
    .meaningful(5e-6, 5e-3)
    .advice("ISO grades go from 5 to 2000");
pub(super) const INDEX: Input = Input::new("index", "viscosity index", Dimension::Number, "", (0.0, 200.0))
    .meaningful(0.0, 300.0)
    .advice("mineral oils have about 95");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "oil_at_100",
    formula: "the viscosity at 100 °C whose index (ASTM D2270) is the one given",
    inputs: [AT_40, INDEX],
    outputs: [Output::new("at_100", Dimension::ViscosityKinematic, "mm2/s")],
    range: "ISO grades 5 to 2000, index 0 to 200; mineral oils have about 95, multigrade 150",
    source: "ASTM D2270, turned round",
    compute: |[at_40, index]| {
        let (mut low, mut high) = (2.0, 500.0);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if d2270::index(at_40 * 1e6, middle) < index { low = middle } else { high = middle }
        }
        Ok([1e-6 * 0.5 * (low + high)])
    },
};

/// m²/s from m²/s and a number.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn oil_at_100(at_40: f64, index: f64) -> Result<f64, OutOfRange> {
    LAW.one([at_40, index])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::oil_at_100;
    use crate::physics::laws::near;

    /// ASTM D2270 by `chemicals` 1.5.2 and a root finder, index 95.
    #[test]
    fn worked_example() {
        for (grade, at_100) in
            [(22.0, 4.25), (32.0, 5.29), (46.0, 6.65), (68.0, 8.53), (100.0, 11.07), (150.0, 14.55), (220.0, 18.75)]
        {
            near(oil_at_100(grade * 1e-6, 95.0).unwrap(), at_100 * 1e-6, 0.02e-6);
        }
    }
}
