//! Turns a seed into a pump of usual size: what somebody may stand in front of.

use crate::physics::OutOfRange;
use crate::physics::steady::{Design, Liquid, Part, Pump};
use crate::simulation::Chance;
use crate::simulation::person::Sound;
use std::rc::Rc;

/// The sound pump of a seed, to be stood at many times.
///
/// # Errors
/// As [`made`].
pub fn sound(seed: u64) -> Result<Rc<Sound>, OutOfRange> {
    made(seed).map(|pump| Rc::new(Sound::of(&pump)))
}

/// A sound pump: three chambers or five, 20 to 45 L/min at 40 to 100 bar, 380 to 560 rpm, level from 2 m below to 1 m
/// above the inlet, water of 8 to 28 °C, three in four with a damper. All assumed; common practice, no source.
///
/// # Errors
/// [`OutOfRange`] never for these numbers.
pub fn made(seed: u64) -> Result<Pump, OutOfRange> {
    let mut chance = Chance::of(seed, &["made"]);
    let mut between = |low: f64, high: f64| low + (high - low) * chance.even();
    let chambers = if between(0.0, 1.0) < 0.75 { 3 } else { 5 };
    let design = Design {
        flow: between(20.0, 45.0) / 60e3,
        pressure: (between(4.0, 10.0) * 2.0).round() / 2.0 * 1e6,
        speed: between(380.0, 560.0) / 60.0,
    };
    let liquid = Liquid::water(273.15 + between(8.0, 28.0))?;
    let level = between(-2.0, 1.0);
    let damper = if between(0.0, 1.0) < 0.75 { 0.8 * design.flow } else { 0.0 };
    let pump = Pump::usual(chambers, design, liquid).with(Part::Level, level).with(Part::DamperVolume, damper);
    Ok(pump.with(Part::LiquidTemperature, liquid.at))
}
