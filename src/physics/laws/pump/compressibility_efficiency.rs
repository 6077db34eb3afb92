//! Turns pressure, clearance and compressibility into the volumetric efficiency.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::RISE;
use crate::quantity::Dimension;

const COMPRESSIBILITY: Input = Input::new(
    "compressibility",
    "share of volume lost per pressure",
    Dimension::Compressibility,
    "1/GPa",
    (1e-11, 5e-9),
)
.advice("water has 0.46 per GPa, mineral oil 0.5 to 0.7");
const CLEARANCE: Input = Input::new(
    "clearance",
    "volume left at the end of the stroke over the volume of the stroke (c/d)",
    Dimension::Number,
    "",
    (0.0, 50.0),
);
const SLIP: Input = Input::new("slip", "slip of the valves", Dimension::Ratio, "%", (0.0, 1.0));

/// The law as data.
pub static LAW: Law<4, 1> = Law {
    name: "compressibility_efficiency",
    formula: "η_v = 1 - Δp·β·(1 + c/d)/(1 - Δp·β) - S",
    inputs: [RISE, COMPRESSIBILITY, CLEARANCE, SLIP],
    outputs: [Output::new("efficiency", Dimension::Ratio, "%")],
    range: "Δp·β well below 1; 0 % where nothing is delivered; in an oil-backed chamber for the liquid and the oil, each with its own volume (oil 0.5 to 0.7 per GPa)",
    source: "HI and Pump Handbook form (from memory)",
    compute: |[rise, compressibility, clearance, slip]| {
        let squeezed = rise * compressibility;
        if 1.0 <= squeezed {
            return Err(RISE.refused(
                rise,
                (0.0, 1.0 / compressibility),
                "the liquid would be squeezed to nothing: check the compressibility and its unit",
            ));
        }
        Ok([(1.0 - squeezed * (1.0 + clearance) / (1.0 - squeezed) - slip).max(0.0)])
    },
};

/// A share from Pa, 1/Pa, clearance over displacement of a chamber, and a share.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn compressibility_efficiency(
    rise: f64,
    compressibility: f64,
    clearance: f64,
    slip: f64,
) -> Result<f64, OutOfRange> {
    LAW.one([rise, compressibility, clearance, slip])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{LAW, compressibility_efficiency};
    use crate::physics::laws::{near, si};

    /// Handbook example (from memory): 1785 psi, 2.967e-6 per psi (`CoolProp` 8.0.0, 60 °C, 123 bar), c 127.42 and d 35.343 in³,
    /// slip 2 %: 0.9555.
    #[test]
    fn worked_example() {
        let efficiency =
            compressibility_efficiency(si(1785.0, "psi"), si(2.967e-6, "1/psi"), 127.42 / 35.343, 0.02).unwrap();
        near(efficiency, 0.9555, 0.0002);
    }

    #[test]
    fn a_liquid_squeezed_to_nothing_is_refused() {
        assert_eq!(compressibility_efficiency(1e8, 1.1e-8, 1.0, 0.0).unwrap_err().input, "compressibility");
        assert!(LAW.anywhere([1e8, 1.1e-8, 1.0, 0.0]).unwrap_err().to_string().contains("squeezed"));
    }
}
