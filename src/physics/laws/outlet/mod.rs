//! Turns openings and relief valves into flows and pressures.

use crate::physics::law::Listed;

pub(in crate::physics) mod orifice_flow;
mod orifice_pressure;
mod orifice_ratio;
mod orifice_wear;
pub(in crate::physics) mod relief_accumulation;
mod relief_margin;
mod relief_spring;
mod relief_tolerance;

pub use orifice_flow::orifice_flow;
pub use orifice_pressure::orifice_pressure;
pub use orifice_ratio::orifice_ratio;
pub use orifice_wear::orifice_wear;
pub use relief_accumulation::relief_accumulation;
pub use relief_margin::relief_margin;
pub use relief_spring::relief_spring;
pub use relief_tolerance::relief_tolerance;

/// These laws as data.
pub static LAWS: [&dyn Listed; 8] = [
    &orifice_flow::LAW,
    &orifice_pressure::LAW,
    &orifice_ratio::LAW,
    &orifice_wear::LAW,
    &relief_accumulation::LAW,
    &relief_margin::LAW,
    &relief_spring::LAW,
    &relief_tolerance::LAW,
];
