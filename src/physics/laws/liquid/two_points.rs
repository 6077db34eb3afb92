//! Turns two given points of a liquid into what lies between them, or a little beyond.

use crate::physics::law::{Input, OutOfRange};

/// Least distance of the two points, K.
const APART: f64 = 1.0;
/// How far beyond the two points one may read, K; never further than they are apart.
const BEYOND: f64 = 20.0;

/// Refuses two points too close to each other, and a temperature too far from both.
pub fn check(temperature: Input, second: Input, kelvin: f64, kelvin_1: f64, kelvin_2: f64) -> Result<(), OutOfRange> {
    let apart = (kelvin_2 - kelvin_1).abs();
    if apart < APART {
        return Err(second.refused(kelvin_2, second.published(), "give two points at least 1 K apart"));
    }
    let reach = apart.min(BEYOND);
    let (low, high) = (kelvin_1.min(kelvin_2) - reach, kelvin_1.max(kelvin_2) + reach);
    if kelvin < low || high < kelvin {
        return Err(temperature.refused(kelvin, (low, high), "too far from the two points; give nearer ones"));
    }
    Ok(())
}

/// A straight line: the first value at share 0, the second at 1.
pub fn between(first: f64, second: f64, share: f64) -> f64 {
    first + (second - first) * share
}
