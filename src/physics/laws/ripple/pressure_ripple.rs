//! Turns the swing of the flow into the swing of the pressure before a fixed opening.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const ABOVE: Input = Input::new("above", "largest flow over the mean, less one", Dimension::Ratio, "%", (0.0, 5.0));
const BELOW: Input = Input::new("below", "smallest flow over the mean, less one", Dimension::Ratio, "%", (-1.0, 0.0))
    .strict()
    .advice("give it as a loss: -100 to 0 %");

/// The law as data.
pub static LAW: Law<2, 3> = Law {
    name: "pressure_ripple",
    formula: "p/p_mean - 1 = (1 + q)² - 1, q the swing of the flow",
    inputs: [ABOVE, BELOW],
    outputs: [
        Output::new("above", Dimension::Ratio, "%"),
        Output::new("below", Dimension::Ratio, "%"),
        Output::new("total", Dimension::Ratio, "%"),
    ],
    range: "without a damper, pressure set by a nozzle or orifice (P as Q²)",
    source: "derived from the orifice",
    compute: |[above, below]| {
        let up = (1.0 + above) * (1.0 + above) - 1.0;
        let down = (1.0 + below) * (1.0 + below) - 1.0;
        Ok([up, down, up - down])
    },
};

/// Shares of the mean pressure from shares of the mean flow.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn pressure_ripple(above: f64, below: f64) -> Result<[f64; 3], OutOfRange> {
    LAW.at([above, below])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::pressure_ripple;
    use crate::physics::laws::near;

    /// Triplex, rods of 6 radii: +12.7 / -31.0 %; without rods +9.7 / -17.8 % (derived).
    #[test]
    fn worked_example() {
        let [up, down, total] = pressure_ripple(0.0617, -0.1695).unwrap();
        near(up, 0.127, 0.0005);
        near(down, -0.310, 0.0005);
        near(total, 0.437, 0.0006);
        let [up, down, _] = pressure_ripple(0.0472, -0.0931).unwrap();
        near(up, 0.097, 0.0005);
        near(down, -0.178, 0.0005);
    }
}
