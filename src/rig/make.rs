//! Turns a seed into a pump of usual size: what somebody may stand in front of.

use crate::physics::OutOfRange;
use crate::physics::sheet::{Field, Known, PumpSheet, build};
use crate::physics::steady::{Design, Liquid, Pump};
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

/// Share by which a chamber sweeps more than it delivers: slip and compression of a usual pump.
const SWEPT: f64 = 1.03;

/// A sound pump: three chambers or five, 20 to 45 L/min at 40 to 100 bar, 380 to 560 rpm, level from 2 m below to 1 m
/// above the inlet, water of 8 to 28 °C, three in four with a damper. All assumed; common practice, no source. What goes with
/// that, from motor and relief to nozzle and inlet line, is sized as for a pump of which a sheet tells no more.
///
/// # Errors
/// [`OutOfRange`] never for these numbers.
pub fn made(seed: u64) -> Result<Pump, OutOfRange> {
    let mut chance = Chance::of(seed, &["made"]);
    let mut between = |low: f64, high: f64| low + (high - low) * chance.even();
    let chambers = if between(0.0, 1.0) < 0.75 { 3 } else { 5 };
    let flow = between(20.0, 45.0) / 60e3;
    let pressure = (between(4.0, 10.0) * 2.0).round() / 2.0 * 1e6;
    let turns = between(380.0, 560.0) / 60.0;
    let temperature = 273.15 + between(8.0, 28.0);
    let level = between(-2.0, 1.0);
    let damper = between(0.0, 1.0) < 0.75;
    let sheet = PumpSheet { chambers: Some(chambers), damper: Some(damper), ..PumpSheet::default() };
    let sheet = [
        (Field::DisplacementPerTurn, SWEPT * flow / turns),
        (Field::PumpSpeed, turns),
        (Field::WorkingPressure, pressure),
        (Field::LevelOverInlet, level),
        (Field::LiquidTemperature, temperature),
    ]
    .into_iter()
    .fold(sheet, |sheet, (field, value)| sheet.with(field, value, Known::Measured));
    let usual = || Ok(Pump::usual(chambers, Design { flow, pressure, speed: turns }, Liquid::water(temperature)?));
    build(&sheet)?.map_or_else(usual, |built| Ok(built.pump))
}
