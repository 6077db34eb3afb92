//! Turns what is wrong with the liquid and with instruments into other properties and other readings.

use super::Onset::{AtOnce, Slow, WithWork};
use super::{Fault, add, fault, times};
use crate::physics::steady::Part;

/// Liquid, instruments, and a pump with nothing wrong.
pub const FAULTS: &[Fault] = &[
    fault("liquid_too_hot", "liquid hotter than this inlet allows", Slow, |works, bad| {
        // Water of 60 to 88 degC.
        let warmer = bad.even(40.0, 68.0);
        works.pump[Part::LiquidTemperature] = (works.pump[Part::LiquidTemperature] + warmer).min(368.0);
    }),
    fault("liquid_gassy", "liquid gives off gas or boils easily", AtOnce, |works, bad| {
        add(works, Part::Gas, bad.log(0.02, 0.12));
        times_vapour(works, bad.even(3.0, 20.0));
    }),
    fault("liquid_too_thick", "liquid thicker or colder than line and valves suit", WithWork, |works, bad| {
        times(works, Part::LiquidViscosity, bad.log(50.0, 1500.0));
        for chamber in &mut works.chambers {
            let lag = bad.even(1.5, 5.0);
            chamber.inlet.closing *= lag;
            chamber.outlet.closing *= lag;
        }
    }),
    fault("liquid_gritty", "grit in the liquid", Slow, |works, bad| {
        works.wear(bad.log(0.01, 0.15));
        times(works, Part::OrificeArea, bad.even(1.02, 1.25));
    }),
    fault("inlet_gauge_faulty", "inlet gauge or its line reads wrong", Slow, |works, bad| {
        works.misread.inlet_bias -= bad.even(10e3, 45e3);
    })
    .leaves("the pump itself"),
    fault("outlet_gauge_faulty", "outlet gauge strained or worn", AtOnce, |works, bad| {
        works.misread.outlet_bias -= bad.even(0.06, 0.4) * works.pump.design.pressure;
    })
    .leaves("the pump itself"),
    fault("snubber_plugged", "gauge snubber or its tube plugged", Slow, |works, bad| {
        works.misread.snubber = bad.log(3.0, 120.0);
        works.misread.outlet_stuck = 0.85 < bad.severity;
    })
    .leaves("the pump itself"),
    fault("flow_measure_wrong", "flow meter or bucket test wrong", WithWork, |works, bad| {
        works.misread.flow = bad.even(0.93, 0.7);
    })
    .leaves("the pump itself"),
    fault("oil_glass_misleading", "oil glass stained, blocked or read at the wrong time", Slow, |_, _| ())
        .leaves("everything but the look of the glass"),
    fault("normal_behaviour", "nothing wrong: normal behaviour that alarms people", WithWork, |_, _| ())
        .leaves("everything"),
];

/// Raises the vapour pressure of the liquid.
fn times_vapour(works: &mut crate::simulation::Works, by: f64) {
    works.pump.liquid.vapour = (works.pump.liquid.vapour * by).min(0.6 * works.pump[Part::Barometer]);
}
