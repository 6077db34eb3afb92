//! Turns the pump of the steady model into all its parts as the time-domain pump has them.
//!
//! What the sheet does not tell (clearances, valve areas, lags, oil cells) has the values of a usual pump of 20.8 mL a
//! chamber and 30 L/min at 70 bar, grown with chamber and flow: all assumed. Shares of the steady model (a leak of half a
//! chamber) become holes that pass as much at the design pressure.

use super::pump::chamber::{Chamber, STIFFNESS};
use super::pump::inlet::Inlet;
use super::pump::oil::Cell;
use super::pump::outlet::Outlet;
use super::pump::valve::Valve;
use crate::physics::steady::{Inlet as Feed, Part, Pump, State};

/// The pump that all assumed sizes belong to: swept volume, m³; design flow, m³/s; pressure, Pa; compression loss.
const USUAL: (f64, f64, f64, f64) = (20.8e-6, 0.5e-3, 7e6, 0.014);
/// Slip of the usual pump that comes from valve lag alone, share of the design flow (fitted to the steady model).
const LAG_SLIP: f64 = 0.0165;

/// A pump with all its parts.
#[derive(Debug, Clone, PartialEq)]
pub struct Works {
    /// What the steady model knows of it.
    pub pump: Pump,
    /// The same pump as built.
    pub sound: Pump,
    /// Its chambers, in the order in which they follow each other.
    pub chambers: Vec<Chamber>,
    /// Before the pump.
    pub inlet: Inlet,
    /// After the pump.
    pub outlet: Outlet,
    /// Rod length over crank radius; `None` for a wobble plate, swash plate or cam.
    pub rods: Option<f64>,
    /// Stiffness of liquid and oil with the walls around them, Pa.
    pub stiffness: (f64, f64),
    /// Viscosity of the oil over that of its grade.
    pub thicker_oil: f64,
    /// Heat brought into the oil beside friction and leaks, W.
    pub heat: f64,
    /// What its instruments show wrongly.
    pub misread: Misread,
}

/// What instruments show wrongly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Misread {
    /// Added to the inlet pressure, Pa.
    pub inlet_bias: f64,
    /// Added to the outlet pressure, Pa.
    pub outlet_bias: f64,
    /// The outlet gauge's needle does not move any more.
    pub outlet_stuck: bool,
    /// Time constant that a plugged snubber puts before the outlet gauge, s.
    pub snubber: f64,
    /// Times the measured flow.
    pub flow: f64,
}

/// Instruments that show what is there.
const RIGHT: Misread = Misread { inlet_bias: 0.0, outlet_bias: 0.0, outlet_stuck: false, snubber: 0.0, flow: 1.0 };

/// The valves of the usual pump: inlet, then outlet.
const VALVES: [Valve; 2] = [
    Valve {
        area: 120e-6,
        lifts_at: 2000.0,
        to_full: 6000.0,
        opening: 1e-3,
        closing: 1.5e-3,
        leak: 0.0,
        held: 0.0,
        most: 1.0,
    },
    Valve {
        area: 100e-6,
        lifts_at: 5000.0,
        to_full: 6000.0,
        opening: 1e-3,
        closing: 1.5e-3,
        leak: 0.0,
        held: 0.0,
        most: 1.0,
    },
];

/// The inlet of the usual pump.
const SOUND_INLET: Inlet = Inlet { compliance: 2e-11, draws_air: 0.0, check: 0.0, sucks_flat: 0.0, returned: 0.0 };

impl Works {
    /// The parts of a pump; `sound` is the same pump without its faults.
    pub fn of(pump: &Pump, sound: &Pump) -> Self {
        let grown = sound.design.flow / f64::from(sound.chambers.max(1)) / (USUAL.1 / 3.0);
        let chamber = chamber(pump, grown);
        let mut works = Self {
            pump: *pump,
            sound: *sound,
            chambers: vec![chamber; pump.chambers.max(1) as usize],
            inlet: Inlet { compliance: SOUND_INLET.compliance * grown, ..SOUND_INLET },
            outlet: Outlet { hose: 0.0, air: 0.0, neck: f64::INFINITY, hangs: 1.0 },
            rods: None,
            stiffness: STIFFNESS,
            thicker_oil: 1.0,
            heat: 0.0,
            misread: RIGHT,
        };
        works.spoil();
        works
    }

    /// The same pump with connecting rods of so many crank radii.
    #[must_use]
    pub fn with_rods(mut self, ratio: f64) -> Self {
        self.rods = Some(ratio);
        self
    }

