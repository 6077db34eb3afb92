//! Turns velocity, bore and liquid into the Reynolds number.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{BORE, DENSITY, VELOCITY, VISCOSITY};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<4, 1> = Law {
    name: "reynolds",
    formula: "Re = ρ·v·D/µ; Re = 3160·gpm/(d_in·cSt) = 7740·v[ft/s]·d_in/cSt",
    inputs: [DENSITY, VELOCITY, BORE, VISCOSITY],
    outputs: [Output::new("reynolds", Dimension::Number, "")],
    range: "below 2000 laminar, above 4000 turbulent, between undetermined",
    source: "definition",
    compute: |[density, velocity, bore, viscosity]| Ok([density * velocity * bore / viscosity]),
};

/// A number from kg/m³, m/s, metres and Pa s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn reynolds(density: f64, velocity: f64, bore: f64, viscosity: f64) -> Result<f64, OutOfRange> {
    LAW.one([density, velocity, bore, viscosity])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::reynolds;
    use crate::physics::laws::{near, si};

    /// Cengel and Cimbala, example 8-3E (textbook companion): 126 400. The constants of the trade, 7740 and 3160.
    #[test]
    fn worked_example() {
        let velocity = 0.2 / (std::f64::consts::FRAC_PI_4 / 36.0);
        let viscosity = 7.536e-4 * 0.453_592_37 / 0.3048;
        let number = reynolds(si(62.36, "lb/ft3"), si(velocity, "ft/s"), si(2.0, "in"), viscosity).unwrap();
        near(number, 126_400.0, 100.0);
        near(reynolds(1000.0, si(1.0, "ft/s"), si(1.0, "in"), 1e-3).unwrap(), 7740.0, 5.0);
        let one_gpm = si(1.0, "US gpm") / (std::f64::consts::FRAC_PI_4 * si(1.0, "in") * si(1.0, "in"));
        near(reynolds(1000.0, one_gpm, si(1.0, "in"), 1e-3).unwrap(), 3160.0, 5.0);
    }
}
