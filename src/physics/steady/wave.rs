//! Turns what each chamber still moves into the shape of the flow over a turn: steepest change, and lines at 1, 2, N and 2N.
//!
//! Pistons move as a sine. A chamber draws while its sine is positive and delivers while it is negative; angles stand at
//! the middle of equal steps, so that no step meets the kink of a chamber that opens; slopes are taken at both ends.

use libm::{cos, sin};
use std::f64::consts::TAU;

/// Angles looked at.
const STEPS: usize = 72;
/// Lines looked at: once and twice a turn, N and 2N times.
pub const LINES: usize = 4;

/// The sines of a pump with so many chambers.
#[derive(Debug, Clone)]
pub struct Wave {
    chambers: usize,
    /// Motion of each chamber at each angle, angle by angle.
    motion: Vec<Motion>,
    /// Cosine and sine of each line at each angle.
    lines: Vec<[(f64, f64); LINES]>,
}

/// Motion of one piston in one step of the turn.
#[derive(Debug, Clone, Copy)]
struct Motion {
    /// Velocity at the middle of the step.
    sine: f64,
    /// Its change per radian at the beginning, the middle and the end.
    change: [f64; 3],
}

/// Shape of the flow that chambers draw; a sound chamber counts as sin θ.
#[derive(Debug, Clone, Copy, Default)]
pub struct Drawn {
    /// Largest change per radian, over the mean.
    pub steepest: f64,
    /// Range of the change per radian.
    pub span: f64,
    /// Mean of the squared swings over the squared mean: how much more a pulsating flow loses in the line.
    pub unevenness: f64,
}

impl Wave {
    /// The sines of `chambers` evenly spaced chambers.
    pub fn new(chambers: u32) -> Self {
        let count = chambers.max(1) as usize;
        let angles: Vec<f64> = (0..STEPS).map(|step| TAU * (step as f64 + 0.5) / STEPS as f64).collect();
        let behind = |chamber: usize| TAU * chamber as f64 / count as f64;
        let half = TAU / STEPS as f64 / 2.0;
        let at = |angle: f64| Motion { sine: sin(angle), change: [-half, 0.0, half].map(|off| cos(angle + off)) };
        let motion = angles.iter().flat_map(|angle| (0..count).map(move |chamber| at(angle - behind(chamber))));
        let n = count as f64;
        let line = |angle: &f64| [1.0, 2.0, n, 2.0 * n].map(|k| (cos(k * angle), sin(k * angle)));
        Self { chambers: count, motion: motion.collect(), lines: angles.iter().map(line).collect() }
    }

    /// What the chambers draw. `works` is the share each moves; `breathes` the share that the first chamber pushes back
    /// through an open inlet valve.
    pub fn drawn(&self, works: &[f64], breathes: f64) -> Drawn {
        let (mut total, mut squares) = (0.0, 0.0);
        let (mut most, mut least) = (f64::MIN, f64::MAX);
        for motion in self.motion.chunks_exact(self.chambers) {
            let [start, _, end] = motion[0].change;
            let (mut flow, mut before, mut after) = (breathes * motion[0].sine, breathes * start, breathes * end);
            for (piston, work) in motion.iter().zip(works).filter(|(piston, _)| 0.0 < piston.sine) {
                let [start, _, end] = piston.change;
                flow += work * piston.sine;
                before += work * start;
                after += work * end;
            }
            total += flow;
            squares += flow * flow;
            (most, least) = (most.max(before).max(after), least.min(before).min(after));
        }
        let mean = total / STEPS as f64;
        if mean <= 0.0 {
            return Drawn::default();
        }
        Drawn {
            steepest: most.max(-least) / mean,
            span: most - least,
            unevenness: squares / STEPS as f64 / (mean * mean) - 1.0,
        }
    }

    /// Amplitudes of what the chambers deliver at 1, 2, N and 2N, a sound chamber counting as sin θ. A chamber begins once
    /// the `late` share of its stroke has squeezed what is in it; the first loses `back` through an open outlet valve.
    pub fn delivered(&self, works: &[f64], late: f64, back: f64) -> [f64; LINES] {
        let mut sums = [(0.0, 0.0); LINES];
        for (motion, lines) in self.motion.chunks_exact(self.chambers).zip(&self.lines) {
            let mut flow = -back * motion[0].sine;
            for (piston, work) in motion.iter().zip(works) {
                // The piston starts forward where the cosine is -1; half of one more is the share swept.
                if piston.sine < 0.0 && late < f64::midpoint(1.0, piston.change[1]) {
                    flow -= work * piston.sine;
                }
            }
            for (sum, line) in sums.iter_mut().zip(lines) {
                sum.0 += flow * line.0;
                sum.1 += flow * line.1;
            }
        }
        sums.map(|(real, imaginary)| 2.0 / STEPS as f64 * libm::hypot(real, imaginary))
    }
}

#[cfg(test)]
mod tests {
    use super::Wave;
    use crate::physics::laws::ripple::dead_chamber;

    /// One of N chambers dead: once a turn π/(2N), twice 2/(3N) of the healthy mean N/π; the law of that name.
    #[test]
    #[allow(clippy::unwrap_used)]
    fn a_dead_chamber_shows_once_a_turn() {
        for chambers in [3_u32, 5, 7] {
            let works: Vec<f64> = (0..chambers).map(|chamber| f64::from(u8::from(chamber != 0))).collect();
            let lines = Wave::new(chambers).delivered(&works, 0.0, 0.0);
            let mean = f64::from(chambers) / std::f64::consts::PI;
            let [_, once, twice, _] = dead_chamber(f64::from(chambers)).unwrap();
            assert!((lines[0] / mean - once).abs() < 2e-3, "{lines:?}");
            assert!((lines[1] / mean - twice).abs() < 2e-3, "{lines:?}");
        }
    }

    /// Three sound chambers: the line is at 2N, 2/35 of the mean; the constant of the acceleration head is π²/180.
    #[test]
    fn three_sound_chambers_ripple_at_six_times() {
        let wave = Wave::new(3);
        let lines = wave.delivered(&[1.0; 3], 0.0, 0.0).map(|line| line * std::f64::consts::PI / 3.0);
        assert!(lines[0] < 1e-12 && lines[2] < 1e-2 && (lines[3] - 2.0 / 35.0).abs() < 2e-3, "{lines:?}");
        let constant = std::f64::consts::TAU / 60.0 * wave.drawn(&[1.0; 3], 0.0).steepest;
        assert!((constant - std::f64::consts::PI.powi(2) / 180.0).abs() < 1e-4, "{constant}");
    }
}
