//! Turns a pump and a running state into one turn after the other: the slow things (speed, warmth, friction in the line,
//! gas in the stream, a held pressure) are renewed once a turn, all else in every step.

use super::pump::chamber::cavity;
use super::pump::outlet;
use super::pump::step::{Flowing, Parts};
use super::pump::turn::{Moment, Places, Turn, around, primed};
use super::settled::Detail;
use super::works::Works;
use crate::physics::OutOfRange;
use crate::physics::steady::drive::{self, Turning};
use crate::physics::steady::{Oil, Outlet, Output, Part, State, Steady};

/// Heat that oil and case hold, J/K: with the thermal resistance of the sheet some twenty minutes (assumed).
const HEAT_HELD: f64 = 1.1e4;
/// Share of a step to the steady warmth, speed and line flow that is gone at once while the pump is moved on.
const RELAXED: f64 = 0.7;
/// A pressure is held by moving the outlet so much of the way in each turn.
const HOLDS: f64 = 0.5;
/// The outlet is moved on at most by this share in a turn.
const MOST_MOVE: f64 = 0.3;
/// Oil that two turns change alike is moved on at most so many turns at once.
const MOST_TURNS: f64 = 30.0;
/// A pump turns at least this fast to be cut into steps, rev/s.
const SLOWEST: f64 = 0.3;

/// Step in which the oil warms, s.
const WARM_STEP: f64 = 5.0;
/// Longest wait for the oil to warm, s: after a day nothing warms any more.
const LONGEST_WAIT: f64 = 86_400.0;
/// A turn is cut into no more steps than this.
const MOST_STEPS: f64 = 200_000.0;

/// A pump at work.
#[derive(Debug, Clone)]
pub struct Run {
    works: Works,
    state: State,
    places: Places,
    now: Flowing,
    parts: Parts,
    turning: Turning,
    /// Power of the motor, W.
    power: f64,
    /// Oil, K.
    oil: f64,
    /// Mean flow from the line and mean inlet pressure, Pa absolute, of the last turn.
    drawn: (f64, f64),
    /// Oil lost and made up by each cell in the last turn, m³.
    moved: Vec<f64>,
    /// Working outlet over that of the pump, where a pressure is held.
    held: f64,
    /// A relief that hangs stands open.
    hangs: bool,
    simulated: f64,
}

impl Run {
    /// The pump in a state, at the pressure of the steady model.
    ///
    /// # Errors
    /// [`OutOfRange`] for numbers that describe no pump.
    pub fn new(works: &Works, state: State, detail: Detail) -> Result<Self, OutOfRange> {
        let mut works = works.clone();
        let guess = Steady::new(works.pump.chambers).solve(&works.pump, &works.sound, state)?;
        let of = |output: Output| guess[output as usize];
        state.put(&mut works.pump, &works.sound);
        works.put(state);
        works.pump.liquid = works.pump.liquid.warmed(works.pump[Part::LiquidTemperature])?;
        let pump = works.pump;
        let barometer = pump[Part::Barometer];
        let turning = Turning { motor: of(Output::MotorSpeed), pump: of(Output::PumpSpeed) };
        let length = match detail {
            Detail::Settled => 0.2e-3,
            Detail::Full => 0.1e-3,
            Detail::Steps(seconds) => seconds.max(1e-6),
        };
        let steps = (1.0 / (turning.pump.max(SLOWEST) * length)).ceil().min(MOST_STEPS);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // whole, 1 to 200 000
        let places = Places::new(works.chambers.len(), steps as usize, works.rods);
        let now = primed(&works, of(Output::OutletPressure).max(1000.0) + barometer, &places);
        let oil = if state.oil == Oil::Cold { pump[Part::RoomTemperature] } else { of(Output::OilTemperature) };
        let drawn = (of(Output::DeliveredFlow).max(1e-6), of(Output::InletPressure) + barometer);
        let step = 1.0 / (turning.pump.max(SLOWEST) * places.count() as f64);
        let parts = ready(&works, state, step, (oil, drawn, 1.0, false))?;
        let moved = vec![0.0; works.chambers.len()];
        let (held, hangs, simulated, power) = (1.0, works.outlet.hangs < 1.0, 0.0, 0.6 * pump[Part::MotorPower]);
        Ok(Self { works, state, places, now, parts, turning, power, oil, drawn, moved, held, hangs, simulated })
    }
}

