//! Turns the state of the whole pump into that of one step later: implicit Euler, all pressures at once.
//!
//! Unknown are the pressures in the manifold, in every chamber and after the pump. A chamber touches only its two
//! neighbours, so chambers are eliminated one by one and two equations are left (an arrow matrix): any number of chambers,
//! no matrix library. Full Newton; one linear step would be wrong by half the flow. Volumes move on with the flows of the
//! last guess, so nothing is lost where it stops early.

use super::chamber::{Around, Balance, Holds, KEPT_AT, Ready};
use super::{inlet, outlet};

/// Newton steps at most.
const MOST: usize = 25;
/// After so many steps secants are taken for the valves, or the square root turns in a circle.
const SECANT: usize = 3;
/// After so many steps only half of each is gone.
const HALF: usize = 10;
/// Close enough: change over pressure and 1 kPa.
const CLOSE: f64 = 1e-5;
/// No pressure falls below this, Pa.
const LOWEST: f64 = 20.0;

/// What moves with every step.
#[derive(Debug, Clone, PartialEq)]
pub struct Flowing {
    /// Every chamber.
    pub chambers: Vec<Holds>,
    /// Flow in the inlet line, m³/s.
    pub line: f64,
    /// Pressure in the manifold, Pa absolute.
    pub before: f64,
    /// Pressure after the pump, Pa absolute.
    pub after: f64,
    /// Pressure in a damper behind a narrow neck, Pa absolute.
    pub damper: f64,
    /// Returned into the inlet in the last step, m³/s.
    pub returned: f64,
}

/// All parts ready for steps of one length.
#[derive(Debug, Clone)]
pub struct Parts {
    /// The chambers.
    pub chambers: Vec<Ready>,
    /// What is the same for all.
    pub around: Around,
    /// Before.
    pub inlet: inlet::Ready,
    /// After.
    pub outlet: outlet::Ready,
    /// Share of the bypass that comes back into the inlet.
    pub returned: f64,
}

/// What one step did.
#[derive(Debug, Clone, Default)]
pub struct Done {
    /// Every chamber at its end.
    pub balances: Vec<Balance>,
    /// Oil lost by each chamber in the step, m³.
    pub oil: Vec<f64>,
    /// What left after the pump.
    pub leaves: outlet::Leaves,
    /// From all chambers to the outlet, m³/s.
    pub delivered: f64,
    /// Newton found the pressures.
    pub found: bool,
}

impl Parts {
    /// One step in which liquid and oil of each chamber have `spaces` m³ at the end.
    pub fn step(&self, now: &mut Flowing, spaces: &[f64], done: &mut Done) {
        let step = self.around.step;
        let (kept_before, _) = self.inlet.kept(now.before);
        let (kept_after, _) = self.outlet.kept(now.after);
        let (mut before, mut after) = (now.before, now.after);
        done.found = false;
        for round in 0..MOST {
            let secant = SECANT <= round;
            let share = if HALF <= round { 0.5 } else { 1.0 };
            let (line, line_slope) = self.inlet.line(now.line, before, step);
            let (kept, change) = self.inlet.kept(before);
            let mut error_before = kept - kept_before - step * (line + now.returned);
            let mut own_before = change - step * line_slope;
            let (kept, change) = self.outlet.kept(after);
            let leaves = self.outlet.leaves(after);
            let (neck, neck_slope, _) = self.outlet.neck(now.damper, after, step);
            let mut error_after = kept - kept_after + step * (leaves.outlet + leaves.bypass + leaves.outside + neck);
            let mut own_after = change + step * (leaves.slope + neck_slope);
            let (mut cross_before, mut cross_after) = (0.0, 0.0);
            for (at, (holds, ready)) in now.chambers.iter().zip(&self.chambers).enumerate() {
                let pressures = [before, done.balances[at].guess, after];
                let balance = ready.balance(holds, pressures, spaces[at], &self.around, secant);
                let (draws, gives) = (step * balance.inlet.slope, step * balance.outlet.slope);
                error_before += step * balance.inlet.flow + draws * balance.error / balance.own;
                own_before += draws + draws * draws / balance.own;
                cross_before += draws * gives / balance.own;
                error_after -= step * balance.outlet.flow - gives * balance.error / balance.own;
                own_after += gives + gives * gives / balance.own;
                cross_after += draws * gives / balance.own;
                done.balances[at] = balance;
            }
            let whole = own_before * own_after - cross_before * cross_after;
            let by_before = (cross_before * error_after - own_after * error_before) / whole;
            let by_after = (cross_after * error_before - own_before * error_after) / whole;
            let mut close = moved(&mut before, by_before, share);
            for balance in &mut done.balances {
                let through = step * (balance.inlet.slope * by_before + balance.outlet.slope * by_after);
                close &= moved(&mut balance.guess, -(balance.error + through) / balance.own, share);
            }
            close &= moved(&mut after, by_after, share);
            if close {
                done.found = true;
                break;
            }
        }
        (now.before, now.after) = (before, after);
        self.move_on(now, spaces, done);
    }

    /// Moves all volumes with the flows of the last guess.
    fn move_on(&self, now: &mut Flowing, spaces: &[f64], done: &mut Done) {
        let step = self.around.step;
        let gas = self.inlet.gas * now.before / KEPT_AT;
        (now.line, _) = self.inlet.line(now.line, now.before, step);
        done.leaves = self.outlet.leaves(now.after);
        (_, _, now.damper) = self.outlet.neck(now.damper, now.after, step);
        now.returned = self.returned * done.leaves.bypass;
        done.delivered = 0.0;
        for (at, (holds, ready)) in now.chambers.iter_mut().zip(&self.chambers).enumerate() {
            let balance = &done.balances[at];
            let (inlet, outlet) = (balance.inlet, balance.outlet);
            done.delivered += outlet.flow;
            let own = balance.guess;
            let expanded = holds.gas * KEPT_AT / own;
            let share = if 0.0 < expanded { expanded / (expanded + holds.liquid.max(0.0)) } else { 0.0 };
            let squeezed = share * own / KEPT_AT;
            // What runs forward takes the gas of the inlet along, what runs out takes that of the chamber.
            let (drawn, liquid) = if 0.0 < inlet.flow { (gas, 1.0 - self.inlet.gas) } else { (squeezed, 1.0 - share) };
            let (given, left) = if 0.0 < outlet.flow { (squeezed, 1.0 - share) } else { (0.0, 1.0) };
            holds.gas = (holds.gas + step * (inlet.flow * drawn - outlet.flow * given)).max(0.0);
            holds.liquid += step * (inlet.flow * liquid - outlet.flow * left - balance.hole);
            (holds.inlet, holds.outlet) = (inlet.lift, outlet.lift);
            let cell = &ready.chamber.oil;
            let (volume, _) = cell.volume(holds.oil, own, &self.around);
            let gap = spaces[at] - volume - ready.chamber.most();
            (holds.oil, done.oil[at]) = cell.after(holds.oil, own, gap, &self.around);
            holds.pressure = own;
        }
    }
}

/// Moves a pressure, at most by half of itself and a bar; says whether that was next to nothing.
#[inline]
fn moved(pressure: &mut f64, by: f64, share: f64) -> bool {
    let most = 0.5 * (pressure.max(0.0) + 2e5);
    let by = share * by.clamp(-most, most);
    *pressure = (*pressure + by).max(LOWEST);
    by.abs() < CLOSE * (*pressure + 1000.0)
}
