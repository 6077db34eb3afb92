//! Turns the number of chambers and how far apart two dead ones are into their signature.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::CHAMBERS;
use crate::quantity::Dimension;

const THREE_CHAMBERS: Input = CHAMBERS.within(3.0, 10.0).strict().advice("with two chambers nothing is left; 3 to 10");
const APART: Input =
    Input::new("apart", "places between the two dead chambers, neighbours 1", Dimension::Count, "", (1.0, 9.0))
        .whole()
        .strict();

/// The law as data.
pub static LAW: Law<2, 2> = Law {
    name: "two_dead_chambers",
    formula: "mean = (N - 2)/N, once a turn = π/(2N)·2·|cos(π·j/N)|, j chambers apart",
    inputs: [THREE_CHAMBERS, APART],
    outputs: [Output::new("flow", Dimension::Ratio, "%"), Output::new("once_a_turn", Dimension::Ratio, "%")],
    range: "without connecting rods; opposite ones in an even pump cancel once a turn and show twice a turn",
    source: "derived: two half sines are missing",
    compute: |[chambers, apart]| {
        if chambers - 1.0 < apart {
            return Err(APART.refused(
                apart,
                (1.0, chambers - 1.0),
                "there are not so many chambers; neighbours are 1 apart",
            ));
        }
        let both = 2.0 * libm::cos(std::f64::consts::PI * apart / chambers).abs();
        Ok([(chambers - 2.0) / chambers, std::f64::consts::PI / (2.0 * chambers) * both])
    },
};

/// Mean flow and amplitude once a turn over the healthy mean flow, from whole numbers.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn two_dead_chambers(chambers: f64, apart: f64) -> Result<[f64; 2], OutOfRange> {
    LAW.at([chambers, apart])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::two_dead_chambers;
    use crate::physics::laws::near;

    /// Derived: in a pump of four, opposite dead chambers cancel once a turn, neighbours give 55.5 %.
    #[test]
    fn worked_example() {
        near(two_dead_chambers(4.0, 2.0).unwrap()[1], 0.0, 1e-12);
        near(two_dead_chambers(4.0, 1.0).unwrap()[1], 0.555, 0.0005);
        near(two_dead_chambers(4.0, 1.0).unwrap()[0], 0.5, 1e-12);
    }
}
