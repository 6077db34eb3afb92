//! Turns what is wrong with belts, motor and bearings into other speeds, friction and current.

use super::Onset::{AtOnce, Slow, WithWork};
use super::{Fault, add, fault, times};
use crate::physics::steady::Part;

/// Drive, bearings, fits of the drive at a rebuild.
pub const FAULTS: &[Fault] = &[
    fault("belt_not_retensioned", "belt slack: not retensioned after run-in", Slow, |works, bad| {
        add(works, Part::BeltSlip, bad.log(0.02, 0.3));
    }),
    fault("belt_wet_or_oily", "oil or water on the belt", AtOnce, |works, bad| {
        add(works, Part::BeltSlip, bad.log(0.03, 0.4));
    }),
    fault("belt_set_worn_out", "belt set left on past its life", Slow, |works, bad| {
        add(works, Part::BeltSlip, bad.log(0.02, 0.15));
    }),
    fault("belt_too_tight", "belt tightened too hard", WithWork, |works, bad| {
        times(works, Part::Friction, bad.even(1.05, 1.3));
    })
    .leaves("bearings that run hot and short-lived"),
    fault("sheave_ratio_slow", "wrong sheaves: pump driven too slow", WithWork, |works, bad| {
        times(works, Part::SpeedRatio, bad.even(0.95, 0.7));
    }),
    fault("sheave_ratio_fast", "wrong sheaves: pump driven too fast", WithWork, |works, bad| {
        times(works, Part::SpeedRatio, bad.even(1.08, 1.4));
    }),
    fault("speed_set_low", "drive speed set too low", WithWork, |works, bad| {
        times(works, Part::MotorSynchronous, bad.even(0.95, 0.6));
    }),
    fault("speed_set_high", "drive speed set too high", WithWork, |works, bad| {
        times(works, Part::MotorSynchronous, bad.even(1.05, 1.3));
    }),
    fault("supply_voltage_low", "supply voltage low under load", AtOnce, |works, bad| {
        // Slip grows with the square of the voltage lost, current with the voltage: 8 to 25 % low.
        let low = bad.even(0.92, 0.75);
        times(works, Part::MotorSlip, 1.0 / (low * low));
        times(works, Part::ExtraCurrent, 1.0 / low);
    }),
    fault("phase_lost", "one motor phase lost or weak", AtOnce, |works, bad| {
        times(works, Part::MotorSlip, bad.even(1.5, 3.0));
        times(works, Part::ExtraCurrent, bad.even(1.3, 1.8));
    })
    .leaves("the hum of the motor, a motor that does not start"),
    fault("bearing_hours_over", "shaft end bearings past their working hours", Slow, |works, bad| {
        times(works, Part::Friction, bad.even(1.0, 1.6));
    })
    .leaves("noise and heat at one shaft end"),
    fault("coupling_out_of_line", "coupling not in line", WithWork, |_, _| ())
        .leaves("vibration, heat at coupling and shaft end"),
    fault("sheaves_out_of_line", "sheaves not in line", WithWork, |works, bad| {
        add(works, Part::BeltSlip, bad.even(0.0, 0.03));
    })
    .leaves("belts that wear at one edge"),
    fault("base_bolts_loose", "foot bolts loose or foot not flat", Slow, |_, _| ()).leaves("vibration only"),
    fault("shaft_seal_aged", "shaft seal past its life: hard, worn or packed with dirt", Slow, |_, _| ())
        .leaves("oil drips only"),
    fault("end_play_too_small", "shaft end play set too small", WithWork, |works, bad| {
        times(works, Part::Friction, bad.even(1.3, 3.0));
        works.heat += bad.even(20.0, 200.0);
    })
    .leaves("heat at one shaft end"),
    fault("end_play_too_large", "shaft end play set too large", WithWork, |_, _| ()).leaves("knock and play only"),
];
