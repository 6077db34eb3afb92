//! Turns the kind of pump into the acceleration-head constant of the tables.

use crate::physics::law::{Law, OutOfRange, Output};
use crate::physics::laws::inputs::{CRANKS, SIDES};
use crate::quantity::Dimension;

/// Cranks, sides and constant.
const TABLE: [(f64, f64, f64); 8] = [
    (1.0, 1.0, 0.4),
    (1.0, 2.0, 0.2),
    (2.0, 1.0, 0.2),
    (2.0, 2.0, 0.115),
    (3.0, 1.0, 0.066),
    (5.0, 1.0, 0.040),
    (7.0, 1.0, 0.028),
    (9.0, 1.0, 0.022),
];

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "acceleration_constant_tabled",
    formula: "C from the table: 1 cylinder 0.4, 2 0.2, 3 0.066, 5 0.040, 7 0.028, 9 0.022; double-acting 1 0.2, 2 0.115",
    inputs: [CRANKS, SIDES],
    outputs: [Output::new("constant", Dimension::Number, "")],
    range: "pumps with connecting rods; where the table is silent, work it out from the kinematics",
    source: "HI 6.1-6.5 and GPSA section 12 (from memory)",
    compute: |[cranks, sides]| {
        let row = TABLE.iter().find(|row| (row.0 - cranks).abs() < 0.5 && (row.1 - sides).abs() < 0.5);
        row.map(|row| [row.2]).ok_or_else(|| {
            CRANKS.refused(cranks, (1.0, 9.0), "no table holds this pump; take acceleration_constant_rods")
        })
    },
};

/// (min/rev)/s from whole numbers.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn acceleration_constant_tabled(cranks: f64, sides: f64) -> Result<f64, OutOfRange> {
    LAW.one([cranks, sides])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::acceleration_constant_tabled;
    use crate::physics::laws::near;

    /// HI 6.1-6.5 and GPSA section 12 (from memory).
    #[test]
    fn worked_example() {
        near(acceleration_constant_tabled(3.0, 1.0).unwrap(), 0.066, 1e-12);
        near(acceleration_constant_tabled(2.0, 2.0).unwrap(), 0.115, 1e-12);
    }

    /// Rods of five crank radii reproduce every tabled constant within 2 %.
    #[test]
    fn the_kinematics_confirm_the_table() {
        for (cranks, sides, tabled) in super::TABLE {
            let derived = crate::physics::laws::acceleration::acceleration_constant_rods(cranks, sides, 5.0).unwrap();
            near(derived, tabled, 0.02 * tabled);
        }
    }

    #[test]
    fn a_pump_in_no_table_is_refused() {
        let error = acceleration_constant_tabled(4.0, 1.0).unwrap_err().to_string();
        assert!(error.contains("acceleration_constant_rods"), "{error}");
    }
}
