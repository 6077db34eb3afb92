//! Turns a pressure and a liquid into the height of a column.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::GRAVITY;
use crate::physics::laws::inputs::DENSITY;
use crate::quantity::Dimension;

const DIFFERENCE: Input =
    Input::new("difference", "pressure difference", Dimension::PressureDifference, "kPa", (-1e8, 1e8));

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "pressure_head",
    formula: "h = Δp/(ρ·g)",
    inputs: [DIFFERENCE, DENSITY],
    outputs: [Output::new("head", Dimension::Length, "m")],
    range: "any; also the error of a gauge as NPSH: no verdict closer than that",
    source: "hydrostatics",
    compute: |[difference, density]| Ok([difference / (density * GRAVITY)]),
};

/// Metres from Pa and kg/m³.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn pressure_head(difference: f64, density: f64) -> Result<f64, OutOfRange> {
    LAW.one([difference, density])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::pressure_head;
    use crate::physics::laws::{near, si};

    /// Water at 20 °C: 0.9 inHg are 0.31 m, 1 bar 10.2155 m, 1 psi 2.3107 ft; IF97's 2339.21 Pa are 0.2390 m.
    #[test]
    fn worked_example() {
        near(pressure_head(si(0.9, "inHg"), 998.206).unwrap(), 0.31, 0.002);
        near(pressure_head(1e5, 998.206).unwrap(), 10.2155, 0.0005);
        near(pressure_head(si(1.0, "psi"), 998.206).unwrap(), si(2.3107, "ft"), si(0.0002, "ft"));
        near(pressure_head(2339.21, 998.206).unwrap(), 0.2390, 0.0001);
    }
}
