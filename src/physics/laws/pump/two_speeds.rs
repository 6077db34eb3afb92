//! Turns the flows at two speeds into what a turn moves and what leaks away.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::{FLOW, SPEED};
use crate::quantity::Dimension;

const SPEED_1: Input = SPEED.named("speed_1", "first speed").within(0.1, 50.0);
const SPEED_2: Input = SPEED.named("speed_2", "second speed").within(0.1, 50.0);
const FLOW_1: Input = FLOW.named("flow_1", "flow at the first speed");
const FLOW_2: Input = FLOW.named("flow_2", "flow at the second speed");

/// The law as data.
pub static LAW: Law<4, 2> = Law {
    name: "two_speeds",
    formula: "d = (Q2 - Q1)/(n2 - n1), q = d·n1 - Q1",
    inputs: [SPEED_1, FLOW_1, SPEED_2, FLOW_2],
    outputs: [Output::new("per_turn", Dimension::Volume, "mL"), Output::new("leak", Dimension::Flow, "L/min")],
    range: "same pressure and inlet at both speeds; a leak loses the same L/min at both, starvation loses more at the higher",
    source: "derived: a leak does not depend on speed",
    compute: |[speed_1, flow_1, speed_2, flow_2]| {
        if (speed_2 - speed_1).abs() < 0.05 * speed_1.max(speed_2) {
            return Err(SPEED_2.refused(speed_2, SPEED_2.published(), "the two speeds must be at least 5 % apart"));
        }
        let per_turn = (flow_2 - flow_1) / (speed_2 - speed_1);
        Ok([per_turn, per_turn * speed_1 - flow_1])
    },
};

/// m³ a turn and m³/s from rev/s and m³/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn two_speeds(speed_1: f64, flow_1: f64, speed_2: f64, flow_2: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([speed_1, flow_1, speed_2, flow_2])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::two_speeds;
    use crate::physics::laws::near;

    /// Arithmetic: 0.1 L a turn and 5 L/min lost give 45 L/min at 500 rpm and 95 at 1000.
    #[test]
    fn worked_example() {
        let [per_turn, leak] = two_speeds(500.0 / 60.0, 45e-3 / 60.0, 1000.0 / 60.0, 95e-3 / 60.0).unwrap();
        near(per_turn, 0.1e-3, 1e-12);
        near(leak, 5e-3 / 60.0, 1e-12);
    }

    #[test]
    fn one_speed_twice_is_refused() {
        assert_eq!(two_speeds(10.0, 1e-3, 10.1, 1e-3).unwrap_err().input, "speed_2");
    }
}
