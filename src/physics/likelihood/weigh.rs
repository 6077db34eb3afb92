//! Turns numbers into the likelihood of every set of suspects: a mixture over the severities with full covariance, averaged
//! half and half with the independent product.

use super::dense::{Root, dot};
use super::expected::{Expected, Row};
use super::number::{Number, View};
use crate::physics::law::OutOfRange;

/// Share of numbers that come from anywhere on the scale.
const ANYWHERE: f64 = 0.02;
/// Width of the kernel at each draw, over the spread of the draws, for one suspect and one draw (a usual kernel rule).
const KERNEL: f64 = 0.6;
/// ½·ln 2π.
const HALF_LOG_TAU: f64 = 0.918_938_533_204_672_7;

/// What numbers say about sets of suspects.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// Likelihood of each set, the largest 1, in the order asked.
    pub likelihoods: Vec<f64>,
    /// How far the numbers lie from the best set, squared, in standard deviations: large where no set explains them.
    pub distance: f64,
}

/// Kernels farther off than this, in squared standard deviations, add nothing.
const FAR: f64 = 90.0;

/// What one set expects of all numbers together.
pub(super) struct Together {
    /// Kernel centres, number by number: one of each draw side by side.
    pub centres: Vec<f64>,
    /// Covariance, numbers × numbers; the lower half counts.
    pub covariance: Vec<f64>,
    /// Draws.
    pub draws: usize,
}

/// The numbers as they follow from the model, with room to work in.
pub(super) struct Asked<'a> {
    expected: &'a Expected,
    numbers: &'a [Number],
    views: Vec<View>,
    log_ranges: f64,
}

impl Expected {
    /// Likelihoods of the numbers in every set.
    ///
    /// # Errors
    /// [`OutOfRange`] where a severity leads to no possible pump.
    pub fn weigh(&mut self, numbers: &[Number], sets: &[u64]) -> Result<Weighed, OutOfRange> {
        let mut states: Vec<_> = numbers.iter().map(|number| number.state).collect();
        states.sort_unstable();
        states.dedup();
        for state in states {
            self.prepare(state, &[0])?;
            self.prepare(state, sets)?;
        }
        // The order of the numbers must not matter, to the last bit.
        let mut numbers = numbers.to_vec();
        numbers.sort_by(|a, b| (a.state, a.output).cmp(&(b.state, b.output)).then(a.value.total_cmp(&b.value)));
        let asked = self.asked(&numbers);
        let nothing = (f64::NEG_INFINITY, f64::INFINITY);
        let found: Vec<(f64, f64)> = sets.iter().map(|&set| asked.log_likelihood(set).unwrap_or(nothing)).collect();
        let most = found.iter().map(|found| found.0).fold(f64::NEG_INFINITY, f64::max);
        Ok(Weighed {
            likelihoods: found.iter().map(|found| libm::exp(found.0 - most)).collect(),
            distance: found.iter().map(|found| found.1).fold(f64::INFINITY, f64::min),
        })
    }

    /// The numbers, ready to be looked at set by set; the healthy rows must be made.
    pub(super) fn asked<'a>(&'a self, numbers: &'a [Number]) -> Asked<'a> {
        let view = |number: &Number| Some(number.view(self.row_of(number.state, 0)?));
        let views = numbers.iter().filter_map(view).collect();
        let log_ranges = numbers.iter().map(|number| libm::log(number.range())).sum();
        Asked { expected: self, numbers, views, log_ranges }
    }
}

