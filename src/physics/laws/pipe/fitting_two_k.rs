//! Turns a fitting's two constants into its loss coefficient.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{BORE, REYNOLDS};
use crate::quantity::Dimension;

const K_LAMINAR: Input = Input::new("k_laminar", "K1 of the fitting", Dimension::Number, "", (0.0, 1e4));
const K_TURBULENT: Input = Input::new("k_turbulent", "K_inf of the fitting", Dimension::Number, "", (0.0, 100.0));

/// The law as data.
pub static LAW: Law<4, 1> = Law {
    name: "fitting_two_k",
    formula: "K = K1/Re + K_inf·(1 + 1/D_in), D in inches",
    inputs: [REYNOLDS, BORE, K_LAMINAR, K_TURBULENT],
    outputs: [Output::new("losses", Dimension::Number, "")],
    range: "single fittings; globe valve K1 1500 and K_inf 4, threaded elbow 800 and 0.4 (from memory)",
    source: "Hooper 1981, 2-K method (as in `fluids` 1.3.1)",
    compute: |[reynolds, bore, laminar, turbulent]| Ok([laminar / reynolds + turbulent * (1.0 + 0.0254 / bore)]),
};

/// A number from numbers and metres.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn fitting_two_k(reynolds: f64, bore: f64, k_laminar: f64, k_turbulent: f64) -> Result<f64, OutOfRange> {
    LAW.one([reynolds, bore, k_laminar, k_turbulent])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::fitting_two_k;
    use crate::physics::laws::{near, si};

    /// `fluids` 1.3.1, `Hooper2K`: globe valve, 2 in, Re 1e4: 6.15; threaded elbow, 2.067 in, Re 1e5: 0.6015.
    #[test]
    fn worked_example() {
        near(fitting_two_k(1e4, si(2.0, "in"), 1500.0, 4.0).unwrap(), 6.15, 0.001);
        near(fitting_two_k(1e5, si(2.067, "in"), 800.0, 0.4).unwrap(), 0.6015, 0.0001);
    }
}
