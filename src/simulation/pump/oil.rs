//! Turns pressure and warmth into the oil behind a diaphragm: what it gives way, what it loses, what is made up.

use super::chamber::{Around, KEPT_AT};
use super::valve::through;
use crate::simulation::smooth::above;

/// Density of the oil, kg/m³ (of usual size).
const DENSITY: f64 = 870.0;
/// Viscosity at which the make-up passage is given, m²/s.
const MAKE_UP_AT: f64 = 36e-6;
/// The make-up passes less with thick oil, by this power: laminar would be 1; chosen so that cold oil costs as much stroke
/// as the steady model says.
const MAKE_UP_POWER: f64 = 1.2;
/// Vacuum over which the oil cell begins to draw, and the pressure its valve and screen take, Pa (assumed).
const DRAWN: f64 = 10_000.0;
/// Pressure over which the inner relief opens, Pa (rounding).
const RELIEF_ROUND: f64 = 2e4;

/// The oil behind one diaphragm, SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    /// Oil left in front of the piston at the front dead centre, m³.
    pub clearance: f64,
    /// How far the diaphragm may go behind the rear dead centre, m³.
    pub reserve: f64,
    /// Air in the oil, m³ at the barometer: an unprimed cell.
    pub air: f64,
    /// Oil that the cell lacks at the start, m³.
    pub short: f64,
    /// Past the piston and out at the bleed, m³/s per Pa.
    pub loss: f64,
    /// Held-open make-up valve, bleed or inner check: discharge coefficient times area, m².
    pub seat: f64,
    /// Opening pressure of the inner relief, Pa gauge; infinite where there is none.
    pub relief: f64,
    /// What the inner relief passes above it, m³/s per Pa.
    pub passes: f64,
    /// Make-up passage with warm oil, m³/s at 1 Pa.
    pub make_up: f64,
    /// Vacuum that opens the make-up valve, Pa.
    pub opens_at: f64,
    /// Share of air in what is made up: the level is too low, or the oil froths.
    pub froth: f64,
}

impl Cell {
    /// Oil that leaves the cell for the case at a pressure, m³/s, and its change with it.
    #[inline]
    fn lost(&self, pressure: f64, around: &Around) -> (f64, f64) {
        let over = pressure - around.barometer;
        let (mut flow, mut slope) = (self.loss * over.max(0.0), if 0.0 < over { self.loss } else { 0.0 });
        if 0.0 < self.seat && 0.0 < over {
            let (one, change) = through(over);
            let root = self.seat * (2.0 / DENSITY).sqrt();
            flow += root * one;
            slope += root * change;
        }
        if self.relief < over + 10.0 * RELIEF_ROUND {
            let (open, change) = above(over - self.relief, RELIEF_ROUND);
            flow += self.passes * open;
            slope += self.passes * change;
        }
        (flow, slope)
    }

    /// Volume that the oil takes at a pressure at the end of a step, m³, and its change with it; `kept` m³ at the barometer.
    #[inline]
    pub fn volume(&self, kept: f64, pressure: f64, around: &Around) -> (f64, f64) {
        let (lost, slope) = self.lost(pressure, around);
        let left = kept - around.step * lost;
        let squeezed = 1.0 - (pressure - KEPT_AT) / around.stiffness.1;
        let air = self.air * KEPT_AT / pressure;
        (left * squeezed + air, -around.step * slope * squeezed - left / around.stiffness.1 - air / pressure)
    }

    /// Oil after a step at a pressure, m³, where `gap` m³ is free behind the diaphragm at its rear stop; and what was lost.
    pub fn after(&self, kept: f64, pressure: f64, gap: f64, around: &Around) -> (f64, f64) {
        let (lost, _) = self.lost(pressure, around);
        let mut kept = kept - around.step * lost;
        if 0.0 < gap {
            let pull = (around.barometer - DRAWN - self.opens_at).max(0.0).sqrt();
            let thick = libm::pow(MAKE_UP_AT / around.oil, MAKE_UP_POWER).min(4.0);
            kept += gap.min(around.step * self.make_up * thick * pull) * (1.0 - self.froth);
        }
        (kept, around.step * lost)
    }
}
