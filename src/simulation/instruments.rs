//! Turns pressures, speeds, flows and currents into what instruments show: class, range, lag, bias, and the reader's error.
//!
//! Every reading has an error of its own drawn from a seed and its name; a gauge's class error stays the same for the same
//! gauge, since it comes from the gauge and not from the reader.

use super::chance::Chance;
use super::settled::{Point, Settled};
use super::works::{Misread, Works};
use crate::physics::laws::gauge::gauge_grade;
use crate::physics::steady::Output;

/// A dial gauge, Pa gauge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gauge {
    /// Ends of the dial.
    pub range: (f64, f64),
    /// Error, share of the span: in the outer quarters, and in the middle half (ASME B40.100 grade B: 3 and 2 %).
    pub class: (f64, f64),
    /// Time constant of the needle, s.
    pub lag: f64,
    /// Time constant of a snubber before it, s.
    pub snubber: f64,
    /// Always added, Pa.
    pub bias: f64,
    /// The needle does not move any more; it shows this, Pa.
    pub stuck: Option<f64>,
}

/// Marks on a dial: a reader tells half of one.
const MARKS: f64 = 50.0;
/// A class error is met by nearly all: it is two standard deviations.
const WITHIN: f64 = 2.0;

impl Gauge {
    /// A usual gauge for a range: grade B, needle of 50 ms.
    pub fn usual(low: f64, high: f64) -> Self {
        Self { range: (low, high), class: (0.03, 0.02), lag: 0.05, snubber: 0.0, bias: 0.0, stuck: None }
    }

    /// What the dial shows at a pressure, Pa: `seed` is that of the gauge.
    pub fn dial(&self, pressure: f64, seed: u64) -> f64 {
        if let Some(shown) = self.stuck {
            return shown;
        }
        let (low, high) = self.ends();
        let span = high - low;
        let on_dial = (pressure - low).clamp(0.0, span);
        let allowed = gauge_grade(span, on_dial, self.class.1, self.class.0).unwrap_or(self.class.0 * span);
        let error = allowed / WITHIN * Chance::of(seed, &["class"]).normal();
        (pressure + self.bias + error).clamp(low, high)
    }

    /// What a reader writes down, Pa: the dial, to half a mark.
    pub fn read(&self, pressure: f64, seed: u64, time: u64) -> f64 {
        let shown = self.dial(pressure, seed);
        let (low, high) = self.ends();
        let half = (high - low) / MARKS / 2.0;
        let eye = 0.5 * Chance::of(seed, &["eye", &time.to_string()]).normal();
        if half <= 0.0 { low } else { ((shown / half + eye).round() * half).clamp(low, high) }
    }

    /// Lower and upper end of the dial; a dial without ends has none of the scale.
    fn ends(&self) -> (f64, f64) {
        let (one, other) = self.range;
        if (one - other).is_finite() { (one.min(other), one.max(other)) } else { (0.0, 0.0) }
    }

    /// The needle over time, Pa, for pressures at even intervals of `step` s: lag of needle and snubber, one after the
    /// other. It starts at the first pressure.
    pub fn needle(&self, pressures: impl IntoIterator<Item = f64>, step: f64, seed: u64) -> Vec<f64> {
        let follows = |time: f64| if 0.0 < time { 1.0 - libm::exp(-step / time) } else { 1.0 };
        let (needle, snubber) = (follows(self.lag), follows(self.snubber));
        let mut state: Option<(f64, f64)> = None;
        let mut shown = Vec::new();
        for pressure in pressures {
            let (before, at) = state.unwrap_or((pressure, pressure));
            let before = before + snubber * (pressure - before);
            let at = at + needle * (before - at);
            state = Some((before, at));
            shown.push(self.dial(at, seed));
        }
        shown
    }
}

/// What else is at hand: errors as one standard deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Simple {
    /// Share of the value.
    pub share: f64,
    /// In the unit of the value.
    pub plain: f64,
    /// Smallest step shown, in the unit of the value.
    pub digit: f64,
}

impl Simple {
    /// What it shows, for a seed and the name of the reading.
    pub fn read(&self, value: f64, seed: u64, name: &str) -> f64 {
        let mut chance = Chance::of(seed, &[name]);
        let shown = value * (1.0 + self.share * chance.normal()) + self.plain * chance.normal();
        (shown / self.digit).round() * self.digit
    }
}