/// All parts for the next turn: in steps of so many seconds, with what the last turn left.
fn ready(
    works: &Works,
    state: State,
    step: f64,
    (oil, (flow, pressure), held, hangs): (f64, (f64, f64), f64, bool),
) -> Result<Parts, OutOfRange> {
    let pump = &works.pump;
    let around = around(works, step, drive::oil_viscosity(pump, oil)?);
    let cavity = cavity(pump[Part::Displacement], around.vapour);
    let mut outlet = works.outlet.ready(pump, &works.sound, state, hangs)?;
    outlet.orifice *= held;
    Ok(Parts {
        chambers: works.chambers.iter().map(|chamber| chamber.ready(&around)).collect(),
        around,
        inlet: works.inlet.ready(pump, flow, pressure, cavity)?,
        outlet,
        returned: works.inlet.returned,
    })
}

impl Run {
    /// One turn; `watch` sees every step.
    ///
    /// # Errors
    /// [`OutOfRange`] where the numbers leave what the laws cover.
    pub fn turn(&mut self, watch: impl FnMut(Moment)) -> Result<Turn, OutOfRange> {
        let step = 1.0 / (self.turning.pump.max(SLOWEST) * self.places.count() as f64);
        self.parts = ready(&self.works, self.state, step, (self.oil, self.drawn, self.held, self.hangs))?;
        let before: Vec<f64> = self.now.chambers.iter().map(|holds| holds.oil).collect();
        let turn = self.parts.turn(&mut self.now, &self.places, watch);
        for ((moved, holds), before) in self.moved.iter_mut().zip(&self.now.chambers).zip(before) {
            *moved = holds.oil - before;
        }
        self.simulated += turn.time;
        self.renew(&turn)?;
        Ok(turn)
    }

    /// Renews what is slow after a turn.
    fn renew(&mut self, turn: &Turn) -> Result<(), OutOfRange> {
        let pump = &self.works.pump;
        let friction = drive::friction(pump, self.turning.pump, self.oil_viscosity()?);
        self.power = drive::motor_power(turn.power.max(0.0), friction)?;
        self.turning = drive::speeds(pump, self.power)?;
        let drawn = turn.delivered.max(1e-6);
        self.drawn = (self.drawn.0 + RELAXED * (drawn - self.drawn.0), turn.before.mean);
        let pressure = turn.after.mean - pump[Part::Barometer];
        if self.state.oil == Oil::Warm {
            let time = HEAT_HELD * pump[Part::OilResistance];
            self.oil += (self.warmth(turn)? - self.oil) * (1.0 - libm::exp(-turn.time / time));
        }
        if self.state.outlet == Outlet::Held {
            let wanted = (pressure.max(1e3) / pump.design.pressure).clamp(0.25, 4.0);
            self.held = (self.held * libm::pow(wanted, HOLDS)).clamp(1e-3, 1e3);
        }
        let top = self.parts.outlet.opening();
        self.hangs = self.works.outlet.hangs < 1.0 && top < turn.after.most - pump[Part::Barometer];
        Ok(())
    }

    /// Warmth that the oil is heading for, K.
    fn warmth(&self, turn: &Turn) -> Result<f64, OutOfRange> {
        let pump = &self.works.pump;
        let friction = drive::friction(pump, self.turning.pump, self.oil_viscosity()?);
        let lost = (turn.power - turn.delivered * (turn.after.mean - pump[Part::Barometer])).max(0.0);
        Ok(drive::oil_temperature(pump, friction + self.works.heat, lost))
    }

    /// Turns until the outlet is steady, moving the slow things to where they are heading after each turn; `least` and
    /// `most` turns, steady within a share.
    ///
    /// # Errors
    /// As [`Run::turn`].
    pub fn move_on(&mut self, (least, most): (usize, usize), steady: f64) -> Result<(), OutOfRange> {
        for count in 0..most {
            let before = self.moved.clone();
            let turn = self.turn(|_| ())?;
            let gone = self.move_outlet(&turn);
            let oil = self.move_oil(&before);
            if self.state.oil == Oil::Warm {
                self.oil += RELAXED * (self.warmth(&turn)? - self.oil);
            }
            if least <= count && gone.abs() < steady && oil < steady {
                break;
            }
        }
        Ok(())
    }

