//! Turns the place of a piston into the pressure in its chamber: liquid, gas, vapour, and the oil behind the diaphragm.
//!
//! What is kept is volumes at the barometer's pressure, never a pressure: a closed chamber is so stiff that a pressure
//! carried along would need steps of a microsecond. Vapour is a soft spring just under the vapour pressure, since a
//! switch would chatter.

use super::super::smooth::above;
use super::oil::Cell;
use super::valve::{Paced, Passing, Valve, through};

/// Barometer at which volumes are kept, Pa.
pub const KEPT_AT: f64 = 101_325.0;
/// Stiffness of water and of oil at rest, Pa (water measured 2.18e9; with what walls give way, assumed).
pub const STIFFNESS: (f64, f64) = (2.1e9, 1.4e9);
/// Pressure over which vapour forms, Pa (rounding).
pub const VAPOUR_ROUND: f64 = 50.0;
/// Volume over which the diaphragm meets its rear stop, m³ for a chamber of 20.8 mL (rounding).
const STOP_ROUND: f64 = 2e-8 / 20.8e-6;

/// One chamber as built or as spoilt, SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chamber {
    /// Volume that its piston sweeps, m³.
    pub swept: f64,
    /// Liquid left in it at the front dead centre, m³.
    pub clearance: f64,
    /// Valve on the inlet side.
    pub inlet: Valve,
    /// Valve on the outlet side.
    pub outlet: Valve,
    /// Hole in the diaphragm, discharge coefficient times area, m²: liquid and oil pass between chamber and case.
    pub hole: f64,
    /// The oil behind the diaphragm.
    pub oil: Cell,
}

/// What a chamber holds, and how its valves stand.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Holds {
    /// Pressure, Pa absolute.
    pub pressure: f64,
    /// Liquid, m³ at the barometer.
    pub liquid: f64,
    /// Gas, m³ at the barometer.
    pub gas: f64,
    /// Oil behind the diaphragm, m³ at the barometer.
    pub oil: f64,
    /// Lift of the inlet valve.
    pub inlet: f64,
    /// Lift of the outlet valve.
    pub outlet: f64,
}

/// What is the same for all chambers in one step.
#[derive(Debug, Clone, Copy)]
pub struct Around {
    /// Length of the step, s.
    pub step: f64,
    /// Vapour pressure, Pa absolute.
    pub vapour: f64,
    /// Barometer, Pa absolute.
    pub barometer: f64,
    /// √(2/ρ) of the liquid.
    pub root: f64,
    /// Viscosity of the oil, m²/s.
    pub oil: f64,
    /// Stiffness of liquid and oil, Pa.
    pub stiffness: (f64, f64),
}

/// A chamber in steps of one length.
#[derive(Debug, Clone, Copy)]
pub struct Ready {
    /// As it is.
    pub chamber: Chamber,
    /// Its inlet valve.
    pub inlet: Paced,
    /// Its outlet valve.
    pub outlet: Paced,
    /// m³ of vapour per Pa under the vapour pressure.
    pub cavity: f64,
}

/// How far a chamber is from its balance at a guess, and how that changes.
#[derive(Debug, Clone, Copy, Default)]
pub struct Balance {
    /// Volume too much in it, m³.
    pub error: f64,
    /// Change with its own pressure, m³/Pa.
    pub own: f64,
    /// The guess of its own pressure, Pa absolute.
    pub guess: f64,
    /// Through the inlet valve.
    pub inlet: Passing,
    /// Through the outlet valve.
    pub outlet: Passing,
    /// Through the hole in the diaphragm to the case, m³/s.
    pub hole: f64,
}

impl Chamber {
    /// The chamber in steps of so many seconds.
    pub fn ready(self, around: &Around) -> Ready {
        let density = 2.0 / (around.root * around.root);
        Ready {
            chamber: self,
            inlet: self.inlet.paced(around.step, density),
            outlet: self.outlet.paced(around.step, density),
            cavity: cavity(self.swept, around.vapour),
        }
    }

    /// Liquid and oil together when the piston has gone `forward`, 0 to 1, m³.
    pub fn space(&self, forward: f64) -> f64 {
        self.clearance + self.oil.clearance + self.swept * (1.0 - forward)
    }

    /// Most liquid it can hold: there the diaphragm meets its rear stop, m³.
    pub fn most(&self) -> f64 {
        self.clearance + self.swept + self.oil.reserve
    }
}

/// Vapour in m³ per Pa: an empty stroke stands at most at 0.6 of the vapour pressure.
pub fn cavity(swept: f64, vapour: f64) -> f64 {
    swept / (0.4 * vapour)
}

impl Ready {
    /// The balance at a guess of the pressures before, in and after the chamber, where liquid and oil have `space` m³.
    #[inline]
    pub fn balance(
        &self,
        holds: &Holds,
        [before, own, after]: [f64; 3],
        space: f64,
        around: &Around,
        secant: bool,
    ) -> Balance {
        let chamber = &self.chamber;
        let inlet = self.inlet.pass(holds.inlet, before - own, secant);
        let outlet = self.outlet.pass(holds.outlet, own - after, secant);
        let (hole, hole_slope) = if 0.0 < chamber.hole {
            let (one, change) = through(own - around.barometer);
            (chamber.hole * around.root * one, chamber.hole * around.root * change)
        } else {
            (0.0, 0.0)
        };
        let (oil, oil_slope) = chamber.oil.volume(holds.oil, own, around);
        let most = chamber.most();
        let (over, stops) = above(space - oil - most, STOP_ROUND * chamber.swept);
        let room = space - oil - over;
        let (under, forms) = above(around.vapour - own, VAPOUR_ROUND);
        let kept = KEPT_AT / own;
        let held = holds.liquid * (1.0 - (own - KEPT_AT) / around.stiffness.0) + holds.gas * kept + self.cavity * under;
        let moved = around.step * (inlet.flow - outlet.flow - hole);
        Balance {
            error: held + moved - room,
            own: -holds.liquid / around.stiffness.0
                - holds.gas * kept / own
                - self.cavity * forms
                - around.step * (inlet.slope + outlet.slope + hole_slope)
                + oil_slope * (1.0 - stops),
            guess: own,
            inlet,
            outlet,
            hole,
        }
    }
}
