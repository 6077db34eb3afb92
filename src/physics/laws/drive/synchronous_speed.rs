//! Turns frequency and poles into the synchronous speed of a motor.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::quantity::Dimension;

const FREQUENCY: Input = Input::new("frequency", "frequency of the supply", Dimension::Frequency, "Hz", (1.0, 400.0));
const POLES: Input = Input::new("poles", "poles of the motor", Dimension::Count, "", (2.0, 48.0))
    .whole()
    .strict()
    .advice("poles come in pairs: 2, 4, 6, 8");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "synchronous_speed",
    formula: "n_sync = 120·f/p rpm",
    inputs: [FREQUENCY, POLES],
    outputs: [Output::new("speed", Dimension::Speed, "rpm")],
    range: "induction and synchronous motors; with a drive, take the frequency it puts out",
    source: "definition",
    compute: |[frequency, poles]| {
        if 0.0 < poles % 2.0 {
            return Err(POLES.refused(poles, POLES.published(), "poles come in pairs: 2, 4, 6, 8"));
        }
        Ok([2.0 * frequency / poles])
    },
};

/// rev/s from Hz and a whole number.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn synchronous_speed(frequency: f64, poles: f64) -> Result<f64, OutOfRange> {
    LAW.one([frequency, poles])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::synchronous_speed;
    use crate::physics::laws::near;

    /// Definition: 4 poles at 60 Hz 1800 rpm; 8 poles at 50 Hz 750 rpm.
    #[test]
    fn worked_example() {
        near(synchronous_speed(60.0, 4.0).unwrap(), 30.0, 1e-12);
        near(synchronous_speed(50.0, 8.0).unwrap(), 12.5, 1e-12);
    }

    #[test]
    fn poles_come_in_pairs() {
        assert!(synchronous_speed(50.0, 3.0).unwrap_err().to_string().contains("pairs"));
    }
}
