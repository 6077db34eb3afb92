//! Turns what is wrong after the pump into other areas, openings, gas and air.

use super::Onset::{AtOnce, Slow, WithWork};
use super::{Fault, add, fault, times};
use crate::physics::steady::Part;

/// Outlet line, relief, damper.
pub const FAULTS: &[Fault] = &[
    fault("nozzle_worn", "nozzle or orifice worn larger", Slow, |works, bad| {
        times(works, Part::OrificeArea, bad.even(1.1, 1.7));
    }),
    fault("nozzle_too_large", "nozzle larger than the pump can feed", WithWork, |works, bad| {
        times(works, Part::OrificeArea, bad.even(1.15, 2.0));
    }),
    fault("too_many_outlets_open", "more outlets open than the pump can feed", WithWork, |works, bad| {
        times(works, Part::OrificeArea, bad.even(1.3, 3.0));
    }),
    fault("nozzle_plugged", "nozzle or its screen partly plugged", AtOnce, |works, bad| {
        times(works, Part::OrificeArea, bad.even(0.9, 0.25));
    }),
    fault("nozzle_too_small", "nozzle smaller than the duty asks", WithWork, |works, bad| {
        times(works, Part::OrificeArea, bad.even(0.92, 0.5));
    }),
    fault("outlet_hose_leaking", "outlet hose, pipe or joint leaks outside", AtOnce, |works, bad| {
        add(works, Part::OutsideArea, bad.log(0.03, 0.8));
    }),
    fault("relief_set_low", "relief or regulating valve set too low", WithWork, |works, bad| {
        times(works, Part::ReliefOpening, bad.even(0.85, 0.45));
    }),
    fault("relief_seat_worn", "relief seat worn or its spring weak", Slow, |works, bad| {
        times(works, Part::ReliefOpening, bad.even(0.95, 0.8));
        add(works, Part::BypassArea, bad.log(0.03, 0.5));
    }),
    fault("relief_dirt_on_seat", "dirt holds the relief off its seat", AtOnce, |works, bad| {
        add(works, Part::BypassArea, bad.log(0.05, 1.2));
    }),
    fault("relief_set_high", "relief set too high, plugged, missing or gagged", WithWork, |works, bad| {
        times(works, Part::ReliefOpening, bad.even(1.15, 2.0));
    }),
    fault("bypass_left_open", "bypass or drain valve left open", WithWork, |works, bad| {
        add(works, Part::BypassArea, bad.log(0.2, 5.0));
    }),
    fault("regulator_stuck_bypassing", "unloader or regulator stuck open to return", AtOnce, |works, bad| {
        add(works, Part::BypassArea, bad.log(0.4, 10.0));
    }),
    fault("outlet_valve_shut", "valve in the outlet line shut or nearly shut", WithWork, |works, bad| {
        add(works, Part::OutletLosses, bad.log(0.3, 200.0));
    }),
    fault("outlet_filter_clogged", "outlet filter clogged", Slow, |works, bad| {
        add(works, Part::OutletLosses, bad.log(0.1, 3.0));
    }),
    fault("outlet_line_choked", "outlet line scaled, kinked or too small", Slow, |works, bad| {
        add(works, Part::OutletLosses, bad.log(0.1, 3.0));
    }),
    fault("outlet_air_pocket", "air trapped in the outlet line or head", WithWork, |works, bad| {
        works.outlet.air += bad.log(0.2e-3, 5e-3);
    }),
    fault("damper_gas_lost", "damper has lost its gas or bladder", Slow, |works, bad| {
        times(works, Part::DamperVolume, bad.even(0.25, 0.0));
    }),
    fault("damper_charge_wrong", "damper charged to the wrong pressure", WithWork, |works, bad| {
        times(works, Part::DamperCharge, bad.even(1.6, 2.2));
    }),
];
