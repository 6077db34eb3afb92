//! Turns a pump and a running state into what its gauges show: pump, inlet, drive and outlet solved together.
//!
//! Load, slip of the motor and warmth of the oil depend on the pressure, and the pressure on the speed: a few passes of a
//! fixed point, inside each one root for the outlet pressure. Where no law is named, the form is assumed.

use super::outlet::{Split, Ways};
use super::output::{OUTPUTS, Output, Readings};
use super::part::Part;
use super::pump::Pump;
use super::state::{Oil, Outlet, State};
use super::wave::{Drawn, Wave};
use super::{drive, suction};
use crate::physics::law::OutOfRange;
use crate::physics::laws::air::free_gas;
use crate::physics::laws::pump::{hydraulic_power, leak_at_pressure};
use crate::quantity::short_number;

/// Passes of the fixed point at most; it stops when the power is steady.
const PASSES: usize = 8;
/// The power is steady when it moves by less than this share.
const STEADY: f64 = 1e-5;
/// Share of a step that the oil's temperature takes: hotter oil rubs less, so a whole step would go too far.
const RELAXED: f64 = 0.75;
/// A pump that turns slower than this, rev/s, stands.
const STANDS: f64 = 0.01;
/// Swing of the inlet pressure that slugs of gas add, Pa for pure gas (assumed).
const SLUGS: f64 = 40e3;
/// The gas of a damper: its polytropic exponent, and over which share of the charge it comes into play (assumed).
const DAMPER: (f64, f64) = (1.2, 0.03);
/// No swing is larger than this over the mean.
const MOST_SWING: f64 = 1.2;
/// Peak to peak over the root of the summed squares of the lines: 2 for one line, a little more for several (assumed).
const PEAK: f64 = 2.1;

/// The steady model of pumps with so many chambers.
#[derive(Debug, Clone)]
pub struct Steady {
    wave: Wave,
}

/// A pump with its faults, and the same pump as built.
#[derive(Debug, Clone, Copy)]
struct Case<'a> {
    pump: &'a Pump,
    state: State,
    works: &'a [f64],
    ways: Ways,
}

/// The fixed point.
#[derive(Debug, Clone, Copy)]
struct Point {
    turning: drive::Turning,
    power: f64,
    oil: f64,
    pressure: f64,
    /// Flow through the pump, m³/s.
    flow: f64,
    /// Flow that the pump would take if all of it came, m³/s.
    demand: f64,
    /// Share of the strokes that moves liquid at no pressure.
    share: f64,
    line: suction::Line,
}

impl Steady {
    /// The model for `chambers` chambers.
    pub fn new(chambers: u32) -> Self {
        Self { wave: Wave::new(chambers) }
    }

    /// Readings of a pump with faults in a state; `sound` is the same pump without them.
    ///
    /// # Errors
    /// [`OutOfRange`] for numbers that describe no pump.
    pub fn solve(&self, pump: &Pump, sound: &Pump, state: State) -> Result<Readings, OutOfRange> {
        let mut pump = *pump;
        state.put(&mut pump, sound);
        pump.liquid = pump.liquid.warmed(pump[Part::LiquidTemperature])?;
        let works = works(&pump);
        let case = Case { pump: &pump, state, works: &works, ways: Ways::of(&pump, sound, state)? };
        let point = case.fixed_point()?;
        let split = case.ways.split(point.pressure, point.flow, state.outlet == Outlet::Held);
        let mut readings = case.plain(&point, split)?;
        if STANDS < point.turning.pump {
            self.shaped(&case, &point, split, &mut readings)?;
        }
        if readings.iter().all(|reading| reading.is_finite()) { Ok(readings) } else { Err(no_readings(&pump)) }
    }

