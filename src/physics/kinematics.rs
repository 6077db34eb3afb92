//! Turns the motion of cranks, with connecting rods or without, into the flow of all chambers over a turn.
//!
//! Plunger velocity over (crank radius times angular speed): v(θ) = sin θ·(1 + cos θ/√(λ² − sin² θ)), λ rod length over
//! crank radius, sin θ alone without rods. A chamber delivers while v > 0, the far side of a double-acting one while
//! v < 0. Single-acting cranks stand 360°/N apart, double-acting ones 180°/N. Flows are over the mean of all chambers.

use libm::{cos, sin};
use std::f64::consts::{PI, TAU};

/// Angles looked at: every chamber of 1 to 10 begins and ends on one of them.
const STEPS: u32 = 5040;
/// Cranks, at most.
const MOST_CRANKS: f64 = 10.0;

/// How the plungers are driven.
#[derive(Debug, Clone, Copy)]
pub struct Drive {
    /// Cranks, 1 to 10, a whole number.
    pub cranks: f64,
    /// 1 single-acting, 2 double-acting.
    pub sides: f64,
    /// Rod length over crank radius; `None` for a wobble plate, swash plate or cam.
    pub rod_ratio: Option<f64>,
}

/// Extremes over a turn, over the mean flow.
#[derive(Debug, Clone, Copy)]
pub struct Extremes {
    /// Largest flow.
    pub most: f64,
    /// Smallest flow.
    pub least: f64,
    /// Largest change per radian of crank angle, either way.
    pub steepest: f64,
}

/// Extremes of the flow of all chambers but the first `dead` ones, over the mean of all.
///
/// Cranks beyond 1 to 10 and rods not longer than the crank radius are no pump: the nearest count, or no rods, stand for them.
#[allow(clippy::manual_clamp)] // `clamp` would keep what is no number
pub fn extremes(drive: Drive, dead: u32) -> Extremes {
    let cranks = drive.cranks.max(1.0).min(MOST_CRANKS);
    let drive = Drive { cranks, rod_ratio: drive.rod_ratio.filter(|ratio| 1.0 < *ratio), ..drive };
    let mean = drive.cranks * drive.sides / PI;
    let mut found = Extremes { most: f64::MIN, least: f64::MAX, steepest: 0.0 };
    for step in 0..STEPS {
        let (flow, before, after) = sums(drive, dead, step);
        found.most = found.most.max(flow / mean);
        found.least = found.least.min(flow / mean);
        found.steepest = found.steepest.max(before.abs() / mean).max(after.abs() / mean);
    }
    found
}

/// Flow, and its slope just before and just after the angle of a step: chambers opening or closing there make a kink.
fn sums(drive: Drive, dead: u32, step: u32) -> (f64, f64, f64) {
    let half = f64::from(STEPS) / 2.0;
    let (mut flow, mut before, mut after) = (0.0, 0.0, 0.0);
    let mut crank = f64::from(dead);
    while crank < drive.cranks {
        // In whole steps, so that the ends of a stroke are met exactly.
        let behind = (f64::from(STEPS) * crank / (drive.cranks * drive.sides)).round();
        let place = (f64::from(step) + f64::from(STEPS) - behind) % f64::from(STEPS);
        let (velocity, slope) = motion(place * TAU / f64::from(STEPS), drive.rod_ratio);
        let forward_after = place < half;
        let forward_before = 0.0 < place && place <= half;
        let delivers = |forward: bool| if forward { 1.0 } else { 1.0 - drive.sides };
        flow += velocity * delivers(forward_after);
        before += slope * delivers(forward_before);
        after += slope * delivers(forward_after);
        crank += 1.0;
    }
    (flow, before, after)
}

/// Share of its stroke that a plunger has gone forward, 0 to 1; at angle 0 it stands at the rear. [`motion`] is its change.
pub fn position(angle: f64, rod_ratio: Option<f64>) -> f64 {
    let (s, c) = (sin(angle), cos(angle));
    let rod = rod_ratio.map_or(0.0, |ratio| ratio - (ratio * ratio - s * s).sqrt());
    f64::midpoint(1.0 - c, rod)
}

/// Plunger velocity over crank radius times angular speed, and its change per radian.
fn motion(angle: f64, rod_ratio: Option<f64>) -> (f64, f64) {
    let (s, c) = (sin(angle), cos(angle));
    let Some(ratio) = rod_ratio else { return (s, c) };
    let root = (ratio * ratio - s * s).sqrt();
    let velocity = s + s * c / root;
    let slope = c + (c * c - s * s) / root + s * s * c * c / (root * root * root);
    (velocity, slope)
}
