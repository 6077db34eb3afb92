//! Turns motor, belt and load into speeds, current and the warmth of the oil.

use super::part::Part;
use super::pump::Pump;
use crate::physics::law::OutOfRange;
use crate::physics::laws::drive::{motor_speed, sheave_speed};
use crate::physics::laws::oil::d341;
use crate::physics::laws::pump::shaft_power;

/// Share of the motor's power that reaches the pump's shaft over a belt (from memory, 0.95 to 0.97).
const BELT_EFFICIENCY: f64 = 0.96;
/// Viscosity at which the friction of the oil is given, m²/s.
const OIL_AT: f64 = 50e-6;
/// Oil friction grows with this power of the viscosity (assumed).
const OIL_POWER: f64 = 0.6;
/// Viscosity, m²/s, and speed, rev/s, at which thick oil begins to follow the stroke too late (assumed).
const TOO_THICK: (f64, f64) = (2000e-6, 500.0 / 60.0);
/// Most of the stroke that thick oil can cost (assumed).
const THICK_LOSS: f64 = 0.6;
/// Share of the leak's power, and of the liquid's warmth, that reaches the oil (assumed).
const WARMED: (f64, f64) = (0.1, 0.15);
/// The point at which oils are graded, K.
const GRADED_AT: f64 = 313.15;

/// Speeds at a load.
#[derive(Debug, Clone, Copy)]
pub struct Turning {
    /// Motor, rev/s.
    pub motor: f64,
    /// Pump, rev/s.
    pub pump: f64,
}

/// Speeds where the motor gives `power` W.
pub fn speeds(pump: &Pump, power: f64) -> Result<Turning, OutOfRange> {
    let slip = (pump[Part::MotorSlip] * power / pump[Part::MotorPower]).clamp(0.0, 0.5);
    let [motor] = motor_speed::LAW.meant([pump[Part::MotorSynchronous], slip])?;
    let slip = pump[Part::BeltSlip].clamp(0.0, 1.0);
    let [turning] = sheave_speed::LAW.meant([motor, pump[Part::SpeedRatio], 1.0, slip])?;
    Ok(Turning { motor, pump: turning * pump[Part::Turning] })
}

/// Viscosity of the oil in m²/s at a temperature in K.
pub fn oil_viscosity(pump: &Pump, kelvin: f64) -> Result<f64, OutOfRange> {
    let slope = pump[Part::OilSlope];
    let line = (d341::doubled_log(pump[Part::OilViscosity]) + slope * libm::log10(GRADED_AT), slope);
    d341::viscosity(line, kelvin.clamp(243.15, 423.15))
}

/// Share of every stroke that thick oil costs.
pub fn starved_by_oil(viscosity: f64, speed: f64) -> f64 {
    let x = viscosity / TOO_THICK.0 * speed / TOO_THICK.1;
    THICK_LOSS * x * x / (1.0 + x * x)
}

/// Power of friction in the pump, W.
pub fn friction(pump: &Pump, speed: f64, viscosity: f64) -> f64 {
    let dry = pump[Part::FrictionTorque] * pump[Part::Friction] * std::f64::consts::TAU * speed;
    let relative = speed / pump.design.speed;
    dry + pump[Part::FrictionOil] * libm::pow(viscosity / OIL_AT, OIL_POWER) * relative * relative
}

/// Power that the motor gives for what reaches the liquid and the friction, W.
pub fn motor_power(liquid: f64, friction: f64) -> Result<f64, OutOfRange> {
    shaft_power::LAW.meant([liquid + friction, BELT_EFFICIENCY]).map(|[power]| power)
}

/// Motor current at a power, A: idle and rated current squared, joined by the load squared.
pub fn current(pump: &Pump, power: f64) -> f64 {
    let (idle, rated) = (pump[Part::CurrentIdle], pump[Part::CurrentRated]);
    let load = power / pump[Part::MotorPower];
    (idle * idle + (rated * rated - idle * idle) * load * load).max(0.0).sqrt() * pump[Part::ExtraCurrent]
}

/// Temperature of the oil, K, from the power lost in it and in leaks, W.
pub fn oil_temperature(pump: &Pump, friction: f64, leak: f64) -> f64 {
    let room = pump[Part::RoomTemperature];
    let lost = pump[Part::OilResistance] * (friction + WARMED.0 * leak);
    room + lost + WARMED.1 * (pump[Part::LiquidTemperature] - room)
}
