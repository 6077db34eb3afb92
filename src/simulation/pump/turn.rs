//! Turns one turn of the shaft into means, swings and lines of the ripple.

use super::super::works::Works;
use super::chamber::{Around, Balance, Chamber, Holds};
use super::inlet;
use super::step::{Done, Flowing, Parts};
use crate::physics::kinematics::position;
use crate::physics::steady::Part;
use libm::{cos, sin};
use std::f64::consts::TAU;

/// Lines of the ripple looked at: once and twice a turn, N and 2N times.
pub const LINES: usize = 4;

/// Places of the pistons over a turn, in equal steps; every chamber meets the same places.
#[derive(Debug, Clone)]
pub struct Places {
    /// Share gone forward by a piston at the end of each step.
    forward: Vec<f64>,
    /// Cosine and sine at the end of each step.
    circle: Vec<(f64, f64)>,
    chambers: usize,
}

/// What one turn showed. Pressures are absolute, Pa; flows m³/s.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Turn {
    /// Length, s.
    pub time: f64,
    /// Mean, lowest and highest at the inlet.
    pub before: Spread,
    /// The same after the pump.
    pub after: Spread,
    /// From the chambers.
    pub delivered: f64,
    /// By the working outlet.
    pub outlet: f64,
    /// By relief and bypass.
    pub bypass: f64,
    /// To the outside.
    pub outside: f64,
    /// Amplitudes of the outlet pressure, Pa, at 1, 2, N and 2N times a turn.
    pub ripple: [f64; LINES],
    /// Amplitude of the inlet pressure once a turn, Pa.
    pub inlet_once: f64,
    /// Amplitudes of what the chambers deliver, m³/s.
    pub flow_lines: [f64; LINES],
    /// Lowest and highest of what the chambers deliver.
    pub flow: Spread,
    /// Work of the pistons, W.
    pub power: f64,
    /// Share of the turn in which some chamber holds vapour.
    pub vapour: f64,
    /// Largest vapour in a chamber, share of its stroke.
    pub cavity: f64,
    /// Delivered by each chamber, m³ in the turn.
    pub each: Vec<f64>,
    /// Oil lost by each cell, m³ in the turn.
    pub oil: Vec<f64>,
    /// Liquid that passed holes in diaphragms to the case, m³ in the turn; negative: oil went the other way.
    pub into_case: f64,
    /// Steps in which the pressures were not found.
    pub rough: usize,
    /// Times an outlet valve opened.
    pub lifts: usize,
}

/// Mean, lowest and highest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Mean.
    pub mean: f64,
    /// Lowest.
    pub least: f64,
    /// Highest.
    pub most: f64,
}

impl Default for Spread {
    fn default() -> Self {
        Self { mean: 0.0, least: f64::INFINITY, most: f64::NEG_INFINITY }
    }
}

impl Spread {
    fn take(&mut self, value: f64) {
        self.mean += value;
        self.least = self.least.min(value);
        self.most = self.most.max(value);
    }
}

/// What a watcher sees at the end of each step.
#[derive(Debug, Clone, Copy)]
pub struct Moment {
    /// Seconds since the start of the turn.
    pub time: f64,
    /// At the inlet, Pa absolute.
    pub before: f64,
    /// After the pump, Pa absolute.
    pub after: f64,
    /// Drawn by all chambers, m³/s.
    pub drawn: f64,
    /// Delivered by all chambers, m³/s.
    pub delivered: f64,
}

impl Places {
    /// At least `steps` places, with as many for each chamber.
    pub fn new(chambers: usize, steps: usize, rods: Option<f64>) -> Self {
        let each = steps.div_ceil(chambers.max(1)).max(8);
        let count = each * chambers.max(1);
        let angles: Vec<f64> = (0..count).map(|at| TAU * (at + 1) as f64 / count as f64).collect();
        Self {
            forward: angles.iter().map(|&angle| position(angle, rods)).collect(),
            circle: angles.iter().map(|&angle| (cos(angle), sin(angle))).collect(),
            chambers: chambers.max(1),
        }
    }

    /// Steps in a turn.
    pub fn count(&self) -> usize {
        self.forward.len()
    }

    /// How far the piston of a chamber has gone at the end of a step.
    fn of(&self, chamber: usize, step: usize) -> f64 {
        let behind = chamber * self.count() / self.chambers;
        self.forward[(step + self.count() - behind) % self.count()]
    }
}

/// The pump primed and standing at a pressure after it, Pa absolute, at the end of a turn.
pub fn primed(works: &Works, after: f64, places: &Places) -> Flowing {
    let pump = &works.pump;
    let at_rest = pump[Part::Barometer];
    let hold = |(at, chamber): (usize, &Chamber)| {
        let space = chamber.space(places.of(at, places.count() - 1));
        let oil = chamber.oil.clearance - chamber.oil.air - chamber.oil.short;
        let liquid = (space - oil - chamber.oil.air).min(chamber.most());
        Holds { pressure: at_rest, liquid, gas: 0.0, oil, inlet: 0.0, outlet: 0.0 }
    };
    Flowing {
        chambers: works.chambers.iter().enumerate().map(hold).collect(),
        line: 0.0,
        before: at_rest,
        after,
        damper: after,
        returned: 0.0,
    }
}

