//! Turns the working pressure into the lowest pressure a relief valve may crack at.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const WORKING: Input = Input::new("working", "working pressure", Dimension::GaugePressure, "bar", (1e4, 1e8));
const SET: Input =
    Input::new("set", "cracking pressure of the relief valve", Dimension::GaugePressure, "bar", (1e4, 1.5e8));

/// The law as data.
pub static LAW: Law<2, 3> = Law {
    name: "relief_margin",
    formula: "p_set = p_work·(1 + margin); margin 10 % for triplex and above, 25 % for duplex double-acting",
    inputs: [WORKING, SET],
    outputs: [
        Output::new("margin", Dimension::Ratio, "%"),
        Output::new("least_triplex", Dimension::GaugePressure, "bar"),
        Output::new("least_duplex", Dimension::GaugePressure, "bar"),
    ],
    range: "power pumps; the valve must pass the full flow of the pump; never above the weakest part",
    source: "Pump Handbook, power-pump section (guide values)",
    compute: |[working, set]| {
        if set <= working {
            return Err(SET.refused(
                set,
                (1.1 * working, 1e8),
                "it would be open at work: set it above the working pressure",
            ));
        }
        Ok([set / working - 1.0, 1.1 * working, 1.25 * working])
    },
};

/// The margin as a share and the two guide pressures in Pa from Pa.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn relief_margin(working: f64, set: f64) -> Result<[f64; 3], OutOfRange> {
    LAW.at([working, set])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::relief_margin;
    use crate::physics::laws::near;

    /// Pump Handbook, power-pump section: 10 % for triplex and above, 25 % for duplex double-acting.
    #[test]
    fn worked_example() {
        let [margin, triplex, duplex] = relief_margin(100e5, 112e5).unwrap();
        near(margin, 0.12, 1e-12);
        near(triplex, 110e5, 1e-3);
        near(duplex, 125e5, 1e-3);
    }

    #[test]
    fn a_relief_below_the_working_pressure_is_refused() {
        assert!(relief_margin(100e5, 90e5).unwrap_err().to_string().contains("open at work"));
    }
}
