//! Turns SI values into SI values, one published formula per file, grouped by where at the pump they belong.
//!
//! Every file holds the formula with the unit and range of each input, its source, the function, and the worked example.
//! A function takes and gives the units named at [`crate::quantity::Dimension`] (speeds in revolutions per second) and
//! refuses what is outside the published range with [`super::OutOfRange`].

use crate::physics::law::Listed;

pub mod acceleration;
pub mod air;
pub mod atmosphere;
pub mod drive;
pub mod gauge;
mod inputs;
pub mod liquid;
pub mod oil;
pub mod outlet;
pub mod pipe;
pub mod pump;
pub mod rebuild;
pub mod ripple;
pub mod service;
pub mod suction;
pub mod water;

/// Standard acceleration of free fall, m/s², exact (NIST SP 811, Appendix B.8).
pub const GRAVITY: f64 = 9.806_65;

/// Every law, group by group.
pub static ALL: [&[&dyn Listed]; 15] = [
    &atmosphere::LAWS,
    &water::LAWS,
    &liquid::LAWS,
    &suction::LAWS,
    &acceleration::LAWS,
    &pipe::LAWS,
    &pump::LAWS,
    &ripple::LAWS,
    &drive::LAWS,
    &outlet::LAWS,
    &oil::LAWS,
    &gauge::LAWS,
    &air::LAWS,
    &rebuild::LAWS,
    &service::LAWS,
];

/// Fails the test unless the value is as near to the wanted one as the tolerance says.
#[cfg(test)]
pub(in crate::physics) fn near(value: f64, wanted: f64, tolerance: f64) {
    assert!((value - wanted).abs() <= tolerance, "{value} is not {wanted} within {tolerance}");
}

/// A value in the first dimension that has this unit, in SI.
#[cfg(test)]
pub(in crate::physics) fn si(value: f64, unit: &str) -> f64 {
    use crate::quantity::Dimension;
    let known = |dimension: &Dimension| dimension.units().iter().find(|known| known.symbol() == unit);
    let found = Dimension::ALL.iter().find_map(known);
    found.map_or(f64::NAN, |unit| unit.to_si(value))
}
