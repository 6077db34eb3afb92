//! Turns supply, line and manifold into the flow that reaches the chambers: inertia, friction, vapour and gas.

use super::chamber::VAPOUR_ROUND;
use crate::physics::OutOfRange;
use crate::physics::steady::{Part, Pump, suction};
use crate::simulation::smooth::above;

const GRAVITY: f64 = 9.806_65;
/// Density of air, kg/m³ (of usual size).
const AIR: f64 = 1.2;
/// Air is drawn no faster at a deeper vacuum than this share of the barometer (choked flow of air, 1 - 0.528).
const CHOKED: f64 = 0.472;
/// Volume of the manifold over that swept by one chamber (assumed).
const MANIFOLD: f64 = 10.0;
/// Most gas that is reckoned with.
const MOST_GAS: f64 = 0.6;

/// The inlet beyond what the parts of the steady model say, SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Inlet {
    /// How much line and manifold give way, m³/Pa.
    pub compliance: f64,
    /// A joint that draws air: discharge coefficient times area, m².
    pub draws_air: f64,
    /// A valve in the line that needs so much to lift, Pa.
    pub check: f64,
    /// Losses that grow where the line is sucked flat: how many times over for each bar of vacuum, squared.
    pub sucks_flat: f64,
    /// Share of what bypass and relief pass that comes straight back into the inlet.
    pub returned: f64,
}

/// The inlet for one turn.
#[derive(Debug, Clone, Copy, Default)]
pub struct Ready {
    /// Inertia of the column, Pa/(m³/s²).
    inertia: f64,
    /// Losses, Pa/(m³/s)².
    losses: f64,
    /// Pressure at the pump with no flow, Pa absolute.
    driving: f64,
    /// Most that arrives, m³/s.
    most: f64,
    compliance: f64,
    cavity: f64,
    /// Gas, share of the stream at the pressure of the inlet.
    pub gas: f64,
    /// Gas in the manifold, m³ times Pa.
    gas_energy: f64,
    vapour: f64,
}

impl Inlet {
    /// The inlet of a pump at a mean flow and mean inlet pressure, Pa absolute; `cavity` in m³/Pa.
    pub fn ready(&self, pump: &Pump, flow: f64, pressure: f64, cavity: f64) -> Result<Ready, OutOfRange> {
        let line = suction::line(pump, flow)?;
        let bore = pump[Part::InletBore];
        let area = std::f64::consts::FRAC_PI_4 * bore * bore;
        let along = 1.0 + line.friction * pump[Part::InletLength] / bore + line.losses;
        let liquid = &pump.liquid;
        let barometer = pump[Part::Barometer];
        let vacuum = ((barometer - pressure) / 1e5).max(0.0);
        let flat = 1.0 + self.sucks_flat * vacuum * vacuum;
        let swept = f64::from(pump.chambers) * pump[Part::Displacement] * pump.design.speed;
        let most = if pump[Part::Supply] < 1.0 { pump[Part::Supply] * swept } else { f64::INFINITY };
        let gas = (pump[Part::Gas] + self.air_share(pump, flow, pressure)).clamp(0.0, MOST_GAS);
        Ok(Ready {
            inertia: suction::inertia(pump),
            losses: liquid.density * along * flat / (2.0 * area * area),
            driving: barometer + liquid.density * GRAVITY * pump[Part::Level] - self.check,
            most,
            compliance: self.compliance,
            cavity,
            gas,
            gas_energy: gas * MANIFOLD * pump[Part::Displacement] * pressure.max(2000.0),
            vapour: vapour(pump),
        })
    }

    /// Share of the stream that is drawn air, at the pressure of the inlet.
    fn air_share(&self, pump: &Pump, flow: f64, pressure: f64) -> f64 {
        let barometer = pump[Part::Barometer];
        let vacuum = (barometer - pressure).clamp(0.0, CHOKED * barometer);
        let drawn = self.draws_air * (2.0 * vacuum / AIR).sqrt() * barometer / pressure.max(2000.0);
        if drawn <= 0.0 { 0.0 } else { drawn / (drawn + flow.max(1e-6)) }
    }
}

/// Vapour pressure that the model works with, Pa: liquids that hardly boil still part at some hundred Pa.
pub fn vapour(pump: &Pump) -> f64 {
    pump.liquid.vapour.max(500.0)
}

impl Ready {
    /// Flow in the line at the end of a step, m³/s, from the flow before it and the pressure at its end; and its change.
    #[inline]
    pub fn line(&self, before: f64, pressure: f64, step: f64) -> (f64, f64) {
        let holds = self.inertia / step + self.losses * before.abs();
        let flow = (self.inertia / step * before + self.driving - pressure) / holds;
        if self.most < flow { (self.most, 0.0) } else { (flow, -1.0 / holds) }
    }

    /// Liquid kept in the manifold at a pressure, m³ beside what it keeps at none, and its change with it.
    #[inline]
    pub fn kept(&self, pressure: f64) -> (f64, f64) {
        let (under, forms) = above(self.vapour - pressure, VAPOUR_ROUND);
        let gas = self.gas_energy / pressure;
        (self.compliance * pressure - self.cavity * under - gas, self.compliance + self.cavity * forms + gas / pressure)
    }
}
