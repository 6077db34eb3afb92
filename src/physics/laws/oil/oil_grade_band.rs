//! Turns an ISO grade into the viscosities it may have at 40 °C.

use super::oil_at_100::AT_40;
use crate::physics::law::{Law, OutOfRange, Output};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<1, 2> = Law {
    name: "oil_grade_band",
    formula: "ν = grade ± 10 %",
    inputs: [AT_40],
    outputs: [
        Output::new("least", Dimension::ViscosityKinematic, "mm2/s"),
        Output::new("most", Dimension::ViscosityKinematic, "mm2/s"),
    ],
    range: "new oil; grades 10, 15, 22, 32, 46, 68, 100, 150, 220, 320, 460, 680",
    source: "ISO 3448 (from memory)",
    compute: |[at_40]| Ok([0.9 * at_40, 1.1 * at_40]),
};

/// m²/s from m²/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn oil_grade_band(at_40: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([at_40])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::oil_grade_band;
    use crate::physics::laws::near;

    /// ISO 3448 (from memory): VG 46 is 41.4 to 50.6 mm²/s.
    #[test]
    fn worked_example() {
        let [least, most] = oil_grade_band(46e-6).unwrap();
        near(least, 41.4e-6, 1e-12);
        near(most, 50.6e-6, 1e-12);
    }
}
