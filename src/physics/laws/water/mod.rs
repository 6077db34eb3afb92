//! Turns the state of water into its properties.

use crate::physics::law::Listed;

pub(super) mod if97;
pub(super) mod vapour_pressure;
mod vapour_pressure_simple;
mod water_bulk_modulus;
mod water_density;
mod water_viscosity;

pub use vapour_pressure::vapour_pressure;
pub use vapour_pressure_simple::vapour_pressure_simple;
pub use water_bulk_modulus::water_bulk_modulus;
pub use water_density::water_density;
pub use water_viscosity::water_viscosity;

/// These laws as data.
pub static LAWS: [&dyn Listed; 5] = [
    &vapour_pressure::LAW,
    &vapour_pressure_simple::LAW,
    &water_bulk_modulus::LAW,
    &water_density::LAW,
    &water_viscosity::LAW,
];
