//! Turns an oil's grade, index and temperature into its viscosity.

use super::d341;
use super::oil_at_100::{self, AT_40, INDEX};
use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::OIL_TEMPERATURE;
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<3, 1> = Law {
    name: "oil_of_grade",
    formula: "ASTM D341 through the grade at 40 °C and the viscosity at 100 °C that the index demands (ASTM D2270)",
    inputs: [AT_40, INDEX, OIL_TEMPERATURE],
    outputs: [Output::new("viscosity", Dimension::ViscosityKinematic, "mm2/s")],
    range: "ISO grades 5 to 2000, index 0 to 200; below -10 °C real oils are stiffer",
    source: "ISO 3448 (from memory), ASTM D2270 and D341",
    compute: |[at_40, index, kelvin]| {
        let [at_100] = oil_at_100::LAW.anywhere([at_40, index])?.0;
        let line = d341::line((at_40, 313.15), (at_100, 373.15))?;
        d341::viscosity(line, kelvin).map(|viscosity| [viscosity])
    },
};

/// m²/s from m²/s, a number and kelvin.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn oil_of_grade(at_40: f64, index: f64, temperature: f64) -> Result<f64, OutOfRange> {
    LAW.one([at_40, index, temperature])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::oil_of_grade;
    use crate::physics::laws::near;

    /// Index 95 (ASTM D2270 and D341): VG 22 191 mm²/s at 0 °C, VG 68 3011 at -10, VG 220 861 at 20; index 150, VG 46 400 at 0 °C.
    #[test]
    fn worked_example() {
        for (grade, index, celsius, viscosity) in [
            (22.0, 95.0, 0.0, 191.0),
            (68.0, 95.0, -10.0, 3011.0),
            (220.0, 95.0, 20.0, 861.0),
            (46.0, 150.0, 0.0, 400.0),
            (46.0, 150.0, 20.0, 116.0),
        ] {
            let found = oil_of_grade(grade * 1e-6, index, celsius + 273.15).unwrap();
            near(found, viscosity * 1e-6, 0.01 * viscosity * 1e-6);
        }
    }
}
