//! Turns the NPSH available and required into the margin and whether the usual reserve is kept.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::REQUIRED;
use crate::quantity::Dimension;

const AVAILABLE: Input = Input::new("available", "NPSH available", Dimension::Length, "m", (-50.0, 500.0));

/// The law as data.
pub static LAW: Law<2, 2> = Law {
    name: "npsh_margin",
    formula: "margin = NPSHA - NPSHR; reserve = NPSHA - 1.1·NPSHR",
    inputs: [AVAILABLE, REQUIRED],
    outputs: [Output::new("margin", Dimension::Length, "m"), Output::new("reserve", Dimension::Length, "m")],
    range: "NPSHR is taken at 3 % loss of capacity; a reserve below nothing breaks the 10 % rule",
    source: "API 674, 3rd ed., and HI 6.1-6.5 (from memory)",
    compute: |[available, required]| Ok([available - required, available - 1.1 * required]),
};

/// Metres of margin, and of reserve above 110 % of what is required.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn npsh_margin(available: f64, required: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([available, required])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::npsh_margin;
    use crate::physics::laws::near;

    /// Arithmetic on the rule: 8 m available against 5 m required leave 3 m, and 2.5 m above the 10 % rule.
    #[test]
    fn worked_example() {
        let [margin, reserve] = npsh_margin(8.0, 5.0).unwrap();
        near(margin, 3.0, 1e-12);
        near(reserve, 2.5, 1e-12);
    }
}
