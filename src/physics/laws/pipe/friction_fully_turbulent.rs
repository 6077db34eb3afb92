//! Turns the bore of a steel pipe into the friction factor of full turbulence that fittings are rated with.

use super::friction_colebrook;
use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::BORE;
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<1, 1> = Law {
    name: "friction_fully_turbulent",
    formula: "f_T: Colebrook at Re = 7.5e6·D, ε = 3.4126825e-5·D^-0.0112 (D in m)",
    inputs: [BORE.within(0.01, 1.0).meaningful(0.001, 10.0)],
    outputs: [Output::new("friction", Dimension::Number, "")],
    range: "clean commercial steel, 10 mm to 1 m",
    source: "Crane TP-410 (2009), reproduced as in `fluids` 1.3.1 (`ft_Crane`)",
    compute: |[bore]| {
        let roughness = 3.412_682_535_292_5e-5 * libm::pow(bore, -1.0112);
        friction_colebrook::LAW.anywhere([7.5e6 * bore, roughness]).map(|found| found.0)
    },
};

/// Darcy factor from metres.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn friction_fully_turbulent(bore: f64) -> Result<f64, OutOfRange> {
    LAW.one([bore])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::friction_fully_turbulent;
    use crate::physics::laws::{near, si};

    /// `fluids` 1.3.1, `ft_Crane`: 1 in 0.0223, 1½ in 0.0200, 3 in 0.0172, 4 in 0.0162, 6 in 0.0149 (schedule 40 bores); 0.1 m by exact Colebrook 0.016 288 425 431 2.
    #[test]
    fn worked_example() {
        for (inches, factor) in
            [(1.049, 0.0223), (1.610, 0.0200), (2.067, 0.0189), (3.068, 0.0172), (4.026, 0.0162), (6.065, 0.0149)]
        {
            near(friction_fully_turbulent(si(inches, "in")).unwrap(), factor, 0.000_06);
        }
        near(friction_fully_turbulent(0.1).unwrap(), 0.016_288_425_431_2, 1e-12);
    }
}
