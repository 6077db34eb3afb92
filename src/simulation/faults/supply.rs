//! Turns what is wrong with tank, feed and site into less liquid, less pressure, or air at the inlet.

use super::Onset::{AtOnce, Slow, WithWork};
use super::{Fault, add, fault};
use crate::physics::steady::Part;

/// Supply, tank, site.
pub const FAULTS: &[Fault] = &[
    fault("tank_low", "supply tank or sump run low", Slow, |works, bad| {
        add(works, Part::Level, -bad.even(0.5, 1.5));
        // A whirl begins to draw air as the outlet is uncovered.
        add(works, Part::Gas, bad.severity * bad.severity * 0.08);
    }),
    fault("float_valve_stuck", "tank filling valve or float stuck, tank not refilled", AtOnce, |works, bad| {
        add(works, Part::Level, -bad.even(0.3, 1.5));
        add(works, Part::Gas, bad.severity * bad.severity * 0.06);
    }),
    fault("tank_vortex", "tank outlet too near the surface, whirl draws air", Slow, |works, bad| {
        add(works, Part::Gas, bad.log(0.01, 0.1));
    }),
    fault("tank_vent_blocked", "tank vent blocked or lid sealed", AtOnce, |works, bad| {
        add(works, Part::Level, -bad.even(1.0, 8.0));
    }),
    fault("tank_debris_over_outlet", "sludge, bag or leaves over the tank outlet", AtOnce, |works, bad| {
        add(works, Part::InletLosses, bad.log(60.0, 900.0));
    }),
    fault("return_stirs_air", "return or stirring whips air in near the tank outlet", WithWork, |works, bad| {
        add(works, Part::Gas, bad.log(0.01, 0.08));
    }),
    fault("feed_supply_short", "mains or booster feed cannot keep up", AtOnce, |works, bad| {
        works.pump[Part::Supply] = bad.even(0.95, 0.45);
    }),
    fault("inlet_supply_pressure_high", "inlet fed above its allowed pressure", AtOnce, |works, bad| {
        add(works, Part::Level, bad.even(20.0, 60.0));
    })
    .leaves("springs and seals that live shorter"),
    fault("level_fell_with_season", "pond, well or river level fell since it worked", Slow, |works, bad| {
        add(works, Part::Level, -bad.even(1.0, 7.5));
    }),
    fault("pump_set_too_high", "pump stands too high above the liquid", WithWork, |works, bad| {
        add(works, Part::Level, -bad.even(2.0, 8.0));
    }),
    fault("site_too_high", "site too high, or low air pressure, for this inlet", WithWork, |works, bad| {
        // 1,500 to 4,500 m above the sea: 84.6 to 57.8 kPa of 101.3 (standard atmosphere).
        let share = bad.even(0.835, 0.57);
        works.pump[Part::Barometer] *= share;
        works.sound[Part::Barometer] *= share;
    }),
];
