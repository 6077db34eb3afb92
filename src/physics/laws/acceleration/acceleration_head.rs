//! Turns the suction line and the pump's speed into the head that accelerates the column.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::GRAVITY;
use crate::physics::laws::inputs::{PIPE_LENGTH, SPEED, VELOCITY};
use crate::quantity::Dimension;

const CONSTANT: Input =
    Input::new("constant", "acceleration-head constant of the pump, (min/rev)/s", Dimension::Number, "", (0.0, 0.5))
        .advice("0.4 for one cylinder, 0.066 for three; it is smaller for more");
/// 1.0 rigid column, 1.4 de-aerated water, 1.5 water, amine and glycol, 2.0 most hydrocarbons, 2.5 hot oil and ethane
/// (GPSA section 12 and HI, from memory).
const ELASTICITY: Input =
    Input::new("elasticity", "how much liquid and line give way (K)", Dimension::Number, "", (1.0, 2.5))
        .advice("1.4 de-aerated water, 1.5 water, 2 most hydrocarbons, 2.5 hot oil");

/// The law as data.
pub static LAW: Law<5, 1> = Law {
    name: "acceleration_head",
    formula: "h_a = L·V·n·C/(K·g), n in rpm; over pieces of several bores, L·V is summed",
    inputs: [
        PIPE_LENGTH
            .within(0.0, 15.0)
            .advice("longer lines need the travel time of the wave; count only the pipe up to a stabiliser"),
        VELOCITY,
        SPEED,
        CONSTANT,
        ELASTICITY,
    ],
    outputs: [Output::new("acceleration_head", Dimension::Length, "m")],
    range: "rigid lines up to about 15 m (50 ft); behind a working stabiliser count only the pipe to the pump",
    source: "HI 6.1-6.5 and GPSA section 12 (from memory); constants confirmed from the kinematics",
    compute: |[length, velocity, speed, constant, elasticity]| {
        Ok([length * velocity * 60.0 * speed * constant / (elasticity * GRAVITY)])
    },
};

/// Metres from metres, m/s, rev/s, and the pure numbers C and K.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn acceleration_head(
    length: f64,
    velocity: f64,
    speed: f64,
    constant: f64,
    elasticity: f64,
) -> Result<f64, OutOfRange> {
    LAW.one([length, velocity, speed, constant, elasticity])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::acceleration_head;
    use crate::physics::laws::near;

    /// Triplex, 3 m, 0.6 m/s, 500 rpm, K 1.5: 4.04 m (C 0.066), 3.35 m (0.0548), quintuplex 2.45 m, simplex 24.5 m (formula).
    #[test]
    fn worked_example() {
        for (constant, head) in [(0.066, 4.04), (0.0548, 3.35), (0.040, 2.45), (0.4, 24.5)] {
            near(acceleration_head(3.0, 0.6, 500.0 / 60.0, constant, 1.5).unwrap(), head, 0.03);
        }
    }
}
