//! Turns scales and readings into what they are worth.

use crate::physics::law::Listed;

mod absolute_pressure;
mod gauge_error;
mod gauge_grade;
mod gauge_offset;
mod gauge_span;
pub(in crate::physics) mod pressure_head;

pub use absolute_pressure::absolute_pressure;
pub use gauge_error::gauge_error;
pub use gauge_grade::gauge_grade;
pub use gauge_offset::gauge_offset;
pub use gauge_span::gauge_span;
pub use pressure_head::pressure_head;

/// These laws as data.
pub static LAWS: [&dyn Listed; 6] = [
    &absolute_pressure::LAW,
    &gauge_error::LAW,
    &gauge_grade::LAW,
    &gauge_offset::LAW,
    &gauge_span::LAW,
    &pressure_head::LAW,
];
