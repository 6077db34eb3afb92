//! Turns a pump with faults in a running state into what it settles to: means over whole turns.
//!
//! The start is the steady model's pressure. After each of the first turns pressure, speed, warmth and oil are moved to
//! where they are heading (the outlet by its own balance, the oil by the ratio of two turns); then it turns freely, and
//! only after that it is read.

use super::pump::turn::{Moment, Turn};
use super::run::Run;
use super::works::Works;
use crate::physics::OutOfRange;
use crate::physics::steady::{OUTPUTS, Oil, Output, Part, Readings, State, Steady, no_readings, suction};

const GRAVITY: f64 = 9.806_65;
/// A pump that turns slower than this, rev/s, stands.
const STANDS: f64 = 0.01;
/// Turns in which the state is moved on, at least and at most.
const MOVED: (usize, usize) = (6, 40);
/// The outlet is steady when it moves by less than this share.
const STEADY: f64 = 3e-4;
/// Turns that run freely before the first is read, and turns that are read.
const FREE: usize = 3;
const READ: usize = 8;
/// Turns of one curve, at most: minutes of any pump.
const MOST_TURNS: usize = 10_000;

/// How finely a turn is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Detail {
    /// Steps of 0.2 ms: for many states.
    Settled,
    /// Steps of 0.1 ms: for curves.
    Full,
    /// Steps of so many seconds.
    Steps(f64),
}

/// What a pump settles to.
#[derive(Debug, Clone, PartialEq)]
pub struct Settled {
    /// The state it is in.
    pub state: State,
    /// Everything that the steady model gives too.
    pub readings: Readings,
    /// Amplitude of the inlet pressure once a turn, Pa.
    pub inlet_once: f64,
    /// Lowest inlet pressure, Pa gauge.
    pub inlet_least: f64,
    /// Share of the turn in which some chamber holds vapour.
    pub vapour: f64,
    /// Largest vapour in a chamber, share of its stroke.
    pub cavity: f64,
    /// Delivered by each chamber, share of what it sweeps.
    pub each: Vec<f64>,
    /// Back by relief and bypass, m³/s.
    pub bypass: f64,
    /// To the outside, m³/s.
    pub outside: f64,
    /// Swept by all chambers, m³/s.
    pub swept: f64,
    /// Liquid that comes into the oil, m³/s; negative: oil is lost into the liquid.
    pub into_case: f64,
    /// Viscosity of the oil, m²/s.
    pub oil_viscosity: f64,
    /// Gas in the stream at the inlet, share.
    pub gas: f64,
    /// Share of steps in which the pressures were not found.
    pub rough: f64,
    /// Simulated seconds.
    pub simulated: f64,
}

/// One moment of a curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Seconds from the start.
    pub time: f64,
    /// Inlet pressure, Pa gauge.
    pub inlet: f64,
    /// Outlet pressure, Pa gauge.
    pub outlet: f64,
}

impl Settled {
    /// One reading, SI.
    pub fn of(&self, output: Output) -> f64 {
        self.readings[output as usize]
    }
}

/// What a pump settles to in a state.
///
/// # Errors
/// [`OutOfRange`] for numbers that describe no pump.
pub fn settle(works: &Works, state: State, detail: Detail) -> Result<Settled, OutOfRange> {
    let mut run = Run::new(works, state, detail)?;
    if run.turning().pump < STANDS {
        return standing(works, state);
    }
    settled(&mut run, state)
}

/// Moves a run on until it is steady, and reads it.
fn settled(run: &mut Run, state: State) -> Result<Settled, OutOfRange> {
    run.move_on(MOVED, STEADY)?;
    for _ in 0..FREE {
        run.turn(|_| ())?;
    }
    let mut turns = Vec::with_capacity(READ);
    for _ in 0..READ {
        turns.push(run.turn(|_| ())?);
    }
    readings(run, state, &turns)
}

/// A cold start: what the pump shows at the start and every so many seconds while the oil warms, `count` times in all.
/// Everything but the oil is settled at each.
///
/// # Errors
/// As [`settle`].
pub fn warm_up(works: &Works, state: State, every: f64, count: usize) -> Result<Vec<Settled>, OutOfRange> {
    let state = State { oil: Oil::Cold, ..state };
    let mut run = Run::new(works, state, Detail::Settled)?;
    let mut shown = Vec::with_capacity(count);
    for _ in 0..count {
        shown.push(settled(&mut run, state)?);
        run.warm_for(every)?;
    }
    Ok(shown)
}