impl Asked<'_> {
    /// Logarithm of the likelihood, densities over the even one of the scales, and the least squared distance.
    fn log_likelihood(&self, set: u64) -> Option<(f64, f64)> {
        let together = self.together(set)?;
        let size = self.numbers.len();
        let alone = self.log_of_product(&together);
        let root = Root::of(together.covariance, size);
        let norm = self.log_ranges - HALF_LOG_TAU * size as f64 - root.log_volume();
        let mut differences = together.centres;
        for (of_one, number) in differences.chunks_exact_mut(together.draws).zip(self.numbers) {
            for centre in of_one.iter_mut() {
                *centre = number.value - *centre;
            }
        }
        let distances = root.distances(&mut differences);
        let least = distances.iter().copied().fold(f64::INFINITY, f64::min);
        let sum: f64 = distances.iter().map(|distance| kernel(distance - least)).sum();
        let joint = norm - 0.5 * least + libm::log(sum / together.draws as f64);
        Some((half_and_half(joint, alone), least))
    }

    /// What a set expects; `None` where its rows are not made.
    pub(super) fn together(&self, set: u64) -> Option<Together> {
        let size = self.numbers.len();
        let rows = self.rows(set)?;
        let first = self.numbers.first()?.output;
        let (draws, parts) = (rows.first()?.draws_of(first).len(), rows.first()?.slopes_of(first).len());
        let mut slopes = vec![0.0; size * parts];
        let mut centres = vec![0.0; draws * size];
        let mut means = vec![0.0; size];
        for (at, (view, row)) in self.views.iter().zip(&rows).enumerate() {
            view.slopes(row, &mut slopes[at * parts..][..parts]);
            let own = &mut centres[at * draws..][..draws];
            for (value, reading) in own.iter_mut().zip(row.draws_of(self.numbers[at].output)) {
                *value = view.value(reading);
            }
            means[at] = own.iter().sum::<f64>() / draws as f64;
            for value in own.iter_mut() {
                *value -= means[at];
            }
        }
        let width = kernel_width(set.count_ones(), draws);
        let mut covariance = vec![0.0; size * size];
        let (scale, kept) = (width * width / draws as f64, (1.0 - width * width).sqrt());
        let (sheet, severity) =
            (|at: usize| &slopes[at * parts..][..parts], |at: usize| &centres[at * draws..][..draws]);
        for row in 0..size {
            for column in 0..=row {
                let together = dot(sheet(row), sheet(column)) + scale * dot(severity(row), severity(column));
                covariance[row * size + column] = together;
            }
            let off = self.numbers[row].output.card().discrepancy * means[row];
            covariance[row * size + row] += self.views[row].variance + off * off;
        }
        for (centred, mean) in centres.chunks_exact_mut(draws).zip(&means) {
            for value in centred.iter_mut() {
                *value = mean + kept * *value;
            }
        }
        self.misread(set, &means, &mut covariance);
        Some(Together { centres, covariance, draws })
    }

    /// The row of each number, looked up once for each run of numbers of one state.
    fn rows(&self, set: u64) -> Option<Vec<&Row>> {
        let mut rows: Vec<&Row> = Vec::with_capacity(self.numbers.len());
        for (at, number) in self.numbers.iter().enumerate() {
            let same = 0 < at && self.numbers[at - 1].state == number.state;
            rows.push(if same { rows[at - 1] } else { self.expected.row_of(number.state, set)? });
        }
        Some(rows)
    }

    /// Adds what gauges that misread may be off by: the same for all their numbers.
    fn misread(&self, set: u64, means: &[f64], covariance: &mut [f64]) {
        let size = self.numbers.len();
        for misread in self.expected.misreads(set) {
            let by = |at: usize| match (misread.outputs.contains(&self.numbers[at].output), misread.share) {
                (false, _) => 0.0,
                (true, true) => misread.by * means[at],
                (true, false) => misread.by,
            };
            for row in 0..size {
                for column in 0..=row {
                    covariance[row * size + column] += by(row) * by(column);
                }
            }
        }
    }

    /// Logarithm of the product of single densities, each with its share from anywhere.
    fn log_of_product(&self, together: &Together) -> f64 {
        let size = self.numbers.len();
        let of = |(at, number): (usize, &Number)| {
            let variance = together.covariance[at * size + at];
            let squared = |centre: &f64| (number.value - centre) * (number.value - centre) / variance;
            let centres = &together.centres[at * together.draws..][..together.draws];
            let mean = if all_one(centres, variance) {
                kernel(squared(&centres[0]))
            } else {
                centres.iter().map(|centre| kernel(squared(centre))).sum::<f64>() / together.draws as f64
            };
            let density = mean / (std::f64::consts::TAU * variance).sqrt() * number.range();
            (1.0 - ANYWHERE) * density + ANYWHERE
        };
        self.numbers.iter().enumerate().map(of).map(libm::log).sum()
    }
}

/// True if the centres differ by next to nothing against a variance: most suspects leave most numbers alone.
fn all_one(centres: &[f64], variance: f64) -> bool {
    let off = |centre: &f64| (centre - centres[0]) * (centre - centres[0]);
    centres.iter().all(|centre| off(centre) < 1e-8 * variance)
}

/// A bell curve at a squared distance, over its peak.
fn kernel(squared: f64) -> f64 {
    if squared < FAR { libm::exp(-0.5 * squared) } else { 0.0 }
}

/// Kernel width for so many suspects and draws; none where there is one draw alone.
fn kernel_width(suspects: u32, draws: usize) -> f64 {
    if draws < 2 { 0.0 } else { KERNEL * libm::pow(draws as f64, -1.0 / (f64::from(suspects) + 4.0)) }
}

/// Logarithm of the mean of two exponentials.
fn half_and_half(a: f64, b: f64) -> f64 {
    let (most, least) = (a.max(b), a.min(b));
    most + libm::log(0.5 + 0.5 * libm::exp(least - most))
}