    /// Adds what comes from the shape of the flow over a turn.
    fn shaped(&self, case: &Case, point: &Point, split: Split, readings: &mut Readings) -> Result<(), OutOfRange> {
        let pump = case.pump;
        let drawn = self.wave.drawn(case.works, pump[Part::InletValveLeak]);
        let constant = std::f64::consts::TAU / 60.0 * drawn.steepest;
        let margins = case.margins(point, constant)?;
        readings[Output::VapourMargin as usize] = margins.vapour;
        readings[Output::DeliveryMargin as usize] = margins.delivery;
        readings[Output::AccelerationHead as usize] = margins.acceleration;
        readings[Output::InletPressure as usize] = suction::gauge(pump, point.line, drawn.unevenness)?;
        readings[Output::InletSwing as usize] = inlet_swing(case, point, drawn, readings);
        let late = (pump[Part::Compression] * point.pressure / pump.design.pressure
            + pump[Part::Gas] * (1.0 + pump[Part::Regrowth]))
            .clamp(0.0, 1.0);
        let lines = self.wave.delivered(case.works, late, pump[Part::OutletValveLeak]);
        let omega = std::f64::consts::TAU * point.turning.pump;
        let compliance = compliance(pump, split.pressure);
        let swept = pump[Part::Displacement] / 2.0 * omega;
        let swing = |line: usize, times: f64| {
            let x = lines[line] * swept / libm::hypot(split.slope, times * omega * compliance);
            let most = MOST_SWING * split.pressure;
            x / (1.0 + x * x / (most * most)).sqrt()
        };
        let n = f64::from(pump.chambers);
        let (once, twice) = (swing(0, 1.0), swing(1, 2.0));
        let together = libm::hypot(swing(2, n), swing(3, 2.0 * n));
        readings[Output::OncePerTurn as usize] = once / split.pressure;
        readings[Output::RippleAtN as usize] = together / split.pressure;
        readings[Output::OutletSwing as usize] = PEAK * libm::hypot(libm::hypot(once, twice), together);
        Ok(())
    }
}

impl Case<'_> {
    fn fixed_point(&self) -> Result<Point, OutOfRange> {
        let pump = self.pump;
        let mut power = 0.6 * pump[Part::MotorPower];
        let mut oil = match self.state.oil {
            Oil::Cold => pump[Part::RoomTemperature],
            Oil::Warm => pump[Part::RoomTemperature] + pump[Part::OilResistance] * pump[Part::FrictionOil] * 3.0,
        };
        let (mut flow, mut pressure) = (pump.design.flow, pump.design.pressure);
        let mut pass = 0;
        loop {
            pass += 1;
            let point = self.pass(power, oil, (flow, pressure))?;
            let moved = (point.power - power).abs();
            let warmer = if self.state.oil == Oil::Warm { RELAXED * (point.oil - oil) } else { 0.0 };
            if PASSES <= pass || (moved < STEADY * pump[Part::MotorPower] && warmer.abs() < 0.05) {
                return Ok(Point { oil: oil + warmer, ..point });
            }
            (power, oil, flow, pressure) = (point.power, oil + warmer, point.flow, point.pressure);
        }
    }

    /// One pass from the power, the oil, the flow and the pressure of the last one.
    fn pass(&self, power: f64, oil: f64, (flow, near): (f64, f64)) -> Result<Point, OutOfRange> {
        let pump = self.pump;
        let turning = drive::speeds(pump, power)?;
        let viscosity = drive::oil_viscosity(pump, oil)?;
        let line = suction::line(pump, flow)?;
        let share = self.works.iter().sum::<f64>() / self.works.len() as f64
            * (1.0 - drive::starved_by_oil(viscosity, turning.pump));
        let swept = f64::from(pump.chambers) * pump[Part::Displacement] * turning.pump;
        let limit = suction::limit(pump, line)?;
        let arrives = if pump[Part::Supply] < 1.0 { pump[Part::Supply] * swept } else { f64::INFINITY };
        let demand = |pressure: f64| self.demand(pressure, swept * share);
        let offered = |pressure: f64| Ok(suction::delivered(demand(pressure)?, limit).min(arrives));
        let held = self.state.outlet == Outlet::Held;
        let pressure = if held { pump.design.pressure } else { self.ways.balance(near, offered)? };
        let flow = offered(pressure)?;
        let leak = self.leak(pressure)?;
        let [liquid] = hydraulic_power::LAW.meant([flow + leak, pressure])?;
        let friction = drive::friction(pump, turning.pump, viscosity);
        let power = if turning.pump < STANDS { 0.0 } else { drive::motor_power(liquid, friction)? };
        let warm = drive::oil_temperature(pump, friction, leak * pressure);
        Ok(Point { turning, power, oil: warm, pressure, flow, demand: demand(pressure)?, share, line })
    }

    /// What the pump would move at an outlet pressure if all of it came, m³/s.
    fn demand(&self, pressure: f64, moved: f64) -> Result<f64, OutOfRange> {
        let pump = self.pump;
        let [with_gas] = free_gas::LAW.meant([pump[Part::Gas].clamp(0.0, 1.0), pump[Part::Regrowth]])?;
        let squeezed = (1.0 - pump[Part::Compression] * pressure / pump.design.pressure).max(0.0);
        Ok((moved * squeezed * with_gas - self.leak(pressure)?).max(0.0))
    }

    /// Margins at what the pump would take; `constant` is that of the acceleration head for the shape of the flow.
    fn margins(&self, point: &Point, constant: f64) -> Result<suction::Margins, OutOfRange> {
        let line = suction::line(self.pump, point.demand)?;
        suction::margins(self.pump, line, point.demand, point.turning.pump, constant)
    }

    /// What leaks back to the inlet, m³/s.
    fn leak(&self, pressure: f64) -> Result<f64, OutOfRange> {
        let pump = self.pump;
        let at_design = (pump[Part::PumpSlip] + pump[Part::ValveWear]) * pump.design.flow;
        leak_at_pressure::LAW.meant([at_design, pump.design.pressure, pressure]).map(|[leak]| leak)
    }

    /// Everything that needs no shape.
    fn plain(&self, point: &Point, split: Split) -> Result<Readings, OutOfRange> {
        let pump = self.pump;
        let mut readings = [0.0; OUTPUTS];
        let mut set = |output: Output, value: f64| readings[output as usize] = value;
        let share = if 0.0 < point.flow { split.bypass / point.flow } else { 0.0 };
        set(Output::InletPressure, suction::gauge(pump, point.line, 0.0)?);
        set(Output::DeliveredFlow, split.outlet);
        set(Output::BypassShare, share);
        set(Output::OutletPressure, split.pressure);
        set(Output::NozzleShare, split.nozzle);
        set(Output::PumpSpeed, point.turning.pump);
        set(Output::MotorSpeed, point.turning.motor);
        set(Output::MotorCurrent, if STANDS < point.turning.motor { drive::current(pump, point.power) } else { 0.0 });
        set(Output::OilTemperature, point.oil);
        set(Output::ReliefOpening, pump[Part::ReliefOpening]);
        set(Output::DeliveryMargin, self.margins(point, 0.0)?.delivery);
        Ok(readings)
    }
}

