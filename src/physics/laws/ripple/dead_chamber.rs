//! Turns the number of chambers into the signature of one that no longer pumps.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::TWO_CHAMBERS;
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<1, 4> = Law {
    name: "dead_chamber",
    formula: "mean = (N - 1)/N, once a turn = π/(2N), twice a turn = 2/(3N), all over the healthy mean; pressure at a fixed opening = ((N - 1)/N)²",
    inputs: [TWO_CHAMBERS],
    outputs: [
        Output::new("flow", Dimension::Ratio, "%"),
        Output::new("once_a_turn", Dimension::Ratio, "%"),
        Output::new("twice_a_turn", Dimension::Ratio, "%"),
        Output::new("pressure", Dimension::Ratio, "%"),
    ],
    range: "a valve stuck open, a torn or unprimed diaphragm; rods hardly change the once-a-turn line; a damper makes it smaller",
    source: "derived: the half sine of one chamber is missing",
    compute: |[chambers]| {
        let mean = (chambers - 1.0) / chambers;
        Ok([mean, std::f64::consts::PI / (2.0 * chambers), 2.0 / (3.0 * chambers), mean * mean])
    },
};

/// Mean flow, amplitudes once and twice a turn over the healthy mean flow, and pressure over the healthy pressure.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn dead_chamber(chambers: f64) -> Result<[f64; 4], OutOfRange> {
    LAW.at([chambers])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::dead_chamber;
    use crate::physics::laws::near;

    /// Derived: N 3 52.4 %, 4 39.3 %, 5 31.4 %, 6 26.2 %, 7 22.4 %, 9 17.5 % once a turn; pressure 44.4 % at 3, 64.0 % at 5.
    #[test]
    fn worked_example() {
        for (chambers, once) in [(3.0, 0.524), (4.0, 0.393), (5.0, 0.314), (6.0, 0.262), (7.0, 0.224), (9.0, 0.175)] {
            near(dead_chamber(chambers).unwrap()[1], once, 0.0005);
        }
        let [flow, _, twice, pressure] = dead_chamber(5.0).unwrap();
        near(flow, 0.8, 1e-12);
        near(twice, 0.133, 0.0005);
        near(pressure, 0.64, 1e-12);
    }
}