/// The pressures of a settled pump over so many seconds.
///
/// # Errors
/// As [`settle`].
pub fn trace(works: &Works, state: State, seconds: f64, detail: Detail) -> Result<Vec<Point>, OutOfRange> {
    let mut run = Run::new(works, state, detail)?;
    let barometer = works.pump[Part::Barometer];
    if run.turning().pump < STANDS {
        let still = standing(works, state)?;
        let point =
            |time| Point { time, inlet: still.of(Output::InletPressure), outlet: still.of(Output::OutletPressure) };
        return Ok(vec![point(0.0), point(seconds)]);
    }
    run.move_on(MOVED, STEADY)?;
    let mut points = Vec::new();
    let mut start = 0.0;
    for _ in 0..MOST_TURNS {
        if start >= seconds {
            break;
        }
        let turn = run.turn(|moment: Moment| {
            let time = start + moment.time;
            points.push(Point { time, inlet: moment.before - barometer, outlet: moment.after - barometer });
        })?;
        start += turn.time;
    }
    points.retain(|point| point.time <= seconds);
    Ok(points)
}

/// A pump that does not turn: what the steady model says.
fn standing(works: &Works, state: State) -> Result<Settled, OutOfRange> {
    let readings = Steady::new(works.pump.chambers).solve(&works.pump, &works.sound, state)?;
    Ok(Settled {
        state,
        readings,
        inlet_once: 0.0,
        inlet_least: readings[Output::InletPressure as usize],
        vapour: 0.0,
        cavity: 0.0,
        each: vec![0.0; works.chambers.len()],
        bypass: 0.0,
        outside: 0.0,
        swept: 0.0,
        into_case: 0.0,
        oil_viscosity: 0.0,
        gas: 0.0,
        rough: 0.0,
        simulated: 0.0,
    })
}

/// Mean of a number over turns.
fn mean(turns: &[Turn], of: impl Fn(&Turn) -> f64) -> f64 {
    turns.iter().map(of).sum::<f64>() / turns.len().max(1) as f64
}

fn readings(run: &Run, state: State, turns: &[Turn]) -> Result<Settled, OutOfRange> {
    let pump = &run.works().pump;
    let barometer = pump[Part::Barometer];
    let mut readings = [0.0; OUTPUTS];
    let mut set = |output: Output, value: f64| readings[output as usize] = value;
    let inlet = mean(turns, |turn| turn.before.mean);
    let pressure = mean(turns, |turn| turn.after.mean) - barometer;
    let [outlet, bypass, outside, delivered] = [
        mean(turns, |turn| turn.outlet),
        mean(turns, |turn| turn.bypass),
        mean(turns, |turn| turn.outside),
        mean(turns, |turn| turn.delivered),
    ];
    let turning = run.turning();
    set(Output::InletPressure, inlet - barometer);
    set(Output::InletSwing, mean(turns, |turn| turn.before.most - turn.before.least));
    set(Output::DeliveredFlow, outlet);
    set(Output::BypassShare, if 0.0 < delivered { bypass / delivered } else { 0.0 });
    set(Output::OutletPressure, pressure);
    set(Output::NozzleShare, run.outlet().nozzle(outlet, pressure));
    set(Output::OutletSwing, mean(turns, |turn| turn.after.most - turn.after.least));
    let share = pressure.max(1000.0);
    set(Output::OncePerTurn, mean(turns, |turn| turn.ripple[0]) / share);
    set(Output::RippleAtN, mean(turns, |turn| libm::hypot(turn.ripple[2], turn.ripple[3])) / share);
    set(Output::PumpSpeed, turning.pump);
    set(Output::MotorSpeed, turning.motor);
    set(Output::MotorCurrent, run.current());
    set(Output::OilTemperature, run.oil());
    set(Output::ReliefOpening, pump[Part::ReliefOpening]);
    let weight = pump.liquid.density * GRAVITY;
    let line = suction::line(pump, delivered.max(0.0))?;
    let available = (inlet - pump.liquid.vapour) / weight + line.velocity * line.velocity / (2.0 * GRAVITY);
    let delivery = available - suction::required(pump, delivered.max(0.0));
    let column = (inlet - mean(turns, |turn| turn.before.least)) / weight;
    set(Output::DeliveryMargin, delivery);
    set(Output::AccelerationHead, column);
    set(Output::VapourMargin, delivery - column);
    if !readings.iter().all(|reading| reading.is_finite()) {
        return Err(no_readings(pump));
    }
    let steps = (turns.len() * run.steps()).max(1);
    let each = |at: usize| {
        let swept = run.works().chambers[at].swept;
        if 0.0 < swept { mean(turns, |turn| turn.each[at]) / swept } else { 0.0 }
    };
    Ok(Settled {
        state,
        readings,
        inlet_once: mean(turns, |turn| turn.inlet_once),
        inlet_least: mean(turns, |turn| turn.before.least) - barometer,
        vapour: mean(turns, |turn| turn.vapour),
        cavity: mean(turns, |turn| turn.cavity),
        each: (0..run.works().chambers.len()).map(each).collect(),
        bypass,
        outside,
        swept: run.works().swept() * turning.pump,
        into_case: mean(turns, |turn| turn.into_case / turn.time),
        oil_viscosity: run.oil_viscosity()?,
        gas: run.gas(),
        rough: turns.iter().map(|turn| turn.rough).sum::<usize>() as f64 / steps as f64,
        simulated: run.simulated(),
    })
}
