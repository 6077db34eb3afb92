//! Turns what the pump offers and what orifice, bypass and relief take into the pressure at the outlet.

use super::part::Part;
use super::pump::Pump;
use super::state::{Orifice, Outlet, State};
use crate::physics::law::OutOfRange;
use crate::physics::laws::outlet::{orifice_flow, relief_accumulation};

/// From opening to full flow of one relief valve (API 520 guide, from memory).
const ACCUMULATION: f64 = 0.1;
/// An outlet open to the tank passes so much more than the orifice.
const WIDE_OPEN: f64 = 30.0;
/// The balance holds to this share of the flow.
const CLOSE: f64 = 1e-7;
/// How far from the last pressure the next is looked for first, as a share.
const NEAR: f64 = 0.02;
/// Lowest pressure looked at, Pa.
const LOWEST: f64 = 100.0;

/// What takes the flow at the outlet.
#[derive(Debug, Clone, Copy)]
pub struct Ways {
    /// m³/s at 1 Pa through the orifice alone.
    pub orifice: f64,
    /// Pa/(m³/s)² lost in the line before the orifice.
    pub line: f64,
    /// m³/s at 1 Pa back to the tank.
    pub bypass: f64,
    /// m³/s at 1 Pa to the outside.
    pub outside: f64,
    /// Pa at which the relief opens.
    pub opening: f64,
    /// m³/s per Pa above it.
    pub relief: f64,
    /// Pa to look up to.
    highest: f64,
}

/// Where the flow goes at one pressure.
#[derive(Debug, Clone, Copy)]
pub struct Split {
    /// Pa gauge at the pump.
    pub pressure: f64,
    /// m³/s at the working outlet.
    pub outlet: f64,
    /// m³/s by relief and bypass.
    pub bypass: f64,
    /// m³/s per Pa: how much more leaves if the pressure rises.
    pub slope: f64,
    /// Pressure at the farthest outlet over that at the pump.
    pub nozzle: f64,
}

impl Ways {
    /// The ways of a pump in a state. `sound` is the pump as built.
    pub fn of(pump: &Pump, sound: &Pump, state: State) -> Result<Self, OutOfRange> {
        let at_one = |area: f64| -> Result<f64, OutOfRange> {
            let diameter = (area.max(0.0) / std::f64::consts::FRAC_PI_4).sqrt();
            orifice_flow::LAW.meant([diameter, 1.0, pump.liquid.density, 1.0]).map(|[flow, _]| flow)
        };
        let area = match state.outlet {
            Outlet::Working | Outlet::Held => pump[Part::OrificeArea],
            Outlet::Open => WIDE_OPEN * sound[Part::OrificeArea],
            Outlet::Shut => 0.0,
        };
        let set = sound[Part::ReliefOpening];
        let [full] = relief_accumulation::LAW.meant([set, ACCUMULATION])?;
        let lost = if state.outlet == Outlet::Open || state.orifice == Orifice::Known { 0.0 } else { 1.0 };
        let design = pump.design;
        Ok(Self {
            orifice: at_one(area)?,
            line: lost * pump[Part::OutletLosses] * design.pressure / (design.flow * design.flow),
            bypass: at_one(pump[Part::BypassArea] * sound[Part::OrificeArea])?,
            outside: at_one(pump[Part::OutsideArea] * sound[Part::OrificeArea])?,
            opening: pump[Part::ReliefOpening],
            relief: design.flow / (full - set),
            highest: 2.5 * set.max(pump[Part::ReliefOpening]),
        })
    }

    /// Flow through the orifice and the line before it, m³/s.
    fn through(&self, pressure: f64) -> f64 {
        if self.orifice <= 0.0 {
            return 0.0;
        }
        pressure.sqrt() / (1.0 / (self.orifice * self.orifice) + self.line).sqrt()
    }

    fn taken(&self, pressure: f64) -> f64 {
        let relief = self.relief * (pressure - self.opening).max(0.0);
        self.through(pressure) + (self.bypass + self.outside) * pressure.sqrt() + relief
    }

    /// The pressure at which as much is taken as offered: regula falsi, Illinois form; what is offered falls with the
    /// pressure and what is taken rises. Looks `near` a pressure first.
    pub fn balance(
        &self,
        near: f64,
        mut offered: impl FnMut(f64) -> Result<f64, OutOfRange>,
    ) -> Result<f64, OutOfRange> {
        let mut surplus = |pressure: f64| -> Result<f64, OutOfRange> { Ok(offered(pressure)? - self.taken(pressure)) };
        let (mut low, mut high) = (LOWEST, self.highest);
        let (mut at_low, mut at_high) = (f64::NAN, f64::NAN);
        for guess in [near * (1.0 - NEAR), near * (1.0 + NEAR)] {
            if low < guess && guess < high {
                let found = surplus(guess)?;
                if 0.0 < found {
                    (low, at_low) = (guess, found);
                } else {
                    (high, at_high) = (guess, found);
                    break;
                }
            }
        }
        if at_low.is_nan() {
            at_low = surplus(low)?;
            if at_low <= 0.0 {
                return Ok(low);
            }
        }
        if at_high.is_nan() {
            at_high = surplus(high)?;
            if 0.0 <= at_high {
                return Ok(high);
            }
        }
        let close_enough = CLOSE * self.taken(near.max(LOWEST)).max(1e-9);
        let mut fell = None;
        for _ in 0..60 {
            let middle = (low * at_high - high * at_low) / (at_high - at_low);
            let found = surplus(middle)?;
            if found.abs() < close_enough {
                return Ok(middle);
            }
            // The end that stays twice counts half, or it would stay for ever.
            let falls = found < 0.0;
            let twice = fell == Some(falls);
            if falls {
                (high, at_high) = (middle, found);
                at_low *= if twice { 0.5 } else { 1.0 };
            } else {
                (low, at_low) = (middle, found);
                at_high *= if twice { 0.5 } else { 1.0 };
            }
            fell = Some(falls);
        }
        Ok(f64::midpoint(low, high))
    }

    /// Where the flow goes; at a held pressure the outlet takes what the other ways leave.
    pub fn split(&self, pressure: f64, flow: f64, held: bool) -> Split {
        let root = pressure.max(LOWEST).sqrt();
        let over = (pressure - self.opening).max(0.0);
        let bypass = self.bypass * root + self.relief * over;
        let outlet =
            if held { (flow - bypass - self.outside * root).max(0.0) } else { self.through(pressure).min(flow) };
        let opened = if 0.0 < over { self.relief } else { 0.0 };
        Split {
            pressure,
            outlet,
            bypass,
            slope: (outlet + (self.bypass + self.outside) * root) / (2.0 * pressure.max(LOWEST)) + opened,
            nozzle: 1.0 - self.line * outlet * outlet / pressure.max(LOWEST),
        }
    }
}
