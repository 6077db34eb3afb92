//! Turns a number and a reading's declared bands into a likelihood: in the band, pulled down, pulled up, both.
//!
//! Each state is an even spread over its part of the scale, blurred by the gauge error, plus 2 % even over the whole
//! scale: a pure bell curve would let one bad gauge outvote everything else.

use crate::knowledge::Scale;

/// Share of numbers that come from anywhere on the scale.
const ANYWHERE: f64 = 0.02;

/// Density of the number `x` (SI) in the four states: in the band, pulled down, pulled up, pulled both ways; scaled so
/// that the largest is 1. `None` if the band is a share of a usual value that is not known.
pub fn density(scale: &Scale, x: f64, usual: Option<f64>) -> Option<[f64; 4]> {
    let parts = Parts::of(scale, usual)?;
    let spread = |from: f64, to: f64| {
        let even = ANYWHERE / (parts.high - parts.low);
        (1.0 - ANYWHERE) * blurred(x, from, to, scale.error) + even
    };
    let down = spread(parts.low, parts.from);
    let up = spread(parts.to, parts.high);
    let raw = [spread(parts.from, parts.to), down, up, f64::midpoint(down, up)];
    let largest = raw.iter().copied().fold(0.0, f64::max);
    // On a scale too wide for the arithmetic a number tells nothing.
    let tells = 0.0 < largest && raw.iter().all(|value| value.is_finite());
    Some(if tells { raw.map(|value| value / largest) } else { [1.0; 4] })
}

/// Coarse results of a reading that has not been taken yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bin {
    /// Below the band.
    Below,
    /// In the band.
    Inside,
    /// Above the band.
    Above,
}

/// Probability of each bin in the four states, for the worth of taking the reading.
pub fn bins(scale: &Scale, usual: Option<f64>) -> Option<Vec<[f64; 4]>> {
    let parts = Parts::of(scale, usual)?;
    let below = |from: f64, to: f64| share_below(parts.from, from, to, scale.error);
    let above = |from: f64, to: f64| 1.0 - share_below(parts.to, from, to, scale.error);
    let blur = |share: f64| (1.0 - ANYWHERE) * share + ANYWHERE / 3.0;
    let states = [(parts.from, parts.to), (parts.low, parts.from), (parts.to, parts.high)];
    let mut result = vec![[0.0; 4]; 3];
    for (state, (from, to)) in states.into_iter().enumerate() {
        let (low, high) = (blur(below(from, to)), blur(above(from, to)));
        result[Bin::Below as usize][state] = low;
        result[Bin::Above as usize][state] = high;
        result[Bin::Inside as usize][state] = 1.0 - low - high;
    }
    for bin in &mut result {
        bin[3] = f64::midpoint(bin[1], bin[2]);
    }
    // On a scale too wide for the arithmetic a number tells nothing.
    let tells = result.iter().flatten().all(|share| share.is_finite());
    Some(if tells { result } else { vec![[1.0 / 3.0; 4]; 3] })
}

/// The three parts of the scale, low ≤ from < to ≤ high.
struct Parts {
    low: f64,
    from: f64,
    to: f64,
    high: f64,
}

impl Parts {
    fn of(scale: &Scale, usual: Option<f64>) -> Option<Self> {
        let (from, to) = scale.healthy.ends(usual.filter(|u| 0.0 < *u))?;
        // A band that reaches the end of the scale leaves at least the gauge error beyond it.
        Some(Self { low: scale.low.min(from - scale.error), from, to, high: scale.high.max(to + scale.error) })
    }
}

/// Density at `x` of an even spread from `from` to `to`, blurred by a normal error.
fn blurred(x: f64, from: f64, to: f64, error: f64) -> f64 {
    (normal((x - from) / error) - normal((x - to) / error)) / (to - from)
}

/// Share of an even spread from `from` to `to`, blurred by a normal error, that lies below `limit`: the integral of the
/// normal distribution, ∫Φ = zΦ(z) + φ(z).
fn share_below(limit: f64, from: f64, to: f64, error: f64) -> f64 {
    let integral = |z: f64| z * normal(z) + libm::exp(-0.5 * z * z) / (2.0 * std::f64::consts::PI).sqrt();
    let (a, b) = ((limit - to) / error, (limit - from) / error);
    ((integral(b) - integral(a)) * error / (to - from)).clamp(0.0, 1.0)
}

/// The normal distribution.
fn normal(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}