/// The surroundings of all chambers in steps of so many seconds, with oil of so many m²/s.
pub fn around(works: &Works, step: f64, oil: f64) -> Around {
    let pump = &works.pump;
    let root = (2.0 / pump.liquid.density).sqrt();
    Around {
        step,
        vapour: inlet::vapour(pump),
        barometer: pump[Part::Barometer],
        root,
        oil: oil * works.thicker_oil,
        stiffness: works.stiffness,
    }
}

impl Parts {
    /// One whole turn. `watch` sees every step.
    pub fn turn(&self, now: &mut Flowing, places: &Places, mut watch: impl FnMut(Moment)) -> Turn {
        let count = places.count();
        let mut sums = Sums::new(now.chambers.len());
        let mut done = Done {
            balances: now
                .chambers
                .iter()
                .map(|holds| Balance { guess: holds.pressure, ..Balance::default() })
                .collect(),
            oil: vec![0.0; now.chambers.len()],
            ..Done::default()
        };
        let mut spaces = vec![0.0; now.chambers.len()];
        let mut last: Vec<f64> =
            (0..spaces.len()).map(|at| self.chambers[at].chamber.space(places.of(at, count - 1))).collect();
        for step in 0..count {
            for (at, space) in spaces.iter_mut().enumerate() {
                *space = self.chambers[at].chamber.space(places.of(at, step));
            }
            let lifted: usize = now.chambers.iter().filter(|holds| holds.outlet < 0.02).count();
            self.step(now, &spaces, &mut done);
            let still: usize = now.chambers.iter().filter(|holds| holds.outlet < 0.02).count();
            sums.turn.lifts += lifted.saturating_sub(still);
            sums.take(self, now, &done, (&spaces, &last), places.circle_of(step));
            last.copy_from_slice(&spaces);
            let time = (step + 1) as f64 * self.around.step;
            let drawn = done.balances.iter().map(|balance| balance.inlet.flow).sum();
            watch(Moment { time, before: now.before, after: now.after, drawn, delivered: done.delivered });
        }
        sums.whole(count, self.around.step)
    }
}

impl Places {
    /// Cosine and sine of every line at the end of a step.
    fn circle_of(&self, step: usize) -> [(f64, f64); LINES] {
        let n = self.chambers;
        [1, 2, n, 2 * n].map(|times| self.circle[((step + 1) * times + self.count() - 1) % self.count()])
    }
}

/// Sums over a turn.
struct Sums {
    turn: Turn,
    ripple: [(f64, f64); LINES],
    flow: [(f64, f64); LINES],
    inlet: (f64, f64),
    with_vapour: usize,
}

impl Sums {
    fn new(chambers: usize) -> Self {
        let turn = Turn { each: vec![0.0; chambers], oil: vec![0.0; chambers], ..Turn::default() };
        Self { turn, ripple: Default::default(), flow: Default::default(), inlet: (0.0, 0.0), with_vapour: 0 }
    }

    /// Adds the end of a step.
    fn take(
        &mut self,
        parts: &Parts,
        now: &Flowing,
        done: &Done,
        (spaces, last): (&[f64], &[f64]),
        lines: [(f64, f64); LINES],
    ) {
        let step = parts.around.step;
        let turn = &mut self.turn;
        turn.before.take(now.before);
        turn.after.take(now.after);
        turn.flow.take(done.delivered);
        turn.delivered += done.delivered;
        turn.outlet += done.leaves.outlet;
        turn.bypass += done.leaves.bypass;
        turn.outside += done.leaves.outside;
        turn.rough += usize::from(!done.found);
        let mut vapour = false;
        for (at, balance) in done.balances.iter().enumerate() {
            turn.each[at] += step * balance.outlet.flow;
            turn.oil[at] += done.oil[at];
            turn.into_case += step * balance.hole;
            turn.power -= (balance.guess - parts.around.barometer) * (spaces[at] - last[at]) / step;
            let ready = &parts.chambers[at];
            let cavity = ready.cavity * (parts.around.vapour - balance.guess).max(0.0) / ready.chamber.swept;
            vapour |= 0.002 < cavity;
            turn.cavity = turn.cavity.max(cavity);
        }
        self.with_vapour += usize::from(vapour);
        let inlet = lines[0];
        self.inlet = (self.inlet.0 + now.before * inlet.0, self.inlet.1 + now.before * inlet.1);
        for (at, (c, s)) in lines.into_iter().enumerate() {
            self.ripple[at].0 += now.after * c;
            self.ripple[at].1 += now.after * s;
            self.flow[at].0 += done.delivered * c;
            self.flow[at].1 += done.delivered * s;
        }
    }

    /// The turn, of so many steps of so many seconds.
    fn whole(mut self, count: usize, step: f64) -> Turn {
        let n = count as f64;
        let turn = &mut self.turn;
        turn.time = n * step;
        for sum in [
            &mut turn.before.mean,
            &mut turn.after.mean,
            &mut turn.flow.mean,
            &mut turn.delivered,
            &mut turn.outlet,
            &mut turn.bypass,
            &mut turn.outside,
            &mut turn.power,
        ] {
            *sum /= n;
        }
        let amplitude = |(real, imaginary): (f64, f64)| 2.0 / n * libm::hypot(real, imaginary);
        turn.ripple = self.ripple.map(amplitude);
        turn.flow_lines = self.flow.map(amplitude);
        turn.inlet_once = amplitude(self.inlet);
        turn.vapour = self.with_vapour as f64 / n;
        self.turn
    }
}
