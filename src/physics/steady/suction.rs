//! Turns supply, line and flow into the pressure at the inlet and the flow at which the pump starves.

use super::part::Part;
use super::pump::Pump;
use crate::physics::law::OutOfRange;
use crate::physics::laws::acceleration::acceleration_head;
use crate::physics::laws::pipe::{friction_factor, pipe_loss, pipe_velocity, reynolds};
use crate::physics::laws::suction::{inlet_gauge, npsh_margin, npsh_system};

/// Share of the required NPSH that does not depend on the flow (fitted to a time-domain pump).
const AT_REST: f64 = 0.25;
/// Exponent that makes the pump lose exactly 3 % where it needs what it has: 2·0.97^m = 1 turned round.
const BEND: f64 = 22.76;
/// Gas gives way: the elasticity of the line grows by so much per share of gas (assumed).
const GAS_GIVES_WAY: f64 = 20.0;

/// The inlet at one flow.
#[derive(Debug, Clone, Copy)]
pub struct Line {
    /// Mean velocity, m/s.
    pub velocity: f64,
    /// Darcy factor.
    pub friction: f64,
    /// Sum of loss coefficients.
    pub losses: f64,
}

/// What the inlet has left.
#[derive(Debug, Clone, Copy)]
pub struct Margins {
    /// m, with acceleration head.
    pub vapour: f64,
    /// m, without.
    pub delivery: f64,
    /// m.
    pub acceleration: f64,
}

/// The line while `flow` m³/s passes.
pub fn line(pump: &Pump, flow: f64) -> Result<Line, OutOfRange> {
    let bore = pump[Part::InletBore];
    let liquid = &pump.liquid;
    let [velocity] = pipe_velocity::LAW.meant([flow.max(0.0), bore])?;
    let viscosity = liquid.viscosity * pump[Part::LiquidViscosity];
    let [reynolds] = reynolds::LAW.meant([liquid.density, velocity, bore, viscosity])?;
    let [friction] = friction_factor::LAW.meant([reynolds.max(1.0), pump[Part::InletRoughness] / bore])?;
    Ok(Line { velocity, friction, losses: pump[Part::InletLosses] + pump[Part::StrainerLosses] })
}

/// Gauge pressure at the inlet, Pa, where pulsation makes the losses `uneven` larger; never below the vapour pressure.
pub fn gauge(pump: &Pump, line: Line, uneven: f64) -> Result<f64, OutOfRange> {
    let velocity = line.velocity * (1.0 + uneven).sqrt();
    let (length, bore) = (pump[Part::InletLength], pump[Part::InletBore]);
    let level = pump[Part::Level];
    let values = [pump.liquid.density, level, velocity, line.friction, length, bore, line.losses];
    let [gauge] = inlet_gauge::LAW.meant(values)?;
    Ok(gauge.max(pump.liquid.vapour - pump[Part::Barometer]))
}

/// NPSH that the pump requires at a flow, m.
pub fn required(pump: &Pump, flow: f64) -> f64 {
    let relative = flow / pump.design.flow;
    pump[Part::NpshRequired] * (AT_REST + (1.0 - AT_REST) * relative * relative)
}

/// Flow at which the pump starves, m³/s: NPSH available without acceleration head equals what is required.
pub fn limit(pump: &Pump, line: Line) -> Result<f64, OutOfRange> {
    let bore = pump[Part::InletBore];
    let area = std::f64::consts::FRAC_PI_4 * bore * bore;
    let [at_one, _] = pipe_loss::LAW.meant([
        line.friction,
        pump[Part::InletLength],
        bore,
        1.0 + line.losses,
        1.0 / area,
        pump.liquid.density,
    ])?;
    let slope =
        at_one + (required(pump, pump.design.flow) - required(pump, 0.0)) / (pump.design.flow * pump.design.flow);
    let head = available(pump, 0.0, 0.0)? - required(pump, 0.0);
    Ok(if head <= 0.0 { 1e-7 } else { (head / slope).sqrt() })
}

/// What is delivered of a demand where no more than `limit` can come in: 3 % less where the two are equal.
pub fn delivered(demand: f64, limit: f64) -> f64 {
    let y = demand / limit;
    if y < 0.7 {
        return demand;
    }
    if 3.0 < y {
        return limit;
    }
    demand * libm::pow(1.0 + libm::pow(y, BEND), -1.0 / BEND)
}

/// Margins at a flow. `constant` is that of the acceleration head for the shape of the flow.
pub fn margins(pump: &Pump, line: Line, flow: f64, speed: f64, constant: f64) -> Result<Margins, OutOfRange> {
    let (length, bore) = (pump[Part::InletLength], pump[Part::InletBore]);
    let [lost, _] =
        pipe_loss::LAW.meant([line.friction, length, bore, line.losses, line.velocity, pump.liquid.density])?;
    let [acceleration] = acceleration_head::LAW.meant([length, line.velocity, speed, constant, elasticity(pump)])?;
    let margin = |acceleration: f64| {
        let available = available(pump, lost, acceleration)?;
        npsh_margin::LAW.meant([available, required(pump, flow)]).map(|[margin, _]| margin)
    };
    Ok(Margins { vapour: margin(acceleration)?, delivery: margin(0.0)?, acceleration })
}

/// How much liquid and line give way (K).
pub fn elasticity(pump: &Pump) -> f64 {
    pump[Part::LineElasticity] * (1.0 + GAS_GIVES_WAY * pump[Part::Gas])
}

/// Inertia of the column per flow, Pa/(m³/s²).
pub fn inertia(pump: &Pump) -> f64 {
    let bore = pump[Part::InletBore];
    pump.liquid.density * pump[Part::InletLength] / (std::f64::consts::FRAC_PI_4 * bore * bore)
}

fn available(pump: &Pump, lost: f64, acceleration: f64) -> Result<f64, OutOfRange> {
    let liquid = &pump.liquid;
    let barometer = pump[Part::Barometer];
    let values = [barometer, liquid.vapour, liquid.density, pump[Part::Level], lost, acceleration];
    npsh_system::LAW.meant(values).map(|[head]| head)
}
