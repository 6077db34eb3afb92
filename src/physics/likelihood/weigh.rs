//! Turns numbers into the likelihood of every set of suspects: a mixture over the severities with full covariance, averaged
//! half and half with the independent product.

use super::dense::Root;
use super::expected::Expected;
use super::number::{Number, Predicted};
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

/// What one set expects of all numbers together.
pub(super) struct Together {
    /// Mean and kernel centres by draw: draws × numbers.
    pub centres: Vec<Vec<f64>>,
    /// Covariance, numbers × numbers.
    pub covariance: Vec<f64>,
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
        let found: Vec<(f64, f64)> = sets.iter().map(|&set| self.log_likelihood(&numbers, set)).collect();
        let most = found.iter().map(|found| found.0).fold(f64::NEG_INFINITY, f64::max);
        Ok(Weighed {
            likelihoods: found.iter().map(|found| libm::exp(found.0 - most)).collect(),
            distance: found.iter().map(|found| found.1).fold(f64::INFINITY, f64::min),
        })
    }

    /// Logarithm of the likelihood, densities over the even one of the scales, and the least squared distance.
    fn log_likelihood(&self, numbers: &[Number], set: u64) -> (f64, f64) {
        let Some(together) = self.together(numbers, set) else { return (f64::NEG_INFINITY, f64::INFINITY) };
        let size = numbers.len();
        let alone = log_of_product(numbers, &together);
        let root = Root::of(together.covariance, size);
        let scale: f64 = numbers.iter().map(|number| libm::log(number.range())).sum();
        let norm = scale - HALF_LOG_TAU * size as f64 - root.log_volume();
        let mut difference = vec![0.0; size];
        let mut distances: Vec<f64> = Vec::with_capacity(together.centres.len());
        for centre in &together.centres {
            for (at, number) in numbers.iter().enumerate() {
                difference[at] = number.value - centre[at];
            }
            distances.push(root.distance(&mut difference));
        }
        let least = distances.iter().copied().fold(f64::INFINITY, f64::min);
        let sum: f64 = distances.iter().map(|distance| libm::exp(-0.5 * (distance - least))).sum();
        let joint = norm - 0.5 * least + libm::log(sum / distances.len() as f64);
        (half_and_half(joint, alone), least)
    }

    /// What a set expects; `None` where its rows are not made.
    pub(super) fn together(&self, numbers: &[Number], set: u64) -> Option<Together> {
        let rows = self.rows_of(numbers, set)?;
        let predicted: Vec<Predicted> =
            numbers.iter().zip(rows).map(|(number, (row, healthy))| number.predicted(row, healthy)).collect();
        let size = numbers.len();
        let draws = predicted.first().map_or(0, |one| one.draws.len());
        let mean = |one: &Predicted| one.draws.iter().sum::<f64>() / one.draws.len().max(1) as f64;
        let means: Vec<f64> = predicted.iter().map(mean).collect();
        let kernel = kernel(set.count_ones(), draws);
        let mut covariance = vec![0.0; size * size];
        for row in 0..size {
            for column in 0..=row {
                let (a, b) = (&predicted[row], &predicted[column]);
                let sheet: f64 = a.slopes.iter().zip(&b.slopes).map(|(x, y)| x * y).sum();
                let severity = a.draws.iter().zip(&b.draws).map(|(x, y)| (x - means[row]) * (y - means[column]));
                let severity = severity.sum::<f64>() / draws.max(1) as f64;
                covariance[row * size + column] = sheet + kernel * kernel * severity;
            }
            let off = numbers[row].output.card().discrepancy * means[row];
            covariance[row * size + row] += predicted[row].variance + off * off;
        }
        for misread in self.misreads(set) {
            let by = |at: usize| match misread.outputs.contains(&numbers[at].output) {
                false => 0.0,
                true if misread.share => misread.by * means[at],
                true => misread.by,
            };
            let all: Vec<f64> = (0..size).map(by).collect();
            for row in 0..size {
                for column in 0..=row {
                    covariance[row * size + column] += all[row] * all[column];
                }
            }
        }
        let kept = (1.0 - kernel * kernel).sqrt();
        let centre = |draw: usize| {
            let one = |(one, mean): (&Predicted, &f64)| mean + kept * (one.draws[draw] - mean);
            predicted.iter().zip(&means).map(one).collect()
        };
        Some(Together { centres: (0..draws).map(centre).collect(), covariance })
    }
}

/// Kernel width for so many suspects and draws; none where there is one draw alone.
fn kernel(suspects: u32, draws: usize) -> f64 {
    if draws < 2 { 0.0 } else { KERNEL * libm::pow(draws as f64, -1.0 / (f64::from(suspects) + 4.0)) }
}

/// Logarithm of the product of single densities, each with its share from anywhere.
fn log_of_product(numbers: &[Number], together: &Together) -> f64 {
    let size = numbers.len();
    let draws = together.centres.len() as f64;
    let of = |(at, number): (usize, &Number)| {
        let deviation = together.covariance[at * size + at].sqrt();
        let sum: f64 = together
            .centres
            .iter()
            .map(|centre| {
                let z = (number.value - centre[at]) / deviation;
                libm::exp(-0.5 * z * z)
            })
            .sum();
        let density = sum / draws / deviation * libm::exp(-HALF_LOG_TAU) * number.range();
        libm::log((1.0 - ANYWHERE) * density + ANYWHERE)
    };
    numbers.iter().enumerate().map(of).sum()
}

/// Logarithm of the mean of two exponentials.
fn half_and_half(a: f64, b: f64) -> f64 {
    let (most, least) = (a.max(b), a.min(b));
    most + libm::log(0.5 + 0.5 * libm::exp(least - most))
}
