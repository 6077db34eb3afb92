//! Turns what is wrong with the inlet line into losses, inertia and drawn air.

use super::Onset::{AtOnce, Slow, WithWork};
use super::{Bad, Fault, add, fault, times};
use crate::physics::steady::Part;
use crate::simulation::works::Works;

/// A joint that draws air: from a hiss to a tenth of the stream at some 10 kPa of vacuum.
fn draws_air(works: &mut Works, bad: Bad) {
    works.inlet.draws_air += bad.log(4e-8, 4e-7);
}

/// Inlet line and pump inlet.
pub const FAULTS: &[Fault] = &[
    fault("inlet_isolating_valve_part_shut", "valve in the inlet line not fully open", WithWork, |works, bad| {
        add(works, Part::InletLosses, bad.log(80.0, 1000.0));
    }),
    fault("strainer_clogged", "inlet strainer or filter element clogged", Slow, |works, bad| {
        times(works, Part::StrainerLosses, bad.log(8.0, 125.0));
    }),
    fault("strainer_too_fine", "strainer element too fine or too small for the flow", WithWork, |works, bad| {
        times(works, Part::StrainerLosses, bad.log(5.0, 60.0));
    }),
    fault("foot_valve_blocked", "foot valve stuck or its screen covered", AtOnce, |works, bad| {
        add(works, Part::InletLosses, bad.log(100.0, 1000.0));
    }),
    fault("inlet_hose_collapses", "inlet hose soft, sucks flat", Slow, |works, bad| {
        add(works, Part::InletLosses, bad.log(20.0, 80.0));
        works.inlet.sucks_flat += bad.log(10.0, 400.0);
    }),
    fault("inlet_hose_kinked", "inlet hose kinked or crushed", AtOnce, |works, bad| {
        add(works, Part::InletLosses, bad.log(60.0, 900.0));
    }),
    fault("inlet_lining_flap", "hose lining loose, flaps across the bore", AtOnce, |works, bad| {
        add(works, Part::InletLosses, bad.log(100.0, 950.0));
        works.inlet.sucks_flat += bad.even(0.5, 3.0);
    }),
    fault("inlet_deposit", "scale, crystals or slime inside the inlet line", Slow, |works, bad| {
        times(works, Part::InletBore, bad.even(0.8, 0.37));
    }),
    fault("inlet_port_blocked", "plug, rag, tape or gasket left in the inlet port", WithWork, |works, bad| {
        add(works, Part::InletLosses, bad.log(200.0, 1100.0));
    }),
    fault("inlet_line_too_long", "inlet line long and stiff, many bends", WithWork, |works, bad| {
        add(works, Part::InletLength, bad.even(4.0, 25.0));
        add(works, Part::InletLosses, bad.even(4.0, 20.0));
        times(works, Part::LineElasticity, 0.8);
    }),
    fault("inlet_line_undersized", "inlet pipe, fitting or valve too small", WithWork, |works, bad| {
        times(works, Part::InletBore, bad.even(0.75, 0.42));
    }),
    fault("inlet_joint_draws_air", "inlet joint, clamp or thread draws air", Slow, draws_air).by_vacuum(),
    fault("strainer_lid_draws_air", "strainer lid or bowl seal draws air", WithWork, draws_air).by_vacuum(),
    fault("inlet_stem_draws_air", "inlet valve stem or drain cock draws air", Slow, draws_air).by_vacuum(),
    fault("manifold_seal_draws_air", "inlet manifold or inlet valve cover seal draws air", WithWork, draws_air)
        .by_vacuum(),
    fault("inlet_stabiliser_flat", "inlet stabiliser lost its gas or is waterlogged", Slow, |works, bad| {
        works.inlet.compliance *= bad.even(0.5, 0.1);
    }),
    fault("not_primed_after_work", "air left in line and chambers after work", WithWork, |works, bad| {
        works.outlet.air += bad.log(50e-6, 500e-6);
        add(works, Part::Gas, bad.log(0.02, 0.15));
    }),
    fault("return_piped_to_inlet", "bypass led straight back to the pump inlet", WithWork, |works, bad| {
        works.inlet.returned = 1.0;
        add(works, Part::BypassArea, bad.even(0.05, 0.3));
        // What is throttled comes back warm: 70 bar over water is some 1.7 K each time round.
        add(works, Part::LiquidTemperature, bad.even(5.0, 35.0));
    }),
];