/// A vessel and a stopwatch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bucket {
    /// Volume filled, m³, and its error.
    pub volume: (f64, f64),
    /// Error of start and stop together, s.
    pub watch: f64,
}

impl Bucket {
    /// The flow that comes out of it, m³/s: its relative error is √((error of V/V)² + (error of t/t)²).
    pub fn read(&self, flow: f64, seed: u64) -> f64 {
        let (volume, error) = self.volume;
        if flow < 1e-9 {
            return 0.0;
        }
        let mut chance = Chance::of(seed, &["bucket"]);
        let filled = volume + error * chance.normal();
        let time = (volume / flow + self.watch * chance.normal()).max(0.2);
        filled / ((time * 10.0).round() / 10.0).max(0.1)
    }
}

/// Everything that a technician has at a pump.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Instruments {
    /// Compound gauge at the inlet.
    pub inlet: Gauge,
    /// Gauge at the outlet.
    pub outlet: Gauge,
    /// Tachometer, rev/s.
    pub tachometer: Simple,
    /// Thermometer, K.
    pub thermometer: Simple,
    /// Clamp meter, A.
    pub clamp: Simple,
    /// Bucket and stopwatch.
    pub bucket: Bucket,
    misread: Misread,
    seed: u64,
}

impl Instruments {
    /// The usual set at a pump, with what is wrong with it there; the seed makes the gauges' own errors.
    pub fn at(works: &Works, seed: u64) -> Self {
        let design = works.sound.design;
        // Working pressure near the middle of the dial; the next round number of bar above (EN 837-2: at most 2/3 of span).
        let top = (design.pressure * 1.6 / 1e6).ceil() * 1e6;
        let misread = works.misread;
        let mut outlet = Gauge::usual(0.0, top);
        (outlet.bias, outlet.snubber) = (misread.outlet_bias, misread.snubber);
        outlet.stuck = misread.outlet_stuck.then_some(0.6 * design.pressure);
        let mut inlet = Gauge::usual(-100e3, 200e3);
        inlet.bias = misread.inlet_bias;
        // A bucket that takes some forty seconds to fill.
        let volume = (design.flow * 40.0 * 1e3).ceil() * 1e-3;
        Self {
            inlet,
            outlet,
            tachometer: Simple { share: 0.001, plain: 0.5 / 60.0, digit: 1.0 / 60.0 },
            thermometer: Simple { share: 0.0, plain: 1.5, digit: 1.0 },
            clamp: Simple { share: 0.01, plain: 0.1, digit: 0.1 },
            bucket: Bucket { volume: (volume, 0.01 * volume), watch: 0.5 },
            misread,
            seed,
        }
    }

    /// What is read of an output the so-manieth time, SI; `None` where no instrument of the set shows it.
    pub fn read(&self, output: Output, settled: &Settled, time: u64) -> Option<f64> {
        let value = settled.of(output);
        let name = output.card().name;
        let seed = self.seed.wrapping_add(time.wrapping_mul(0x9e37_79b9));
        let gauge = |place: &str| Chance::of(self.seed, &[place]).bits();
        Some(match output {
            Output::InletPressure => self.inlet.read(value, gauge("inlet"), time),
            Output::OutletPressure => self.outlet.read(value, gauge("outlet"), time),
            Output::ReliefOpening => self.outlet.read(value, gauge("outlet"), time.wrapping_add(1 << 32)),
            Output::DeliveredFlow => self.bucket.read(value * self.misread.flow, seed),
            Output::PumpSpeed | Output::MotorSpeed => self.tachometer.read(value, seed, name),
            Output::OilTemperature => self.thermometer.read(value, seed, name),
            Output::MotorCurrent => self.clamp.read(value, seed, name),
            _ => return None,
        })
    }

    /// The needles of both gauges over a curve: inlet, then outlet.
    pub fn needles(&self, curve: &[Point]) -> [Vec<f64>; 2] {
        let step = match curve {
            [first, .., last] => (last.time - first.time) / (curve.len() - 1) as f64,
            _ => 0.0,
        };
        let gauge = |place: &str| Chance::of(self.seed, &[place]).bits();
        [
            self.inlet.needle(curve.iter().map(|point| point.inlet), step, gauge("inlet")),
            self.outlet.needle(curve.iter().map(|point| point.outlet), step, gauge("outlet")),
        ]
    }
}
