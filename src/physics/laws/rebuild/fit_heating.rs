//! Turns a press fit into how much hotter the outer part must be to slip on.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const GROWTH: Input =
    Input::new("growth", "growth wanted: interference and clearance to slip on", Dimension::Length, "mm", (0.0, 5e-3));
const EXPANSION: Input =
    Input::new("expansion", "heat expansion of the part", Dimension::Expansion, "um/m/K", (1e-6, 5e-5))
        .advice("steel has 11.7 um/m/K");
const SIZE: Input = Input::new("size", "diameter or length that grows", Dimension::Length, "mm", (1e-3, 5.0));

/// The law as data.
pub static LAW: Law<3, 1> = Law {
    name: "fit_heating",
    formula: "ΔT = δ/(α·d)",
    inputs: [GROWTH, EXPANSION, SIZE],
    outputs: [Output::new("rise", Dimension::TemperatureDifference, "°C")],
    range: "bearings not above about 120 °C (from memory)",
    source: "heat expansion; Wentzell, chapter 6 (textbook companion)",
    compute: |[growth, expansion, size]| Ok([growth / (expansion * size)]),
};

/// K from metres and 1/K.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn fit_heating(growth: f64, expansion: f64, size: f64) -> Result<f64, OutOfRange> {
    LAW.one([growth, expansion, size])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::fit_heating;
    use crate::physics::laws::{near, si};

    /// Steel 11.7e-6 per K: 0.05 mm on 50 mm need 85 K. Wentzell, p. 124 (textbook companion): 0.01204 in on 5 in, 6.5e-6 per °F: 370.5 °F.
    #[test]
    fn worked_example() {
        near(fit_heating(0.05e-3, 11.7e-6, 0.05).unwrap(), 85.0, 0.5);
        let rise = fit_heating(si(0.012_04, "in"), si(6.5e-6, "1/°F"), si(5.0, "in")).unwrap();
        near(rise, 370.5 / 1.8, 0.1);
    }
}
