//! Turns ideal flow and volumetric efficiency into the flow delivered.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::DISPLACEMENT;
use crate::quantity::Dimension;

const EFFICIENCY: Input = Input::new("efficiency", "volumetric efficiency", Dimension::Ratio, "%", (0.0, 1.0))
    .advice("0 to 100 %; a sound pump has 90 to 98 %");

/// The law as data.
pub static LAW: Law<2, 1> = Law {
    name: "delivered_flow",
    formula: "Q = Q_th·η_v",
    inputs: [DISPLACEMENT, EFFICIENCY],
    outputs: [Output::new("flow", Dimension::Flow, "L/min")],
    range: "any displacement pump",
    source: "definition",
    compute: |[displacement, efficiency]| Ok([displacement * efficiency]),
};

/// m³/s from m³/s and a share.
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn delivered_flow(displacement: f64, efficiency: f64) -> Result<f64, OutOfRange> {
    LAW.one([displacement, efficiency])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::delivered_flow;
    use crate::physics::laws::near;

    /// Arithmetic: 73.44 gpm at 99.4 % are 73 gpm (GPSA-type example).
    #[test]
    fn worked_example() {
        near(delivered_flow(0.004_633_3, 0.994).unwrap(), 0.004_605_5, 1e-6);
    }
}
