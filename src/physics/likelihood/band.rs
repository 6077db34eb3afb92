//! Turns what a set expects of one reading into a band for the dial.

use super::expected::Expected;
use super::number::Number;
use crate::physics::law::OutOfRange;

/// Share of healthy (or faulty) pumps below the band, and above it.
const OUTSIDE: f64 = 0.05;

/// Nine of ten pumps of this kind read inside; SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Lower end.
    pub low: f64,
    /// Middle.
    pub mid: f64,
    /// Upper end.
    pub high: f64,
}

impl Expected {
    /// The band of a reading with a set of suspects; the number's value does not matter.
    ///
    /// # Errors
    /// [`OutOfRange`] where a severity leads to no possible pump.
    pub fn band(&mut self, number: &Number, set: u64) -> Result<Band, OutOfRange> {
        self.prepare(number.state, &[0, set])?;
        let numbers = [*number];
        let Some(together) = self.asked(&numbers).together(set) else {
            return Ok(Band { low: number.scale.0, mid: number.value, high: number.scale.1 });
        };
        let deviation = together.covariance[0].sqrt();
        let centres = &together.centres;
        let at =
            |share: f64| settled(quantile(centres, deviation, share), deviation).clamp(number.scale.0, number.scale.1);
        Ok(Band { low: at(OUTSIDE), mid: at(0.5), high: at(1.0 - OUTSIDE) })
    }
}

/// The value, or nothing where it is as good as nothing beside its spread.
fn settled(value: f64, deviation: f64) -> f64 {
    if value.abs() < 1e-6 * deviation { 0.0 } else { value }
}

/// The value below which so large a share of a mixture of equal bell curves lies, by halving.
fn quantile(centres: &[f64], deviation: f64, share: f64) -> f64 {
    let below = |x: f64| {
        let one = |centre: &f64| 0.5 * libm::erfc((centre - x) / (deviation * std::f64::consts::SQRT_2));
        centres.iter().map(one).sum::<f64>() / centres.len() as f64
    };
    let reach = 6.0 * deviation;
    let mut low = centres.iter().copied().fold(f64::INFINITY, f64::min) - reach;
    let mut high = centres.iter().copied().fold(f64::NEG_INFINITY, f64::max) + reach;
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if below(middle) < share { low = middle } else { high = middle }
    }
    f64::midpoint(low, high)
}
