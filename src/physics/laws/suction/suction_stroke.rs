//! Turns one plunger's motion and its line into the head at the beginning, middle and end of the suction stroke.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::GRAVITY;
use crate::physics::laws::inputs::{BORE, FRICTION, LIFT, PIPE_LENGTH, PLUNGER, SPEED, STROKE};
use crate::quantity::Dimension;

/// The law as data.
pub static LAW: Law<7, 3> = Law {
    name: "suction_stroke",
    formula: "h_begin = lift + h_a, h_middle = lift + f·(L/d)·v²/(2g), h_end = lift - h_a; h_a = (L/g)·(D/d)²·ω²·r, v = (D/d)²·ω·r; below the atmosphere",
    inputs: [PLUNGER, STROKE, SPEED, PIPE_LENGTH, BORE, FRICTION, LIFT],
    outputs: [
        Output::new("begin", Dimension::Length, "m"),
        Output::new("middle", Dimension::Length, "m"),
        Output::new("end", Dimension::Length, "m"),
    ],
    range: "one single-acting cylinder without a rod or an air vessel, rigid column",
    source: "Sarkar, examples 9.4 and 9.5 (textbook companion)",
    compute: |[plunger, stroke, speed, length, bore, friction, lift]| {
        let areas = plunger * plunger / (bore * bore);
        let omega = std::f64::consts::TAU * speed;
        let acceleration = length / GRAVITY * areas * omega * omega * stroke / 2.0;
        let velocity = areas * omega * stroke / 2.0;
        let lost = friction * length / bore * velocity * velocity / (2.0 * GRAVITY);
        Ok([lift + acceleration, lift + lost, lift - acceleration])
    },
};

/// Metres of liquid below the atmosphere from metres and rev/s.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn suction_stroke(
    plunger: f64,
    stroke: f64,
    speed: f64,
    length: f64,
    bore: f64,
    friction: f64,
    lift: f64,
) -> Result<[f64; 3], OutOfRange> {
    LAW.at([plunger, stroke, speed, length, bore, friction, lift])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::suction_stroke;
    use crate::physics::laws::near;

    /// Sarkar, example 9.5, p. 194 (textbook companion): 8.369 and 2.709 m below, at the end 3.369 m above (g 9.81, Darcy f 0.04).
    #[test]
    fn worked_example() {
        let [begin, middle, end] = suction_stroke(0.1, 0.15, 75.0 / 60.0, 7.0, 0.075, 0.04, 2.5).unwrap();
        near(begin, 8.369, 0.005);
        near(middle, 2.709, 0.002);
        near(end, -3.369, 0.005);
    }
}
