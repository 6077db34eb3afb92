//! Turns stress area, proof stress and the share of it used into the preload of a bolt.

use crate::physics::law::{Input, Law, OutOfRange, Output};
use crate::physics::laws::inputs::AREA;
use crate::quantity::Dimension;

const SHARE_OF_PROOF: Input = Input::new("share", "share of the proof stress", Dimension::Ratio, "%", (0.1, 1.0))
    .advice("75 % for joints that are opened again");
const PROOF: Input = Input::new("proof", "proof stress of the bolt", Dimension::PressureDifference, "MPa", (1e8, 2e9))
    .advice("8.8 has 580 MPa, grade 5 has 85 000 psi");

/// The law as data.
pub static LAW: Law<3, 1> = Law {
    name: "bolt_preload",
    formula: "F = share·S_p·A_s",
    inputs: [SHARE_OF_PROOF, PROOF, AREA],
    outputs: [Output::new("preload", Dimension::Force, "kN")],
    range: "0.75 for joints that are opened again, 0.9 for permanent ones (from memory)",
    source: "VDI and Bickford (from memory)",
    compute: |[share, proof, area]| Ok([share * proof * area]),
};

/// N from a share, Pa and m².
///
/// # Errors
/// [`OutOfRange`] for an input outside its published range.
pub fn bolt_preload(share: f64, proof: f64, area: f64) -> Result<f64, OutOfRange> {
    LAW.one([share, proof, area])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::bolt_preload;
    use crate::physics::laws::{near, si};

    /// 75 % of proof, K 0.2 (derived): M8 8.8 25.5 N m, M10 50.5, M12 88.0, M16 218.1; 3/8-16 grade 5 30.9 lbf ft.
    #[test]
    fn worked_example() {
        for (diameter, pitch, torque) in [(8.0, 1.25, 25.5), (10.0, 1.5, 50.5), (12.0, 1.75, 88.0), (16.0, 2.0, 218.1)]
        {
            let area = crate::physics::laws::rebuild::stress_area_metric(diameter * 1e-3, pitch * 1e-3).unwrap();
            near(0.2 * diameter * 1e-3 * bolt_preload(0.75, 580e6, area).unwrap(), torque, 0.1);
        }
        let area = crate::physics::laws::rebuild::stress_area_inch(si(0.375, "in"), si(1.0 / 16.0, "in")).unwrap();
        let torque = 0.2 * si(0.375, "in") * bolt_preload(0.75, si(85_000.0, "psi"), area).unwrap();
        near(torque, si(30.9, "lbf ft"), si(0.1, "lbf ft"));
    }
}
