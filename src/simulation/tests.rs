//! Checks the time-domain pump.
#![allow(clippy::unwrap_used)]
use super::*;
use crate::physics::steady::{Design, Liquid, Output, Part, Pump, State, Steady};

/// The reference pump: assumed, of usual size. 3 chambers, 30 L/min at 70 bar, 500 rpm, damper of 0.4 L.
fn reference() -> Pump {
    let design = Design { flow: 0.5e-3, pressure: 7e6, speed: 500.0 / 60.0 };
    Pump::usual(3, design, Liquid::water(293.15).unwrap()).with(Part::DamperVolume, 0.4e-3)
}

#[test]
fn look_at_faults() {
    let sound = reference();
    let healthy = settle(&Works::of(&sound, &sound), State::default(), Detail::Settled).unwrap();
    for fault in faults::all() {
        for severity in [0.0, 0.5, 1.0] {
        let works = faults::put(&sound, &[fault.at(severity)]);
        let start = std::time::Instant::now();
        let s = settle(&works, State::default(), Detail::Settled).unwrap();
        let took = start.elapsed().as_secs_f64();
        let r = |o| s.of(o);
        println!("{:32} {severity} Q {:5.2} p {:5.1} pin {:6.1} sw_in {:5.0} sw {:5.2} 1x {:5.3} Nx {:5.3} n {:5.1} I {:5.2} T {:5.1} byp {:5.2} vap {:.2} cav {:.2} gas {:.3} nu {:.0} each {:.2?} {:.0}x rough {:.3} sim {:.1}", fault.id, r(Output::DeliveredFlow)*6e4, r(Output::OutletPressure)/1e5, r(Output::InletPressure)/1e3, r(Output::InletSwing)/1e3, r(Output::OutletSwing)/1e5, r(Output::OncePerTurn), r(Output::RippleAtN), r(Output::PumpSpeed)*60., r(Output::MotorCurrent), r(Output::OilTemperature)-273.15, s.bypass*6e4, s.vapour, s.cavity, s.gas, s.oil_viscosity*1e6, s.each, s.simulated/took, s.rough, s.simulated);
        }
    }
    println!("{healthy:?}");
}