    /// Moves the outlet's pressure to where what comes and what leaves are alike; the share moved.
    fn move_outlet(&mut self, turn: &Turn) -> f64 {
        let surplus = turn.delivered - turn.outlet - turn.bypass - turn.outside;
        let pressure = turn.after.mean;
        let slope = self.parts.outlet.leaves(pressure).slope.max(1e-14);
        let most = MOST_MOVE * pressure.max(0.0);
        let by = (surplus / slope).clamp(-most, most);
        self.now.after = (self.now.after + by).max(self.parts.around.vapour);
        self.now.damper = (self.now.damper + by).max(self.parts.around.vapour);
        by / pressure
    }

    /// Moves the oil of each cell on as far as two turns show; the largest share of a stroke still moved in a turn.
    fn move_oil(&mut self, before: &[f64]) -> f64 {
        let mut most: f64 = 0.0;
        for (at, holds) in self.now.chambers.iter_mut().enumerate() {
            let (last, now) = (before[at], self.moved[at]);
            let swept = self.works.chambers[at].swept;
            most = most.max(now.abs() / swept);
            if now.abs() < 1e-5 * swept || now * last <= 0.0 || last.abs() < now.abs() {
                continue;
            }
            let ratio = now / last;
            let turns = (ratio / (1.0 - ratio).max(1e-6)).min(MOST_TURNS);
            // Half of the way: the loss falls as the stroke gets shorter.
            let most = 0.05 * swept.max(0.0);
            holds.oil += (0.5 * now * turns).clamp(-most, most);
        }
        most
    }

    /// Lets the oil warm for so many seconds at what the last turn lost, while nothing else moves; for a pump that started
    /// cold. [`Run::move_on`] then finds what the rest settles to.
    ///
    /// # Errors
    /// As [`Run::turn`].
    pub fn warm_for(&mut self, seconds: f64) -> Result<(), OutOfRange> {
        let turn = self.turn(|_| ())?;
        let time = HEAT_HELD * self.works.pump[Part::OilResistance];
        // Friction falls as the oil warms, so a long wait goes in short steps.
        let mut left = seconds.min(LONGEST_WAIT);
        while 0.0 < left {
            let step = left.min(WARM_STEP);
            self.oil += (self.warmth(&turn)? - self.oil) * (1.0 - libm::exp(-step / time));
            left -= step;
        }
        Ok(())
    }

    /// Empties all chambers of liquid: they hold gas at the barometer, as before priming, against an outlet at `after` Pa
    /// absolute.
    pub fn run_dry(&mut self, after: f64) {
        (self.now.after, self.now.damper) = (after, after);
        for holds in &mut self.now.chambers {
            (holds.gas, holds.liquid) = (holds.gas + holds.liquid, 0.0);
            holds.pressure = self.works.pump[Part::Barometer];
        }
    }

    /// The pump with all its parts in this state.
    pub fn works(&self) -> &Works {
        &self.works
    }

    /// The outlet in the last turn.
    pub fn outlet(&self) -> &outlet::Ready {
        &self.parts.outlet
    }

    /// Speeds now.
    pub fn turning(&self) -> Turning {
        self.turning
    }

    /// Current of the motor, A.
    pub fn current(&self) -> f64 {
        drive::current(&self.works.pump, self.power)
    }

    /// Temperature of the oil, K.
    pub fn oil(&self) -> f64 {
        self.oil
    }

    /// Viscosity of the oil, m²/s.
    ///
    /// # Errors
    /// [`OutOfRange`] for an oil that the law of viscosity does not cover.
    pub fn oil_viscosity(&self) -> Result<f64, OutOfRange> {
        Ok(drive::oil_viscosity(&self.works.pump, self.oil)? * self.works.thicker_oil)
    }

    /// Gas in the stream at the inlet, share.
    pub fn gas(&self) -> f64 {
        self.parts.inlet.gas
    }

    /// Steps in a turn.
    pub fn steps(&self) -> usize {
        self.places.count()
    }

    /// Simulated so far, s.
    pub fn simulated(&self) -> f64 {
        self.simulated
    }
}