/// What is said where the numbers of a pump, each possible by itself, lead to no readings.
pub(crate) fn no_readings(pump: &Pump) -> OutOfRange {
    let shown = |pascal: f64| format!("{} bar", short_number(pascal / 1e5, 4));
    OutOfRange {
        input: "working_pressure",
        value: if pump.design.pressure.is_finite() { shown(pump.design.pressure) } else { "no number".to_owned() },
        low: shown(1e5),
        high: shown(1e8),
        advice: "with the other numbers of this pump it gives no readings; check them all",
    }
}

/// Share of its stroke that each chamber moves: the first bears what one chamber has, low oil costs the first most and
/// the last least.
fn works(pump: &Pump) -> Vec<f64> {
    let low = pump[Part::OilShort];
    let of_one = [Part::InletValveLeak, Part::OutletValveLeak, Part::StrokeLost, Part::DiaphragmLeak];
    let first: f64 = of_one.iter().map(|&part| 1.0 - pump[part].clamp(0.0, 1.0)).product();
    let count = pump.chambers.max(1);
    let of = |chamber: u32| {
        let spread = if count == 1 { 0.0 } else { f64::from(chamber) / f64::from(count - 1) };
        let kept = (1.0 - (1.5 - spread) * low).clamp(0.0, 1.0);
        if chamber == 0 { first * kept } else { kept }
    };
    (0..count).map(of).collect()
}

/// Swing of the inlet pressure, Pa: the column's inertia, limited by the vapour pressure; slugs of gas come on top.
fn inlet_swing(case: &Case, point: &Point, drawn: Drawn, readings: &Readings) -> f64 {
    let pump = case.pump;
    let swept = f64::from(pump.chambers) * pump[Part::Displacement] * point.turning.pump * point.share;
    let omega = std::f64::consts::TAU * point.turning.pump;
    let moved = if 0.0 < swept { point.flow / swept } else { 0.0 };
    let change = omega * omega * pump[Part::Displacement] / 2.0 * drawn.span * moved;
    let swing = suction::inertia(pump) * change / suction::elasticity(pump);
    let absolute = pump[Part::Barometer] + readings[Output::InletPressure as usize];
    let most = MOST_SWING * (absolute - pump.liquid.vapour).max(0.0);
    libm::hypot(swing.min(most), SLUGS * pump[Part::Gas])
}

/// Compliance of outlet and damper, m³/Pa.
fn compliance(pump: &Pump, pressure: f64) -> f64 {
    let (exponent, over) = DAMPER;
    let (charge, absolute) = (pump[Part::DamperCharge] + 101_325.0, pressure + 101_325.0);
    let in_play = 1.0 / (1.0 + libm::exp((charge - absolute) / (over * charge)));
    pump[Part::OutletCompliance] + pump[Part::DamperVolume] * charge / (exponent * absolute * absolute) * in_play
}
