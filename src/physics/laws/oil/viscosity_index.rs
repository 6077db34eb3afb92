//! Turns an oil's viscosities at 40 and 100 °C into its viscosity index.

use super::d2270;
use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::OIL_VISCOSITY;
use crate::quantity::Dimension;

const AT_40: Input = OIL_VISCOSITY.named("at_40", "viscosity at 40 °C, the number of the ISO grade").within(5e-6, 2e-3);
const AT_100: Input = OIL_VISCOSITY
    .named("at_100", "viscosity at 100 °C")
    .within(2e-6, 2e-4)
    .meaningful(2e-6, 1e-3)
    .advice("the index is defined from 2 mm2/s at 100 °C");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "viscosity_index",
    formula: "up to 100: VI = 100·(L - U)/(L - H); above: VI = (10^N - 1)/0.00715 + 100, N = (log H - log U)/log Y; U at 40 °C, Y at 100 °C, L and H from the table",
    inputs: [AT_40, AT_100],
    outputs: [Output::new("index", Dimension::Number, "")],
    range: "2 mm2/s and above at 100 °C",
    source: "ASTM D2270 (table as in `chemicals` 1.5.2)",
    compute: |[at_40, at_100]| Ok([d2270::index(at_40 * 1e6, at_100 * 1e6)]),
};

/// A number from m²/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn viscosity_index(at_40: f64, at_100: f64) -> Result<f64, OutOfRange> {
    LAW.one([at_40, at_100])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::viscosity_index;
    use crate::physics::laws::near;

    /// ASTM D2270 examples, reproduced by `chemicals` 1.5.2: 92 and 156.
    #[test]
    fn worked_example() {
        near(viscosity_index(73.30e-6, 8.86e-6).unwrap(), 92.0, 0.5);
        near(viscosity_index(22.83e-6, 5.05e-6).unwrap(), 156.0, 0.5);
    }

    /// Esposito, example 2.14, p. 65 (textbook companion): L 400, H 150 and index 80 belong to 200.
    #[test]
    fn the_line_between_the_limits() {
        near((400.0 - 200.0) / (400.0 - 150.0) * 100.0, 80.0, 1e-12);
    }
}
