//! Turns a number of the graph and what answers say about it into the number they leave, with an interval.
//!
//! The number as it stands counts as so many cases, by what it rests on: Beta(a, b) with a / (a + b) the number. Each answer
//! has the likelihood base + (1 − base)·slope·w for a "yes" and 1 − slope·w for a "no", with slope the chance that the
//! parent was there and is noticed, and base the chance of a "yes" from elsewhere. Where the parent is known to be there and
//! nothing else says "yes" this is plain counting: a + 1 or b + 1. Otherwise the product is integrated over the log-odds of w
//! and told as the Beta with the same mean and spread, so that an answer in doubt counts for less than one case. (One step of
//! expectation maximisation alone would shrink the interval by a whole case for an answer that says nothing.)

use crate::knowledge::schema::Basis;
use statrs::function::beta::inv_beta_reg;

/// Numbers are kept this far off 0 and 1: nothing is impossible.
const OFF_EDGE: f64 = 0.005;
/// Logarithms below the highest point at which the density counts as nothing.
const NOTHING: f64 = 35.0;
/// Points of the integral on its shorter side, and at most.
const POINTS: (f64, f64) = (96.0, 4000.0);

/// What one answer says about a number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Cell {
    pub base: f64,
    pub slope: f64,
    pub yes: bool,
    pub weight: f64,
}

/// What a number has become.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Learned {
    /// The number: the mean.
    pub new: f64,
    /// Lower end of the 95 % interval.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Clear cases that the answers are worth.
    pub worth: f64,
}

/// So many cases a number counts as before any job: common practice of such bookkeeping, 10 to 50 (from memory).
pub fn cases_of(basis: Basis) -> f64 {
    match basis {
        Basis::Guess => 10.0,
        Basis::Expert => 20.0,
        Basis::Published => 35.0,
        Basis::Measured => 50.0,
    }
}

/// The value below which a Beta(a, b) lies with probability `p` (0 to 1; a, b above 0).
pub fn quantile(p: f64, a: f64, b: f64) -> f64 {
    inv_beta_reg(a, b, p)
}

/// A number that counted as `cases` cases, after clear cases alone: so many yes and no.
pub(super) fn counted(old: f64, cases: f64, yes: f64, no: f64) -> Learned {
    told(old * cases + yes, (1.0 - old) * cases + no, cases)
}

/// A number that counted as `cases` cases, after these answers.
pub(super) fn learned(old: f64, cases: f64, cells: &[Cell]) -> Learned {
    let old = old.clamp(OFF_EDGE, 1.0 - OFF_EDGE);
    let density = Density { a: old * cases, b: (1.0 - old) * cases, cells: gathered(cells) };
    let (mean, spread) = density.moments();
    let all = (mean * (1.0 - mean) / spread - 1.0).max(1e-3);
    told(mean * all, (1.0 - mean) * all, cases)
}

fn told(a: f64, b: f64, cases: f64) -> Learned {
    let worth = (a + b - cases).max(0.0);
    Learned { new: a / (a + b), low: quantile(0.025, a, b), high: quantile(0.975, a, b), worth }
}

/// Equal answers as one with their weights together, in an order that does not depend on the order given.
fn gathered(cells: &[Cell]) -> Vec<Cell> {
    let key = |cell: &Cell| (cell.yes, cell.base.to_bits(), cell.slope.to_bits());
    let mut sorted = cells.to_vec();
    sorted.sort_by_key(|cell| (key(cell), cell.weight.to_bits()));
    let mut gathered: Vec<Cell> = Vec::new();
    for cell in sorted {
        match gathered.last_mut() {
            Some(last) if key(last) == key(&cell) => last.weight += cell.weight,
            _ => gathered.push(cell),
        }
    }
    gathered
}

/// The density of the log-odds of a number, up to a factor.
struct Density {
    a: f64,
    b: f64,
    cells: Vec<Cell>,
}

impl Density {
    fn log(&self, odds: f64) -> f64 {
        let (is, is_not) = (1.0 / (1.0 + libm::exp(-odds)), 1.0 / (1.0 + libm::exp(odds)));
        // ln σ(t) without loss far out.
        let log_is = if odds < 0.0 { odds + libm::log(is_not) } else { libm::log(is) };
        let log_is_not = if odds < 0.0 { libm::log(is_not) } else { libm::log(is) - odds };
        let said = self.cells.iter().map(|cell| {
            let chance = if cell.yes {
                cell.base + (1.0 - cell.base) * cell.slope * is
            } else {
                (1.0 - cell.slope) + cell.slope * is_not
            };
            cell.weight * libm::log(chance.max(f64::MIN_POSITIVE))
        });
        self.a * log_is + self.b * log_is_not + said.sum::<f64>()
    }

    /// Where it is highest: the best of a coarse row, then the golden section between its neighbours.
    fn mode(&self) -> f64 {
        let row = (-80..=80).map(|step| 0.25 * f64::from(step));
        let best = row.map(|odds| (odds, self.log(odds))).max_by(|a, b| a.1.total_cmp(&b.1)).map_or(0.0, |best| best.0);
        let (mut low, mut high) = (best - 0.25, best + 0.25);
        let section = 0.618_033_988_749_894_9;
        for _ in 0..40 {
            let (left, right) = (high - section * (high - low), low + section * (high - low));
            if self.log(left) < self.log(right) { low = left } else { high = right }
        }
        f64::midpoint(low, high)
    }