    /// Does to the chambers what the parts of the steady model say of them.
    fn spoil(&mut self) {
        let pump = self.pump;
        let share = |part: Part| pump[part].clamp(0.0, 1.0);
        self.wear((pump[Part::ValveWear] + pump[Part::PumpSlip] - LAG_SLIP).max(0.0));
        let [inlet, outlet, torn] = [Part::InletValveLeak, Part::OutletValveLeak, Part::DiaphragmLeak]
            .map(|part| self.hole_of_one(share(part)));
        if let Some(first) = self.chambers.first_mut() {
            for (valve, hole, lost) in [
                (&mut first.inlet, inlet, share(Part::InletValveLeak)),
                (&mut first.outlet, outlet, share(Part::OutletValveLeak)),
            ] {
                // What loses all of its chamber stands open; a smaller loss is a way past a valve that shuts.
                valve.held = valve.held.max(libm::pow(lost, 8.0));
                valve.leak += hole / valve.area;
            }
            first.hole += torn;
            first.oil.air += unprimed(share(Part::StrokeLost), first.swept, &pump);
        }
        self.air_behind(share(Part::OilShort));
    }

    /// Lets all valves leak such a share of the design flow at the design pressure.
    pub fn wear(&mut self, share: f64) {
        // At any moment one of the two valves of a chamber has the pressure over it.
        let hole = self.hole(share * self.pump.design.flow) / self.chambers.len() as f64;
        for chamber in &mut self.chambers {
            chamber.inlet.leak += hole / chamber.inlet.area;
            chamber.outlet.leak += hole / chamber.outlet.area;
        }
    }

    /// Puts air behind all diaphragms that costs such a share of the stroke: low oil costs the first chamber most.
    pub fn air_behind(&mut self, share: f64) {
        let pump = self.pump;
        let rest = (self.chambers.len() - 1).max(1) as f64;
        for (at, chamber) in self.chambers.iter_mut().enumerate() {
            let lost = ((1.5 - at as f64 / rest) * share).clamp(0.0, 1.0);
            chamber.oil.air += unprimed(lost, chamber.swept, &pump);
        }
    }

    /// Takes away what a state overrides beside the parts of the steady model.
    pub fn put(&mut self, state: State) {
        if state.inlet == Feed::Flooded {
            self.inlet = Inlet { compliance: self.inlet.compliance, ..SOUND_INLET };
        }
    }

    /// The hole that passes so many m³/s at the design pressure, discharge coefficient times area, m².
    pub fn hole(&self, flow: f64) -> f64 {
        flow / (2.0 * self.pump.design.pressure / self.pump.liquid.density).sqrt()
    }

    /// The hole that passes such a share of one chamber at the design pressure, m²: half of the time it has the pressure.
    pub fn hole_of_one(&self, share: f64) -> f64 {
        self.hole(2.0 * share * self.pump[Part::Displacement] * self.pump.design.speed)
    }

    /// Volume that all chambers sweep in a turn, m³.
    pub fn swept(&self) -> f64 {
        self.chambers.iter().map(|chamber| chamber.swept).sum()
    }
}

/// Air behind a diaphragm that costs so much of the stroke at the design pressure, m³: squeezed it leaves hardly any room.
pub fn unprimed(share: f64, swept: f64, pump: &Pump) -> f64 {
    let squeezed = pump[Part::Barometer] / (pump.design.pressure + pump[Part::Barometer]);
    share * swept / (1.0 - squeezed)
}

fn chamber(pump: &Pump, grown: f64) -> Chamber {
    let swept = pump[Part::Displacement];
    let size = swept / USUAL.0;
    // What gives way at the design pressure is the clearance, so that the compression loss of the sheet comes out.
    let stiff = (pump[Part::Compression] / USUAL.3) * (USUAL.2 / pump.design.pressure);
    let [inlet, outlet] = VALVES.map(|valve| Valve { area: valve.area * grown, ..valve });
    Chamber {
        swept,
        clearance: 20e-6 * size * stiff,
        inlet,
        outlet,
        hole: 0.0,
        oil: Cell {
            clearance: 30e-6 * size * stiff,
            reserve: 0.3e-6 * size,
            air: 0.0,
            short: 0.0,
            loss: 1.2e-13 * grown * (USUAL.2 / pump.design.pressure),
            seat: 0.0,
            relief: f64::INFINITY,
            passes: 0.0,
            make_up: 6e-7 * grown,
            opens_at: 20_000.0,
            froth: 0.0,
        },
    }
}
