//! Turns what the chambers deliver into the pressure after the pump: hose, damper, air pocket, orifice, bypass, relief.

use crate::physics::OutOfRange;
use crate::physics::steady::{Part, Pump, State, Ways};
use crate::simulation::smooth::above;

/// Exponent of the gas in the damper (assumed: between slow and quick).
const DAMPER: f64 = 1.2;
/// Pressure within which the orifice law is rounded off, Pa.
const ORIFICE_ROUND: f64 = 1e4;
/// Pressure over which the relief opens, Pa (rounding).
const RELIEF_ROUND: f64 = 5e3;
/// Steps of the search for the damper's own pressure behind a narrow neck.
const NECK_STEPS: usize = 3;

/// The outlet beyond what the parts of the steady model say, SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outlet {
    /// How much the hose after the pump gives way, m³/Pa; comes on top of the outlet compliance of the steady model.
    pub hose: f64,
    /// Air caught after the pump, m³ at the barometer.
    pub air: f64,
    /// Neck of the damper, m³/s per Pa; infinite where it is free.
    pub neck: f64,
    /// The relief hangs: it closes only below this share of its opening pressure.
    pub hangs: f64,
}

/// The outlet for one turn.
#[derive(Debug, Clone, Copy)]
pub struct Ready {
    compliance: f64,
    air: f64,
    gas: f64,
    charge: f64,
    neck: f64,
    barometer: f64,
    /// m³/s at 1 Pa through the working outlet and the line before it.
    pub orifice: f64,
    bypass: f64,
    outside: f64,
    opening: f64,
    relief: f64,
    /// Lost in the line before the orifice, Pa/(m³/s)².
    line: f64,
}

/// Where the flow goes, m³/s.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Leaves {
    /// By the working outlet.
    pub outlet: f64,
    /// By relief and bypass.
    pub bypass: f64,
    /// To the outside.
    pub outside: f64,
    /// Change of all of it with the pressure, m³/s per Pa.
    pub slope: f64,
}

impl Outlet {
    /// The outlet of a pump in a state; `sound` is the pump as built, `opened` whether a hanging relief stands open.
    pub fn ready(&self, pump: &Pump, sound: &Pump, state: State, opened: bool) -> Result<Ready, OutOfRange> {
        let ways = Ways::of(pump, sound, state)?;
        let barometer = pump[Part::Barometer];
        let orifice =
            if ways.orifice <= 0.0 { 0.0 } else { 1.0 / (1.0 / (ways.orifice * ways.orifice) + ways.line).sqrt() };
        Ok(Ready {
            compliance: pump[Part::OutletCompliance] + self.hose,
            air: self.air * barometer,
            gas: pump[Part::DamperVolume],
            charge: pump[Part::DamperCharge] + barometer,
            neck: self.neck,
            barometer,
            orifice,
            bypass: ways.bypass,
            outside: ways.outside,
            opening: ways.opening * if opened { self.hangs } else { 1.0 },
            relief: ways.relief,
            line: ways.line,
        })
    }
}

impl Ready {
    /// What leaves at a pressure, Pa absolute.
    #[inline]
    pub fn leaves(&self, pressure: f64) -> Leaves {
        let over = pressure - self.barometer;
        let root = (over * over + ORIFICE_ROUND * ORIFICE_ROUND).sqrt();
        let one = over / root.sqrt();
        let change = (1.0 - 0.5 * over * over / (root * root)) / root.sqrt();
        let (above, opens) = above(over - self.opening, RELIEF_ROUND);
        Leaves {
            outlet: self.orifice * one,
            bypass: self.bypass * one + self.relief * above,
            outside: self.outside * one,
            slope: (self.orifice + self.bypass + self.outside) * change + self.relief * opens,
        }
    }

    /// Liquid kept after the pump at a pressure, m³, and its change with it; without a damper behind a narrow neck.
    #[inline]
    pub fn kept(&self, pressure: f64) -> (f64, f64) {
        let air = self.air / pressure;
        let (mut kept, mut change) = (self.compliance * pressure - air, self.compliance + air / pressure);
        if self.neck.is_infinite() {
            let (gas, slope) = self.damper(pressure);
            kept += gas;
            change += slope;
        }
        (kept, change)
    }

    /// Liquid in the damper at a pressure, m³, and its change.
    #[inline]
    fn damper(&self, pressure: f64) -> (f64, f64) {
        if self.gas <= 0.0 || pressure <= self.charge {
            return (0.0, 0.0);
        }
        let left = libm::pow(self.charge / pressure, 1.0 / DAMPER);
        (self.gas * (1.0 - left), self.gas * left / (DAMPER * pressure))
    }

    /// Flow into a damper behind a narrow neck at the end of a step, m³/s, its change with the pressure outside, and the
    /// pressure inside; `inside` is the pressure before the step.
    #[inline]
    pub fn neck(&self, inside: f64, pressure: f64, step: f64) -> (f64, f64, f64) {
        if self.neck.is_infinite() || self.gas <= 0.0 {
            return (0.0, 0.0, pressure);
        }
        let held = self.damper(inside).0 + self.compliance * inside;
        let mut now = inside;
        let mut total = 1.0;
        for _ in 0..NECK_STEPS {
            let (gas, slope) = self.damper(now);
            total = slope + self.compliance + step * self.neck;
            now -= (gas + self.compliance * now - held - step * self.neck * (pressure - now)) / total;
        }
        (self.neck * (pressure - now), self.neck * (1.0 - step * self.neck / total), now)
    }

    /// Pressure at the farthest outlet over that at the pump while `flow` m³/s leaves there at `pressure` Pa gauge.
    pub fn nozzle(&self, flow: f64, pressure: f64) -> f64 {
        1.0 - self.line * flow * flow / pressure.max(100.0)
    }

    /// Opening pressure of the relief, Pa gauge.
    pub fn opening(&self) -> f64 {
        self.opening
    }
}
