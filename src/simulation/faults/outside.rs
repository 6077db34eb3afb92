//! Turns faults that are on no list of known causes into a spoilt pump: what a diagnosis must answer with "something else".

use super::Onset::{AtOnce, Slow, WithWork};
use super::{Fault, add, fault, times};
use crate::physics::steady::Part;

/// On no list.
pub const FAULTS: &[Fault] = &[
    fault("outside_damper_neck_plugged", "neck between line and damper choked by a deposit", Slow, |works, bad| {
        works.outlet.neck = bad.log(3e-9, 2e-11);
    })
    .outside(),
    fault("outside_follower_worn", "follower of one piston worn flat: its stroke is short", Slow, |works, bad| {
        if let Some(chamber) = works.chambers.get_mut(bad.chamber) {
            let lost = bad.even(0.05, 0.35) * chamber.swept;
            chamber.swept -= lost;
            // The stroke is short at its front: what is not swept stays in the chamber.
            chamber.clearance += lost;
        }
    })
    .outside(),
    fault(
        "outside_relief_does_not_reseat",
        "relief lifted once and does not come back to its seat",
        AtOnce,
        |works, bad| {
            works.outlet.hangs = bad.even(0.85, 0.3);
            times(works, Part::ReliefOpening, 0.85);
        },
    )
    .outside(),
    fault("outside_manifold_web_cracked", "crack in the web between outlet and inlet passage", AtOnce, |works, bad| {
        add(works, Part::BypassArea, bad.log(0.05, 1.0));
        works.inlet.returned = 1.0;
    })
    .outside(),
    fault("outside_tank_heater_stuck_on", "heater of the supply tank does not switch off", AtOnce, |works, bad| {
        works.pump[Part::LiquidTemperature] = (works.pump[Part::LiquidTemperature] + bad.even(35.0, 68.0)).min(368.0);
    })
    .outside(),
    fault("outside_motor_shares_load", "a second machine on the same motor takes its power", WithWork, |works, bad| {
        times(works, Part::MotorSlip, bad.even(1.5, 4.0));
        times(works, Part::ExtraCurrent, bad.even(1.1, 1.4));
    })
    .outside(),
    fault("outside_outlet_hose_too_soft", "outlet hose replaced by one that swells", WithWork, |works, bad| {
        works.outlet.hose += bad.log(2e-11, 1e-9);
    })
    .leaves("a hose that moves")
    .outside(),
    fault(
        "outside_inlet_pulsed_by_neighbour",
        "a hammering consumer shakes the shared feed and pulls it down",
        AtOnce,
        |works, bad| {
            works.pump[Part::Supply] = bad.even(0.98, 0.8);
            works.inlet.compliance *= 0.3;
        },
    )
    .outside(),
];
