//! Turns a pump into the figures by which a design is judged: velocities, margins, frequencies, speeds.

use super::Built;
use crate::physics::law::OutOfRange;
use crate::physics::laws::outlet::relief_margin;
use crate::physics::laws::pipe::{pipe_velocity, velocity_limits};
use crate::physics::laws::ripple::ripple_frequency;
use crate::physics::steady::{Output, Part, Readings, State, Steady, drive};

/// Figures of a healthy pump at work, SI.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    /// Mean velocity in the inlet line, m/s.
    pub inlet_velocity: f64,
    /// What trade practice keeps below at this speed, m/s.
    pub velocity_limit: f64,
    /// m.
    pub acceleration_head: f64,
    /// NPSH available less required, with acceleration head, m.
    pub vapour_margin: f64,
    /// NPSH available less required, without, m.
    pub delivery_margin: f64,
    /// Ripple once, N and 2N times a turn, Hz.
    pub ripple: [f64; 3],
    /// rev/s.
    pub motor_speed: f64,
    /// rev/s.
    pub pump_speed: f64,
    /// Relief opening over working pressure, less one.
    pub relief_margin: f64,
    /// Viscosity of the oil at the running temperature and at that of the room, m²/s.
    pub oil: [f64; 2],
    /// Everything the healthy pump should read at work.
    pub healthy: Readings,
}

/// The figures of a pump.
///
/// # Errors
/// [`OutOfRange`] for numbers that describe no pump.
pub fn figures(built: &Built) -> Result<Figures, OutOfRange> {
    let pump = &built.pump;
    let healthy = Steady::new(pump.chambers).solve(pump, pump, State::default())?;
    let of = |output: Output| healthy[output as usize];
    let speed = of(Output::PumpSpeed);
    let flow = of(Output::DeliveredFlow) / (1.0 - of(Output::BypassShare)).max(0.01);
    let n = f64::from(pump.chambers);
    let [velocity_limit, _] = velocity_limits(speed)?;
    let [relief_margin, ..] = relief_margin(pump.design.pressure, pump[Part::ReliefOpening])?;
    Ok(Figures {
        inlet_velocity: pipe_velocity(flow, pump[Part::InletBore])?,
        velocity_limit,
        acceleration_head: of(Output::AccelerationHead),
        vapour_margin: of(Output::VapourMargin),
        delivery_margin: of(Output::DeliveryMargin),
        ripple: [ripple_frequency(1.0, speed)?, ripple_frequency(n, speed)?, ripple_frequency(2.0 * n, speed)?],
        motor_speed: of(Output::MotorSpeed),
        pump_speed: speed,
        relief_margin,
        oil: [
            drive::oil_viscosity(pump, of(Output::OilTemperature))?,
            drive::oil_viscosity(pump, pump[Part::RoomTemperature])?,
        ],
        healthy,
    })
}