    /// How far to one side the density counts.
    fn reach(&self, mode: f64, top: f64, side: f64) -> f64 {
        let mut reach = 1e-3;
        while top - NOTHING < self.log(mode + side * reach) && reach < 1e4 {
            reach *= 1.5;
        }
        reach
    }

    /// Mean and variance of the number: a row of points evenly spaced in the log-odds (the trapezoidal rule, which is exact to
    /// rounding for a smooth density that dies out on both sides).
    fn moments(&self) -> (f64, f64) {
        let mode = self.mode();
        let top = self.log(mode);
        let (below, above) = (self.reach(mode, top, -1.0), self.reach(mode, top, 1.0));
        let step = (below.min(above) / POINTS.0).max((below + above) / POINTS.1);
        let (mut mass, mut first, mut second) = (0.0, 0.0, 0.0);
        let mut odds = mode - below;
        while odds <= mode + above {
            let weight = libm::exp(self.log(odds) - top);
            let number = 1.0 / (1.0 + libm::exp(-odds));
            (mass, first, second) = (mass + weight, first + weight * number, second + weight * number * number);
            odds += step;
        }
        let mean = first / mass;
        (mean, (second / mass - mean * mean).max(f64::MIN_POSITIVE))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::{Cell, counted, learned, quantile};

    fn clear(yes: u32, no: u32) -> Vec<Cell> {
        let cell = |yes| Cell { base: 0.0, slope: 1.0, yes, weight: 1.0 };
        (0..yes).map(|_| cell(true)).chain((0..no).map(|_| cell(false))).collect()
    }

    /// `scipy.stats.beta.ppf` of scipy 1.17.1.
    #[test]
    fn quantiles_are_those_of_a_library() {
        for (a, b, p, expected) in [
            (2.0, 8.0, 0.025, 0.028_144_973_477_898_197),
            (2.0, 8.0, 0.975, 0.482_496_514_917_336_97),
            (0.5, 9.5, 0.975, 0.237_610_098_632_903_06),
            (19.6, 0.4, 0.025, 0.891_150_237_127_945_9),
            (300.5, 120.25, 0.5, 0.714_540_506_163_888_7),
            (20000.0, 40000.0, 0.025, 0.329_566_690_264_610_66),
        ] {
            let found = quantile(p, a, b);
            assert!((found - expected).abs() < 1e-11, "{a} {b} {p}: {found}");
        }
    }

    /// Conjugacy: clear cases add to the two counts, and nothing else happens.
    #[test]
    fn clear_cases_are_plain_counting() {
        for (old, cases, yes, no) in [(0.5, 20.0, 7, 2), (0.02, 10.0, 0, 40), (0.98, 50.0, 300, 1), (0.1, 10.0, 0, 0)] {
            let (one, other) =
                (learned(old, cases, &clear(yes, no)), counted(old, cases, f64::from(yes), f64::from(no)));
            for (a, b) in [(one.new, other.new), (one.low, other.low), (one.high, other.high)] {
                assert!((a - b).abs() < 1e-9, "{old} {cases} {yes} {no}: {a} {b}");
            }
            assert!((one.worth - f64::from(yes + no)).abs() < 1e-6 * f64::from(1 + yes + no), "{}", one.worth);
        }
    }

    /// Against the integral of the same product over a fine row of numbers, by hand: ten "yes" of which each comes from
    /// elsewhere in 0.3, five "no" of a parent there in 0.6; a = 5, b = 15.
    #[test]
    fn answers_in_doubt_are_integrated() {
        let cell = |yes| Cell { base: 0.3, slope: 0.6, yes, weight: 1.0 };
        let cells: Vec<Cell> = (0..15).map(|at| cell(at < 10)).collect();
        let found = learned(0.25, 20.0, &cells);
        let (mut mass, mut first) = (0.0, 0.0);
        for at in 1..200_000 {
            let w = f64::from(at) / 200_000.0;
            let yes: f64 = 0.3 + 0.7 * 0.6 * w;
            let density = w.powi(4) * (1.0 - w).powi(14) * yes.powi(10) * (1.0 - 0.6 * w).powi(5);
            (mass, first) = (mass + density, first + density * w);
        }
        assert!((found.new - first / mass).abs() < 1e-9, "{} {}", found.new, first / mass);
        assert!(0.0 < found.worth && found.worth < 15.0, "{}", found.worth);
    }

    #[test]
    fn an_answer_that_says_nothing_changes_nothing() {
        let nothing = [Cell { base: 0.4, slope: 0.0, yes: true, weight: 1.0 }; 30];
        let found = learned(0.25, 20.0, &nothing);
        assert!((found.new - 0.25).abs() < 1e-9 && found.worth < 1e-6, "{found:?}");
    }
}
