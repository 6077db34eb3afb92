//! Turns Saybolt universal seconds into kinematic viscosity.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const SECONDS: Input = Input::new("seconds", "Saybolt universal seconds", Dimension::Time, "s", (32.0, 1e5))
    .strict()
    .advice("the scale begins at 32 s");

/// The law as data.
pub static LAW: Law<1, 1> = Law {
    name: "saybolt_to_viscosity",
    formula: "ν = 0.226·t - 195/t to 100 s, 0.220·t - 135/t above, mm2/s",
    inputs: [SECONDS],
    outputs: [Output::new("viscosity", Dimension::ViscosityKinematic, "mm2/s")],
    range: "32 s and above",
    source: "Esposito, example 2.12 (textbook companion)",
    compute: |[seconds]| {
        let (slope, fall) = if seconds <= 100.0 { (0.226, 195.0) } else { (0.220, 135.0) };
        Ok([1e-6 * (slope * seconds - fall / seconds)])
    },
};

/// m²/s from seconds.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn saybolt_to_viscosity(seconds: f64) -> Result<f64, OutOfRange> {
    LAW.one([seconds])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::saybolt_to_viscosity;
    use crate::physics::laws::near;

    /// Esposito, example 2.12, p. 62 (textbook companion): 230 s are 50.0 mm²/s.
    #[test]
    fn worked_example() {
        near(saybolt_to_viscosity(230.0).unwrap(), 50.0e-6, 0.1e-6);
    }
}
